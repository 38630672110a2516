//! Numbers and names of cells as letters behind others: a long sheet has millions of them.

use std::fmt::Write as _;

/// A whole number.
pub(super) fn push_whole(text: &mut String, number: u32) {
    if number >= 10 {
        push_whole(text, number / 10);
    }
    text.push(char::from(b'0' + (number % 10) as u8));
}

/// A number with all its digits, as `Display` writes it.
pub(super) fn push_number(text: &mut String, value: f64) {
    // Most marks and many sizes are whole, and those take a fraction of the time.
    let whole = value as u32;
    if f64::from(whole) == value && value.is_sign_positive() {
        return push_whole(text, whole);
    }
    // A text takes whatever is written to it.
    let _ = write!(text, "{value}");
}

/// The letters of a column. Rows and columns count from 0.
pub(super) fn push_column(text: &mut String, column: u16) {
    if column >= 26 {
        push_column(text, column / 26 - 1);
    }
    text.push(char::from(b'A' + (column % 26) as u8));
}

/// A cell: `D7`.
pub(super) fn push_cell(text: &mut String, row: u32, column: u16) {
    push_column(text, column);
    push_whole(text, row.saturating_add(1));
}

/// A cell of any sheet, held in place: `$D$7`.
pub(super) fn push_fixed(text: &mut String, row: u32, column: u16) {
    text.push('$');
    push_column(text, column);
    text.push('$');
    push_whole(text, row.saturating_add(1));
}

#[cfg(test)]
mod tests;
