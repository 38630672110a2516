//! The checks as they are shown: in groups, with their figures in words.

use super::Check;

/// Checks of one subject.
#[derive(Debug)]
pub struct Group {
    /// The letter that their numbers begin with.
    pub letter: char,
    /// What they are about.
    pub title: &'static str,
    /// In the order of their numbers.
    pub checks: Vec<Check>,
}

const GROUPS: [(char, &str); 13] = [
    ('M', "Measuring"),
    ('V', "Volume, coverage and quantities of mortar"),
    ('L', "Productivity of labour"),
    ('Y', "Yield, absolute volume and bags"),
    (
        'C',
        "Thickness of coats, lath, paper, curing and tolerances",
    ),
    ('E', "Evaporation"),
    ('T', "Maturity and equivalent age"),
    ('D', "Dew point and sealing"),
    ('W', "Weight and limits of veneer"),
    ('S', "Safety"),
    ('P', "Estimating practice and price"),
    ('U', "Units"),
    ('F', "Common practice of vertical concrete, no source"),
];

/// All checks in their groups.
pub fn grouped(mut checks: Vec<Check>) -> Vec<Group> {
    let number = |check: &Check| check.id.get(1..).and_then(|text| text.parse::<u32>().ok());
    // A stable sort: checks of one number stay in the order of their rows.
    checks.sort_by_key(number);
    let group = |(letter, title): (char, &'static str)| Group {
        letter,
        title,
        checks: checks
            .iter()
            .filter(|check| check.id.starts_with(letter))
            .cloned()
            .collect(),
    };
    GROUPS.map(group).into()
}

/// A figure without zeros that say nothing; very small ones as a power of ten.
pub fn plain(value: f64) -> String {
    if value != 0.0 && value.abs() < 1e-5 {
        return format!("{value:.0e}");
    }
    let text = format!("{value:.9}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// What was computed less what is published; nothing of binary noise.
pub fn difference(check: &Check) -> String {
    let Some(computed) = check.computed else {
        return "none".to_owned();
    };
    let off = computed - check.expected;
    if off.abs() <= check.expected.abs().max(1.0) * 1e-11 {
        return "0".to_owned();
    }
    let digits = if off.abs() < 1e-5 {
        return format!("{off:+.0e}");
    } else {
        format!("{off:+.6}")
    };
    digits
        .trim_end_matches('0')
        .trim_end_matches('.')
        .to_owned()
}
