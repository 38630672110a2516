//! A size in feet and pounds as one in metres and kilograms, and the other way round.

use crate::analysis::token::{Kind, Token, Tokens};
use crate::ast::{ExprKind, Statement};
use crate::parse;
use parge_base::number::round_to;
use parge_base::{Dim, FileId, Quantity, Units};
use std::ops::Range;

/// Units of the yard and pound, without their powers.
const US_UNITS: [&str; 34] = [
    "ft", "feet", "foot", "in", "inch", "inches", "yd", "yard", "yards", "'", "\"", "′", "″", "sf",
    "sqft", "sqyd", "cf", "cy", "gal", "gallon", "gallons", "qt", "quart", "quarts", "pt", "floz",
    "lb", "lbs", "pound", "pounds", "oz", "mph", "F", "degF",
];

/// Inches are shown to this part.
const INCH_PARTS: f64 = 16.0;
const INCHES_IN_FOOT: f64 = 12.0;
/// Lengths longer than this are not taped in inches.
const MOST_INCHES: f64 = 1e9;

/// The number at an offset, with all of its parts: `12ft 6 3/4in`, `-5C`.
pub(super) fn size_at(text: &str, offset: usize) -> Option<Range<usize>> {
    let mut run: Option<Range<usize>> = None;
    let mut sign: Option<usize> = None;
    for token in Tokens::new(text) {
        let end = token.start + token.text.len();
        if token.kind == Kind::Number {
            let goes_on = token.lines == 0 && sign.is_none();
            run = match run {
                Some(run) if goes_on => Some(run.start..end),
                _ => Some(
                    sign.filter(|_| reads_below_zero(&token))
                        .unwrap_or(token.start)..end,
                ),
            };
        } else if run.as_ref().is_some_and(|run| run.end >= offset) || token.start > offset {
            break;
        } else {
            run = None;
        }
        sign = (token.kind == Kind::Sign && token.text == "-").then_some(token.start);
    }
    run.filter(|run| run.start <= offset && offset <= run.end)
}

/// Whether a sign before it belongs to a thermometer reading.
fn reads_below_zero(token: &Token<'_>) -> bool {
    token.text.ends_with(['F', 'C'])
}

/// A number with its unit in the other system, in a line.
pub(super) fn same_size(file: FileId, written: &str) -> Option<String> {
    let quantity = quantity(file, written)?;
    let (shown, exact) = if is_us(unit(written)) {
        to_metric(quantity)?
    } else {
        to_us(quantity)?
    };
    let about = if exact { "" } else { "about " };
    Some(format!("`{written}` is {about}`{shown}`"))
}

/// Read by the parser, which knows all ways of writing a number.
fn quantity(file: FileId, written: &str) -> Option<Quantity> {
    let parsed = parse(file, &format!("parge 1\nlet size = {written}\n"));
    match parsed.plan.statements.as_slice() {
        [Statement::Let(read)] if parsed.diagnostics.is_empty() => match read.value.node {
            ExprKind::Literal(quantity) => Some(quantity),
            _ => None,
        },
        _ => None,
    }
}

/// The unit of the last part of a number.
fn unit(written: &str) -> &str {
    let number = |letter: char| letter.is_ascii_digit() || " -./\u{A0}\u{202F}\t".contains(letter);
    let last = written.trim_end_matches(['2', '3', '²', '³']);
    let start = last.rfind(number).map_or(0, |at| {
        at + last
            .get(at..)
            .and_then(|rest| rest.chars().next())
            .map_or(1, char::len_utf8)
    });
    last.get(start..).unwrap_or("").trim_start_matches('°')
}

fn is_us(unit: &str) -> bool {
    US_UNITS.contains(&unit)
}

fn to_metric(quantity: Quantity) -> Option<(String, bool)> {
    let size = quantity.value.abs();
    match quantity.dim {
        Dim::LENGTH if size < 1.0 => shown(quantity, "mm", 1),
        Dim::LENGTH => shown(quantity, "m", 3),
        Dim::AREA => shown(quantity, "m2", 2),
        Dim::VOLUME if size < 0.1 => shown(quantity, "L", 2),
        Dim::VOLUME => shown(quantity, "m3", 3),
        Dim::MASS => shown(quantity, "kg", 2),
        Dim::SPEED => shown(quantity, "m/s", 1),
        Dim::TEMPERATURE => shown(quantity, "C", 1),
        _ => None,
    }
}

fn to_us(quantity: Quantity) -> Option<(String, bool)> {
    match quantity.dim {
        Dim::LENGTH => feet_and_inches(quantity),
        Dim::AREA => shown(quantity, "ft2", 2),
        Dim::VOLUME if quantity.value.abs() < 0.1 => shown(quantity, "gal", 2),
        Dim::VOLUME => shown(quantity, "yd3", 2),
        Dim::MASS => shown(quantity, "lb", 2),
        Dim::SPEED => shown(quantity, "mph", 1),
        Dim::TEMPERATURE => shown(quantity, "F", 1),
        _ => None,
    }
}

/// A quantity in a unit, rounded, and whether it is exactly that.
fn shown(quantity: Quantity, unit: &str, decimals: u32) -> Option<(String, bool)> {
    let value = Units::standard().parse(unit).ok()?.show(quantity)?;
    let rounded = round_to(value, decimals);
    Some((format!("{rounded}{unit}"), is_close(rounded, value)))
}

/// `12ft 6 3/4in`, to the nearest sixteenth.
fn feet_and_inches(quantity: Quantity) -> Option<(String, bool)> {
    let inches = Units::standard().parse("in").ok()?.show(quantity)?;
    if !(0.0..MOST_INCHES).contains(&inches) {
        return shown(quantity, "ft", 2);
    }
    let parts = (inches * INCH_PARTS).round();
    let exact = is_close(parts / INCH_PARTS, inches);
    let feet = (parts / (INCHES_IN_FOOT * INCH_PARTS)).floor();
    let rest = parts - feet * INCHES_IN_FOOT * INCH_PARTS;
    let text = match (feet > 0.0, rest > 0.0) {
        (true, true) => format!("{feet}ft {}", in_inches(rest)),
        (true, false) => format!("{feet}ft"),
        _ => in_inches(rest),
    };
    Some((text, exact))
}

/// `6 3/4in`, from sixteenths.
fn in_inches(parts: f64) -> String {
    let whole = (parts / INCH_PARTS).floor();
    let (mut over, mut under) = (parts - whole * INCH_PARTS, INCH_PARTS);
    while over > 0.0 && over % 2.0 == 0.0 {
        over /= 2.0;
        under /= 2.0;
    }
    match (whole > 0.0, over > 0.0) {
        (true, true) => format!("{whole} {over}/{under}in"),
        (false, true) => format!("{over}/{under}in"),
        _ => format!("{whole}in"),
    }
}

fn is_close(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * other.abs()
}
