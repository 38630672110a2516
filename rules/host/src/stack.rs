//! Room on the stack for what rules may call.

use crate::bounds::STACK;
use std::cell::Cell;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{panic, thread};

thread_local! {
    static HAS_ROOM: Cell<bool> = const { Cell::new(false) };
}

/// Does some work on a thread whose stack has room for all the calls that the bounds of rules allow:
/// on this one where it has, or else on one of its own. To begin a thread takes longer than a small
/// rule runs, so many runs should share one.
pub fn with_stack<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    if HAS_ROOM.get() {
        return work();
    }
    let mut work = Some(work);
    let done = thread::scope(|scope| {
        let running = roomy().spawn_scoped(scope, || with_room(|| work.take().map(|work| work())));
        running.ok().map(|running| running.join())
    });
    match done {
        Some(Ok(Some(done))) => done,
        Some(Err(fault)) => panic::resume_unwind(fault),
        // No thread could be begun: the work is still here, and small rules need little room.
        Some(Ok(None)) | None => match work {
            Some(work) => work(),
            None => panic::resume_unwind(Box::new("the work was done twice")),
        },
    }
}

/// Does some work for each of many, on all cores, with such room on the stack of each. The answers come
/// in the order of those that were asked about.
pub(crate) fn each_with_stack<T: Sync, R: Send>(
    all: &[T],
    work: impl Fn(&T) -> R + Sync,
) -> Vec<R> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let next = AtomicUsize::new(0);
    let share = || {
        let mut done = Vec::new();
        while let Some((at, one)) = numbered(all, next.fetch_add(1, Ordering::Relaxed)) {
            done.push((at, work(one)));
        }
        done
    };
    let mut done = thread::scope(|scope| {
        let others = 1..cores.min(all.len());
        // A thread that cannot be begun leaves its share to the others.
        let others = others.map_while(|_| roomy().spawn_scoped(scope, || with_room(share)).ok());
        let others: Vec<_> = others.collect();
        let mut done = with_stack(share);
        for other in others {
            match other.join() {
                Ok(share) => done.extend(share),
                Err(fault) => panic::resume_unwind(fault),
            }
        }
        done
    });
    done.sort_unstable_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, one)| one).collect()
}

fn numbered<T>(all: &[T], at: usize) -> Option<(usize, &T)> {
    Some((at, all.get(at)?))
}

/// Does some work on this thread, and meanwhile other work on one of its own, with such room.
pub(crate) fn meanwhile<A, B: Send>(
    here: impl FnOnce() -> A,
    there: impl FnOnce() -> B + Send,
) -> (A, B) {
    let mut there = Some(there);
    let (done, other) = thread::scope(|scope| {
        let other = roomy().spawn_scoped(scope, || with_room(|| there.take().map(|there| there())));
        let done = here();
        (done, other.map(|other| other.join()))
    });
    match (other, there) {
        (Ok(Ok(Some(other))), _) => (done, other),
        (Ok(Err(fault)), _) => panic::resume_unwind(fault),
        // No thread could be begun.
        (_, Some(there)) => (done, there()),
        (_, None) => panic::resume_unwind(Box::new("the work was done twice")),
    }
}

fn roomy() -> thread::Builder {
    thread::Builder::new().stack_size(STACK)
}

/// On a thread that was begun with room.
fn with_room<T>(work: impl FnOnce() -> T) -> T {
    HAS_ROOM.set(true);
    work()
}

#[cfg(test)]
mod tests;
