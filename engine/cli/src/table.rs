//! Tables on the terminal.

use comfy_table::presets::UTF8_HORIZONTAL_ONLY;
use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, Width};

/// A table whose columns are headed `names`; those whose name begins with `>` hold numbers and
/// are set to the right, those whose name begins with `/` hold paths.
pub(crate) fn table(names: &[&str], rows: Vec<Vec<String>>, width: u16) -> String {
    let mut table = Table::new();
    table
        .load_style(UTF8_HORIZONTAL_ONLY.row_separator(LineStyle::none()))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(width)
        .set_header(names.iter().map(|name| name.trim_start_matches(['>', '/'])));
    for row in &rows {
        table.add_row(row.iter().map(|cell| visible(cell)));
    }
    for ((number, name), column) in names.iter().enumerate().zip(table.column_iter_mut()) {
        let cells = rows.iter().filter_map(|row| row.get(number));
        let widest = cells.map(|cell| cell.chars().count()).max().unwrap_or(0);
        let widest = u16::try_from(widest).unwrap_or(width);
        // Broken over two lines, a number reads as another one, and a path cannot be copied.
        let least = match name.chars().next() {
            Some('>') => widest,
            Some('/') => widest.min(width / 2),
            _ => continue,
        };
        let least = Width::Fixed(least.saturating_add(column.padding_width()));
        column.set_constraint(ColumnConstraint::LowerBoundary(least));
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
