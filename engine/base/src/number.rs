//! Rounding, always by name: nothing in Parge rounds because of how a number was typed.

use rust_decimal::prelude::*;

/// Digits after the point to which a need is rounded before it is rounded up to whole packs.
pub const NOISE_DECIMALS: u32 = 9;

/// The smallest whole number that covers `x`, not fooled by the noise of binary fractions:
/// `ceil(round(x, 9 decimals))`. A spreadsheet writes it `ROUNDUP(ROUND(x,9),0)`.
pub fn whole_up(x: f64) -> f64 {
    let up = x.ceil();
    let short = up - x;
    // Far enough from whole numbers rounding it first changes nothing.
    if x.abs() < 1e6 && (NEAR..=1.0 - NEAR).contains(&short) {
        return up;
    }
    round_to(x, NOISE_DECIMALS).ceil()
}

/// Nearer to a whole number than this, or to the middle of two, noise may matter.
const NEAR: f64 = 1e-6;

/// Rounds half away from zero to a number of decimals, as a spreadsheet's `ROUND` does.
///
/// The value is first read as the decimal of at most 16 digits that it shows, so that 1.005
/// rounds to 1.01. Values too large for a decimal are whole numbers already and stay as they are.
pub fn round_to(x: f64, decimals: u32) -> f64 {
    at_once(x, decimals).unwrap_or_else(|| by_decimal(x, decimals))
}

/// The same without a decimal, where `x` is so far from the middle between two results that its
/// last digits do not matter: then the quotient of two whole numbers below 2^53 is the nearest
/// number to the decimal, as that of [`by_decimal`] is.
fn at_once(x: f64, decimals: u32) -> Option<f64> {
    const SCALES: [f64; 10] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9];
    let scale = SCALES.get(decimals as usize)?;
    let scaled = x.abs() * scale;
    // A result of nothing is left to the decimal, for its sign.
    if !(1.0..1e14).contains(&scaled) {
        return (x.to_bits() == 0).then_some(x);
    }
    let below = scaled.floor();
    let rest = scaled - below;
    // Sixteen digits and one product are off by less than this share.
    let near = NEAR + scaled * 2e-15;
    let whole = match rest {
        _ if (rest - 0.5).abs() <= near => return None,
        _ if rest < 0.5 => below,
        _ => below + 1.0,
    };
    Some((whole / scale).copysign(x))
}

fn by_decimal(x: f64, decimals: u32) -> f64 {
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
