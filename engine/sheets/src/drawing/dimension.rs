//! Lengths as drawings write them.

use parge_calc::job::UnitSystem;

const INCH: f64 = 0.0254;
/// A blank where no line is broken.
const HARD_BLANK: char = '\u{a0}';
/// Sixteenths of an inch in an inch and in a foot.
const IN_INCH: u64 = 16;
const IN_FOOT: u64 = 12 * IN_INCH;

/// A length in metres to the nearest sixteenth of an inch, as `12'-6 3/4"` and below a foot as
/// `6"`; or to the millimetre, as `3.810 m`.
pub fn dimension(metres: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{metres:.3}{HARD_BLANK}m"),
        UnitSystem::Us => {
            // No length of a wall comes near the largest whole number.
            let sixteenths = (metres.max(0.0) / INCH * IN_INCH as f64).round() as u64;
            let (feet, rest) = (sixteenths / IN_FOOT, sixteenths % IN_FOOT);
            match feet {
                0 => format!("{}\"", inches(rest)),
                feet => format!("{feet}'-{}\"", inches(rest)),
            }
        }
    }
}

/// To how much lengths are rounded, in words.
pub(super) fn rounding(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => "Dimensions to the nearest 1/16\".",
        UnitSystem::Metric => "Dimensions to the nearest millimetre.",
    }
}

fn inches(sixteenths: u64) -> String {
    let (whole, rest) = (sixteenths / IN_INCH, sixteenths % IN_INCH);
    let shift = rest.trailing_zeros();
    match (whole, rest) {
        (whole, 0) => whole.to_string(),
        (0, _) => format!("{}/{}", rest >> shift, IN_INCH >> shift),
        (whole, _) => format!("{whole}{HARD_BLANK}{}/{}", rest >> shift, IN_INCH >> shift),
    }
}

#[cfg(test)]
mod tests;
