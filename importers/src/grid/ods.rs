//! What an ods file says of its cells beside their values, which calamine does not give: hidden rows
//! and columns, cells that are struck through, and merged cells.

use super::container::Archive;
use super::hidden::{Hidden, attribute};
use super::open::damaged;
use super::{Kind, Merged, Sheet};
use parge_base::Diagnostic;
use quick_xml::events::{BytesStart, Event};
use std::collections::BTreeMap;
use std::io::{BufReader, Cursor};
use std::ops::Range;
use zip::ZipArchive;

/// How far a style is followed to those that it is made of.
const DEEPEST_STYLE: usize = 16;

/// What a sheet says beside values, rows and columns from 0.
#[derive(Debug, Default)]
pub(super) struct Looks {
    hidden: Hidden,
    hidden_rows: Vec<Range<u32>>,
    /// Rows and columns of cells that are struck through.
    struck: Vec<(Range<u32>, Range<u32>)>,
    merged: Vec<Merged>,
}

impl Looks {
    /// Marks the rows and cells of a sheet.
    pub(super) fn mark(self, sheet: &mut Sheet) {
        for rows in &self.hidden_rows {
            of_rows(sheet, rows).for_each(|row| row.hidden = true);
        }
        for (rows, columns) in &self.struck {
            for row in of_rows(sheet, rows) {
                let cells = row.cells.iter_mut();
                let cells = cells.filter(|cell| columns.contains(&cell.column));
                cells.for_each(|cell| cell.struck = true);
            }
        }
        sheet.hidden_columns = self.hidden.columns();
        sheet.merged = self.merged;
    }
}

fn of_rows<'a>(
    sheet: &'a mut Sheet,
    numbers: &Range<u32>,
) -> impl Iterator<Item = &'a mut super::Row> {
    let first = sheet.rows.partition_point(|row| row.number < numbers.start);
    let end = sheet.rows.partition_point(|row| row.number < numbers.end);
    sheet
        .rows
        .get_mut(first..end)
        .unwrap_or_default()
        .iter_mut()
}

/// What the sheets say, by their names. The bytes were looked through under bounds before.
pub(super) fn looks(bytes: &[u8]) -> Result<BTreeMap<String, Looks>, Diagnostic> {
    all(bytes).ok_or_else(|| damaged(Kind::Ods))
}

fn all(bytes: &[u8]) -> Option<BTreeMap<String, Looks>> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).ok()?;
    let mut reading = Reading::default();
    // Styles with names of their own stand in a part that need not be there.
    if archive.by_name("styles.xml").is_ok() {
        reading.part(&mut archive, "styles.xml")?;
    }
    reading.part(&mut archive, "content.xml")?;
    Some(reading.found)
}

/// A style: whether it strikes through, where it says so, and the style that it is made of.
#[derive(Debug, Default)]
struct Style {
    struck: Option<bool>,
    parent: Option<String>,
}

/// Where the reading of a part is.
#[derive(Debug, Default)]
struct Reading {
    styles: BTreeMap<String, Style>,
    /// The style that is being read.
    style: Option<String>,
    found: BTreeMap<String, Looks>,
    table: String,
    looks: Looks,
    /// The styles of columns for cells that name none, and the first column behind them.
    defaults: Vec<(u32, Option<String>)>,
    row: Range<u32>,
    row_style: Option<String>,
    cell: Range<u32>,
    /// Whether a text in the cell is struck through.
    text_is_struck: bool,
    cell_is_struck: bool,
}

impl Reading {
    fn part(&mut self, archive: &mut Archive<'_>, path: &str) -> Option<()> {
        let part = archive.by_name(path).ok()?;
        let mut reader = quick_xml::Reader::from_reader(BufReader::new(part));
        let mut buffer = Vec::new();
        loop {
            buffer.clear();
            match reader.read_event_into(&mut buffer).ok()? {
                Event::Start(element) => self.begins(&element),
                Event::Empty(element) => {
                    self.begins(&element);
                    self.ends(element.name().as_ref());
                }
                Event::End(element) => self.ends(element.name().as_ref()),
                Event::Eof => return Some(()),
                _ => {}
            }
        }
    }

