//! One sheet: title, header row, lines, total, and how it is printed.

mod rules;

use super::clean::{clean, cut};
use super::style::{self, Look};
use parge_calc::job::UnitSystem;
use parge_calc::price::Estimate;
use rust_xlsxwriter::utility::{cell_range_absolute, row_col_to_cell, row_col_to_cell_absolute};
use rust_xlsxwriter::{Format, Formula, Worksheet, XlsxError};

/// The row of the table's header on every sheet but the summary. Rows count from 0.
pub(super) const HEAD_ROW: u32 = 3;

/// The row of a line that is to be read before the table.
const NOTE_ROW: u32 = 2;

/// Letters of a formula that a cell holds.
const MOST_LETTERS: usize = 8_192;

/// Room beside a text, in characters.
const ROOM: f64 = 2.0;
/// The same for headers, which are bold.
const HEAD_ROOM: f64 = 3.0;
/// The narrowest column.
const NARROW: f64 = 7.0;

/// The height of a line of print, in points.
const LINE: u32 = 15;
/// The highest row that a sheet can have, in lines of that height.
const MOST_LINES: usize = 27;

/// Letter and A4, as paper is numbered in workbooks.
const LETTER: u8 = 1;
const A4: u8 = 9;

/// What all sheets have in common.
pub(super) struct Frame {
    /// Job and date, for the line under the title.
    line: String,
    footer: String,
    paper: u8,
}

impl Frame {
    pub(super) fn new(estimate: &Estimate) -> Self {
        let job = &estimate.takeoff.measured.job;
        let name = clean(&job.name).replace('\n', " ");
        let line = match job.date {
            Some(date) => format!("{name}, {date}"),
            None => name.clone(),
        };
        // `&` begins a code there, and a footer has room for 255 characters.
        let short = cut(&name, 60).replace('&', "&&");
        let paper = match job.units {
            UnitSystem::Us => LETTER,
            UnitSystem::Metric => A4,
        };
        Self {
            line,
            footer: format!("&L{short}&C&A&RPage &P of &N"),
            paper,
        }
    }
}

impl Frame {
    /// For a workbook of no single job; `line` stands under the titles.
    pub(super) fn of_many(line: String) -> Self {
        Self {
            line,
            footer: "&C&A&RPage &P of &N".to_owned(),
            paper: A4,
        }
    }

    /// Names a sheet, sets how it is printed, and writes its title.
    pub(super) fn begin(&self, sheet: &mut Worksheet, name: &str) -> Result<(), XlsxError> {
        sheet.set_name(name)?;
        sheet
            .set_landscape()
            .set_paper_size(self.paper)
            .set_print_fit_to_pages(1, 0)
            .set_margins(0.5, 0.5, 0.6, 0.7, 0.3, 0.3)
            .set_footer(&self.footer)
            .set_screen_gridlines(false)
            // The writer would store 0 for a result that is an empty text.
            .set_formula_result_default("");
        sheet.write_string_with_format(0, 0, name, &style::title())?;
        sheet.write_string_with_format(1, 0, clean(&self.line), &style::note())?;
        Ok(())
    }
}

/// A column of a table.
pub(super) struct Column {
    head: String,
    look: Look,
    input: bool,
    widest: f64,
}

impl Column {
    /// A column of words, wrapped beyond a width in characters.
    pub(super) fn text(head: &str, widest: f64) -> Self {
        Self {
            head: head.to_owned(),
            look: Look::Text,
            input: false,
            widest,
        }
    }

    /// A column of numbers.
    pub(super) fn number(head: impl Into<String>, look: Look) -> Self {
        Self {
            head: head.into(),
            look,
            input: false,
            widest: 40.0,
        }
    }

    /// Its cells are for the office to change.
    pub(super) fn input(mut self) -> Self {
        self.input = true;
        self
    }
}

/// The formats of a column.
struct Formats {
    head: Format,
    body: Format,
    total: Format,
}

/// A sheet being written from the top down.
pub(super) struct Page<'w> {
    pub(super) sheet: &'w mut Worksheet,
    columns: Vec<Column>,
    formats: Vec<Formats>,
    widths: Vec<f64>,
    head: u32,
    row: u32,
    /// Lines of print that the row being written takes.
    lines: usize,
    in_total: bool,
}

impl<'w> Page<'w> {
    /// Begins a sheet with its title.
    pub(super) fn begin(
        sheet: &'w mut Worksheet,
        frame: &Frame,
        name: &str,
        columns: Vec<Column>,
    ) -> Result<Self, XlsxError> {
        frame.begin(sheet, name)?;
        Ok(Self {
            sheet,
            formats: formats(&columns),
            widths: columns.iter().map(head_width).collect(),
            columns,
            head: 0,
            row: 0,
            lines: 1,
            in_total: false,
        })
    }

