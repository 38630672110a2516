//! One row after the other of a sheet, and its cells.

use super::Read;
use super::cut::{Cut, Tag, resolved, words};
use crate::grid::bounds::Used;
use crate::grid::workbook::{cell, cut as cut_formula};
use crate::grid::{Cell, Content, Row};
use calamine::{CellErrorType, DataRef};

/// Rows behind each other.
pub(in crate::grid) struct Rows {
    /// Those with anything in them.
    pub(in crate::grid) rows: Vec<Row>,
    /// What was counted of them.
    pub(in crate::grid) used: Used,
    /// The numbers of the first and of the last, be they empty.
    span: Option<(u32, u32)>,
}

impl Rows {
    /// None yet, with room for so many.
    pub(super) fn with_capacity(count: usize) -> Self {
        Self {
            rows: Vec::with_capacity(count),
            used: Used::default(),
            span: None,
        }
    }

    /// These rows and others behind them; `None` where those do not stand behind them, or both
    /// together are too many.
    pub(super) fn and(mut self, mut behind: Self) -> Option<Self> {
        self.span = match (self.span, behind.span) {
            (Some((first, last)), Some(next)) if last < next.0 => Some((first, next.1)),
            (Some(_), Some(_)) => return None,
            (own, next) => own.or(next),
        };
        self.used = self.used.and(&behind.used)?;
        self.rows.append(&mut behind.rows);
        Some(self)
    }
}

/// Reads the rows of a part of a sheet; `None` where they are not written plainly, or are too many.
pub(super) fn rows(text: &str, read: &Read) -> Option<Rows> {
    let mut block = Block {
        cut: Cut::new(text),
        read,
        made: Rows::with_capacity(0),
    };
    while !block.cut.is_at_end() {
        block.row()?;
    }
    Some(block.made)
}

struct Block<'a> {
    cut: Cut<'a>,
    read: &'a Read,
    made: Rows,
}

/// The attributes of a cell.
#[derive(Default)]
struct Head<'a> {
    place: &'a str,
    kind: Option<&'a str>,
    style: Option<&'a str>,
}

/// What stands in a cell.
struct Inside<'a> {
    value: DataRef<'a>,
    formula: Option<String>,
}

impl<'a> Block<'a> {
    fn row(&mut self) -> Option<()> {
        if !self.cut.eat("<row") {
            return None;
        }
        let (mut place, mut hidden) = ("", false);
        let tag = self.cut.attributes(|name, value| match name {
            "r" => place = value,
            "hidden" => hidden = matches!(value, "1" | "true"),
            _ => {}
        })?;
        let number = row_number(place)?;
        let first = match self.made.span {
            Some((_, last)) if number <= last => return None,
            Some((first, _)) => first,
            None => number,
        };
        self.made.span = Some((first, number));
        if tag == Tag::Closed {
            return Some(());
        }
        // Most rows are as long as the one above.
        let mut cells = Vec::with_capacity(self.made.rows.last().map_or(4, |row| row.cells.len()));
        let mut next_column = 0;
        while !self.cut.eat("</row>") {
            next_column = match self.usual_cell(place, next_column, &mut cells) {
                Some(next) => next,
                None => self.cell(number, next_column, &mut cells)?,
            };
        }
        if !cells.is_empty() {
            self.made.rows.push(Row {
                number,
                hidden,
                cells,
            });
        }
        Some(())
    }

    /// Does what [`Self::cell`] does, with a cell that is written as most are: with a text that is
    /// shared or a plain number. `None`, with nothing done, where it is not. The row is the number
    /// that the row has.
    fn usual_cell(&mut self, row: &str, from: u32, cells: &mut Vec<Cell>) -> Option<u32> {
        let mut cut = self.cut;
        let column = cut.eat("<c r=\"").then(|| cut.column())??;
        if !cut.eat(row) || !cut.eat("\"") || column < from {
            return None;
        }
        let style = match cut.eat(" s=\"") {
            true => Some(cut.digits().filter(|_| cut.eat("\""))? as usize),
            false => None,
        };
        let content = if cut.eat(" t=\"s\"><v>") {
            let text = self.read.strings.get(cut.digits()? as usize)?;
            if !cut.eat("</v></c>") {
                return None;
            }
            if text.is_empty() {
                self.cut = cut;
                return Some(column + 1);
            }
            self.made.used.cell(text.len()).ok()?;
            Content::Text(text.clone())
        } else if cut.eat("><v>") || cut.eat(" t=\"n\"><v>") {
            let number = cut.number()?;
            if !cut.eat("</v></c>") || !self.read.is_plain(style) {
                return None;
            }
            self.made.used.cell(0).ok()?;
            Content::Number(number)
        } else {
            let is_empty = cut.eat("/>");
            self.cut = if is_empty { cut } else { self.cut };
            return is_empty.then_some(column + 1);
        };
        let look = self.read.look(style);
        cells.push(Cell {
            column,
            content,
            formula: None,
            struck: look.is_some_and(|look| look.struck),
            format: look.and_then(|look| look.format.clone()),
        });
        self.cut = cut;
        Some(column + 1)
    }

