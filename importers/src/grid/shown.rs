//! A sheet as text, one line a row, so that a message can show the row and underline the cell.

use super::{At, Book, Row};
use parge_base::{FileId, Sources, Span};
use std::fmt::Write;

/// What divides cells where a row is shown.
const BETWEEN: &str = " | ";
/// The most that is shown of one cell, in characters.
const MOST: usize = 60;

/// The sheets of a file as texts among the sources, with the place of every cell.
#[derive(Debug)]
pub struct Shown {
    /// The lines of each sheet, by their rows.
    sheets: Vec<(FileId, Vec<Line>)>,
}

#[derive(Debug)]
struct Line {
    row: u32,
    start: usize,
    end: usize,
    /// The columns of its cells, and where each begins and ends.
    cells: Vec<(u32, (usize, usize))>,
}

impl Shown {
    /// Lays the sheets out as texts. The line of a row is its number in the sheet.
    pub fn new(book: &Book, sources: &mut Sources) -> Self {
        let mut sheets = Vec::new();
        for sheet in &book.sheets {
            let (mut text, mut lines, mut next) = (String::new(), Vec::new(), 0);
            for row in &sheet.rows {
                let empty = row.number.saturating_sub(next) as usize;
                text.extend(std::iter::repeat_n('\n', empty));
                lines.push(line(&mut text, row));
                text.push('\n');
                next = row.number + 1;
            }
            let name = match book.sheets.len() {
                1 => book.name.clone(),
                _ => format!("{}, sheet {}", book.name, sheet.name),
            };
            sheets.push((sources.add(name, text), lines));
        }
        Self { sheets }
    }

    /// The place of a cell; of its row where the cell is empty.
    pub fn cell(&self, at: At) -> Option<Span> {
        let (file, line) = self.line(at.sheet, at.row)?;
        let own = line.cells.iter().find(|(column, _)| *column == at.column);
        let (start, end) = own.map_or((line.start, line.end), |(_, place)| *place);
        Some(Span::new(file, start, end))
    }

    /// The place of a row.
    pub fn row(&self, sheet: usize, row: u32) -> Option<Span> {
        let (file, line) = self.line(sheet, row)?;
        Some(Span::new(file, line.start, line.end))
    }

    fn line(&self, sheet: usize, row: u32) -> Option<(FileId, &Line)> {
        let (file, lines) = self.sheets.get(sheet)?;
        let at = lines.binary_search_by_key(&row, |line| line.row).ok()?;
        Some((*file, lines.get(at)?))
    }
}

fn line(text: &mut String, row: &Row) -> Line {
    let start = text.len();
    let mut cells = Vec::with_capacity(row.cells.len());
    let mut content = String::new();
    for (number, cell) in row.cells.iter().enumerate() {
        if number > 0 {
            *text += BETWEEN;
        }
        let from = text.len();
        content.clear();
        // Writing into a text cannot fail.
        let _ = write!(content, "{}", cell.content);
        let shown = content
            .chars()
            .map(|ch| if ch.is_control() { ' ' } else { ch });
        text.extend(shown.take(MOST));
        cells.push((cell.column, (from, text.len())));
    }
    Line {
        row: row.number,
        start,
        end: text.len(),
        cells,
    }
}
