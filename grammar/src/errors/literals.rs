//! Mistakes in numbers, units, dates and quoted texts.

use super::shown::shown;
use parge_base::{Code, Diagnostic, Span};

pub(crate) fn empty_text(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "the quoted text is empty",
        "write a name between the quotes, as in `\"Entry planter\"`",
    )
    .at(span, "nothing stands between the quotes")
}

pub(crate) fn bad_escape(span: Span, written: &str) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        format!("{} means nothing in a quoted text", shown(written)),
        "write `\\\\` for a backslash and `\\\"` for a quote, or `/` between folders",
    )
    .at(span, "")
}

pub(crate) fn odd_date(span: Span, written: &str) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        format!("{} is no date", shown(written)),
        "write year, month and day in digits, as in `2026-04-20`",
    )
    .at(span, "")
}

/// A day where a number of days is meant to stand.
pub(crate) fn day_for_days(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "behind `valid` stands a number of days",
        "write it as in `valid 60 days`, or the last day itself, as in `valid_until 2026-08-01`",
    )
    .at(span, "")
}

/// A list of days that cannot be read to its end.
pub(crate) fn odd_days(span: Span, word: &str, sample: &str) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        format!("behind `{word}` stand days with commas between them"),
        format!("write each as year, month and day, as in `{sample}`"),
    )
    .at(span, "")
}

pub(crate) fn no_such_day(span: Span, written: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!("there is no day {}", shown(written)),
        "write a day of the calendar as year, month and day, as in `2026-04-20`",
    )
    .at(span, "")
}

pub(crate) fn too_large(span: Span, written: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!("{} is too large a number", shown(written)),
        "write a number that can be measured, such as `22ft`",
    )
    .at(span, "")
}

pub(crate) fn over_zero(span: Span, written: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!("the fraction {} has 0 below the line", shown(written)),
        "write a fraction such as `3/4in`",
    )
    .at(span, "")
}

pub(crate) fn improper(span: Span, written: &str, fraction: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!(
            "the fraction {} in {} is one or more",
            shown(fraction),
            shown(written)
        ),
        "write a whole number and a fraction below one, as in `6 3/4in`",
    )
    .at(span, "")
}

pub(crate) fn odd_groups(span: Span, written: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!("{} is no number in groups of three digits", shown(written)),
        "write groups of three with one blank between, as in `3 810mm`, or no blank at all",
    )
    .at(span, "")
}

/// `6-3/4` without a unit.
pub(crate) fn two_ways_number(span: Span, written: &str) -> Diagnostic {
    let (whole, fraction) = written.split_once('-').unwrap_or((written, ""));
    Diagnostic::new(
        Code::BadNumber,
        format!("{} can be read in two ways", shown(written)),
        format!(
            "write `{whole} {fraction}` for one number, or `{whole} - {fraction}` for a difference"
        ),
    )
    .at(span, "")
}

/// `12ft-6in`, where neither marks nor blanks tell what is meant.
pub(crate) fn two_ways_measure(span: Span, larger: &str, smaller: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!("`{larger}-{smaller}` can be read in two ways"),
        format!(
            "write `{larger} {smaller}` for one length, or `{larger} - {smaller}` for a difference"
        ),
    )
    .at(span, "")
}

/// `12' - 6"`: on a drawing one length, here a difference.
pub(crate) fn two_ways_marks(dash: Span, whole: Span, feet: &str, inches: &str) -> Diagnostic {
    let in_words = |text: &str| text.replace(['\'', '′'], "ft").replace(['"', '″'], "in");
    Diagnostic::new(
        Code::BadNumber,
        format!(
            "{} can be read in two ways",
            shown(&format!("{feet} - {inches}"))
        ),
        format!(
            "write `{feet} {inches}` for one length, or `{} - {}` for a difference",
            in_words(feet),
            in_words(inches)
        ),
    )
    .at(whole, "")
    .at(dash, "part of one length, or minus")
}

pub(crate) fn no_lengths(span: Span, left: &str, right: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!("{} and {} stand side by side", shown(left), shown(right)),
        "only lengths are written in several units, as in `12ft 6in`; put an operator, a comma or a word between other measures",
    )
    .at(span, "")
}

