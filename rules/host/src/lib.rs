//! Runs rule packs.
//!
//! A pack is a folder of scripts and tables. Scripts are ordinary arithmetic over *traced
//! quantities*: every operation lands on a [`parge_base::Tape`] together with the place in the
//! script that asked for it, so that a figure can be explained, replayed and written as a
//! formula. A pack may extend another: then it is laid over it, row by row and function by
//! function. This crate knows scripts and tables; what a face, a coat or a hook is, its callers
//! tell it. It is the only crate that knows the script language.

mod between;
mod bounds;
mod case;
mod cell_script;
mod clock;
mod compare;
mod context;
pub mod csv_text;
mod edit;
mod engine;
mod errors;
mod function;
mod functions;
mod manifest;
pub mod naming;
mod operators;
mod pack;
mod run;
mod script;
mod stack;
mod stopped;
mod subject;
mod table;
#[cfg(test)]
mod testing;
mod waste;

pub use case::{Asked, Case, Wanted, cases};
pub use cell_script::CellScript;
pub use compare::{FunctionChange, PackChanges, RowChange, compare};
pub use edit::NewRow;
pub use function::Function;
pub use manifest::{Manifest, PackFiles, extends};
pub use pack::{Hook, Layer, Pack, load};
pub use run::{CautionLine, GivenLine, HoursLine, NeedLine, Run, Said, ToolLine};
pub use stack::with_stack;
pub use subject::{ClassKey, Subject, Value};
pub use table::{Cell, OtherValue, Row, Table, Tables, TakenRow, amount};
pub use waste::{WASTE_HOOK, general_item};
