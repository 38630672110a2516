//! What would be if: the estimate once more with some of its figures replaced, and which of its
//! figures move its total most.
//!
//! Nothing is reckoned from parts. Pack, price book and plan are changed as values
//! ([`Basis::with`]) and go through the ordinary stages, since packs and hours are rounded over
//! the whole job, and a comparison in a rule may turn out differently. Nothing on the disk
//! changes.

mod basis;
mod compared;
mod input;
mod most;
mod plan;
mod present;
mod read;

pub use basis::{Basis, NewValue, Set};
pub use compared::{Compared, SetLine, compared};
pub use input::{Input, Whose};
pub use most::{Most, Moved, Skipped, Way, Why, most};
pub use read::read;

#[cfg(test)]
mod tests;
