//! Faces as the text of a plan, and that text held against the sheet.

mod names;
mod plan_sums;
mod text;

pub use plan_sums::{Sum, reconcile};
pub use text::{PlanWords, plan_text};

#[cfg(test)]
mod tests;