    fn begins(&mut self, element: &BytesStart<'_>) {
        let own = |name: &str| attribute(element, name);
        match element.name().as_ref() {
            "style:style" => {
                self.style = own("style:name");
                let style = Style {
                    struck: None,
                    parent: own("style:parent-style-name"),
                };
                if let Some(name) = &self.style {
                    self.styles.insert(name.clone(), style);
                }
            }
            "style:text-properties" => {
                let line = own("style:text-line-through-style")
                    .or_else(|| own("style:text-line-through-type"));
                let style = self
                    .style
                    .as_ref()
                    .and_then(|name| self.styles.get_mut(name));
                if let (Some(style), Some(line)) = (style, line) {
                    style.struck = Some(line != "none");
                }
            }
            "table:table" => {
                self.table = own("table:name").unwrap_or_default();
                self.looks = Looks::default();
                self.defaults.clear();
                self.row = 0..0;
            }
            "table:table-column" => self.column(element),
            "table:table-row" => {
                let repeats = repeats(element, "table:number-rows-repeated");
                self.row = self.row.end..self.row.end.saturating_add(repeats);
                self.row_style = own("table:default-cell-style-name");
                self.cell = 0..0;
                if is_out_of_sight(element) {
                    self.looks.hidden_rows.push(self.row.clone());
                }
            }
            "table:table-cell" | "table:covered-table-cell" => self.cell(element),
            "text:span" | "text:p" => {
                let style = own("text:style-name");
                self.text_is_struck |= style.is_some_and(|style| self.strikes(&style));
            }
            _ => {}
        }
    }

    fn ends(&mut self, element: &str) {
        match element {
            "style:style" => self.style = None,
            "table:table" => {
                let name = std::mem::take(&mut self.table);
                self.found.insert(name, std::mem::take(&mut self.looks));
            }
            "table:table-cell" | "table:covered-table-cell"
                if self.cell_is_struck || self.text_is_struck =>
            {
                let place = (self.row.clone(), self.cell.clone());
                self.looks.struck.push(place);
            }
            _ => {}
        }
    }

    fn column(&mut self, element: &BytesStart<'_>) {
        let first = self.defaults.last().map_or(0, |(end, _)| *end);
        let behind = first.saturating_add(repeats(element, "table:number-columns-repeated"));
        if is_out_of_sight(element) {
            let last = behind.saturating_sub(1);
            self.looks.hidden.hide_columns(first, last);
        }
        let style = attribute(element, "table:default-cell-style-name");
        self.defaults.push((behind, style));
    }

    fn cell(&mut self, element: &BytesStart<'_>) {
        let repeats = repeats(element, "table:number-columns-repeated");
        let first = self.cell.end;
        self.cell = first..first.saturating_add(repeats);
        let of_column = || {
            let at = self
                .defaults
                .partition_point(|(behind, _)| *behind <= first);
            self.defaults.get(at).and_then(|(_, style)| style.clone())
        };
        let style = attribute(element, "table:style-name")
            .or_else(|| self.row_style.clone())
            .or_else(of_column);
        self.cell_is_struck = style.is_some_and(|style| self.strikes(&style));
        self.text_is_struck = false;
        let spans = |name: &str| {
            let number = attribute(element, name).and_then(|text| text.parse::<u32>().ok());
            number.unwrap_or(1).max(1) - 1
        };
        let below = spans("table:number-rows-spanned");
        let behind = spans("table:number-columns-spanned");
        if below > 0 || behind > 0 {
            let row = self.row.start;
            self.looks.merged.push(Merged {
                first: (row, first),
                last: (row.saturating_add(below), first.saturating_add(behind)),
            });
        }
    }

    /// Whether a style strikes through, or one that it is made of.
    fn strikes(&self, name: &str) -> bool {
        let mut style = self.styles.get(name);
        for _ in 0..DEEPEST_STYLE {
            match style {
                Some(Style {
                    struck: Some(struck),
                    ..
                }) => return *struck,
                Some(Style { parent, .. }) => {
                    style = parent.as_ref().and_then(|name| self.styles.get(name));
                }
                None => return false,
            }
        }
        false
    }
}

fn is_out_of_sight(element: &BytesStart<'_>) -> bool {
    let seen = attribute(element, "table:visibility");
    seen.is_some_and(|seen| seen == "collapse" || seen == "filter")
}

fn repeats(element: &BytesStart<'_>, name: &str) -> u32 {
    let number = attribute(element, name).and_then(|text| text.parse().ok());
    number.unwrap_or(1)
}
