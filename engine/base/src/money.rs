//! Money: decimal amounts in a currency of ISO 4217, rounded only where a line is printed.

use rust_decimal::prelude::*;
use std::fmt;

/// A currency of ISO 4217.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Currency(iso_currency::Currency);

impl Currency {
    /// A currency by its three-letter code, in capitals.
    pub fn from_code(code: &str) -> Option<Self> {
        iso_currency::Currency::from_code(code).map(Self)
    }

    /// The three-letter code.
    pub fn code(self) -> &'static str {
        self.0.code()
    }

    /// Digits of the minor unit: 2 for cents, 0 for yen.
    pub fn decimals(self) -> u32 {
        self.0.exponent().map_or(2, u32::from)
    }
}

impl fmt::Debug for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

/// An amount of money. Sums are exact; products are rounded to the minor unit, half away from
/// zero, which is also what the workbook's formulas do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money {
    amount: Decimal,
    currency: Currency,
}

/// Why a text is no amount of money.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MoneyError {
    /// It does not begin with a number.
    NoNumber,
    /// The number is none: `1,250`, `1.2.3`, groups of other than three digits.
    BadNumber,
    /// Nothing stands behind the number.
    NoCode,
    /// What stands behind the number is no code of ISO 4217 in capitals.
    UnknownCode(String),
    /// More digits behind the point than the currency has.
    TooFine(Currency),
    /// More digits than are counted with.
    TooLarge,
}

impl fmt::Display for MoneyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoNumber => f.write_str("an amount begins with its number"),
            Self::BadNumber => f.write_str("the number of the amount cannot be read"),
            Self::NoCode => f.write_str("the currency is missing behind the amount"),
            Self::UnknownCode(code) => write!(f, "`{code}` is no currency"),
            Self::TooFine(currency) => write!(
                f,
                "{} has {} digits behind the point",
                currency.code(),
                currency.decimals()
            ),
            Self::TooLarge => f.write_str("the amount of money is too large"),
        }
    }
}

impl std::error::Error for MoneyError {}

/// An amount too large to be written as a decimal of 28 digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MoneyOverflow;

impl fmt::Display for MoneyOverflow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the amount of money is too large")
    }
}

impl std::error::Error for MoneyOverflow {}

impl Money {
    /// An amount as given.
    pub fn new(amount: Decimal, currency: Currency) -> Self {
        Self { amount, currency }
    }

    /// Reads an amount with its code: `850 USD`, `1 250.50 USD`, `850USD`. Thousands are
    /// separated by a blank or not at all. The amount is exact, and never negative.
    pub fn parse(text: &str) -> Result<Self, MoneyError> {
        let text = text.trim();
        if !text.starts_with(|letter: char| letter.is_ascii_digit()) {
            return Err(MoneyError::NoNumber);
        }
        let of_number = |letter: char| {
            letter.is_ascii_digit() || letter.is_whitespace() || matches!(letter, '.' | ',')
        };
        let end = text.find(|letter| !of_number(letter)).unwrap_or(text.len());
        let (number, code) = text.split_at(end);
        let number = number.trim();
        let (whole, minor) = number.split_once('.').unwrap_or((number, ""));
        let has_point = number.contains('.');
        let is_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if !is_digits(minor) || has_point && minor.is_empty() {
            return Err(MoneyError::BadNumber);
        }
        let mut digits = ungrouped(whole).ok_or(MoneyError::BadNumber)?;
        if code.is_empty() {
            return Err(MoneyError::NoCode);
        }
        let Some(currency) = Currency::from_code(code) else {
            return Err(MoneyError::UnknownCode(code.to_owned()));
        };
        if minor.len() > currency.decimals() as usize {
            return Err(MoneyError::TooFine(currency));
        }
        if has_point {
            digits.push('.');
            digits.push_str(minor);
        }
        let amount = Decimal::from_str_exact(&digits).map_err(|_| MoneyError::TooLarge)?;
        Ok(Self::new(amount, currency))
    }

    /// Nothing, in a currency.
    pub fn zero(currency: Currency) -> Self {
        Self::new(Decimal::ZERO, currency)
    }

