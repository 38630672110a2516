//! What the template of the page is filled in with.

use super::scope::{Scope, scope};
use crate::drawing::Sheet;
use crate::explained::grouped;
use crate::shown;
use minijinja::Value;
use parge_base::Money;
use parge_calc::estimate_class::Range;
use parge_calc::job::Taxable;
use parge_calc::price::Estimate;
use parge_calc::takeoff::Caution;
use rust_decimal::Decimal;
use serde::Serialize;

/// The whole page.
#[derive(Serialize)]
pub(super) struct Page<'a> {
    name: &'a str,
    client: Option<&'a str>,
    site: Option<&'a str>,
    date: Option<String>,
    valid_until: Option<String>,
    currency: &'static str,
    /// Why no total is whole, where lines have no price.
    incomplete: Option<String>,
    price: Vec<PriceLine>,
    tax_note: Option<&'static str>,
    expected: Option<Expected>,
    alternates: Vec<Alternate<'a>>,
    exclusions: &'a [String],
    notes: &'a [String],
    terms: &'a [String],
    cautions: Vec<&'a str>,
    of_every_estimate: [&'static str; 2],
    scope: Scope<'a>,
    drawings: Vec<Value>,
}

/// A line of the price.
#[derive(Serialize)]
struct PriceLine {
    what: String,
    /// The user's own word, behind `what`.
    name: Option<String>,
    amount: String,
    /// Whether lines without a price would belong into it.
    is_sum: bool,
    is_total: bool,
}

/// Between which amounts the final price is expected, by the class of the estimate.
#[derive(Serialize)]
struct Expected {
    class: usize,
    low: String,
    high: String,
}

#[derive(Serialize)]
struct Alternate<'a> {
    name: &'a str,
    changes: &'a [String],
    /// What it adds to the total or takes off it.
    difference: Option<String>,
    cautions: Vec<&'a str>,
}

pub(super) fn page<'a>(estimate: &'a Estimate, sheets: &[Sheet]) -> Page<'a> {
    let job = &estimate.takeoff.measured.job;
    let open = shown::open_lines(estimate);
    let drawings = sheets
        .iter()
        .map(|sheet| Value::from_safe_string(sheet.element()));
    Page {
        name: &job.name,
        client: job.client.as_deref(),
        site: job.site.as_deref(),
        date: job.date.map(|date| date.to_string()),
        valid_until: job.valid_until.map(|until| until.node.to_string()),
        currency: estimate.currency.code(),
        incomplete: (open > 0).then(|| shown::status(open)),
        price: price(estimate),
        tax_note: tax_note(estimate),
        expected: estimate.range.as_ref().map(expected),
        alternates: estimate
            .alternates
            .iter()
            .map(|alternate| Alternate {
                name: &alternate.name,
                changes: &alternate.changes,
                difference: alternate.difference.map(signed),
                cautions: for_client(&alternate.cautions),
            })
            .collect(),
        exclusions: &job.content.exclusions,
        notes: &job.content.notes,
        terms: &job.content.terms,
        cautions: for_client(&estimate.takeoff.cautions),
        of_every_estimate: shown::OF_EVERY_ESTIMATE,
        scope: scope(&estimate.takeoff),
        drawings: drawings.collect(),
    }
}

fn for_client(cautions: &[Caution]) -> Vec<&str> {
    let cautions = cautions
        .iter()
        .filter(|caution| caution.audience.has_client());
    cautions.map(|caution| caution.text.as_str()).collect()
}

/// The share of the total that is taxed beside the price: only a tax on all of it tells nothing
/// of what things cost.
fn tax_beside(estimate: &Estimate) -> Option<Decimal> {
    match estimate.takeoff.measured.job.bid.tax {
        Some((rate, Taxable::Total)) if !rate.is_zero() => Some(rate),
        _ => None,
    }
}

fn tax_note(estimate: &Estimate) -> Option<&'static str> {
    match estimate.takeoff.measured.job.bid.tax {
        Some((_, Taxable::Materials)) if !estimate.price.tax.amount().is_zero() => {
            Some("Tax on the materials is in the price.")
        }
        _ if tax_beside(estimate).is_some() => None,
        _ => Some("No tax is in the price."),
    }
}

fn expected(range: &Range) -> Expected {
    let [low, high] = range.outer.map(|amount| grouped(&amount.to_text()));
    let class = range.class.number();
    Expected { class, low, high }
}

/// The work as what the total has beside allowances and tax, so that the lines add to the total.
fn price(estimate: &Estimate) -> Vec<PriceLine> {
    let price = &estimate.price;
    let tax = tax_beside(estimate).map(|rate| (rate, price.tax));
    let before_tax = less(price.total, tax.map(|(_, tax)| tax));
    let work = less(before_tax, Some(price.allowances));
    let line = |what: &str, amount: Money| PriceLine {
        what: what.to_owned(),
        name: None,
        amount: grouped(&amount.to_text()),
        is_sum: true,
        is_total: false,
    };
    let allowances = &estimate.takeoff.measured.job.content.allowances;
    let mut lines = Vec::new();
    if !allowances.is_empty() {
        lines.push(line("The work described here", work));
    }
    lines.extend(allowances.iter().map(|allowance| PriceLine {
        name: Some(allowance.name.clone()),
        is_sum: false,
        ..line("Allowance:", allowance.amount)
    }));
    if let Some((rate, tax)) = tax {
        let percent = (rate * Decimal::ONE_HUNDRED).normalize();
        lines.push(line("Total before tax", before_tax));
        lines.push(line(&format!("Tax, {percent}%"), tax));
    }
    lines.push(PriceLine {
        is_total: true,
        ..line("Total", price.total)
    });
    lines
}

/// A part of a sum that was made by adding, so that taking it off again cannot fail.
fn less(sum: Money, part: Option<Money>) -> Money {
    part.and_then(|part| sum.minus(part).ok()).unwrap_or(sum)
}

/// An amount with its sign, in words that print the same everywhere.
fn signed(amount: Money) -> String {
    let text = grouped(&amount.to_text());
    match amount.amount().is_sign_negative() {
        true => text,
        false => format!("+{text}"),
    }
}
