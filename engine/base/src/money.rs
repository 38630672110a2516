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

#[cfg(test)]
mod tests;