pub(crate) fn not_descending(span: Span, left: &str, right: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!("{} are not one length", shown(&format!("{left} {right}"))),
        "write the larger unit first, as in `12ft 6in`; width and height have `x` between them, as in `22ft x 4ft`",
    )
    .at(span, "")
}

pub(crate) fn early_fraction(span: Span, written: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadNumber,
        format!(
            "{} is not whole, and a smaller unit follows",
            shown(written)
        ),
        "write a fraction in the smallest unit only, as in `12ft 6 3/4in`",
    )
    .at(span, "")
}

pub(crate) fn overflowing(span: Span, larger: &str, smaller: &str) -> Diagnostic {
    let unit: String = larger
        .chars()
        .filter(|c| !c.is_ascii_digit() && *c != ' ')
        .collect();
    Diagnostic::new(
        Code::BadNumber,
        format!("{} is not less than {}", shown(smaller), shown(&format!("1{unit}"))),
        format!(
            "write the part behind {} smaller, with a blank before a fraction, as in `12ft 6 3/4in`",
            shown(larger)
        ),
    )
    .at(span, "")
}

/// A word behind a number that is no unit. `known` tells of a word whether it is one.
pub(crate) fn unknown_unit(
    span: Span,
    written: &str,
    nearest: Option<String>,
    known: impl Fn(&str) -> bool,
) -> Diagnostic {
    // Everything is near to a single letter.
    let nearest = nearest.filter(|_| written.chars().count() > 1);
    let help = match (cut_at_x(written, &known), cut_at_digit(written, &known)) {
        (Some(unit), _) => format!("put a blank on each side of `x`, as in `4{unit} x 8{unit}`"),
        (_, Some(unit)) => format!("put a blank behind `{unit}`, as in `12{unit} 6in`"),
        _ if matches!(written, "degrees" | "degree" | "dgr" | "grad") => {
            "write an angle as `90deg`".to_owned()
        }
        _ => match nearest {
            Some(near) => format!("did you mean `{near}`?"),
            None => "units are written as in `22ft`, `6in`, `3 810mm`, `12ft2`, `84F`".to_owned(),
        },
    };
    Diagnostic::new(
        Code::UnknownUnit,
        format!("{} is no unit", shown(written)),
        help,
    )
    .at(span, "")
}

/// `ft` of `ftx8ft`.
fn cut_at_x<'t>(written: &'t str, known: &impl Fn(&str) -> bool) -> Option<&'t str> {
    let (unit, rest) = written.split_once(['x', 'X'])?;
    let sized = rest.is_empty() || rest.starts_with(|letter: char| letter.is_ascii_digit());
    (sized && known(unit)).then_some(unit)
}

/// `ft` of `ft6in`.
fn cut_at_digit<'t>(written: &'t str, known: &impl Fn(&str) -> bool) -> Option<&'t str> {
    let at = written.find(|letter: char| letter.is_ascii_digit())?;
    let unit = written.get(..at)?;
    (known(unit) && written.ends_with(char::is_alphabetic)).then_some(unit)
}

/// `22 ft` and `40 sq ft`. `words` is what stands behind the number.
pub(crate) fn detached(span: Span, written: &str, number: &str, words: &[&str]) -> Diagnostic {
    let (message, unit) = match words {
        [power, unit] => {
            let power = if power.starts_with("sq") { "2" } else { "3" };
            (
                format!("{} is not how a unit is written", shown(written)),
                format!("{}{power}", short(unit)),
            )
        }
        _ => {
            let unit = words.first().copied().unwrap_or("ft");
            (
                "a blank stands between the number and its unit".to_owned(),
                short(unit).to_owned(),
            )
        }
    };
    Diagnostic::new(Code::Syntax, message, format!("write `{number}{unit}`")).at(span, "")
}

/// The usual spelling of a unit that is written out.
fn short(unit: &str) -> &str {
    match unit {
        "feet" | "foot" => "ft",
        "inch" | "inches" => "in",
        "yard" | "yards" => "yd",
        "metre" | "metres" | "meter" | "meters" => "m",
        "gallon" | "gallons" => "gal",
        "degrees" => "deg",
        "percent" => "%",
        other => other,
    }
}
