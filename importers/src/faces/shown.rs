//! Figures as messages and reports write them.

use crate::cells::Manner;
use crate::columns::Role;

/// A figure in base units as its column writes it.
pub(super) fn shown(value: f64, role: Role, manner: &Manner) -> String {
    let unit = match role {
        Role::Area | Role::NetArea | Role::Deduction => manner.area,
        Role::Count | Role::OpeningCount => None,
        _ => manner.length,
    };
    let is_area = matches!(role, Role::Area | Role::NetArea | Role::Deduction);
    match unit {
        Some((unit, _)) if is_area => {
            let number = value / (unit.metres() * unit.metres());
            format!("{} {}2", rounded(number), unit.word())
        }
        Some((unit, _)) => format!("{} {}", rounded(value / unit.metres()), unit.word()),
        None if is_area => format!("{} m2", rounded(value)),
        None => rounded(value),
    }
}

/// A number to four decimals, without zeros behind.
pub(crate) fn rounded(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}