    /// Writes a line under the title and the job, above the table.
    pub(super) fn note(&mut self, text: &str) -> Result<(), XlsxError> {
        self.sheet
            .write_string_with_format(NOTE_ROW, 0, clean(text), &style::note())?;
        Ok(())
    }

    /// Writes the header row, repeats it on every printed page, and goes to the first line.
    pub(super) fn header(&mut self, row: u32) -> Result<(), XlsxError> {
        self.row = row;
        for (number, column) in self.columns.iter().enumerate() {
            if let Some(formats) = self.formats.get(number) {
                self.sheet.write_string_with_format(
                    row,
                    at(number),
                    &column.head,
                    &formats.head,
                )?;
            }
            let width = self.widths.get(number).copied().unwrap_or(NARROW);
            self.lines = self.lines.max(lines(&column.head, width - HEAD_ROOM));
        }
        self.sheet.set_repeat_rows(row, row)?;
        self.head = row;
        self.next()
    }

    /// Keeps the header row in sight.
    pub(super) fn freeze(&mut self) -> Result<(), XlsxError> {
        self.sheet.set_freeze_panes(self.head + 1, 0)?;
        Ok(())
    }

    /// The row being written.
    pub(super) fn row(&self) -> u32 {
        self.row
    }

    /// Goes to the next line. Not every program finds the height of a row whose texts wrap, so
    /// it is set.
    pub(super) fn next(&mut self) -> Result<(), XlsxError> {
        if self.lines > 1 {
            let height = LINE * self.lines.min(MOST_LINES) as u32;
            self.sheet.set_row_height(self.row, height)?;
        }
        self.lines = 1;
        self.in_total = false;
        self.row += 1;
        Ok(())
    }

    /// A line that says that there is nothing, so that no sum is over nothing.
    pub(super) fn nothing(&mut self, text: &str) -> Result<(), XlsxError> {
        self.blank()?;
        self.text(0, text)?;
        self.next()
    }

    /// Gives every cell of the row its format.
    pub(super) fn blank(&mut self) -> Result<(), XlsxError> {
        let all: Vec<usize> = (0..self.columns.len()).collect();
        self.blank_at(&all)
    }

    /// Gives some cells of the row their format: those of a long sheet that hold nothing.
    pub(super) fn blank_at(&mut self, columns: &[usize]) -> Result<(), XlsxError> {
        for column in columns.iter().copied() {
            if let Some(formats) = self.formats.get(column) {
                let format = formats.of(self.in_total);
                self.sheet.write_blank(self.row, at(column), format)?;
            }
        }
        Ok(())
    }

    /// Begins the total row.
    pub(super) fn total(&mut self, label: &str) -> Result<(), XlsxError> {
        self.in_total = true;
        self.blank()?;
        self.text(0, label)
    }

    /// Writes words, always as words.
    pub(super) fn text(&mut self, column: usize, text: &str) -> Result<(), XlsxError> {
        let text = clean(text);
        let longest = text.lines().map(span).max();
        self.widen(column, longest.unwrap_or(0) as f64);
        if let Some(spec) = self.columns.get(column) {
            self.lines = self.lines.max(lines(&text, spec.widest));
        }
        let row = self.row;
        match self.formats.get(column) {
            Some(formats) => {
                let format = formats.of(self.in_total);
                self.sheet
                    .write_string_with_format(row, at(column), text, format)?;
            }
            None => {
                self.sheet.write_string(row, at(column), text)?;
            }
        }
        Ok(())
    }

    /// Writes a number.
    pub(super) fn number(&mut self, column: usize, value: f64) -> Result<(), XlsxError> {
        self.widen_for(column, value);
        let row = self.row;
        if let Some(formats) = self.formats.get(column) {
            let format = formats.of(self.in_total);
            self.sheet
                .write_number_with_format(row, at(column), value, format)?;
        }
        Ok(())
    }

    /// Writes a number that the office may change, in a column where not every cell is one.
    pub(super) fn input_number(&mut self, column: usize, value: f64) -> Result<(), XlsxError> {
        self.widen_for(column, value);
        if let Some(spec) = self.columns.get(column) {
            let format = style::input(spec.look);
            self.sheet
                .write_number_with_format(self.row, at(column), value, &format)?;
        }
        Ok(())
    }

