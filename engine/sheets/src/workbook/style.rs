//! What the sheets look like: formats of cells, in one place.

use parge_base::Currency;
use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder, Workbook};
use std::collections::HashMap;

const INK: Color = Color::RGB(0x2B2F33);
const GREY: Color = Color::RGB(0x6B7075);
const LINE: Color = Color::RGB(0xC9CDD1);
const HEAD: Color = Color::RGB(0xE6E9EC);
const INPUT: Color = Color::RGB(0xFFF6D6);
const ALARM_INK: Color = Color::RGB(0x9B1C1C);
const ALARM: Color = Color::RGB(0xFBE1DD);
/// Bars and columns of charts.
pub(super) const BAR: Color = Color::RGB(0x5B7083);
const FINE_INK: Color = Color::RGB(0x1F5C37);

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// Words.
    Text,
    /// Whole numbers.
    Count,
    /// Numbers with so many decimals.
    Decimals(u32),
    /// Numbers as they were written.
    Written,
    /// Numbers of any size, with the digits that are worth reading.
    Figure,
    /// A share.
    Rate,
    /// A mark that is shown only where it is not zero.
    Mark,
    /// A day.
    Date,
}

impl Look {
    /// Money in a currency.
    pub(super) fn money(currency: Currency) -> Self {
        Self::Decimals(currency.decimals())
    }

    /// Whether the column's cells stand at the right.
    pub(super) fn is_number(self) -> bool {
        self != Self::Text
    }

    fn code(self) -> String {
        match self {
            Self::Text | Self::Written => "General".to_owned(),
            Self::Count | Self::Decimals(0) => "#,##0".to_owned(),
            Self::Decimals(decimals) => format!("#,##0.{}", "0".repeat(decimals as usize)),
            Self::Figure => "#,##0.0#####".to_owned(),
            Self::Rate => "0.00##%".to_owned(),
            Self::Mark => "0;-0;".to_owned(),
            Self::Date => "yyyy-mm-dd".to_owned(),
        }
    }

    fn format(self) -> Format {
        let format = Format::new()
            .set_font_color(INK)
            .set_align(FormatAlign::Top);
        match self {
            Self::Text => format.set_align(FormatAlign::Left).set_text_wrap(),
            other => format
                .set_align(FormatAlign::Right)
                .set_num_format(other.code()),
        }
    }
}

/// A cell of a line.
pub(super) fn body(look: Look) -> Format {
    look.format()
        .set_border_bottom(FormatBorder::Hair)
        .set_border_bottom_color(LINE)
}

/// A cell of a line that the office may change.
pub(super) fn input(look: Look) -> Format {
    body(look)
        .set_background_color(INPUT)
        .set_border_left(FormatBorder::Hair)
        .set_border_left_color(LINE)
        .set_border_right(FormatBorder::Hair)
        .set_border_right_color(LINE)
}

/// A cell of the total.
pub(super) fn total(look: Look) -> Format {
    look.format()
        .set_bold()
        .set_border_top(FormatBorder::Thin)
        .set_border_top_color(GREY)
        .set_border_bottom(FormatBorder::Thin)
        .set_border_bottom_color(GREY)
}

/// The formats of tables, by the numbers that they have in a workbook that knows them before all
/// others.
pub(super) struct Styles(HashMap<Format, u32>);

/// A format, and its number where it is one of tables.
#[derive(Debug, Clone)]
pub(super) struct Style {
    pub(super) format: Format,
    pub(super) number: Option<u32>,
}

impl Styles {
    /// All of them. The first number is that of cells without a format.
    pub(super) fn of_tables() -> Self {
        let mut numbers = HashMap::new();
        for format in of_tables() {
            let next = numbers.len() as u32 + 1;
            numbers.entry(format).or_insert(next);
        }
        Self(numbers)
    }

    /// A format with its number.
    pub(super) fn style(&self, format: Format) -> Style {
        Style {
            number: self.0.get(&format).copied(),
            format,
        }
    }

    /// Makes them known to a workbook that knows no other yet.
    pub(super) fn register(&self, book: &mut Workbook) {
        let formats = of_tables();
        formats
            .iter()
            .for_each(|format| book.register_format(format));
    }
}

/// All formats of tables, in a fixed order.
fn of_tables() -> Vec<Format> {
    let digits = (0..=4).map(Look::Decimals);
    let looks = [Look::Text, Look::Count, Look::Written, Look::Figure];
    let others = [Look::Rate, Look::Mark, Look::Date];
    let looks = looks.into_iter().chain(others).chain(digits);
    let of = |look| [body(look), input(look), total(look), head(look)];
    let mut formats = vec![title(), note(), fact_name().set_bold()];
    formats.extend(looks.flat_map(of));
    formats.extend(of(Look::Text).map(|format| format.set_indent(1)));
    formats
}

/// A cell of the header row.
pub(super) fn head(look: Look) -> Format {
    let side = if look.is_number() {
        FormatAlign::Right
    } else {
        FormatAlign::Left
    };
    Format::new()
        .set_bold()
        .set_font_color(INK)
        .set_background_color(HEAD)
        .set_align(side)
        .set_align(FormatAlign::Bottom)
        .set_text_wrap()
        .set_border_bottom(FormatBorder::Thin)
        .set_border_bottom_color(GREY)
}

/// The title of a sheet.
pub(super) fn title() -> Format {
    Format::new()
        .set_bold()
        .set_font_size(16)
        .set_font_color(INK)
}

/// What stands under a title, and notes.
pub(super) fn note() -> Format {
    Format::new().set_font_color(GREY)
}

/// A note over several lines.
pub(super) fn wrapped_note() -> Format {
    note()
        .set_text_wrap()
        .set_align(FormatAlign::Left)
        .set_align(FormatAlign::Top)
}

/// The title of a part of a sheet.
pub(super) fn section() -> Format {
    Format::new()
        .set_bold()
        .set_font_size(13)
        .set_font_color(INK)
}

/// The name of a fact.
pub(super) fn fact_name() -> Format {
    note().set_align(FormatAlign::Top)
}

/// A fact.
pub(super) fn fact() -> Format {
    Look::Text.format().set_indent(1)
}

/// The line that says whether every line is priced.
pub(super) fn status() -> Format {
    Format::new()
        .set_bold()
        .set_font_size(13)
        .set_font_color(FINE_INK)
}

/// Laid over a cell that must not be overlooked.
pub(super) fn alarm() -> Format {
    Format::new()
        .set_bold()
        .set_font_color(ALARM_INK)
        .set_background_color(ALARM)
}
