//! Work that is made ready on all cores and taken in order.

use rayon::prelude::*;
use std::sync::mpsc::sync_channel;
use std::thread;

/// Has `make` make something of each number below a bound, and gives it to `take` in their order, until
/// that answers with an error. What is taken is held while the next few are made, and no more.
pub(super) fn in_order<T: Send, E>(
    count: usize,
    make: impl Fn(usize) -> T + Sync,
    mut take: impl FnMut(T) -> Result<(), E>,
) -> Result<(), E> {
    let at_once = rayon::current_num_threads();
    let (send, receive) = sync_channel::<Vec<T>>(0);
    thread::scope(|scope| {
        scope.spawn(|| {
            // Moved in here, so that the other end learns when all is made.
            let send = send;
            for first in (0..count).step_by(at_once) {
                let some = first..count.min(first + at_once);
                let made = some.into_par_iter().map(&make).collect();
                if send.send(made).is_err() {
                    return;
                }
            }
        });
        // Moved in here, so that nothing more is made after an error.
        let receive = receive;
        receive.into_iter().flatten().try_for_each(&mut take)
    })
}

#[cfg(test)]
mod tests;
