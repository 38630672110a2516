//! Workbooks whose cells are read one by one: xlsx and xlsb.

use super::ahead::Ahead;
use super::bounds::{MAX_FORMULA, MAX_SHEETS, Used, bound_merged, over};
use super::hidden::{Hidden, Places};
use super::laid::Laid;
use super::open::damaged;
use super::plain::{Look, Rows};
use super::{Cell, Content, Kind, Merged, Note, Row, Sheet, hidden, xlsb};
use calamine::{
    DataRef, ExcelDateTime, Reader, SheetType, SheetVisible, Xlsb, Xlsx, XlsxFormulaMetadata,
};
use parge_base::Diagnostic;
use std::collections::BTreeMap;
use std::io::Cursor;

type Cells = BTreeMap<(u32, u32), Cell>;

/// What was read of the sheets of a workbook that are written plainly, by their names.
#[derive(Default)]
struct Plain {
    rows: BTreeMap<String, Rows>,
    /// What else is hidden.
    hidden: BTreeMap<String, Hidden>,
}

/// The sheets of an xlsx file, of which some may have been read ahead.
pub(super) fn xlsx(bytes: &[u8], ahead: Option<Ahead>) -> Result<Vec<Sheet>, Diagnostic> {
    let (book, ahead) = rayon::join(
        || Xlsx::new(Cursor::new(bytes)).map_err(|_| damaged(Kind::Xlsx)),
        || ahead.map(Ahead::sheets),
    );
    let mut book: Xlsx<_> = book?;
    let (mut places, parts) = match ahead {
        Some(read) => read,
        None => (hidden::places(bytes)?, BTreeMap::new()),
    };
    let names = names(book.sheets_metadata())?;
    let mut plain = read_ahead(&mut book, &places, parts);
    places.retain(|(name, _)| !plain.hidden.contains_key(name));
    // Both go through all of the other sheets, and neither needs the other.
    let (hidden, sheets) = rayon::join(
        || hidden::of(bytes, &places),
        || values(&mut book, names, &mut plain.rows),
    );
    let (mut hidden, mut sheets) = (hidden?, sheets?);
    hidden.append(&mut plain.hidden);
    for sheet in &mut sheets {
        let seen = hidden.get(&sheet.name);
        if let Some(seen) = seen {
            sheet.hidden_columns = seen.columns();
            for row in &mut sheet.rows {
                row.hidden |= seen.rows.contains(&row.number);
            }
        }
        if seen.is_none_or(|seen| seen.merges) {
            sheet.merged = merged(&mut book, &sheet.name)?;
        }
    }
    Ok(sheets)
}

/// What was read ahead of parts that are each one sheet.
fn read_ahead(
    book: &mut Xlsx<Cursor<&[u8]>>,
    places: &Places,
    mut parts: BTreeMap<String, (Rows, Hidden)>,
) -> Plain {
    let mut plain = Plain::default();
    for (name, path) in places {
        let is_alone = places
            .iter()
            .filter(|own| own.0 == *name || own.1 == *path)
            .count()
            == 1;
        // The reader looks at what stands before the rows.
        let (Some((rows, hidden)), true) = (parts.remove(path), is_alone) else {
            continue;
        };
        if book.worksheet_cells_reader(name).is_ok() {
            plain.rows.insert(name.clone(), rows);
            plain.hidden.insert(name.clone(), hidden);
        }
    }
    plain
}

/// The sheets with their cells and what their formats say, those that were read plainly as they are.
fn values(
    book: &mut Xlsx<Cursor<&[u8]>>,
    names: Vec<(String, bool)>,
    plain: &mut BTreeMap<String, Rows>,
) -> Result<Vec<Sheet>, Diagnostic> {
    let mut used = Used::default();
    let mut sheets = Vec::new();
    for (name, hidden) in names {
        let read = plain.remove(&name);
        let read = read.and_then(|read| Some((used.and(&read.used)?, read.rows)));
        let rows = match read {
            Some((both, rows)) => {
                used = both;
                rows
            }
            None => {
                let mut rows = cells(book, &name, &mut used)?;
                looks(book, &name, &mut rows).ok_or_else(|| damaged(Kind::Xlsx))?;
                rows
            }
        };
        sheets.push(Sheet {
            name,
            hidden,
            rows,
            ..Sheet::default()
        });
    }
    Ok(sheets)
}

