//! Suppliers' price lists as price books, by the machinery of measurement sheets: any file, tables
//! found below their titles, columns by their words, questions, profiles, a verdict for each row.
//!
//! A price is copied digit by digit, and nothing is guessed: a currency or a pack size that nothing
//! names is asked for, and a row that the price book could not hold is rejected.

mod amount;
mod offer;
mod rows;

use crate::columns::Subject;
use crate::faces::{Guess, Import, tables};
use crate::grid::{At, Book};
use crate::prices::{COLUMNS, price_book};
use crate::profile::Profile;
use parge_base::{Diagnostic, Sources, Units, diagnostic};
use rust_decimal::Decimal;

/// An offer of a price list with the cell that it comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OfferRead {
    /// Its fields, in the order of the columns of a price book.
    pub fields: [String; 14],
    /// The price of one pack, digit by digit.
    pub price: Decimal,
    /// The cell of its price.
    pub at: At,
}

/// Reads a price list with what is known of it. Where [`Import::questions`] is not empty, what else
/// came of it is not to be used.
pub fn price_list(book: &Book, profile: &Profile) -> Import {
    let profile = Profile {
        words: profile.words.of_prices(),
        ..profile.clone()
    };
    let mut out = tables(book, &profile, Subject::Prices, &|setup, columns, out| {
        rows::read(setup, columns, out);
    });
    // What was answered decides on prices, so that it is signed with them.
    let given = profile.answers.given().into_iter();
    let of_prices = given.filter(|(key, _)| matches!(*key, "pack" | "prices_are" | "currency"));
    out.guesses.extend(of_prices.map(|(key, value)| Guess {
        what: format!("where the list does not say, `{key}` is `{value}`"),
        reason: "it was answered so".to_owned(),
    }));
    out
}

/// The price book of offers, as the text of a file.
pub fn book_text(offers: &[OfferRead]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing into memory does not fail.
    let _ = writer.write_record(COLUMNS);
    for offer in offers {
        let _ = writer.write_record(&offer.fields);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

/// How many offers a price book has when it is read again, and the sum of their prices; what is
/// wrong with it otherwise.
pub fn read_again(text: &str) -> Result<(usize, Decimal), Vec<Diagnostic>> {
    let mut sources = Sources::new();
    let file = sources.add("the price book", text);
    let (book, said) = price_book(&sources, file, &Units::standard());
    match book.filter(|_| !diagnostic::any_error(&said)) {
        Some(book) => {
            let sum = book.offers.iter().map(|offer| offer.price.amount());
            Ok((book.offers.len(), sum.sum()))
        }
        None => Err(said),
    }
}

#[cfg(test)]
mod tests;