    /// Writes a formula with its result.
    pub(super) fn formula(
        &mut self,
        column: usize,
        formula: &str,
        result: f64,
    ) -> Result<(), XlsxError> {
        if !result.is_finite() {
            let said = "a figure of the workbook would be no number";
            return Err(XlsxError::ParameterError(said.to_owned()));
        }
        self.widen_for(column, result);
        self.write_formula(column, formula, &result.to_string())
    }

    /// Writes a formula whose result is words.
    pub(super) fn formula_saying(
        &mut self,
        column: usize,
        formula: &str,
        result: &str,
    ) -> Result<(), XlsxError> {
        self.widen(column, span(result) as f64);
        self.write_formula(column, formula, result)
    }

    fn write_formula(
        &mut self,
        column: usize,
        formula: &str,
        result: &str,
    ) -> Result<(), XlsxError> {
        let row = self.row;
        if let Some(formats) = self.formats.get(column) {
            if formula.len() > MOST_LETTERS {
                let said = "a formula would be longer than the 8,192 letters that a cell holds: divide the job";
                return Err(XlsxError::ParameterError(said.to_owned()));
            }
            let format = formats.of(self.in_total);
            let formula = Formula::new(formula).set_result(result);
            self.sheet
                .write_formula_with_format(row, at(column), formula, format)?;
        }
        Ok(())
    }

    /// The sum over a column's lines.
    pub(super) fn sum(&mut self, column: usize, result: f64) -> Result<(), XlsxError> {
        let last = self.row.saturating_sub(1);
        let first = row_col_to_cell(self.head + 1, at(column));
        let last = row_col_to_cell(last, at(column));
        self.formula(column, &format!("=SUM({first}:{last})"), result)
    }

    /// The sum over a column's lines in stretches of rows, each given as its first and the one behind
    /// its last; empty stretches add nothing.
    pub(super) fn sum_of(
        &mut self,
        column: usize,
        rows: &[[u32; 2]],
        result: f64,
    ) -> Result<(), XlsxError> {
        let filled = rows.iter().filter(|[first, end]| first < end);
        let ranges = filled.map(|[first, end]| {
            let [first, last] = [*first, end - 1].map(|row| row_col_to_cell(row, at(column)));
            format!("SUM({first}:{last})")
        });
        let ranges: Vec<String> = ranges.collect();
        let formula = match ranges.is_empty() {
            true => "=0".to_owned(),
            false => format!("={}", ranges.join("+")),
        };
        self.formula(column, &formula, result)
    }

    /// A cell of the row being written: `D7`.
    pub(super) fn here(&self, column: usize) -> String {
        row_col_to_cell(self.row, at(column))
    }

    /// Writes words over the whole width of the table, always as words, and goes to the next line.
    pub(super) fn across(&mut self, text: &str, format: &Format) -> Result<(), XlsxError> {
        let text = clean(text);
        let width = self.widths.iter().sum();
        // A merged cell does not find its own height.
        self.lines = self.lines.max(lines(&text, width));
        let (row, last) = (self.row, at(self.columns.len().saturating_sub(1)));
        self.sheet.merge_range(row, 0, row, last, &text, format)?;
        self.next()
    }

    /// Makes a row above the table high enough for words written in a column.
    pub(super) fn make_room(
        &mut self,
        row: u32,
        column: usize,
        text: &str,
    ) -> Result<(), XlsxError> {
        let width = self.widths.get(column).copied().unwrap_or(NARROW);
        let lines = lines(text, width).min(MOST_LINES);
        if lines > 1 {
            self.sheet.set_row_height(row, LINE * lines as u32)?;
        }
        Ok(())
    }

    /// Widens a column to a text.
    pub(super) fn widen(&mut self, column: usize, characters: f64) {
        if let (Some(width), Some(spec)) = (self.widths.get_mut(column), self.columns.get(column)) {
            *width = width.max((characters + ROOM).min(spec.widest));
        }
    }

    /// Prints down to a row that was written below the table.
    pub(super) fn print_to(&mut self, row: u32) {
        self.row = self.row.max(row);
    }

    /// Sets the widths and ends the sheet.
    pub(super) fn end(self) -> Result<(), XlsxError> {
        for (number, width) in self.widths.iter().enumerate() {
            self.sheet.set_column_width(at(number), *width)?;
        }
        let columns = at(self.columns.len().saturating_sub(1));
        self.sheet.set_print_area(0, 0, self.row, columns)?;
        Ok(())
    }

    fn widen_for(&mut self, column: usize, value: f64) {
        let look = self.columns.get(column).map(|column| column.look);
        if let Some(look) = look {
            self.widen(column, printed_width(value, look));
        }
    }
}

