//! The sheet of classes: faces and edges that the rules treat alike, each class a table with a row
//! a face, and what its rules work with added up below.

use super::addresses::{Addresses, here, line, on};
use super::clean::clean;
use super::faces;
use super::page::{Frame, at};
use super::sizes::unit_words;
use super::style::{self, Look};
use parge_calc::live::{Cell, Class, Live, Rows};
use parge_calc::takeoff::Takeoff;
use rust_xlsxwriter::{
    ConditionalFormatCell, ConditionalFormatCellRule, Formula, Worksheet, XlsxError,
};

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
    text: rust_xlsxwriter::Format,
    count: rust_xlsxwriter::Format,
    mark: rust_xlsxwriter::Format,
    figure: rust_xlsxwriter::Format,
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    frame.begin(sheet, NAME)?;
    let note = "Faces and edges that the rules treat alike. A mark says that a rule would turn out differently, or that sheets were laid out for other sizes: then have Parge reckon anew.";
    sheet.write_string_with_format(2, 0, note, &style::note())?;
    let formats = Formats {
        text: style::body(Look::Text),
        count: style::body(Look::Count),
        mark: style::body(Look::Mark),
        figure: style::body(Look::Decimals(4)),
    };
    for (number, class) in of.live.classes.iter().enumerate() {
        write_class(sheet, of, number, class, &formats)?;
    }
    let last = FIRST + rows(of.live) as u32;
    let alarm = ConditionalFormatCell::new()
        .set_rule(ConditionalFormatCellRule::GreaterThan(0))
        .set_format(style::alarm());
    sheet.add_conditional_format(FIRST, at(OTHER_RULE), last, at(LAID_OUT), &alarm)?;
    sheet.set_column_width(0, 30)?;
    sheet.set_column_width(1, 26)?;
    for column in COUNT..columns(of.live) {
        sheet.set_column_width(at(column), 14)?;
    }
    sheet.set_freeze_panes(FIRST, 0)?;
    Ok(())
}

fn write_class(
    sheet: &mut Worksheet,
    of: &Addresses<'_>,
    number: usize,
    class: &Class,
    formats: &Formats,
) -> Result<(), XlsxError> {
    let live = of.live;
    let Some(first) = of.class_rows.get(number).copied() else {
        return Ok(());
    };
    let version = live
        .versions
        .iter()
        .find(|version| version.classes.contains(&number));
    let Some(version) = version else {
        return Ok(());
    };
    let title = match version.name {
        Some(name) => format!("{}, alternate “{name}”", class.title),
        None => class.title.clone(),
    };
    sheet.write_string_with_format(first - 2, 0, clean(&title), &style::fact_name().set_bold())?;
    write_head(sheet, of, class, first - 1)?;
    for row in 0..class.rows.len() {
        let at_row = first + row as u32;
        let names = names(&version.estimate.takeoff, &class.rows, row);
        for (column, name) in [0u16, 1].into_iter().zip(names) {
            sheet.write_string_with_format(at_row, column, clean(name), &formats.text)?;
        }
        write_row(sheet, of, number, class, row, at_row, formats)?;
    }
    write_total(sheet, of, number, class, first)
}

fn write_head(
    sheet: &mut Worksheet,
    of: &Addresses<'_>,
    class: &Class,
    row: u32,
) -> Result<(), XlsxError> {
    let kind = match class.rows {
        Rows::Faces(_) => "Face",
        Rows::Edges(_) => "Edge",
    };
    let (text, number) = (style::head(Look::Text), style::head(Look::Count));
    for (column, head) in [(0, "Structure"), (1, kind)] {
        sheet.write_string_with_format(row, column, head, &text)?;
    }
    for (column, head) in [
        (COUNT, "Count"),
        (OTHER_RULE, "Other rule"),
        (LAID_OUT, "Laid out for other sizes"),
    ] {
        sheet.write_string_with_format(row, at(column), head, &number)?;
    }
    let mut lines = 2;
    for (column, term) in (TERMS..).zip(&class.terms) {
        let unit = unit_words(&of.live.system.unit(term.kind));
        let head = match unit.as_str() {
            "" => term.what.clone(),
            unit => format!("{}, {unit}", term.what),
        };
        lines = lines.max(head.chars().count().div_ceil(11) as u32);
        sheet.write_string_with_format(row, at(column), head, &number)?;
    }
    sheet.set_row_height(row, 15 * lines.min(6))?;
    Ok(())
}

fn write_row(
    sheet: &mut Worksheet,
    of: &Addresses<'_>,
    number: usize,
    class: &Class,
    row: usize,
    at_row: u32,
    formats: &Formats,
) -> Result<(), XlsxError> {
    let live = of.live;
    let mut formula = |column: usize, text: &str, value: f64, format| {
        let formula = Formula::new(format!("={text}")).set_result(value.to_string());
        sheet
            .write_formula_with_format(at_row, at(column), formula, format)
            .map(|_| ())
    };
    if let Some(cell) = class.rows.count(row) {
        formula(COUNT, &of.cell(cell), live.value(cell), &formats.count)?;
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
    formula(OTHER_RULE, &mark, now, &formats.mark)?;
    let laid = changed.filter(|_| class.is_laid_out);
    formula(LAID_OUT, laid.as_deref().unwrap_or("0"), 0.0, &formats.mark)?;
    for term in 0..class.terms.len() {
        let expr = live.term(number, row, term);
        let cell = Cell::Term {
            class: number,
            row,
            term,
        };
        formula(
            TERMS + term,
            &of.formula(&expr),
            live.value(cell),
            &formats.figure,
        )?;
    }
    Ok(())
}

fn write_total(
    sheet: &mut Worksheet,
    of: &Addresses<'_>,
    number: usize,
    class: &Class,
    first: u32,
) -> Result<(), XlsxError> {
    let row = of.total_row(number);
    let last = row.saturating_sub(1);
    sheet.write_string_with_format(row, 0, "Of all", &style::total(Look::Text))?;
    sheet.write_blank(row, 1, &style::total(Look::Text))?;
    let range = |column| format!("{}:{}", here(first, column), here(last, column));
    let counts = range(COUNT);
    let mut formula = |column: usize, text: String, value: f64, look| {
        let formula = Formula::new(text).set_result(value.to_string());
        sheet
            .write_formula_with_format(row, at(column), formula, &style::total(look))
            .map(|_| ())
    };
    formula(COUNT, format!("=SUM({counts})"), class.count, Look::Count)?;
    for (column, term) in (TERMS..).zip(&class.terms) {
        let sum = format!("=SUMPRODUCT({counts},{})", range(column));
        formula(column, sum, term.total, Look::Decimals(4))?;
    }
    // The marks have no sum of their own: the sheet of checks adds up the whole column.
    for column in [OTHER_RULE, LAID_OUT] {
        sheet.write_blank(row, at(column), &style::total(Look::Mark))?;
    }
    Ok(())
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
