//! How much: `104 bags`, `7 1/2 gal`, `64 + 40 bags`, `2 pails`; and prices.

use super::entry::{Amount, Piece};
use parge_base::actuals::{ItemLine, Paid};
use parge_base::prices::PackSize;
use parge_base::{Code, Currency, Diagnostic, Dim, Money, Quantity, Unit, Units};
use parge_rules::csv_text::number;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

/// Fractions that a keyboard or an office program writes as one letter.
const FRACTIONS: [(char, &str); 9] = [
    ('½', "1/2"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
];

/// Whether a letter is a digit, or a fraction that is one letter.
pub(super) fn is_digit(letter: char) -> bool {
    letter.is_ascii_digit() || fraction(letter).is_some()
}

/// Whether a word is a number, also where it was written onto the line of a form: `_104_`. The digit
/// of a unit, as in `ft2`, is none.
fn is_number(word: &str) -> bool {
    let word = word.trim_start_matches(['_', '+', '-', '.']);
    word.starts_with(is_digit)
}

/// Whether an amount has a number, and was not left blank.
pub(super) fn is_filled(text: &str) -> bool {
    text.split(|letter: char| letter.is_whitespace() || letter == '+')
        .any(is_number)
}

/// A fraction of one letter, in digits.
fn fraction(letter: char) -> Option<&'static str> {
    let found = FRACTIONS.iter().find(|(known, _)| *known == letter);
    found.map(|(_, digits)| *digits)
}

/// One number of a sum, and the unit behind it where there is one.
#[derive(Debug, PartialEq)]
struct Term {
    value: f64,
    unit: Option<String>,
}

/// What an amount is of: what its units may be.
#[derive(Clone, Copy)]
pub(super) enum Kind<'l> {
    /// An item of the estimate.
    Item(&'l ItemLine),
    /// An item that the estimate does not have: any unit.
    Any,
    /// Hours of a phase, or an area; with an example.
    Of(Dim, &'static str),
}

impl Kind<'_> {
    fn example(&self) -> String {
        match self {
            Self::Item(line) => format!("{} 104 {}", line.item, line.unit.text()),
            Self::Any => "finish-mix 104 bags".to_owned(),
            Self::Of(_, example) => (*example).to_owned(),
        }
    }
}

/// An amount that was read.
pub(super) struct Used {
    pub(super) amount: Quantity,
    /// The unit of its last number.
    pub(super) unit: Unit,
    pub(super) paid: Option<Paid>,
}

/// What one of a unit is: by itself, or as the pack that an item was priced by.
#[derive(Debug, Clone, PartialEq)]
struct One {
    size: Quantity,
    unit: Unit,
}

/// Reads an amount; it is not below nothing.
pub(super) fn used(
    amount: &Amount,
    kind: Kind<'_>,
    units: &Units,
    currency: Currency,
) -> Result<Used, Diagnostic> {
    let (quantity, ones) = sum(amount, kind, units)?;
    let last = ones.last().cloned().unwrap_or_else(|| One {
        size: Quantity::plain(1.0),
        unit: Unit::plain(),
    });
    let paid = match &amount.price {
        None => None,
        Some(price) if ones.iter().any(|one| one.size != last.size) => {
            let message = "the price is of one unit, and the amount has several";
            let help = "write the amount in the unit that the price is of";
            return Err(price.wrong(Code::BadActuals, message, help));
        }
        Some(price) => Some(paid(price, kind, &last, currency)?),
    };
    Ok(Used {
        amount: quantity,
        unit: last.unit,
        paid,
    })
}

