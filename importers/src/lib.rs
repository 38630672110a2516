//! What comes in from offices. So far: price books and the weather of days, both as
//! comma-separated text.

mod forecast;
mod prices;

pub use forecast::forecast;
pub use prices::price_book;