fn cells(
    book: &mut Xlsx<Cursor<&[u8]>>,
    name: &str,
    used: &mut Used,
) -> Result<Vec<Row>, Diagnostic> {
    let bad = |_| damaged(Kind::Xlsx);
    let mut laid = Laid::default();
    let mut reader = book.worksheet_cells_reader(name).map_err(bad)?;
    while let Some(read) = reader.next_cell_with_formula_metadata().map_err(bad)? {
        let formula = read.formula.map(formula);
        if let Some(cell) = cell(read.pos, &read.value, formula, used)? {
            laid.put(read.pos.0, cell);
        }
    }
    Ok(laid.rows())
}

fn merged(book: &mut Xlsx<Cursor<&[u8]>>, name: &str) -> Result<Vec<Merged>, Diagnostic> {
    let merged = book.merge_cells_by_sheet_name(name);
    let merged = merged.map_err(|_| damaged(Kind::Xlsx))?;
    bound_merged(merged.len())?;
    let areas = merged.into_iter().map(|area| Merged {
        first: area.start,
        last: area.end,
    });
    Ok(areas.collect())
}

/// What the formats of cells say: struck through, and the format of numbers.
fn looks(book: &mut Xlsx<Cursor<&[u8]>>, name: &str, rows: &mut [Row]) -> Option<()> {
    let mut reader = book.worksheet_cells_reader(name).ok()?;
    let styles: Vec<Look> = reader.styles().iter().map(Look::of).collect();
    if !styles.iter().any(Look::says) {
        // Whatever style a cell has, it says nothing: the cells need not be gone through again.
        return Some(());
    }
    let mut place = 0;
    while let Some((row, column, style)) = reader.next_style_id().ok()? {
        if rows.get(place).is_none_or(|at| at.number != row) {
            place = rows.partition_point(|at| at.number < row);
        }
        let row = rows.get_mut(place).filter(|at| at.number == row);
        if let (Some(cell), Some(look)) =
            (row.and_then(|row| row.cell_mut(column)), styles.get(style))
        {
            cell.struck = look.struck;
            cell.format.clone_from(&look.format);
        }
    }
    Some(())
}

/// The sheets of an xlsb file.
pub(super) fn xlsb(bytes: &[u8]) -> Result<Vec<Sheet>, Diagnostic> {
    let bad = || damaged(Kind::Xlsb);
    let mut book: Xlsb<_> = Xlsb::new(Cursor::new(bytes)).map_err(|_| bad())?;
    let mut looks = xlsb::looks(bytes)?;
    let mut used = Used::default();
    let mut sheets = Vec::new();
    for (name, is_hidden) in names(book.sheets_metadata())? {
        let seen = looks.remove(&name).unwrap_or_default();
        let formulas = formulas(&mut book, &name).ok_or_else(bad)?;
        let mut cells = Cells::new();
        let mut reader = book.worksheet_cells_reader(&name).map_err(|_| bad())?;
        while let Some(read) = reader.next_cell().map_err(|_| bad())? {
            let at = read.get_position();
            let formula = formulas.get(&at).cloned();
            if let Some(cell) = cell(at, read.get_value(), formula, &mut used)? {
                cells.insert(at, cell);
            }
        }
        for (at, shows) in seen.faults {
            used.cell(0)?;
            let formula = formulas.get(&at).cloned();
            cells.entry(at).or_insert_with(|| fault(at, shows, formula));
        }
        for (at, style) in seen.cells {
            if let Some(cell) = cells.get_mut(&at) {
                (cell.struck, cell.format) = (style.struck, style.format.map(Note::from));
            }
        }
        bound_merged(seen.merged.len())?;
        sheets.push(Sheet {
            rows: rows(cells, |row| seen.hidden.rows.contains(&row)),
            hidden: is_hidden,
            name,
            merged: seen.merged,
            hidden_columns: seen.hidden.columns(),
        });
    }
    Ok(sheets)
}

