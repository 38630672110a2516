//! Arithmetic of values without their kinds.
//!
//! Each operation is one function here, and whatever computes goes through it: a script that runs
//! for the first time, a tape that is replayed for one face, and one that is replayed over columns
//! of faces. So all of them come to the same bits. Operands are finite; an operation that has no
//! result for them gives a value that is not.

use std::cmp::Ordering;

pub(crate) fn sum(a: f64, b: f64) -> f64 {
    a + b
}

pub(crate) fn difference(a: f64, b: f64) -> f64 {
    a - b
}

pub(crate) fn product(a: f64, b: f64) -> f64 {
    a * b
}

/// Infinite, or no number, where divided by zero.
pub(crate) fn quotient(a: f64, b: f64) -> f64 {
    a / b
}

/// The power of a plain number.
pub(crate) fn power(a: f64, exponent: f64) -> f64 {
    a.powf(exponent)
}

/// The power of a number with a unit, whose kind depends on the exponent: it must be whole.
pub(crate) fn whole_power(a: f64, exponent: i8) -> f64 {
    a.powi(i32::from(exponent))
}

/// The exponent of [`whole_power`], where a number is one.
pub(crate) fn whole_exponent(exponent: f64) -> Option<i8> {
    let whole = exponent as i8;
    (f64::from(whole) == exponent).then_some(whole)
}

/// No number below zero.
pub(crate) fn root(a: f64) -> f64 {
    a.sqrt()
}

/// The angle in radians; no number outside of -1 to 1.
pub(crate) fn arc_sine(sine: f64) -> f64 {
    sine.asin()
}

pub(crate) fn smaller(a: f64, b: f64) -> f64 {
    if a <= b { a } else { b }
}

pub(crate) fn larger(a: f64, b: f64) -> f64 {
    if a >= b { a } else { b }
}

/// The order that an estimator would see; none where either is no number. Figures that differ by
/// less than a millionth of a millionth are equal: 5/8 in and 3/8 in are 1 in, whatever their last
/// binary digits say, and a limit that reads "over 1 in" must not be passed by them.
pub(crate) fn order(a: f64, b: f64) -> Option<Ordering> {
    let sides = sides(a, b);
    match sides {
        _ if sides.equal => Some(Ordering::Equal),
        _ if sides.less => Some(Ordering::Less),
        _ if sides.greater => Some(Ordering::Greater),
        _ => None,
    }
}

/// The same as answers to three questions, without a branch: at most one is true.
#[inline]
pub(crate) fn sides(a: f64, b: f64) -> Sides {
    let size = larger(a.abs(), b.abs());
    let equal = (a - b).abs() <= 1e-12 * size;
    Sides {
        less: (a < b) & !equal,
        equal,
        greater: (a > b) & !equal,
    }
}

/// How two figures lie to each other.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sides {
    pub(crate) less: bool,
    pub(crate) equal: bool,
    pub(crate) greater: bool,
}
