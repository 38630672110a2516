//! What the styles of cells say.

use super::super::Note;
use calamine::{Reader, Style, Xlsx};
use std::io::{Cursor, Write};
use zip::write::{SimpleFileOptions, ZipWriter};

/// What a style says of its cells.
#[derive(Debug, Clone, PartialEq, Default)]
pub(in crate::grid) struct Look {
    /// Whether they are struck through.
    pub(in crate::grid) struck: bool,
    /// The format of their numbers, where it is not the general one.
    pub(in crate::grid) format: Option<Note>,
    /// Whether a number is certainly no day and no time in it.
    pub(super) is_plain: bool,
}

/// The parts of a workbook of one empty sheet.
const EMPTY: [(&str, &str); 4] = [
    (
        "_rels/.rels",
        r#"<Relationships><Relationship Id="w" Type="/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#,
    ),
    (
        "xl/_rels/workbook.xml.rels",
        r#"<Relationships><Relationship Id="s" Type="/worksheet" Target="sheet.xml"/></Relationships>"#,
    ),
    (
        "xl/workbook.xml",
        r#"<workbook><sheets><sheet name="S" id="s"/></sheets></workbook>"#,
    ),
    (
        "xl/sheet.xml",
        "<worksheet><sheetData></sheetData></worksheet>",
    ),
];

impl Look {
    /// What the styles of a workbook say, by their numbers. calamine reads them in a workbook of
    /// their own, since the sheets of the file may not have been looked through yet.
    pub(in crate::grid) fn all(styles: Option<Vec<u8>>) -> Option<Vec<Self>> {
        let Some(styles) = styles else {
            return Some(Vec::new());
        };
        let mut empty = ZipWriter::new(Cursor::new(Vec::new()));
        let stored =
            SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
        let parts = EMPTY.map(|(name, text)| (name, text.as_bytes()));
        for (name, part) in parts
            .into_iter()
            .chain([("xl/styles.xml", styles.as_slice())])
        {
            empty.start_file(name, stored).ok()?;
            empty.write_all(part).ok()?;
        }
        let mut book = Xlsx::new(empty.finish().ok()?).ok()?;
        let reader = book.worksheet_cells_reader("S").ok()?;
        Some(reader.styles().iter().map(Self::of).collect())
    }

    pub(in crate::grid) fn of(style: &Style) -> Self {
        let struck = style
            .font
            .as_ref()
            .is_some_and(|font| font.has_strikethrough());
        let format = style.number_format.as_ref();
        let (code, id) = format.map_or(("", None), |format| {
            (format.format_code.as_str(), format.format_id)
        });
        Self {
            struck,
            is_plain: is_plain(code, id),
            format: (!code.is_empty() && code != "General").then(|| code.to_owned().into()),
        }
    }

    /// Whether it says anything.
    pub(in crate::grid) fn says(&self) -> bool {
        self.struck || self.format.is_some()
    }
}

/// Whether a format is certainly one of plain numbers: what stands in quotes in its first section
/// apart, no letter is in it that could stand for a part of a day.
fn is_plain(code: &str, id: Option<u32>) -> bool {
    // Some formats of days and times have no code, since it is another in every country.
    if matches!(id, Some(27..=36 | 50..=58)) {
        return false;
    }
    if code == "General" {
        return true;
    }
    let section = code.split(';').next().unwrap_or_default();
    let has_quotes = section.contains('"');
    let is_even = section.matches('"').count().is_multiple_of(2);
    let outside = section.split('"').step_by(2).collect::<String>();
    let is_figure = |ch: char| {
        matches!(
            ch,
            '0'..='9' | '#' | '?' | '.' | ',' | '%' | '+' | '-' | ' ' | '(' | ')' | '$' | '@'
        )
    };
    // The next character counts for nothing behind these, be it a quote.
    let is_skip = |ch: char| matches!(ch, '_' | '*' | '\\');
    is_even
        && outside
            .chars()
            .all(|ch| is_figure(ch) || !has_quotes && is_skip(ch))
}

#[cfg(test)]
mod tests;
