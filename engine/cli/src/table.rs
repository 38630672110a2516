//! Tables on the terminal.

use comfy_table::presets::UTF8_HORIZONTAL_ONLY;
use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table};

/// A table whose columns are headed `names`; those whose name begins with `>` hold numbers and
/// are set to the right.
pub(crate) fn table(names: &[&str], rows: Vec<Vec<String>>, width: u16) -> String {
    let mut table = Table::new();
    table
        .load_style(UTF8_HORIZONTAL_ONLY.row_separator(LineStyle::none()))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(width)
        .set_header(names.iter().map(|name| name.trim_start_matches('>')));
    for row in rows {
        table.add_row(row.iter().map(|cell| visible(cell)));
    }
    for (column, name) in table.column_iter_mut().zip(names) {
        if name.starts_with('>') {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table.trim_fmt()
}

/// A text without control characters: names come from users, and a terminal obeys them.
pub(crate) fn visible(text: &str) -> String {
    text.chars()
        .map(|letter| {
            if letter.is_control() {
                '\u{fffd}'
            } else {
                letter
            }
        })
        .collect()
}

/// A number with so many decimals and commas between the thousands.
pub(crate) fn number(value: f64, decimals: usize) -> String {
    grouped(&format!("{value:.decimals$}"))
}

/// A written decimal with commas between the thousands.
pub(crate) fn grouped(text: &str) -> String {
    let (sign, digits) = text
        .strip_prefix('-')
        .map_or(("", text), |digits| ("-", digits));
    let (whole, rest) = digits.split_at(digits.find('.').unwrap_or(digits.len()));
    let mut out = String::from(sign);
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    out + rest
}

#[cfg(test)]
mod tests;
