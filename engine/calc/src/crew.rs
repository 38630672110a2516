//! The wage classes of a crew, held against the price book.
//!
//! The row `labour` is the wage of an hour, and `labour/lead` that of the class `lead`. A book
//! with rows for classes has one for each class of the crew; with none, all are paid by `labour`.

use crate::job::Job;
use crate::price::LABOUR_ITEM;
use parge_base::prices::PriceBook;
use parge_base::{Code, Diagnostic, suggest};

/// The classes that a price book has a row for, with or without a price, in the order of the book.
pub fn wage_classes(book: &PriceBook) -> Vec<&str> {
    let offers = book.offers.iter().map(|offer| offer.item.as_str());
    let open = book.open.iter().map(|(item, _)| item.as_str());
    let class = |item: &'_ str| -> Option<usize> {
        let (general, _) = item.split_once('/')?;
        (general == LABOUR_ITEM).then_some(general.len() + 1)
    };
    offers
        .chain(open)
        .filter_map(|item| item.get(class(item)?..))
        .collect()
}

/// Says which classes of the crew have no row where others have one.
pub(crate) fn unknown_classes(job: &Job, book: &PriceBook) -> Vec<Diagnostic> {
    let known = wage_classes(book);
    if known.is_empty() {
        return Vec::new();
    }
    let unknown = job
        .crew_classes
        .iter()
        .filter(|class| !known.contains(&class.name.as_str()));
    let told = unknown.map(|class| {
        let message = format!("the price book has no wage class `{}`", class.name);
        let help = match suggest::nearest(&class.name, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("add a row `{LABOUR_ITEM}/{}` to it", class.name),
        };
        Diagnostic::new(Code::UnknownWord, message, help)
            .at(class.span, "")
            .at(book.span, "the price book")
    });
    told.collect()
}

#[cfg(test)]
mod tests;
