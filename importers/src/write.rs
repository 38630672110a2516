//! Faces as the text of a plan, and that text held against the sheet.

mod fill_in;
mod names;
mod plan_sums;
mod sheet_sums;
mod text;

pub use fill_in::to_fill_in;
pub use plan_sums::{MeasuredPlan, Sum, read_again, reconcile};
pub use text::{PlanWords, plan_text};

#[cfg(test)]
mod tests;