    /// Reads a cell at a column or behind it, and says behind which the next has to stand.
    fn cell(&mut self, row: u32, from: u32, cells: &mut Vec<Cell>) -> Option<u32> {
        if !self.cut.eat("<c") {
            return None;
        }
        let mut head = Head::default();
        let mut is_known = true;
        let tag = self.cut.attributes(|name, value| match name {
            "r" => head.place = value,
            "t" => head.kind = Some(value),
            "s" => head.style = Some(value),
            _ => is_known &= !name.contains(':'),
        })?;
        let column = column_in(head.place, row)?;
        if !is_known || column < from {
            return None;
        }
        if tag == Tag::Closed {
            return Some(column + 1);
        }
        let style = match head.style {
            Some(id) => Some(digits(id)? as usize),
            None => None,
        };
        let inside = self.inside(head.kind, style)?;
        let made = cell(
            (row, column),
            &inside.value,
            inside.formula,
            &mut self.made.used,
        )
        .ok()?;
        if let Some(mut made) = made {
            if let Some(look) = self.read.look(style) {
                made.struck = look.struck;
                made.format.clone_from(&look.format);
            }
            cells.push(made);
        }
        Some(column + 1)
    }

    /// What stands between the tags of a cell.
    fn inside(&mut self, kind: Option<&str>, style: Option<usize>) -> Option<Inside<'a>> {
        let formula = match self.cut.eat("<f") {
            true => Some(self.formula()?),
            false => None,
        };
        let value = if self.cut.eat("<v>") {
            let text = self.cut.until(b'<')?;
            let value = self.value(text, kind, style)?;
            self.cut.eat("</v>").then_some(value)?
        } else if self.cut.eat("<is><t") {
            let words = words(&mut self.cut)?;
            let is_whole = kind == Some("inlineStr") && self.cut.eat("</is>");
            is_whole.then(|| DataRef::String(words.into_owned()))?
        } else {
            self.cut.eat("<v/>");
            DataRef::Empty
        };
        self.cut.eat("</c>").then_some(Inside { value, formula })
    }

    /// The formula of a cell; empty where it is shared with another.
    fn formula(&mut self) -> Option<String> {
        let (mut kind, mut group, mut range) = (None, None, None);
        let tag = self.cut.attributes(|name, value| match name {
            "t" => kind = Some(value),
            "si" => group = Some(value),
            "ref" => range = Some(value),
            _ => {}
        })?;
        let text = match tag {
            Tag::Closed => "",
            Tag::Open => {
                let text = self.cut.until(b'<')?;
                self.cut.eat("</f>").then_some(text)?
            }
        };
        let text = resolved(text)?;
        if kind != Some("shared") {
            return Some(cut_formula(&text));
        }
        digits(group?)?;
        match range {
            Some(range) => {
                let (first, last) = range.split_once(':').unwrap_or((range, range));
                let (first, last) = (place(first)?, place(last)?);
                let is_area = first.0 <= last.0 && first.1 <= last.1;
                is_area.then(|| cut_formula(&text))
            }
            None => Some(String::new()),
        }
    }

    /// What a cell of a kind and a style holds.
    fn value(
        &self,
        text: &'a str,
        kind: Option<&str>,
        style: Option<usize>,
    ) -> Option<DataRef<'a>> {
        match kind {
            Some("s" | "n" | "b" | "e") | None if text.is_empty() => Some(DataRef::Empty),
            Some("s") => {
                let shared = self.read.strings.get(digits(text)? as usize)?;
                Some(DataRef::SharedString(shared))
            }
            Some("n") | None => {
                let number = number(text)?;
                let is_plain = self.read.is_plain(style);
                is_plain.then_some(DataRef::Float(number))
            }
            Some("b") => match text {
                "0" => Some(DataRef::Bool(false)),
                "1" => Some(DataRef::Bool(true)),
                _ => None,
            },
            Some("e") => text.parse::<CellErrorType>().ok().map(DataRef::Error),
            Some("str") if !text.contains("_x") => {
                Some(DataRef::String(resolved(text)?.into_owned()))
            }
            _ => None,
        }
    }
}

/// A number as office programs write it.
fn number(text: &str) -> Option<f64> {
    let is_digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let (figure, power) = match text.split_once(['e', 'E']) {
        Some((figure, power)) => (figure, Some(power)),
        None => (text, None),
    };
    let figure = figure.strip_prefix('-').unwrap_or(figure);
    let (whole, decimals) = match figure.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (figure, None),
    };
    let power = power.map(|power| power.strip_prefix(['+', '-']).unwrap_or(power));
    let is_plain =
        is_digits(whole) && decimals.is_none_or(is_digits) && power.is_none_or(is_digits);
    let value = is_plain.then(|| text.parse::<f64>().ok())??;
    value.is_finite().then_some(value)
}

/// A number of few digits, which are all of a text.
fn digits(text: &str) -> Option<u32> {
    let mut cut = Cut::new(text);
    cut.digits().filter(|_| cut.is_at_end())
}

/// The number of a row from 0.
fn row_number(text: &str) -> Option<u32> {
    digits(text)?.checked_sub(1)
}

/// The row and the column of a cell's name, from 0.
fn place(name: &str) -> Option<(u32, u32)> {
    let mut cut = Cut::new(name);
    let (column, row) = (cut.column()?, cut.digits()?);
    let row = row.checked_sub(1).filter(|_| cut.is_at_end())?;
    Some((row, column))
}

/// The column of a cell's name, if it is of a row.
fn column_in(name: &str, row: u32) -> Option<u32> {
    let (own, column) = place(name)?;
    (own == row).then_some(column)
}
