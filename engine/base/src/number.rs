//! Rounding, always by name: nothing in Parge rounds because of how a number was typed.

use rust_decimal::prelude::*;

/// Digits after the point to which a need is rounded before it is rounded up to whole packs.
pub const NOISE_DECIMALS: u32 = 9;

/// The smallest whole number that covers `x`, not fooled by the noise of binary fractions:
/// `ceil(round(x, 9 decimals))`. A spreadsheet writes it `ROUNDUP(ROUND(x,9),0)`.
pub fn whole_up(x: f64) -> f64 {
    round_to(x, NOISE_DECIMALS).ceil()
}

/// Rounds half away from zero to a number of decimals, as a spreadsheet's `ROUND` does.
///
/// The value is first read as the decimal of at most 16 digits that it shows, so that 1.005
/// rounds to 1.01. Values too large for a decimal are whole numbers already and stay as they are.
pub fn round_to(x: f64, decimals: u32) -> f64 {
    match Decimal::from_f64(x) {
        Some(exact) => exact
            .round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero)
            .to_f64()
            .unwrap_or(x),
        None => x,
    }
}

#[cfg(test)]
mod tests;
