//! Workbooks whose reader lays out whole sheets: xls and ods. What they span is looked at first.

use super::bounds::{MAX_SPAN, Used, bound_merged, over};
use super::container::{with_macros, with_password};
use super::open::damaged;
use super::workbook::{cell, names, rows};
use super::{Kind, Merged, Sheet};
use calamine::{Data, DataRef, Ods, OdsError, Reader, Xls, XlsError};
use parge_base::Diagnostic;
use quick_xml::events::{BytesStart, Event};
use std::collections::BTreeMap;
use std::io::{BufReader, Cursor};
use zip::ZipArchive;

/// Refuses compound files that are a locked workbook of the newer kind, or hold macros. Both show
/// in the names of the file's directory, which are UTF-16.
pub(super) fn check(bytes: &[u8]) -> Result<(), Diagnostic> {
    let has = |name: &str| {
        let wide: Vec<u8> = name.encode_utf16().flat_map(u16::to_le_bytes).collect();
        bytes.windows(wide.len()).any(|part| part == wide)
    };
    if has("EncryptedPackage") {
        return Err(with_password());
    }
    if has("_VBA_PROJECT_CUR") {
        return Err(with_macros());
    }
    Ok(())
}

/// The sheets of an xls file. A sheet of this format spans at most 65 536 rows and 256 columns.
pub(super) fn xls(bytes: &[u8]) -> Result<Vec<Sheet>, Diagnostic> {
    let mut book: Xls<_> = Xls::new(Cursor::new(bytes)).map_err(|error| match error {
        XlsError::Password => with_password(),
        _ => damaged(Kind::Xls),
    })?;
    let names = names(book.sheets_metadata())?;
    let mut used = Used::default();
    let mut sheets = Vec::new();
    for (name, hidden) in names {
        let merged = book.merge_cells_by_sheet_name(&name).unwrap_or_default();
        bound_merged(merged.len())?;
        let mut sheet = laid_out(&mut book, name, hidden, &mut used)
            .map_err(|error| error.unwrap_or_else(|| damaged(Kind::Xls)))?;
        sheet.merged = merged
            .into_iter()
            .map(|area| Merged {
                first: area.start,
                last: area.end,
            })
            .collect();
        sheets.push(sheet);
    }
    Ok(sheets)
}

/// The sheets of an ods file.
pub(super) fn ods(bytes: &[u8]) -> Result<Vec<Sheet>, Diagnostic> {
    check_span(bytes)?;
    let mut looks = super::ods::looks(bytes)?;
    let mut book: Ods<_> = Ods::new(Cursor::new(bytes)).map_err(|error| match error {
        OdsError::Password => with_password(),
        _ => damaged(Kind::Ods),
    })?;
    let names = names(book.sheets_metadata())?;
    let mut used = Used::default();
    let mut sheets = Vec::new();
    for (name, hidden) in names {
        let seen = looks.remove(&name).unwrap_or_default();
        let mut sheet = laid_out(&mut book, name, hidden, &mut used)
            .map_err(|error| error.unwrap_or_else(|| damaged(Kind::Ods)))?;
        seen.mark(&mut sheet);
        bound_merged(sheet.merged.len())?;
        sheets.push(sheet);
    }
    Ok(sheets)
}

/// One sheet; an error without words where the reader failed.
fn laid_out<'b, R: Reader<Cursor<&'b [u8]>>>(
    book: &mut R,
    name: String,
    hidden: bool,
    used: &mut Used,
) -> Result<Sheet, Option<Diagnostic>> {
    let values = book.worksheet_range(&name).map_err(|_| None)?;
    let formulas = book.worksheet_formula(&name).map_err(|_| None)?;
    let mut cells = BTreeMap::new();
    if let Some((row, column)) = values.start() {
        for (below, behind, value) in values.used_cells() {
            let at = (row + below as u32, column + behind as u32);
            let formula = formulas
                .get_value(at)
                .filter(|text| !text.is_empty())
                .cloned();
            if let Some(read) = cell(at, &borrowed(value), formula, used).map_err(Some)? {
                cells.insert(at, read);
            }
        }
    }
    Ok(Sheet {
        rows: rows(cells, |_| false),
        hidden,
        name,
        ..Sheet::default()
    })
}

fn borrowed(value: &Data) -> DataRef<'_> {
    match value {
        Data::Int(whole) => DataRef::Int(*whole),
        Data::Float(number) => DataRef::Float(*number),
        Data::String(text) => DataRef::SharedString(text),
        Data::Bool(flag) => DataRef::Bool(*flag),
        Data::DateTime(date) => DataRef::DateTime(*date),
        Data::DateTimeIso(text) => DataRef::DateTimeIso(text.clone()),
        Data::DurationIso(text) => DataRef::DurationIso(text.clone()),
        Data::Error(fault) => DataRef::Error(fault.clone()),
        Data::Empty => DataRef::Empty,
    }
}

/// How many cells the rows of an ods file with anything in them span. A few letters can repeat a
/// filled cell over a whole sheet, and the reader would lay all of it out.
fn check_span(bytes: &[u8]) -> Result<(), Diagnostic> {
    let bad = || damaged(Kind::Ods);
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| bad())?;
    let part = archive.by_name("content.xml").map_err(|_| bad())?;
    let mut reader = quick_xml::Reader::from_reader(BufReader::new(part));
    let (mut buffer, mut span) = (Vec::new(), Span::default());
    loop {
        buffer.clear();
        match reader.read_event_into(&mut buffer).map_err(|_| bad())? {
            Event::Start(element) => span.element(&element, false),
            Event::Empty(element) => span.element(&element, true),
            Event::End(element) if element.name().as_ref() == "table:table-row" => span.row_ends(),
            Event::Eof => return Ok(()),
            _ => {}
        }
        if span.cells() > MAX_SPAN {
            return Err(over(&format!(
                "a sheet that spans more than {MAX_SPAN} cells"
            )));
        }
    }
}

/// Rows and columns up to the last that has anything in it.
#[derive(Debug, Default)]
struct Span {
    rows: u64,
    last_row: u64,
    columns: u64,
    last_column: u64,
    row_repeats: u64,
    row_has_any: bool,
    /// Tables before this one.
    before: u64,
}

impl Span {
    fn element(&mut self, element: &BytesStart<'_>, is_empty: bool) {
        let repeats = |name: &str| {
            let found = element.try_get_attribute(name).ok().flatten();
            let number = found.and_then(|found| found.value.parse::<u64>().ok());
            number.unwrap_or(1)
        };
        match element.name().as_ref() {
            "table:table" => {
                self.before = self.cells();
                (self.rows, self.last_row, self.last_column) = (0, 0, 0);
            }
            "table:table-row" => {
                self.row_repeats = repeats("table:number-rows-repeated");
                (self.columns, self.row_has_any) = (0, false);
                if is_empty {
                    self.row_ends();
                }
            }
            "table:table-cell" | "table:covered-table-cell" => {
                self.columns = self
                    .columns
                    .saturating_add(repeats("table:number-columns-repeated"));
                let filled = !is_empty
                    || element
                        .try_get_attribute("office:value-type")
                        .ok()
                        .flatten()
                        .is_some();
                if filled {
                    self.row_has_any = true;
                    self.last_column = self.last_column.max(self.columns);
                }
            }
            _ => {}
        }
    }

    fn row_ends(&mut self) {
        self.rows = self.rows.saturating_add(self.row_repeats);
        if self.row_has_any {
            self.last_row = self.rows;
        }
    }

    fn cells(&self) -> u64 {
        let here = self.last_row.saturating_mul(self.last_column);
        self.before.saturating_add(here)
    }
}