    /// The exact amount.
    pub fn amount(self) -> Decimal {
        self.amount
    }

    /// The currency.
    pub fn currency(self) -> Currency {
        self.currency
    }

    /// The exact sum. Amounts of one estimate are of one currency: price books see to that
    /// before an amount is made, so a sum across currencies is an error of the program and
    /// reported as an overflow rather than as a wrong figure.
    pub fn plus(self, other: Self) -> Result<Self, MoneyOverflow> {
        if self.currency != other.currency {
            return Err(MoneyOverflow);
        }
        let amount = self.amount.checked_add(other.amount).ok_or(MoneyOverflow)?;
        Ok(Self { amount, ..self })
    }

    /// The exact difference, under the terms of [`Self::plus`].
    pub fn minus(self, other: Self) -> Result<Self, MoneyOverflow> {
        self.plus(Self {
            amount: -other.amount,
            ..other
        })
    }

    /// So much in this amount's currency, rounded to the minor unit, free of binary noise.
    pub fn unit_times(self, number: f64) -> Result<Self, MoneyOverflow> {
        Self::new(Decimal::ONE, self.currency).times(number)
    }

    /// This price times a number of packs or hours, rounded to the minor unit. The number is
    /// first rounded to nine decimals, as needs are before they become packs.
    pub fn times(self, number: f64) -> Result<Self, MoneyOverflow> {
        let number = Decimal::from_f64(number)
            .ok_or(MoneyOverflow)?
            .round_dp(crate::number::NOISE_DECIMALS);
        let amount = self.amount.checked_mul(number).ok_or(MoneyOverflow)?;
        Ok(self.rounded(amount))
    }

    /// A share of this amount, rounded to the minor unit.
    pub fn share(self, rate: Decimal) -> Result<Self, MoneyOverflow> {
        let amount = self.amount.checked_mul(rate).ok_or(MoneyOverflow)?;
        Ok(self.rounded(amount))
    }

    /// This amount times a fraction, rounded to the minor unit. The product comes before the
    /// quotient, so that nothing is rounded on the way.
    pub fn fraction(self, top: Decimal, bottom: Decimal) -> Result<Self, MoneyOverflow> {
        let product = self.amount.checked_mul(top).ok_or(MoneyOverflow)?;
        Ok(self.rounded(product.checked_div(bottom).ok_or(MoneyOverflow)?))
    }

    /// The amount with exactly the digits of the minor unit: `1250.00`.
    pub fn to_text(self) -> String {
        let decimals = self.currency.decimals() as usize;
        format!("{:.decimals$}", self.rounded(self.amount).amount)
    }

    /// The amount with at least the digits of the minor unit, and more where it has more: a
    /// price of 26.155 is no price of 26.16.
    pub fn to_price_text(self) -> String {
        let decimals = self
            .currency
            .decimals()
            .max(self.amount.normalize().scale()) as usize;
        format!("{:.decimals$}", self.amount)
    }

    /// The amount as a binary number, for the cached results of a workbook.
    pub fn to_f64(self) -> f64 {
        self.amount.to_f64().unwrap_or(0.0)
    }

    fn rounded(self, amount: Decimal) -> Self {
        let strategy = RoundingStrategy::MidpointAwayFromZero;
        let amount = amount.round_dp_with_strategy(self.currency.decimals(), strategy);
        Self { amount, ..self }
    }
}

/// The digits of `1 250` or `1250` alone. One blank stands between groups of three.
fn ungrouped(whole: &str) -> Option<String> {
    const GROUP: usize = 3;
    let mut groups = whole.split([' ', '\u{A0}', '\u{202F}']);
    let first = groups.next().filter(|first| !first.is_empty())?;
    let rest: Vec<&str> = groups.collect();
    let good = (rest.is_empty() || first.len() <= GROUP)
        && rest.iter().all(|group| group.len() == GROUP)
        && rest
            .iter()
            .chain([&first])
            .all(|group| group.bytes().all(|byte| byte.is_ascii_digit()));
    good.then(|| first.to_owned() + &rest.concat())
}

#[cfg(test)]
mod tests;
