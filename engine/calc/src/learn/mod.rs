//! After the job: what was used teaches the next estimate.
//!
//! [`lines()`] tells what each line of a job rests on, [`learn`] puts what past jobs used down to cells of
//! the pack and says how far each is to move, and [`likely()`] turns how far cells stray into a range of
//! a total. The statistics are [`model`]'s and know nothing of the trade.

mod cells;
mod lesson;
mod likely;
mod lines;
pub mod model;
mod past;
mod proposal;
mod source;
pub mod spread;

pub use cells::{CellName, Load};
pub use lesson::{JobSeen, Learned, Lesson, Point, Proposed, Silent, Verdict, learn};
pub use likely::{Cause, DRAWS, Likely, likely};
pub use lines::{Estimated, Line, RestsOn, Role, lines};
pub use parge_rules::NewRow;
pub use past::{PastJob, Used};
pub use proposal::{Effect, effect, rows, spread_rows};
