//! The stages from a plan to an estimate in their order.

use crate::contract::Packs;
use crate::measure::measure;
use crate::pool::pool;
use crate::price::{Estimate, price};
use crate::resolve::resolve_with;
use crate::slips::slips;
use crate::takeoff::{Takeoff, take_off};
use parge_base::forecast::Forecast;
use parge_base::prices::PriceBook;
use parge_base::{Diagnostic, Sources, Span, diagnostic};
use parge_grammar::ast::Plan;
use parge_rules::{Pack, with_stack};

/// What a take-off rests on.
#[derive(Debug, Clone, Copy)]
pub struct Given<'g> {
    /// The plan.
    pub plan: &'g Plan,
    /// Its packs.
    pub packs: Packs<'g>,
    /// The weather of days, where the plan names a file with it.
    pub forecast: Option<&'g Forecast>,
    /// Where to point for what is missing from the plan as a whole.
    pub end: Span,
}

/// From syntax to measured faces and what the rules need for them; `None` when there is nothing
/// that could be measured.
pub fn taken_off(given: Given<'_>, sources: &Sources) -> (Option<Takeoff>, Vec<Diagnostic>) {
    with_stack(|| taken_off_here(given, sources))
}

fn taken_off_here(given: Given<'_>, sources: &Sources) -> (Option<Takeoff>, Vec<Diagnostic>) {
    let (job, mut said) = resolve_with(given.plan, given.packs, given.forecast, given.end);
    let Some(job) = job else {
        return (None, said);
    };
    let (measured, mut more) = measure(job, given.packs);
    said.append(&mut more);
    said.append(&mut slips(&measured, sources));
    let (takeoff, mut more) = take_off(measured, given.packs.rules);
    said.append(&mut more);
    (Some(takeoff), said)
}

/// The price of a take-off, without its alternates. `None` where anything is wrong already, here
/// or in what was `said` before: a figure that rests on a fault would look right.
pub fn priced(
    takeoff: Takeoff,
    book: Option<&PriceBook>,
    pack: &Pack,
    said: &[Diagnostic],
) -> (Option<Estimate>, Vec<Diagnostic>) {
    let (pooled, mut more) = pool(&takeoff, pack);
    let wrong = diagnostic::any_error(said) || diagnostic::any_error(&more);
    let Some(book) = book.filter(|_| !wrong) else {
        return (None, more);
    };
    let (estimate, mut of_price) = price(takeoff, pooled, book, pack);
    more.append(&mut of_price);
    (estimate, more)
}
