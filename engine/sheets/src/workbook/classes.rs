//! The sheet of classes: faces and edges that the rules treat alike, each class a table with a row
//! a face, and what its rules work with added up below.

use super::addresses::{Addresses, here, line, on};
use super::clean::clean;
use super::faces;
use super::page::{Frame, at};
use super::rows::{Body, Cells};
use super::sizes::unit_words;
use super::style::{self, Look, Style, Styles};
use parge_calc::live::{Cell, Class, Live, Rows, Version};
use parge_calc::takeoff::Takeoff;
use rust_xlsxwriter::{ConditionalFormatCell, ConditionalFormatCellRule, Worksheet, XlsxError};
use std::ops::Range;

pub(super) const NAME: &str = "Classes";

pub(super) const COUNT: usize = 2;
/// A mark: a rule would turn out differently for the row.
pub(super) const OTHER_RULE: usize = 3;
/// A mark: sheets were laid out for sizes that the row no longer has.
pub(super) const LAID_OUT: usize = 4;
/// The first column of what the rules work with.
pub(super) const TERMS: usize = 5;

/// The row of the first title.
const FIRST: u32 = 3;
/// Rows of a class beside its lines: title, header, total, and an empty one.
const AROUND: u32 = 4;

/// The first row of each class.
pub(super) fn first_rows(live: &Live<'_>) -> Vec<u32> {
    let mut row = FIRST;
    let rows = live.classes.iter().map(|class| {
        let first = row + 2;
        row = row.saturating_add(class.rows.len() as u32 + AROUND);
        first
    });
    rows.collect()
}

/// How many rows the sheet has.
pub(super) fn rows(live: &Live<'_>) -> usize {
    let lines: usize = live.classes.iter().map(|class| class.rows.len()).sum();
    lines + live.classes.len() * AROUND as usize
}

/// The widest class.
pub(super) fn columns(live: &Live<'_>) -> usize {
    let terms = live.classes.iter().map(|class| class.terms.len());
    TERMS + terms.max().unwrap_or(0)
}

/// The formats of the sheet.
struct Formats {
    title: Style,
    head_words: Style,
    head: Style,
    words: Style,
    count: Style,
    mark: Style,
    figure: Style,
    total_words: Style,
    total_count: Style,
    total_mark: Style,
    total_figure: Style,
}

impl Formats {
    fn new(styles: &Styles) -> Self {
        let figure = Look::Decimals(4);
        let body = |look| styles.style(style::body(look));
        let total = |look| styles.style(style::total(look));
        Self {
            title: styles.style(style::fact_name().set_bold()),
            head_words: styles.style(style::head(Look::Text)),
            head: styles.style(style::head(Look::Count)),
            words: body(Look::Text),
            count: body(Look::Count),
            mark: body(Look::Mark),
            figure: body(figure),
            total_words: total(Look::Text),
            total_count: total(Look::Count),
            total_mark: total(Look::Mark),
            total_figure: total(figure),
        }
    }
}

pub(super) fn write(
    sheet: &mut Worksheet,
    body: &mut Body,
    frame: &Frame,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    frame.begin(sheet, NAME)?;
    let note = "Faces and edges that the rules treat alike. A mark says that a rule would turn out differently, or that sheets were laid out for other sizes: then have Parge reckon anew.";
    sheet.write_string_with_format(2, 0, note, &style::note())?;
    let formats = Formats::new(&frame.styles);
    // Below the last class stands nothing.
    let (lines, columns) = (rows(of.live).saturating_sub(1), columns(of.live));
    let write = |cells: &mut _, lines: Range<usize>| {
        let mut table = ClassRows {
            cells,
            of,
            formats: &formats,
            row: 0,
        };
        lines.into_iter().try_for_each(|line| table.write(line))
    };
    match body.is_long {
        true => {
            body.write(FIRST, lines, columns, write)?;
        }
        false => {
            let mut table = ClassRows {
                cells: &mut *sheet,
                of,
                formats: &formats,
                row: 0,
            };
            (0..lines).try_for_each(|line| table.write(line))?;
        }
    }
    let last = FIRST + rows(of.live) as u32;
    let alarm = ConditionalFormatCell::new()
        .set_rule(ConditionalFormatCellRule::GreaterThan(0))
        .set_format(style::alarm());
    sheet.add_conditional_format(FIRST, at(OTHER_RULE), last, at(LAID_OUT), &alarm)?;
    sheet.set_column_width(0, 30)?;
    sheet.set_column_width(1, 26)?;
    for column in COUNT..columns {
        sheet.set_column_width(at(column), 14)?;
    }
    sheet.set_freeze_panes(FIRST, 0)?;
    Ok(())
}

