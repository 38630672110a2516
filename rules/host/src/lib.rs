//! Runs rule packs.
//!
//! A pack is a folder of scripts and tables. Scripts are ordinary arithmetic over *traced
//! quantities*: every operation lands on a [`parge_base::Tape`] together with the place in the
//! script that asked for it, so that a figure can be explained, replayed and written as a
//! formula. This crate knows scripts and tables; what a face, a coat or a hook is, its callers
//! tell it. It is the only crate that knows the script language.

mod context;
pub mod csv_text;
mod engine;
mod errors;
mod functions;
mod manifest;
pub mod naming;
mod operators;
mod pack;
mod run;
mod subject;
mod table;

pub use manifest::{Manifest, PackFiles};
pub use pack::{Hook, Pack, load};
pub use run::{HoursLine, NeedLine, Run, Said};
pub use subject::{ClassKey, Subject, Value};
pub use table::{Cell, Row, Table, Tables};