/// The sum of all numbers, and what one of each is.
fn sum(amount: &Amount, kind: Kind<'_>, units: &Units) -> Result<(Quantity, Vec<One>), Diagnostic> {
    let piece = &amount.amount;
    let terms = terms(&piece.text).map_err(|number| {
        let message = format!("`{number}` is no number");
        let help = match number.contains(',') {
            true => {
                "a comma means thousands to one and decimals to the other: write `1250` or `2.5`"
            }
            false => {
                "write a number such as `104`, `7.5` or `7 1/2`, add with `+`, and put a name with \
                 digits in quotes"
            }
        };
        piece.wrong(Code::BadNumber, message, help)
    })?;
    if let Some(term) = terms.iter().find(|term| term.value < 0.0) {
        let message = format!("`{}` is below nothing", term.value);
        let help = "write what was used: what came, less what went back";
        return Err(piece.wrong(Code::NegativeUse, message, help));
    }
    let in_row = amount.unit.as_ref().map(|unit| unit.text.clone());
    let mut unit = in_row.filter(|unit| !unit.trim().is_empty());
    let (mut sum, mut ones): (Option<Quantity>, Vec<One>) = (None, Vec::new());
    // A number without a unit has that of the next one behind it.
    for term in terms.into_iter().rev() {
        unit = term.unit.or(unit);
        let Some(word) = &unit else {
            let message = format!("`{}` has no unit", piece.text);
            let help = format!(
                "write the unit behind the number, as in `{}`",
                kind.example()
            );
            return Err(piece.wrong(Code::MissingUnit, message, help));
        };
        let one = one(word, kind, units).map_err(|(code, message, help)| {
            let place = amount.unit.as_ref().filter(|unit| unit.text == *word);
            place.unwrap_or(piece).wrong(code, message, help)
        })?;
        let more = Quantity::new(term.value * one.size.value, one.size.dim);
        let added = more.and_then(|more| match sum {
            None => Ok(more),
            Some(sum) => sum.plus(more),
        });
        sum = Some(added.map_err(|error| {
            let help = "write numbers of one kind, such as `64 + 40 bags`";
            piece.wrong(Code::WrongKind, error.to_string(), help)
        })?);
        ones.push(one);
    }
    ones.reverse();
    let nothing = || {
        let help = format!("write a number and its unit, as in `{}`", kind.example());
        piece.wrong(
            Code::BadNumber,
            format!("`{}` is no amount", piece.text),
            help,
        )
    };
    Ok((sum.ok_or_else(nothing)?, ones))
}

/// The numbers of a sum with their units; an error is what is no number.
fn terms(text: &str) -> Result<Vec<Term>, String> {
    // A number before a place left blank belongs to a name: `Bay 2 ___ h`.
    let mut words = text
        .split_whitespace()
        .skip_while(|word| !word.contains(is_digit));
    if words.any(|word| word.chars().all(|letter| letter == '_')) {
        return Err(text.to_owned());
    }
    let mut plain = String::new();
    for letter in text.chars() {
        match (letter, fraction(letter)) {
            (_, Some(digits)) => {
                plain.push(' ');
                plain.push_str(digits);
            }
            ('_', _) => plain.push(' '),
            (other, _) => plain.push(other),
        }
    }
    plain.split('+').map(term).collect()
}

fn term(text: &str) -> Result<Term, String> {
    let text = text.trim();
    let of_number =
        |ch: char| ch.is_ascii_digit() || ch.is_whitespace() || matches!(ch, '.' | ',' | '/' | '-');
    let end = text.find(|ch| !of_number(ch)).unwrap_or(text.len());
    let (digits, unit) = text.split_at_checked(end).unwrap_or((text, ""));
    let blanks: Vec<&str> = digits.split_whitespace().collect();
    let digits = blanks.join(" ");
    let value = number(&digits).ok_or(match digits.is_empty() {
        true => text.to_owned(),
        false => digits,
    })?;
    let unit = Some(unit.trim()).filter(|unit| !unit.is_empty());
    Ok(Term {
        value,
        unit: unit.map(str::to_owned),
    })
}

type Wrong = (Code, String, String);

/// What one of a written unit is.
fn one(word: &str, kind: Kind<'_>, units: &Units) -> Result<One, Wrong> {
    let spellings = spellings(word);
    let mut parsed = spellings.iter().filter_map(|word| units.parse(word).ok());
    let wanted = match kind {
        Kind::Item(line) => Some(line.unit.dim()),
        Kind::Any => None,
        Kind::Of(dim, _) => Some(dim),
    };
    let fitting = parsed.find(|unit| wanted.is_none_or(|dim| unit.dim() == dim));
    if let Some(unit) = fitting {
        let size = unit.quantity(1.0);
        let size = size.map_err(|error| (Code::UnknownUnit, error.to_string(), String::new()))?;
        return Ok(One { size, unit });
    }
    if let Kind::Item(ItemLine {
        pack: Some(pack), ..
    }) = kind
        && spellings
            .iter()
            .any(|word| word.eq_ignore_ascii_case(&pack.name))
    {
        let unit = pack.unit.clone();
        return Ok(One {
            size: pack.size,
            unit,
        });
    }
    Err(wrong_unit(word, kind, units, wanted))
}