/// Rows of the sheet, from the top down.
struct ClassRows<'w, C> {
    cells: &'w mut C,
    of: &'w Addresses<'w>,
    formats: &'w Formats,
    /// The row being written.
    row: u32,
}

impl<'w, C: Cells> ClassRows<'w, C> {
    /// A line below the note: of the class that it lies in, the title, the header, a row, the
    /// total, or nothing.
    fn write(&mut self, line: usize) -> Result<(), XlsxError> {
        self.row = FIRST + line as u32;
        let (row, of) = (self.row, self.of);
        // The first row of a class has its title and header above.
        let behind = of.class_rows.partition_point(|first| first - 2 <= row);
        let number = behind.saturating_sub(1);
        let class = of.live.classes.get(number);
        let (Some(class), Some(first)) = (class, of.class_rows.get(number)) else {
            return self.cells.end_row(row, None);
        };
        let mut height = None;
        match (row + 2 - first) as usize {
            0 => self.title(number, class)?,
            1 => height = Some(self.head(class)?),
            line if line < 2 + class.rows.len() => self.line(number, class, line - 2)?,
            line if line == 2 + class.rows.len() => self.total(class, *first)?,
            _ => {}
        }
        self.cells.end_row(row, height)
    }

    fn version(&self, class: usize) -> Option<&'w Version<'w>> {
        let mut versions = self.of.live.versions.iter();
        versions.find(|version| version.classes.contains(&class))
    }

    fn words(&mut self, column: usize, text: &str, style: &Style) -> Result<(), XlsxError> {
        self.cells.words(self.row, at(column), &clean(text), style)
    }

    fn formula(
        &mut self,
        column: usize,
        formula: &str,
        value: f64,
        style: &Style,
    ) -> Result<(), XlsxError> {
        self.cells
            .formula(self.row, at(column), formula, value, style)
    }

    fn title(&mut self, number: usize, class: &Class) -> Result<(), XlsxError> {
        let name = self.version(number).and_then(|version| version.name);
        let title = match name {
            Some(name) => format!("{}, alternate “{name}”", class.title),
            None => class.title.clone(),
        };
        self.words(0, &title, &self.formats.title)
    }

    /// The header, and how high it is.
    fn head(&mut self, class: &Class) -> Result<u32, XlsxError> {
        let kind = match class.rows {
            Rows::Faces(_) => "Face",
            Rows::Edges(_) => "Edge",
        };
        let formats = self.formats;
        for (column, head) in [(0, "Structure"), (1, kind)] {
            self.words(column, head, &formats.head_words)?;
        }
        for (column, head) in [
            (COUNT, "Count"),
            (OTHER_RULE, "Other rule"),
            (LAID_OUT, "Laid out for other sizes"),
        ] {
            self.words(column, head, &formats.head)?;
        }
        let mut lines = 2;
        for (column, term) in (TERMS..).zip(&class.terms) {
            let unit = unit_words(&self.of.live.system.unit(term.kind));
            let head = match unit.as_str() {
                "" => term.what.clone(),
                unit => format!("{}, {unit}", term.what),
            };
            lines = lines.max(head.chars().count().div_ceil(11) as u32);
            self.words(column, &head, &formats.head)?;
        }
        Ok(15 * lines.min(6))
    }

