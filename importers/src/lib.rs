//! What comes in from offices: clients' measurement sheets, price books, the weather of days, and
//! records of what jobs used.

mod actuals;
pub mod cells;
pub mod columns;
pub mod faces;
mod forecast;
pub mod grid;
pub mod price_list;
mod prices;
pub mod profile;
pub mod report;
pub mod table;
pub mod update;
pub mod write;

pub use actuals::{actuals_of_csv, actuals_of_text, actuals_of_workbook};
pub use forecast::forecast;
pub use prices::{MAX_WORKBOOK_BYTES, price_book, price_book_of_workbook};
