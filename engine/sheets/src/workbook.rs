//! The workbook: what an office looks through, changes a price in, and sends out.
//!
//! Every amount is a live formula over the cells it comes from, with the estimate's own figure as
//! its stored result; only functions that every spreadsheet program has are used. Nothing in it
//! depends on the clock, so the same estimate gives the same bytes.

mod actuals;
mod addresses;
mod alternates;
mod batches;
mod bid;
mod cautions;
mod change_order;
mod charges;
mod charts;
mod checks;
mod classes;
mod clean;
mod days;
mod edges;
mod faces;
mod factors;
mod form;
mod jobs;
mod kit;
mod labour;
mod ladder;
mod layouts;
mod materials;
mod names;
mod package;
mod page;
mod purchases;
mod rows;
mod sheets;
mod sizes;
mod style;
mod summary;
mod workings;
mod written;

use addresses::Addresses;
pub use change_order::change_order;
pub(crate) use clean::clean as clean_text;
pub(crate) use form::FormSheet;
pub use jobs::jobs_workbook;
use ladder::Ladder;
use page::Frame;
use parge_base::{Diagnostic, Severity, Sources};
use parge_calc::actuals::Comparison;
use parge_calc::job::Job;
use parge_calc::live::{Live, Version};
use parge_calc::price::Estimate;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};
use sheets::Sheets;
use std::fmt;
use std::io::{Cursor, Read, Seek, Write};

/// Rows that a sheet can hold.
const MAX_ROWS: usize = 1_048_576;

/// Columns that a sheet can hold.
const MAX_COLUMNS: usize = 16_384;

/// Rows beside the lines: title, job, wage, header and total, with room to spare.
const OTHER_ROWS: usize = 16;

/// Why there is no workbook.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetError {
    /// A sheet would have more rows than a spreadsheet can hold.
    TooManyRows {
        /// The sheet.
        sheet: &'static str,
        /// The lines it would need.
        lines: usize,
    },
    /// A sheet would have more columns than a spreadsheet can hold.
    TooManyColumns {
        /// The sheet.
        sheet: &'static str,
        /// The columns it would need.
        columns: usize,
    },
    /// The workbook could not be put together.
    Failed(String),
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooManyRows { sheet, lines } => write!(
                f,
                "sheet `{sheet}` would need {lines} lines, but a spreadsheet holds {MAX_ROWS} rows"
            ),
            Self::TooManyColumns { sheet, columns } => write!(
                f,
                "sheet `{sheet}` would need {columns} columns, but a spreadsheet holds {MAX_COLUMNS}"
            ),
            Self::Failed(why) => write!(f, "the workbook could not be written: {why}"),
        }
    }
}

impl std::error::Error for SheetError {}

impl From<XlsxError> for SheetError {
    fn from(error: XlsxError) -> Self {
        Self::Failed(error.to_string())
    }
}

/// The whole workbook as the bytes of an xlsx file.
pub fn workbook(
    estimate: &Estimate,
    sources: &Sources,
    diagnostics: &[Diagnostic],
) -> Result<Vec<u8>, SheetError> {
    let mut bytes = Cursor::new(Vec::new());
    write_workbook(estimate, sources, diagnostics, &mut bytes)?;
    Ok(bytes.into_inner())
}

/// Writes the whole workbook as an empty file's content.
///
/// # Errors
///
/// Where a sheet has no room for the job, and those of the file.
pub fn write_workbook(
    estimate: &Estimate,
    sources: &Sources,
    diagnostics: &[Diagnostic],
    file: &mut (impl Read + Write + Seek + Send),
) -> Result<(), SheetError> {
    write_with(estimate, None, sources, diagnostics, file)
}

/// The same with a sheet of what was used.
pub fn actuals_workbook(
    estimate: &Estimate,
    actuals: &Comparison,
    sources: &Sources,
    diagnostics: &[Diagnostic],
) -> Result<Vec<u8>, SheetError> {
    let mut bytes = Cursor::new(Vec::new());
    write_with(estimate, Some(actuals), sources, diagnostics, &mut bytes)?;
    Ok(bytes.into_inner())
}

