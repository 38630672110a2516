//! What a job used beside what was estimated.
//!
//! [`lines`] tells what of an estimate a record can fill in; readers of files make
//! [`Actuals`] of a record by it. [`compare`] sets both beside each other line by line, and splits
//! each difference into its causes ([`split`]). [`Fingerprint`]s tell whether plan, rules and prices
//! are still those that priced the job ([`held`]).

mod compare;
mod fingerprint;
mod held;
mod lines;
mod shares;
mod split;
mod unmatched;

pub use compare::{Actual, AreaLine, Comparison, DaysLine, Estimated, Line, Of, Totals, compare};
pub use fingerprint::{PlanPrint, fingerprint, fingerprint_with, of_basis};
pub use held::{Held, JobKey, Part, held};
pub use lines::lines;
pub use parge_base::actuals::{
    Actuals, AreaBuilt, Fingerprint, HoursWorked, ItemLine, Lines, MaterialUsed, PackStated, Paid,
    PhaseLine, Remark, Scope, StructureLine, Written,
};
pub use split::{AmountSplit, MoneySplit, Split};
pub use unmatched::{Kind, Unmatched};

#[cfg(test)]
mod tests;