/// The formulas of a sheet of an xlsb file.
fn formulas(book: &mut Xlsb<Cursor<&[u8]>>, name: &str) -> Option<BTreeMap<(u32, u32), String>> {
    let mut found = BTreeMap::new();
    let mut reader = book.worksheet_cells_reader(name).ok()?;
    while let Some(read) = reader.next_formula().ok()? {
        found.insert(read.get_position(), cut(read.get_value()));
    }
    Some(found)
}

/// The cell of a formula that shows a fault, which the reader passes over.
fn fault((_, column): (u32, u32), shows: &str, formula: Option<String>) -> Cell {
    Cell {
        column,
        content: Content::Fault(shows.into()),
        formula: formula.map(Note::from),
        struck: false,
        format: None,
    }
}

/// The names of the sheets with cells, and whether they are hidden.
pub(super) fn names(sheets: &[calamine::Sheet]) -> Result<Vec<(String, bool)>, Diagnostic> {
    if sheets.len() > MAX_SHEETS {
        return Err(over(&format!("more than {MAX_SHEETS} sheets")));
    }
    let of_cells = sheets
        .iter()
        .filter(|sheet| sheet.typ == SheetType::WorkSheet);
    Ok(of_cells
        .map(|sheet| (sheet.name.clone(), sheet.visible != SheetVisible::Visible))
        .collect())
}

/// The cells by rows.
pub(super) fn rows(cells: Cells, is_hidden: impl Fn(u32) -> bool) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for ((number, _), cell) in cells {
        match rows.last_mut().filter(|row| row.number == number) {
            Some(row) => row.cells.push(cell),
            None => rows.push(Row {
                number,
                hidden: is_hidden(number),
                cells: vec![cell],
            }),
        }
    }
    rows
}

fn formula(read: XlsxFormulaMetadata) -> String {
    match read {
        XlsxFormulaMetadata::Normal { formula } | XlsxFormulaMetadata::Shared { formula, .. } => {
            cut(&formula)
        }
        _ => String::new(),
    }
}

pub(super) fn cut(formula: &str) -> String {
    formula.chars().take(MAX_FORMULA).collect()
}

/// A cell, if anything is in it.
pub(super) fn cell(
    (_, column): (u32, u32),
    value: &DataRef<'_>,
    formula: Option<String>,
    used: &mut Used,
) -> Result<Option<Cell>, Diagnostic> {
    let content = match value {
        DataRef::Empty => None,
        DataRef::Int(whole) => Some(Content::Number(*whole as f64)),
        DataRef::Float(number) => number.is_finite().then_some(Content::Number(*number)),
        DataRef::String(text) => words(text),
        DataRef::SharedString(text) => words(text),
        DataRef::Bool(flag) => Some(Content::Flag(*flag)),
        DataRef::DateTime(date) => Some(day(date)),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => words(text),
        DataRef::Error(fault) => Some(Content::Fault(fault.to_string().into())),
    };
    let content = match (content, &formula) {
        (Some(content), _) => content,
        // A formula whose result was never stored; `""` is a result, and says nothing.
        (None, Some(_)) if matches!(value, DataRef::Empty) => Content::Nothing,
        (None, _) => return Ok(None),
    };
    let length = match &content {
        Content::Text(text) => text.len(),
        _ => 0,
    };
    used.cell(length)?;
    Ok(Some(Cell {
        column,
        content,
        formula: formula.map(Note::from),
        struck: false,
        format: None,
    }))
}

pub(super) fn words(text: &str) -> Option<Content> {
    let text = text.trim();
    (!text.is_empty()).then(|| Content::Text(text.into()))
}

fn day(date: &ExcelDateTime) -> Content {
    if date.is_duration() {
        return Content::Text(format!("{} days", date.as_f64()).into());
    }
    let (year, month, day, ..) = date.to_ymd_hms_milli();
    Content::Date(year, month, day)
}