fn write_with(
    estimate: &Estimate,
    of_record: Option<&Comparison>,
    sources: &Sources,
    diagnostics: &[Diagnostic],
    file: &mut (impl Read + Write + Seek + Send),
) -> Result<(), SheetError> {
    let live = Live::of(estimate, sources);
    let of = Addresses::of(&live, ladders(&live));
    check_rooms(&of, estimate, of_record, diagnostics.len())?;
    let frame = Frame::new(estimate);
    let mut book = Workbook::new();
    book.set_properties(&properties(&estimate.takeoff.measured.job)?);
    book.set_zip_compression_level(rows::COMPRESSION);
    let warnings = diagnostics
        .iter()
        .filter(|said| said.severity() == Severity::Warning)
        .count();
    let (frame, of) = (&frame, &of);
    let (edges, layouts) = (
        estimate.takeoff.measured.job.edges.len(),
        estimate.takeoff.used_layouts().count(),
    );
    let mut sheets = Sheets::default();
    sheets.add(|sheet| summary::write(sheet, frame, estimate, warnings));
    sheets.add(|sheet| bid::write(sheet, frame, estimate));
    sheets.add(|sheet| checks::write(sheet, frame, estimate, of));
    sheets.add(|sheet| charts::write(sheet, frame, estimate));
    let lines = estimate.takeoff.measured.faces.len();
    sheets.add_long(lines, |sheet, body| {
        faces::write(sheet, body, frame, estimate, of)
    });
    if edges > 0 {
        sheets.add_long(edges, |sheet, body| {
            edges::write(sheet, body, frame, estimate, of)
        });
    }
    if layouts > 0 {
        sheets.add_long(layouts, |sheet, body| {
            layouts::write(sheet, body, frame, estimate)
        });
    }
    sheets.add(|sheet| materials::write(sheet, frame, estimate, of));
    if purchases::lines(estimate) > 0 {
        sheets.add(|sheet| purchases::write(sheet, frame, estimate));
    }
    sheets.add(|sheet| labour::write(sheet, frame, estimate, of));
    if let Some(of_record) = of_record {
        sheets.add(|sheet| actuals::write(sheet, frame, estimate, of_record));
    }
    if !estimate.charges.is_empty() {
        sheets.add(|sheet| charges::write(sheet, frame, estimate, of));
    }
    for number in 1..live.versions.len() {
        sheets.add(move |sheet| alternates::write(sheet, frame, of, number));
    }
    if let Some(plan) = &estimate.takeoff.days {
        let lines = days::lines(plan);
        sheets.add_long(lines, |sheet, body| {
            days::write(sheet, body, frame, estimate, plan)
        });
        if !plan.cards.is_empty() {
            let lines = plan.cards.len();
            sheets.add_long(lines, |sheet, body| {
                batches::write(sheet, body, frame, estimate, plan)
            });
        }
    }
    if !estimate.takeoff.kit.is_empty() {
        sheets.add(|sheet| kit::write(sheet, frame, estimate));
    }
    sheets.add_long(sizes::lines(of), |sheet, body| {
        sizes::write(sheet, body, frame, of)
    });
    sheets.add(|sheet| factors::write(sheet, frame, of, sources));
    let lines = classes::rows(&live);
    sheets.add_long(lines, |sheet, body| classes::write(sheet, body, frame, of));
    let lines = live.workings.len();
    sheets.add_long(lines, |sheet, body| {
        workings::write(sheet, body, frame, of, sources)
    });
    let said = cautions::Said {
        cautions: &estimate.takeoff.cautions,
        diagnostics,
        sources,
    };
    sheets.add(move |sheet| cautions::write(sheet, frame, &said));
    let bodies = sheets.write(&mut book, &frame.styles)?;
    names::define(&mut book, estimate, of);
    match bodies.is_empty() {
        true => book.save_to_writer(&mut *file)?,
        false => package::write(book.save_to_buffer()?, bodies, file)?,
    }
    crate::seal::seal_file(file).map_err(|error| SheetError::Failed(error.to_string()))
}

