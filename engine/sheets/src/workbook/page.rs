//! One sheet: title, header row, lines, total, and how it is printed.

mod rules;

use super::addresses::here;
use super::clean::{clean, cut};
use super::rows::{Body, Cells, RowText, no_number};
use super::style::{self, Look, Style, Styles};
use parge_calc::job::UnitSystem;
use parge_calc::price::Estimate;
use rust_xlsxwriter::utility::{cell_range_absolute, row_col_to_cell, row_col_to_cell_absolute};
use rust_xlsxwriter::{Format, Formula, Worksheet, XlsxError};
use std::sync::Arc;

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
    pub(super) styles: Styles,
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
            styles: Styles::of_tables(),
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
            styles: Styles::of_tables(),
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
    head: Style,
    body: Style,
    /// Of a cell that may be changed, in a column where not every cell is one.
    input: Style,
    total: Style,
}

/// The columns of a table.
struct Table {
    columns: Vec<Column>,
    formats: Vec<Formats>,
}

/// Writes the lines of a table, each as one row.
pub(super) trait Lines: Sync {
    /// Writes a line. Lines count from 0.
    fn write(&self, page: &mut Page<'_, impl Cells>, line: usize) -> Result<(), XlsxError>;
}

/// A sheet being written from the top down, or some rows of a long one.
pub(super) struct Page<'w, C = Worksheet> {
    pub(super) sheet: &'w mut C,
    table: Arc<Table>,
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
        let widths = columns.iter().map(head_width).collect();
        let table = Table {
            formats: formats(&columns, &frame.styles),
            columns,
        };
        Ok(Self {
            sheet,
            table: Arc::new(table),
            widths,
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
        let table = Arc::clone(&self.table);
        for (number, column) in table.columns.iter().enumerate() {
            if let Some(formats) = table.formats.get(number) {
                self.sheet
                    .words(row, at(number), &column.head, &formats.head)?;
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

    /// Writes so many lines: into a sheet as they come, or into the body of a long one.
    pub(super) fn lines(
        &mut self,
        body: &mut Body,
        count: usize,
        of: &impl Lines,
    ) -> Result<(), XlsxError> {
        if !body.is_long {
            return (0..count).try_for_each(|line| of.write(self, line));
        }
        let (first, columns) = (self.row, self.table.columns.len());
        let (table, widths, head) = (&self.table, &self.widths, self.head);
        let widths = body.write(first, count, columns, |text: &mut RowText, lines| {
            let mut part = Page {
                sheet: text,
                table: Arc::clone(table),
                widths: widths.clone(),
                head,
                row: first + lines.start as u32,
                lines: 1,
                in_total: false,
            };
            lines
                .into_iter()
                .try_for_each(|line| of.write(&mut part, line))?;
            Ok(part.widths)
        })?;
        for of_part in widths {
            for (width, of_part) in self.widths.iter_mut().zip(of_part) {
                *width = width.max(of_part);
            }
        }
        self.row = first + count as u32;
        Ok(())
    }

    /// A line that says that there is nothing, so that no sum is over nothing.
    pub(super) fn nothing(&mut self, text: &str) -> Result<(), XlsxError> {
        self.blank()?;
        self.text(0, text)?;
        self.next()
    }

    /// Begins the total row.
    pub(super) fn total(&mut self, label: &str) -> Result<(), XlsxError> {
        self.in_total = true;
        self.blank()?;
        self.text(0, label)
    }

    /// Writes a formula whose result is words.
    pub(super) fn formula_saying(
        &mut self,
        column: usize,
        formula: &str,
        result: &str,
    ) -> Result<(), XlsxError> {
        self.widen(column, span(result) as f64);
        if let Some(formats) = self.table.formats.get(column) {
            let formula = Formula::new(fitting(formula)?).set_result(result);
            let style = formats.of(self.in_total);
            self.sheet
                .write_formula_with_format(self.row, at(column), formula, &style.format)?;
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

    /// Writes words over the whole width of the table, always as words, and goes to the next line.
    pub(super) fn across(&mut self, text: &str, format: &Format) -> Result<(), XlsxError> {
        let text = clean(text);
        let width = self.widths.iter().sum();
        // A merged cell does not find its own height.
        self.lines = self.lines.max(lines(&text, width));
        let (row, last) = (self.row, at(self.table.columns.len().saturating_sub(1)));
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

    /// Prints down to a row that was written below the table.
    pub(super) fn print_to(&mut self, row: u32) {
        self.row = self.row.max(row);
    }

    /// Sets the widths and ends the sheet.
    pub(super) fn end(self) -> Result<(), XlsxError> {
        for (number, width) in self.widths.iter().enumerate() {
            self.sheet.set_column_width(at(number), *width)?;
        }
        let columns = at(self.table.columns.len().saturating_sub(1));
        self.sheet.set_print_area(0, 0, self.row, columns)?;
        Ok(())
    }
}

impl<C: Cells> Page<'_, C> {
    /// The row being written.
    pub(super) fn row(&self) -> u32 {
        self.row
    }

    /// Goes to the next line. Not every program finds the height of a row whose texts wrap, so
    /// it is set.
    pub(super) fn next(&mut self) -> Result<(), XlsxError> {
        let height = (self.lines > 1).then(|| LINE * self.lines.min(MOST_LINES) as u32);
        self.sheet.end_row(self.row, height)?;
        self.lines = 1;
        self.in_total = false;
        self.row += 1;
        Ok(())
    }

    /// Gives every cell of the row its format.
    pub(super) fn blank(&mut self) -> Result<(), XlsxError> {
        let all: Vec<usize> = (0..self.table.columns.len()).collect();
        self.blank_at(&all)
    }

    /// Gives some cells of the row their format: those of a long sheet that hold nothing.
    pub(super) fn blank_at(&mut self, columns: &[usize]) -> Result<(), XlsxError> {
        for column in columns.iter().copied() {
            if let Some(formats) = self.table.formats.get(column) {
                let style = formats.of(self.in_total);
                self.sheet.blank(self.row, at(column), style)?;
            }
        }
        Ok(())
    }

    /// Writes words, always as words.
    pub(super) fn text(&mut self, column: usize, text: &str) -> Result<(), XlsxError> {
        let text = clean(text);
        let longest = text.lines().map(span).max();
        self.widen(column, longest.unwrap_or(0) as f64);
        if let Some(spec) = self.table.columns.get(column) {
            self.lines = self.lines.max(lines(&text, spec.widest));
        }
        if let Some(formats) = self.table.formats.get(column) {
            let style = formats.of(self.in_total);
            self.sheet.words(self.row, at(column), &text, style)?;
        }
        Ok(())
    }

    /// Writes a number.
    pub(super) fn number(&mut self, column: usize, value: f64) -> Result<(), XlsxError> {
        self.widen_for(column, value);
        if let Some(formats) = self.table.formats.get(column) {
            let style = formats.of(self.in_total);
            self.sheet.number(self.row, at(column), value, style)?;
        }
        Ok(())
    }

    /// Writes a number that the office may change, in a column where not every cell is one.
    pub(super) fn input_number(&mut self, column: usize, value: f64) -> Result<(), XlsxError> {
        self.widen_for(column, value);
        if let Some(formats) = self.table.formats.get(column) {
            self.sheet
                .number(self.row, at(column), value, &formats.input)?;
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
            return Err(no_number());
        }
        self.widen_for(column, result);
        if let Some(formats) = self.table.formats.get(column) {
            let formula = fitting(formula)?;
            let style = formats.of(self.in_total);
            self.sheet
                .formula(self.row, at(column), formula, result, style)?;
        }
        Ok(())
    }

    /// A cell of the row being written: `D7`.
    pub(super) fn here(&self, column: usize) -> String {
        here(self.row, column)
    }

    /// Widens a column to a text.
    pub(super) fn widen(&mut self, column: usize, characters: f64) {
        if let (Some(width), Some(spec)) =
            (self.widths.get_mut(column), self.table.columns.get(column))
        {
            *width = width.max((characters + ROOM).min(spec.widest));
        }
    }

    fn widen_for(&mut self, column: usize, value: f64) {
        let look = self.table.columns.get(column).map(|column| column.look);
        if let Some(look) = look {
            self.widen(column, printed_width(value, look));
        }
    }
}

impl Formats {
    fn of(&self, in_total: bool) -> &Style {
        if in_total { &self.total } else { &self.body }
    }
}

/// The formats of the columns. Words stand off from the column before them.
fn formats(columns: &[Column], styles: &Styles) -> Vec<Formats> {
    let formats = |(number, column): (usize, &Column)| {
        let off = |format: Format| match column.look {
            Look::Text if number > 0 => styles.style(format.set_indent(1)),
            _ => styles.style(format),
        };
        let body = if column.input {
            style::input(column.look)
        } else {
            style::body(column.look)
        };
        Formats {
            head: off(style::head(column.look)),
            body: off(body),
            input: styles.style(style::input(column.look)),
            total: off(style::total(column.look)),
        }
    };
    columns.iter().enumerate().map(formats).collect()
}

/// A formula without the sign that begins it, which a cell must have room for.
fn fitting(formula: &str) -> Result<&str, XlsxError> {
    if formula.len() > MOST_LETTERS {
        let said =
            "a formula would be longer than the 8,192 letters that a cell holds: divide the job";
        return Err(XlsxError::ParameterError(said.to_owned()));
    }
    Ok(formula.strip_prefix('=').unwrap_or(formula))
}

/// How many lines a text takes that is wrapped between words at a width in characters.
fn lines(text: &str, width: f64) -> usize {
    let width = (width.max(1.0)) as usize;
    // No character is wider than its bytes are many.
    if text.len() <= width && !text.contains('\n') {
        return 1;
    }
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
    if text.is_ascii() {
        return text.len();
    }
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
