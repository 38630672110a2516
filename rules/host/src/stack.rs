//! Room on the stack for what rules may call.

use crate::bounds::STACK;
use std::cell::Cell;
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
    let with_room = || {
        HAS_ROOM.set(true);
        work()
    };
    elsewhere(thread::Builder::new().stack_size(STACK), with_room, || ()).0
}

/// Does two things at once: the first on a thread of its own.
pub(crate) fn side_by_side<T: Send, U>(
    first: impl FnOnce() -> T + Send,
    second: impl FnOnce() -> U,
) -> (T, U) {
    elsewhere(thread::Builder::new(), first, second)
}

/// Does some work on a new thread, and something else on this one meanwhile; where no thread can be
/// begun, one after the other.
fn elsewhere<T: Send, U>(
    thread: thread::Builder,
    work: impl FnOnce() -> T + Send,
    meanwhile: impl FnOnce() -> U,
) -> (T, U) {
    let mut work = Some(work);
    let (done, other) = thread::scope(|scope| {
        let running = thread.spawn_scoped(scope, || work.take().map(|work| work()));
        let other = meanwhile();
        (running.ok().map(|running| running.join()), other)
    });
    let done = match done {
        Some(Ok(Some(done))) => done,
        Some(Err(fault)) => panic::resume_unwind(fault),
        // No thread could be begun: the work is still here, and small rules need little room.
        Some(Ok(None)) | None => match work {
            Some(work) => work(),
            None => panic::resume_unwind(Box::new("the work was done twice")),
        },
    };
    (done, other)
}

#[cfg(test)]
mod tests;
