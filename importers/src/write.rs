//! Faces as the text of a plan, and that text held against the sheet.

mod fill_in;
mod names;
mod plan_sums;
mod sheet_sums;
mod sums;
mod text;

pub use fill_in::to_fill_in;
pub use plan_sums::{MeasuredPlan, Sum, addends_of_plan, read_again, read_in_parts, reconcile};
pub use sheet_sums::{SheetSums, sums_of_sheet};
pub use sums::{Addends, Sums};
pub use text::{PlanText, PlanWords, plan_text};

#[cfg(test)]
mod tests;