impl Formats {
    fn of(&self, in_total: bool) -> &Format {
        if in_total { &self.total } else { &self.body }
    }
}

/// The formats of the columns. Words stand off from the column before them.
fn formats(columns: &[Column]) -> Vec<Formats> {
    let formats = |(number, column): (usize, &Column)| {
        let off = |format: Format| match column.look {
            Look::Text if number > 0 => format.set_indent(1),
            _ => format,
        };
        let body = if column.input {
            style::input(column.look)
        } else {
            style::body(column.look)
        };
        Formats {
            head: off(style::head(column.look)),
            body: off(body),
            total: off(style::total(column.look)),
        }
    };
    columns.iter().enumerate().map(formats).collect()
}

/// How many lines a text takes that is wrapped between words at a width in characters.
fn lines(text: &str, width: f64) -> usize {
    let width = (width.max(1.0)) as usize;
    text.split('\n').map(|line| wrapped(line, width)).sum()
}

fn wrapped(line: &str, width: usize) -> usize {
    let (mut lines, mut used) = (1, 0);
    for word in line.split(' ') {
        let length = span(word);
        if used > 0 && used + 1 + length > width {
            lines += 1;
            used = 0;
        }
        used += length + usize::from(used > 0);
        // A word longer than the line is broken.
        lines += used.saturating_sub(1) / width;
        used = match used % width {
            0 if used > 0 => width,
            rest => rest,
        };
    }
    lines
}

/// A column's number as the writer counts them. No sheet here has more than a few dozen.
pub(super) fn at(column: usize) -> u16 {
    u16::try_from(column).unwrap_or(u16::MAX)
}

/// A cell of any sheet, held in place: `$B$3`.
pub(super) fn fixed(row: u32, column: usize) -> String {
    row_col_to_cell_absolute(row, at(column))
}

/// A column's lines on a sheet, as another sheet refers to them.
pub(super) fn lines_of(sheet: &str, column: usize, lines: usize) -> String {
    let first = HEAD_ROW + 1;
    // At least one: a sheet without lines says so in one.
    let last = HEAD_ROW + u32::try_from(lines.max(1)).unwrap_or(u32::MAX - HEAD_ROW);
    let range = cell_range_absolute(first, at(column), last, at(column));
    format!("{sheet}!{range}")
}

/// The cell of a column in a line, as another sheet refers to it. Lines count from 0.
pub(super) fn cell_of(sheet: &str, column: usize, line: usize) -> String {
    let row = HEAD_ROW + 1 + u32::try_from(line).unwrap_or(u32::MAX - HEAD_ROW - 1);
    format!("{sheet}!{}", fixed(row, column))
}

/// Some of a column's lines, after so many before them.
pub(super) fn lines_between(sheet: &str, column: usize, before: usize, lines: usize) -> String {
    let row = |line: usize| HEAD_ROW + u32::try_from(line).unwrap_or(u32::MAX - HEAD_ROW);
    let range = cell_range_absolute(row(before + 1), at(column), row(before + lines), at(column));
    format!("{sheet}!{range}")
}

/// A header over numbers may take two lines, so that the column is not much wider than they are.
fn head_width(column: &Column) -> f64 {
    let whole = span(&column.head);
    let width = match column.look {
        Look::Text => whole,
        _ => (1..whole)
            .find(|width| lines(&column.head, *width as f64) <= 2 && fits(&column.head, *width))
            .unwrap_or(whole),
    };
    (width as f64 + HEAD_ROOM).max(NARROW)
}

/// Whether no word is longer than a line.
fn fits(text: &str, width: usize) -> bool {
    text.split(' ').all(|word| span(word) <= width)
}

/// The width of a text in characters; those of East Asia are twice as wide as a digit.
fn span(text: &str) -> usize {
    text.chars()
        .map(|ch| if ch >= '\u{1100}' { 2 } else { 1 })
        .sum()
}

/// How many characters a number takes when printed.
fn printed_width(value: f64, look: Look) -> f64 {
    let whole = value.abs().max(1.0).log10().floor() + 1.0;
    let groups = ((whole - 1.0) / 3.0).floor();
    let sign = if value < 0.0 { 1.0 } else { 0.0 };
    let rest = match look {
        Look::Text | Look::Count | Look::Mark | Look::Decimals(0) => 0.0,
        Look::Decimals(decimals) => f64::from(decimals) + 1.0,
        Look::Written => return value.to_string().len() as f64,
        Look::Figure => 7.0,
        Look::Rate => 6.0,
        Look::Date => return "yyyy-mm-dd".len() as f64,
    };
    whole + groups + sign + rest
}

#[cfg(test)]
mod tests;
