//! What leaves the program: the workbook an office sends out, and the JSON another program
//! reads. What grows with the job is written where the program says, line by line; the rest are
//! texts or bytes in memory. The program has the files.
//!
//! [`shown`] gives every figure in the unit it is shown in, so that the workbook, the JSON and
//! the program's own tables print the same numbers.

mod actuals_form;
mod bid_page;
mod bill;
pub mod chart;
mod csv;
pub mod day_files;
pub mod drawing;
pub mod explained;
mod explanation_html;
mod explanation_json;
pub mod ics;
pub mod jobs;
pub mod json;
#[cfg(test)]
#[path = "sample/tests.rs"]
mod sample;
pub mod sarif;
pub mod scatter;
mod seal;
pub mod shown;
pub mod shown_days;
mod text;
pub mod tornado;
pub mod verdicts;
pub mod wire;
mod wire_actuals;
pub mod wire_change;
pub mod wire_days;
pub mod wire_learn;
pub mod wire_packs;
pub mod wire_rows;
pub mod wire_takes;
pub mod wire_whatif;
pub mod workbook;

pub use actuals_form::Form;
pub use bid_page::{PageError, bid_page};
pub use bill::bill_of_materials;
pub use explanation_html::explanation_html;
pub use explanation_json::{EXPLANATION_SCHEMA, explanation_json};
pub use jobs::{JOBS_SCHEMA, is_jobs_json, jobs_csv, jobs_json};
pub use json::{SCHEMA, diagnostics_json, json, write_json, write_json_in_parts};
pub use seal::{is_explanation, is_sealed_page, is_untouched, is_untouched_file, sealed_page};
pub use text::escape;
pub use verdicts::verdict_workbook;
pub use wire_actuals::{ACTUALS_SCHEMA, actuals_json, is_actuals_json};
pub use wire_change::{CHANGE_SCHEMA, change_json, is_change_json};
pub use wire_learn::{PROPOSAL_SCHEMA, ProposalOf, is_proposal_json, proposal_json};
pub use wire_packs::{PACK_CHANGE_SCHEMA, is_pack_change_json, pack_change_json};
pub use wire_whatif::{MOST_SCHEMA, WHATIF_SCHEMA, most_json, whatif_json};
pub use workbook::{
    SheetError, actuals_workbook, change_order, jobs_workbook, workbook, write_workbook,
};
