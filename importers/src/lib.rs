//! What comes in from offices. So far: price books as comma-separated text.

mod prices;

pub use prices::price_book;