    fn line(&mut self, number: usize, class: &Class, row: usize) -> Result<(), XlsxError> {
        let (of, formats) = (self.of, self.formats);
        let live = of.live;
        let takeoff = self
            .version(number)
            .map(|version| &version.estimate.takeoff);
        let names = takeoff.map(|takeoff| names(takeoff, &class.rows, row));
        for (column, name) in names.unwrap_or_default().into_iter().enumerate() {
            self.words(column, name, &formats.words)?;
        }
        if let Some(cell) = class.rows.count(row) {
            self.formula(COUNT, &of.cell(cell), live.value(cell), &formats.count)?;
        }
        let changed = match &class.rows {
            Rows::Faces(rows) => rows
                .get(row)
                .map(|[face, _]| on(faces::NAME, line(*face), faces::CHANGED)),
            Rows::Edges(_) => None,
        };
        // Where so much is compared that no cell holds it, every change counts; of an edge nobody knows.
        let mark = of.mark(&live.row_guards(number, row));
        let (mark, now) = match mark.or_else(|| changed.clone()) {
            Some(mark) => (mark, 0.0),
            None => ("1".to_owned(), 1.0),
        };
        self.formula(OTHER_RULE, &mark, now, &formats.mark)?;
        let laid = changed.filter(|_| class.is_laid_out);
        self.formula(LAID_OUT, laid.as_deref().unwrap_or("0"), 0.0, &formats.mark)?;
        // A term may rest on those before it in its row.
        let (mut text, mut values) = (String::new(), Vec::with_capacity(class.terms.len()));
        for term in 0..class.terms.len() {
            let expr = live.term(number, row, term);
            let value = expr.value(&|cell| match cell {
                Cell::Term {
                    class,
                    row: of_row,
                    term,
                } if (class, of_row) == (number, row) => values
                    .get(term)
                    .copied()
                    .unwrap_or_else(|| live.value(cell)),
                cell => live.value(cell),
            });
            values.push(value);
            text.clear();
            of.push_formula(&expr, &mut text);
            self.formula(TERMS + term, &text, value, &formats.figure)?;
        }
        Ok(())
    }

    fn total(&mut self, class: &Class, first: u32) -> Result<(), XlsxError> {
        let formats = self.formats;
        let last = self.row.saturating_sub(1);
        self.words(0, "Of all", &formats.total_words)?;
        self.cells.blank(self.row, 1, &formats.total_words)?;
        let range = |column| format!("{}:{}", here(first, column), here(last, column));
        let counts = range(COUNT);
        let sum = format!("SUM({counts})");
        self.formula(COUNT, &sum, class.count, &formats.total_count)?;
        // The marks have no sum of their own: the sheet of checks adds up the whole column.
        for column in [OTHER_RULE, LAID_OUT] {
            self.cells
                .blank(self.row, at(column), &formats.total_mark)?;
        }
        for (column, term) in (TERMS..).zip(&class.terms) {
            let sum = format!("SUMPRODUCT({counts},{})", range(column));
            self.formula(column, &sum, term.total, &formats.total_figure)?;
        }
        Ok(())
    }
}

/// Structure and name of a row.
fn names<'t>(takeoff: &'t Takeoff, rows: &Rows, row: usize) -> [&'t str; 2] {
    let job = &takeoff.measured.job;
    let found = match rows {
        Rows::Faces(rows) => rows.get(row).and_then(|[_, number]| {
            let measured = takeoff.measured.faces.get(*number)?;
            let face = job.faces.get(measured.face)?;
            Some([job.structure_name(face.structure), face.name.as_str()])
        }),
        Rows::Edges(rows) => rows.get(row).and_then(|[_, number]| {
            let edge = job.edges.get(*number)?;
            Some([job.structure_name(edge.structure), edge.kind.as_str()])
        }),
    };
    found.unwrap_or_default()
}
