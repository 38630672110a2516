//! The page of a bid for the client (HTML): scope, price, what the client may choose, what is not
//! in it, cautions, and the drawings of every face. One file without anything outside of it, to be
//! read on a screen or printed on A4 and Letter.
//!
//! The client sees what is asked for and nothing of how it came about: no cost, wage, overhead or
//! profit, and no amount that one of them follows from. A tax on materials would tell what they
//! cost, so it stands in the price and not beside it; charges of rules stand in it as well.

mod page;
mod scope;

use crate::drawing;
use crate::seal;
use crate::text::escape;
use minijinja::{AutoEscape, Environment, UndefinedBehavior};
use parge_calc::price::Estimate;
use std::fmt;

const TEMPLATE: &str = include_str!("bid_page/page.html");

/// The page could not be filled in: a fault of its template.
#[derive(Debug)]
pub struct PageError(minijinja::Error);

impl fmt::Display for PageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl std::error::Error for PageError {}

/// The page of a bid, sealed like [`crate::sealed_page`].
pub fn bid_page(estimate: &Estimate) -> Result<String, PageError> {
    let sheets = drawing::sheets(&estimate.takeoff.measured, None);
    let page = page::page(estimate, &sheets);
    let filled = environment().render_named_str("page.html", TEMPLATE, page);
    Ok(seal::sealed_page(&filled.map_err(PageError)?))
}

/// Everything that is filled in is escaped by [`escape`], which also shows control characters,
/// unless it is known to be markup; a name that is not there is a fault.
fn environment() -> Environment<'static> {
    let mut environment = Environment::new();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_auto_escape_callback(|_| AutoEscape::Html);
    environment.set_trim_blocks(true);
    environment.set_lstrip_blocks(true);
    environment.set_formatter(|out, _, value| {
        let text = value.to_string();
        let text = if value.is_safe() { text } else { escape(&text) };
        out.write_str(&text).map_err(minijinja::Error::from)
    });
    environment
}

#[cfg(test)]
mod tests;
