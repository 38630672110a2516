//! What comes in from offices. So far: price books, as comma-separated text and as workbooks, and
//! the weather of days.

mod forecast;
mod prices;

pub use forecast::forecast;
pub use prices::{MAX_WORKBOOK_BYTES, price_book, price_book_of_workbook};
