//! Mistakes in amounts of money.

use super::shown::shown;
use parge_base::money::MoneyError;
use parge_base::{Code, Currency, Diagnostic, Span};

/// Signs and words that stand for a currency, with the code that is most likely meant.
const SIGNS: [(&str, &str); 11] = [
    ("$", "USD"),
    ("€", "EUR"),
    ("£", "GBP"),
    ("¥", "JPY"),
    ("US$", "USD"),
    ("dollar", "USD"),
    ("dollars", "USD"),
    ("euro", "EUR"),
    ("euros", "EUR"),
    ("pound", "GBP"),
    ("pounds", "GBP"),
];

/// `written` is no amount of money.
pub(crate) fn odd_amount(span: Span, written: &str, error: &MoneyError) -> Diagnostic {
    let (message, help) = match error {
        MoneyError::NoNumber if written.starts_with(['-', '−']) => (
            format!("{} is less than nothing", shown(written)),
            "write the sum without a sign, as in `850 USD`".to_owned(),
        ),
        MoneyError::NoCode => (
            format!("the currency is missing behind {}", shown(written)),
            format!("write its code of ISO 4217, as in `{written} USD`"),
        ),
        MoneyError::UnknownCode(code) => (
            format!("{} is no currency", shown(code)),
            match currency(code) {
                Some(known) => format!("write `{}`", rewritten(written, code, known)),
                None => "write a code of ISO 4217 in capitals, as in `850 USD`".to_owned(),
            },
        ),
        MoneyError::TooFine(currency) => too_fine(written, *currency),
        MoneyError::TooLarge => (
            format!("{} is too large an amount", shown(written)),
            "write an amount that can be paid, such as `850 USD`".to_owned(),
        ),
        MoneyError::BadNumber if written.contains(',') => (
            "a comma stands in an amount".to_owned(),
            "write a point before cents, as in `850.50 USD`, and a blank between thousands, as \
             in `1 250 USD`"
                .to_owned(),
        ),
        MoneyError::NoNumber | MoneyError::BadNumber => (
            format!("{} is no amount of money", shown(written)),
            match turned(written) {
                Some(amount) => format!("write `{amount}`"),
                None => "write the number and then the currency, as in `850 USD`".to_owned(),
            },
        ),
    };
    let code = match error {
        MoneyError::UnknownCode(_) | MoneyError::NoCode => Code::UnknownUnit,
        _ => Code::BadNumber,
    };
    Diagnostic::new(code, message, help).at(span, "")
}

fn too_fine(written: &str, currency: Currency) -> (String, String) {
    let code = currency.code();
    let message = match currency.decimals() {
        0 => format!(
            "{} has digits behind the point, and {code} has none",
            shown(written)
        ),
        digits => format!(
            "{} has more digits behind the point than the {digits} of {code}",
            shown(written)
        ),
    };
    let help = match currency.decimals() {
        0 => format!("write a whole amount, as in `1 250 {code}`"),
        digits => format!(
            "write an amount as in `850.{} {code}`, and a blank between thousands, as in \
             `1 250 {code}`",
            "5".repeat(digits as usize)
        ),
    };
    (message, help)
}

/// The currency that a sign, a word or a code in small letters stands for.
fn currency(sign: &str) -> Option<&'static str> {
    let sign = sign.trim();
    let capitals = Currency::from_code(&sign.to_uppercase()).map(Currency::code);
    let spelt = || {
        let found = SIGNS
            .iter()
            .find(|(known, _)| *known == sign.to_lowercase() || *known == sign);
        found.map(|(_, code)| *code)
    };
    capitals.or_else(spelt)
}

fn rewritten(written: &str, code: &str, known: &str) -> String {
    let number = written.strip_suffix(code).unwrap_or(written).trim_end();
    format!("{number} {known}")
}

/// `850 USD` for `$850` and `USD 850`.
fn turned(written: &str) -> Option<String> {
    let at = written.find(|letter: char| letter.is_ascii_digit())?;
    let (sign, number) = written.split_at_checked(at)?;
    let is_number = number
        .chars()
        .all(|letter| letter.is_ascii_digit() || matches!(letter, '.' | ' '));
    let known = currency(sign).filter(|_| is_number)?;
    Some(format!("{} {known}", number.trim()))
}