/// Whether every sheet holds its lines; `said` is the number of diagnostics.
fn check_rooms(
    of: &Addresses<'_>,
    estimate: &Estimate,
    of_record: Option<&Comparison>,
    said: usize,
) -> Result<(), SheetError> {
    let live = of.live;
    check_room("Alternate", alternates::rows(&live.versions))?;
    check_room(sizes::NAME, sizes::lines(of))?;
    check_room(classes::NAME, classes::rows(live))?;
    check_columns(classes::NAME, classes::columns(live))?;
    check_room(workings::NAME, live.workings.len())?;
    check_room(faces::NAME, estimate.takeoff.measured.faces.len())?;
    let edges = estimate.takeoff.measured.job.edges.len();
    check_room(edges::NAME, edges)?;
    let layouts = estimate.takeoff.used_layouts().count();
    check_room(layouts::NAME, layouts)?;
    check_room(bid::NAME, bid::lines(estimate))?;
    check_room(charges::NAME, estimate.charges.len())?;
    check_room(materials::NAME, estimate.materials.len())?;
    check_room(purchases::NAME, purchases::lines(estimate))?;
    check_room(labour::NAME, estimate.labour.len())?;
    let plan = estimate.takeoff.days.as_ref();
    check_room(days::NAME, plan.map_or(0, days::lines))?;
    check_room(batches::NAME, plan.map_or(0, |plan| plan.cards.len()))?;
    check_room(kit::NAME, estimate.takeoff.kit.len())?;
    check_room(factors::NAME, of.factors.len())?;
    check_room(cautions::NAME, estimate.takeoff.cautions.len() + said)?;
    check_room(actuals::NAME, of_record.map_or(0, actuals::rows))
}

/// Where the steps of the price stand, version by version, with the hours that are paid.
fn ladders(live: &Live<'_>) -> Vec<(Ladder, String)> {
    let of = |(number, version): (usize, &Version<'_>)| match number {
        0 => (summary::ladder(), labour::hours_sum(version.estimate)),
        number => {
            let ladder = alternates::ladder(number, version.estimate);
            (ladder, alternates::hours(number, version.estimate))
        }
    };
    live.versions.iter().enumerate().map(of).collect()
}

fn check_room(sheet: &'static str, lines: usize) -> Result<(), SheetError> {
    if lines <= MAX_ROWS - OTHER_ROWS {
        Ok(())
    } else {
        Err(SheetError::TooManyRows { sheet, lines })
    }
}

fn check_columns(sheet: &'static str, columns: usize) -> Result<(), SheetError> {
    match columns <= MAX_COLUMNS {
        true => Ok(()),
        false => Err(SheetError::TooManyColumns { sheet, columns }),
    }
}

/// The file's own facts. Its date is the day of the bid, or a fixed one: the clock would make
/// every file differ from the last.
fn properties(job: &Job) -> Result<DocProperties, XlsxError> {
    let date = job.date.and_then(|date| {
        let year = u16::try_from(date.year()).ok()?;
        let month = u8::try_from(date.month()).ok()?;
        let day = u8::try_from(date.day()).ok()?;
        ExcelDateTime::from_ymd(year, month, day).ok()
    });
    let properties = properties_of(&job.name)?;
    Ok(match date {
        Some(date) => properties.set_creation_datetime(&date),
        None => properties,
    })
}

/// The facts of a file without a day of its own.
pub(crate) fn properties_of(title: &str) -> Result<DocProperties, XlsxError> {
    let fixed = ExcelDateTime::from_ymd(2000, 1, 1)?;
    let title = clean::cut(&clean::clean(title), 200);
    Ok(DocProperties::new()
        .set_title(title)
        .set_creation_datetime(&fixed))
}

#[cfg(test)]
mod tests;
