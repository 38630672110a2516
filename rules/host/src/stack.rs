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
    let mut work = Some(work);
    let done = thread::scope(|scope| {
        let builder = thread::Builder::new().stack_size(STACK);
        let running = builder.spawn_scoped(scope, || {
            HAS_ROOM.set(true);
            work.take().map(|work| work())
        });
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

#[cfg(test)]
mod tests;