fn wrong_unit(word: &str, kind: Kind<'_>, units: &Units, wanted: Option<Dim>) -> Wrong {
    let help = match kind {
        Kind::Item(ItemLine {
            unit,
            pack: Some(pack),
            ..
        }) if pack.name != unit.text() => format!(
            "write it in `{}`, or count packs: a `{}` is the {} that it was priced by",
            unit.text(),
            pack.name,
            pack.words()
        ),
        _ => format!("write it as in `{}`", kind.example()),
    };
    let known = spellings(word)
        .iter()
        .find_map(|word| units.parse(word).ok());
    match (known, kind) {
        (Some(unit), Kind::Item(line)) => {
            let (is, dim) = (line.unit.dim().words(), unit.dim().words());
            let message = format!("`{}` is {is}, not {dim}", line.item);
            (Code::WrongKind, message, help)
        }
        (Some(unit), _) => {
            let is = wanted.map_or_else(String::new, Dim::words);
            let message = format!("`{word}` is {}, and this is {is}", unit.dim().words());
            (Code::WrongKind, message, help)
        }
        (None, _) => {
            let message = units.parse(word).err().map(|error| error.to_string());
            (Code::UnknownUnit, message.unwrap_or_default(), help)
        }
    }
}

/// A unit as it is written by hand, the likeliest first: `gal.`, `Bags`, `boxes`, `sq ft`.
fn spellings(word: &str) -> Vec<String> {
    let joined: String = word
        .chars()
        .filter(|ch| !ch.is_whitespace() && *ch != '.')
        .collect();
    let mut all = Vec::new();
    for word in [joined.clone(), joined.to_lowercase()] {
        let single = ["s", "es"].map(|end| word.strip_suffix(end).map(str::to_owned));
        all.push(word);
        all.extend(single.into_iter().flatten());
    }
    all
}

/// A price as it was paid for one of a unit, as that of the pack by which the item was priced.
fn paid(price: &Piece, kind: Kind<'_>, one: &One, currency: Currency) -> Result<Paid, Diagnostic> {
    let of_one = money(price, currency)?;
    let own = PackSize {
        size: one.size,
        written: 1.0,
        unit: one.unit.clone(),
        name: one.unit.text().to_owned(),
    };
    let Kind::Item(ItemLine {
        pack: Some(pack), ..
    }) = kind
    else {
        return Ok(Paid {
            price: of_one,
            pack: own,
        });
    };
    // A whole number of units in a pack keeps the price exact.
    let times = Decimal::from_f64(pack.size.value / one.size.value);
    let times = times.map(|times| times.round_dp(parge_base::number::NOISE_DECIMALS));
    let amount = times.and_then(|times| of_one.amount().checked_mul(times));
    let amount = amount.ok_or_else(|| {
        let message = "the amount of money is too large";
        price.wrong(Code::MoneyTooLarge, message, "write the price of one unit")
    })?;
    Ok(Paid {
        price: Money::new(amount, currency),
        pack: pack.clone(),
    })
}

/// `25.10 USD`, or `25.10` in the currency of the estimate.
pub(super) fn money(price: &Piece, currency: Currency) -> Result<Money, Diagnostic> {
    let digits = |ch: char| ch.is_ascii_digit() || matches!(ch, '.' | '-' | '+');
    let text = price.text.trim();
    let end = text.find(|ch| !digits(ch)).unwrap_or(text.len());
    let (number, code) = text.split_at_checked(end).unwrap_or((text, ""));
    let code = code.trim();
    let known = Currency::from_code(code);
    if let Some(other) = known.filter(|other| *other != currency) {
        let message = format!(
            "the price is in {}, and the estimate in {}",
            other.code(),
            currency.code()
        );
        let help = format!(
            "write it in {}; Parge knows no rates of exchange",
            currency.code()
        );
        return Err(price.wrong(Code::OtherCurrency, message, help));
    }
    let amount = number.parse::<Decimal>().ok();
    if amount.is_some_and(|amount| amount < Decimal::ZERO) {
        let help = "write what one unit cost";
        return Err(price.wrong(
            Code::NegativeUse,
            format!("`{text}` is below nothing"),
            help,
        ));
    }
    match amount.filter(|_| code.is_empty() || known.is_some()) {
        Some(amount) => Ok(Money::new(amount, currency)),
        None => {
            let message = format!("`{text}` is no price");
            let help = format!("write an amount such as `25.10 {}`", currency.code());
            Err(price.wrong(Code::BadNumber, message, help))
        }
    }
}

#[cfg(test)]
mod tests;
