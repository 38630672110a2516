//! A sheet as text, one line a row, so that a message can show the row and underline the cell.

use super::{At, Book, Row};
use parge_base::{FileId, Sources, Span};
use std::collections::BTreeMap;

/// What divides cells where a row is shown.
const BETWEEN: &str = " | ";
/// The most that is shown of one cell, in characters.
const MOST: usize = 60;

/// The sheets of a file as texts among the sources, with the place of every cell.
#[derive(Debug)]
pub struct Shown {
    sheets: Vec<(FileId, BTreeMap<u32, Line>)>,
}

#[derive(Debug)]
struct Line {
    start: usize,
    end: usize,
    /// Where each cell begins and ends, by column.
    cells: BTreeMap<u32, (usize, usize)>,
}

impl Shown {
    /// Lays the sheets out as texts. The line of a row is its number in the sheet.
    pub fn new(book: &Book, sources: &mut Sources) -> Self {
        let mut sheets = Vec::new();
        for sheet in &book.sheets {
            let (mut text, mut lines, mut next) = (String::new(), BTreeMap::new(), 0);
            for row in &sheet.rows {
                let empty = row.number.saturating_sub(next) as usize;
                text.extend(std::iter::repeat_n('\n', empty));
                let line = line(&mut text, row);
                lines.insert(row.number, line);
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
        let (file, lines) = self.sheets.get(at.sheet)?;
        let line = lines.get(&at.row)?;
        let (start, end) = line
            .cells
            .get(&at.column)
            .copied()
            .unwrap_or((line.start, line.end));
        Some(Span::new(*file, start, end))
    }

    /// The place of a row.
    pub fn row(&self, sheet: usize, row: u32) -> Option<Span> {
        let (file, lines) = self.sheets.get(sheet)?;
        let line = lines.get(&row)?;
        Some(Span::new(*file, line.start, line.end))
    }
}

fn line(text: &mut String, row: &Row) -> Line {
    let start = text.len();
    let mut cells = BTreeMap::new();
    for (number, cell) in row.cells.iter().enumerate() {
        if number > 0 {
            *text += BETWEEN;
        }
        let from = text.len();
        let content = cell.content.to_string();
        let shown = content
            .chars()
            .map(|ch| if ch.is_control() { ' ' } else { ch });
        text.extend(shown.take(MOST));
        cells.insert(cell.column, (from, text.len()));
    }
    Line {
        start,
        end: text.len(),
        cells,
    }
}
