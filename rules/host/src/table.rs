//! The tables of a pack: each row a value with its unit and its source.

mod overlay;
mod replaced;
mod taken;

use crate::between;
use crate::bounds;
use crate::csv_text::{CsvRow, CsvText, number};
use parge_base::{
    Code, Diagnostic, Dim, Factor, FactorSource, FileId, Sources, Span, Units, suggest,
};
pub use replaced::{OtherValue, amount};
use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;
pub use taken::TakenRow;
use taken::{NONE, Removal};

/// What a row says.
#[derive(Debug, Clone)]
pub enum Cell {
    /// A quantity with its source.
    Factor(Arc<Factor>),
    /// A text, from a row whose unit is `text`.
    Text(Arc<str>, FactorSource),
}

/// A row of a table.
#[derive(Debug, Clone)]
pub struct Row {
    /// The key columns, in order.
    pub keys: Vec<String>,
    /// The value.
    pub cell: Cell,
    /// The value as written.
    pub value: String,
    /// The unit as written.
    pub unit: String,
    /// What else is said about it.
    pub note: String,
    /// The row's place.
    pub span: Span,
    /// The row of a pack under this one that it replaces.
    pub replaces: Option<Box<Self>>,
}

impl Row {
    /// Who says so.
    pub fn source(&self) -> &FactorSource {
        match &self.cell {
            Cell::Factor(factor) => &factor.source,
            Cell::Text(_, source) => source,
        }
    }

    /// Whether both say the same of the same: value, unit and source; `3/8` and `0.375` are one.
    pub fn reads_as(&self, other: &Self) -> bool {
        let same_value = match (&self.cell, &other.cell) {
            (Cell::Factor(a), Cell::Factor(b)) => a.written == b.written,
            (Cell::Text(a, _), Cell::Text(b, _)) => a == b,
            _ => false,
        };
        same_value && self.unit == other.unit && self.source() == other.source()
    }
}

/// A table: rows found by their keys.
///
/// The columns before `value` are the keys; `value`, `unit` and `source` must be there, `note`
/// may be. A row with the value `none` and the unit `none` takes away the one of a pack under it.
#[derive(Debug, Clone)]
pub struct Table {
    /// The file's name without its ending.
    pub name: String,
    /// The names of the key columns.
    pub key_columns: Vec<String>,
    /// The rows in the order of the file.
    pub rows: Vec<Row>,
    /// Rows of packs under this one that are taken away.
    pub taken: Vec<TakenRow>,
    /// The place of the header: in the lowest pack that has the table.
    pub header_span: Span,
    /// The numbers of the rows in the order of their keys.
    by_keys: Vec<usize>,
    /// What the file takes away from the tables under it.
    removals: Vec<Removal>,
}

/// All tables of a pack by name; a pack with other values in one shares the others.
#[derive(Debug, Clone, Default)]
pub struct Tables(pub(crate) BTreeMap<String, Arc<Table>>);

impl Tables {
    /// The tables in the order of their names.
    pub fn iter(&self) -> impl Iterator<Item = &Table> {
        self.0.values().map(AsRef::as_ref)
    }

    /// A table by its name.
    pub fn get(&self, name: &str) -> Option<&Table> {
        self.0.get(name).map(AsRef::as_ref)
    }

    /// A text by its table and keys.
    pub fn text(&self, table: &str, keys: &[&str]) -> Option<&str> {
        match &self.row(table, keys)?.cell {
            Cell::Text(text, _) => Some(text),
            Cell::Factor(_) => None,
        }
    }

    /// A factor by its table and keys.
    pub fn factor(&self, table: &str, keys: &[&str]) -> Option<&Arc<Factor>> {
        match &self.row(table, keys)?.cell {
            Cell::Factor(factor) => Some(factor),
            Cell::Text(..) => None,
        }
    }

    /// The different values of the key that follows the keys given, in the order of the file:
    /// `keys("materials", [])` are the materials.
    pub fn keys(&self, table: &str, before: &[&str]) -> Result<Vec<&str>, String> {
        let mut found: Vec<&str> = Vec::new();
        let mut known: HashSet<&str> = HashSet::new();
        for row in &self.table(table)?.rows {
            let (head, rest) = row.keys.split_at(before.len().min(row.keys.len()));
            if let Some(next) = rest.first().filter(|_| head == before)
                && known.insert(next)
            {
                found.push(next);
            }
        }
        Ok(found)
    }

    /// Whether any row of a table begins with a key.
    pub fn has_key(&self, table: &str, key: &str) -> bool {
        self.0.get(table).is_some_and(|table| table.has_key(key))
    }

    /// The number of rows of a table; none where there is no such table.
    pub(crate) fn rows_of(&self, table: &str) -> usize {
        self.0.get(table).map_or(0, |table| table.rows.len())
    }

    /// A row by its table and keys. Of one that is not there nothing is said, since what is near to
    /// it takes a search.
    fn row(&self, table: &str, keys: &[&str]) -> Option<&Row> {
        self.get(table)?.row(keys).ok()?
    }

    /// A row by its table and keys; the error says what is missing, and what is near.
    pub fn find(&self, table: &str, keys: &[&str]) -> Result<&Row, String> {
        let table = self.table(table)?;
        table.row(keys)?.ok_or_else(|| table.missing(keys))
    }

    /// Whether a table has a row; an error where there is no such table, or where it is looked
    /// up by another number of keys: both are slips that must not pass for "no".
    pub fn has(&self, table: &str, keys: &[&str]) -> Result<bool, String> {
        Ok(self.table(table)?.row(keys)?.is_some())
    }

    pub(crate) fn table(&self, name: &str) -> Result<&Table, String> {
        self.get(name).ok_or_else(|| {
            let names = self.0.keys().map(String::as_str);
            format!(
                "the pack has no table `{name}`; {}",
                suggest::help_for(name, names)
            )
        })
    }
}

impl Table {
    /// Reads a table. Every row that cannot be read is reported; the others are kept.
    pub(crate) fn read(
        sources: &Sources,
        file: FileId,
        name: &str,
        units: &Units,
    ) -> (Option<Self>, Vec<Diagnostic>) {
        let text = match CsvText::read(sources, file, Code::BadTable) {
            Ok(text) => text,
            Err(diagnostic) => return (None, vec![diagnostic]),
        };
        if let Err(diagnostic) = bounds::check_table(&text) {
            return (None, vec![diagnostic]);
        }
        let columns = match Columns::find(&text) {
            Ok(columns) => columns,
            Err(diagnostic) => return (None, vec![diagnostic]),
        };
        let key_columns = text.header.iter().take(columns.value).cloned().collect();
        let mut table = Self {
            name: name.to_owned(),
            key_columns,
            rows: Vec::new(),
            taken: Vec::new(),
            header_span: text.header_span,
            by_keys: Vec::new(),
            removals: Vec::new(),
        };
        let mut removed = HashMap::new();
        let mut diagnostics = Vec::new();
        for row in &text.rows {
            let read = columns.line(row, name, units);
            if let Err(diagnostic) = read.and_then(|line| table.insert(line, &mut removed)) {
                diagnostics.push(diagnostic);
            }
        }
        if diagnostics.is_empty() {
            diagnostics = between::check(&table, units);
        }
        (Some(table), diagnostics)
    }

    /// Puts in a line of a file; `removed` has the places of those that take rows away, by their
    /// keys.
    fn insert(
        &mut self,
        line: Line,
        removed: &mut HashMap<Vec<String>, Span>,
    ) -> Result<(), Diagnostic> {
        let (keys, span) = match &line {
            Line::Row(row) => (&row.keys, row.span),
            Line::Removal(removal) => (&removal.keys, removal.span),
        };
        let row = self.place_of(keys).ok().and_then(|at| self.rows.get(at));
        if let Some(first) = row.map(|row| &row.span).or_else(|| removed.get(keys)) {
            let message = format!(
                "`{}` stands twice in table `{}`",
                keys.join(", "),
                self.name
            );
            return Err(
                Diagnostic::new(Code::KeyTwice, message, "keep one of the two rows")
                    .at(span, "again here")
                    .at(*first, "first here"),
            );
        }
        match line {
            Line::Row(row) => self.push(row),
            Line::Removal(removal) => {
                removed.insert(removal.keys.clone(), span);
                self.removals.push(removal);
            }
        }
        Ok(())
    }

    /// Puts a row of new keys behind the others.
    fn push(&mut self, row: Row) {
        if let Err(place) = self.place_of(&row.keys) {
            self.by_keys.insert(place, self.rows.len());
        }
        self.rows.push(row);
    }

    /// The number of the row with some keys, or else where one with them would stand in
    /// [`Self::by_keys`]. Rules look rows up all the time, so no key is copied for it.
    fn place_of<K: AsRef<str>>(&self, keys: &[K]) -> Result<usize, usize> {
        let wanted = || keys.iter().map(AsRef::as_ref);
        let of_row = |at: &usize| self.rows.get(*at).map_or(&[][..], |row| &row.keys);
        let found = self.by_keys.binary_search_by(|at| {
            let keys = of_row(at).iter().map(String::as_str);
            keys.cmp(wanted())
        })?;
        self.by_keys.get(found).copied().ok_or(found)
    }

    /// Whether any row begins with a key.
    fn has_key(&self, key: &str) -> bool {
        let first = |at: &usize| self.rows.get(*at)?.keys.first().map(String::as_str);
        let before = self.by_keys.partition_point(|at| first(at) < Some(key));
        let found = self.by_keys.get(before);
        found.is_some_and(|at| first(at) == Some(key))
    }

    fn row(&self, keys: &[&str]) -> Result<Option<&Row>, String> {
        if keys.len() != self.key_columns.len() {
            let columns = self.key_columns.join(", ");
            return Err(format!("table `{}` is looked up by {columns}", self.name));
        }
        Ok(self.place_of(keys).ok().and_then(|at| self.rows.get(at)))
    }

    /// What to say of a row that is not there.
    fn missing(&self, keys: &[&str]) -> String {
        let wanted = keys.join(", ");
        if let Some(taken) = self.taken.iter().find(|taken| taken.was.keys == keys) {
            return format!(
                "table `{}` has no row `{wanted}`: pack `{}` takes it away",
                self.name, taken.by
            );
        }
        // Comparing with every row of a large table takes seconds.
        let near_enough = self.rows.iter().take(1000);
        let known: Vec<String> = near_enough.map(|row| row.keys.join(", ")).collect();
        let near = suggest::nearest(&wanted, known.iter().map(String::as_str));
        let near = near.map_or(String::new(), |near| format!("; did you mean `{near}`?"));
        format!("table `{}` has no row `{wanted}`{near}", self.name)
    }
}

/// What a line of a file says.
enum Line {
    Row(Row),
    Removal(Removal),
}

/// Where the columns of a table stand.
struct Columns {
    count: usize,
    value: usize,
    unit: usize,
    source: usize,
    note: Option<usize>,
}

impl Columns {
    const HELP: &str =
        "the header is: one or more key columns, then `value,unit,source`, and `note` if wanted";

    fn find(text: &CsvText) -> Result<Self, Diagnostic> {
        let missing = |what: &str| {
            Diagnostic::new(
                Code::BadTable,
                format!("the table has no {what}"),
                Self::HELP,
            )
            .at(text.header_span, "")
        };
        let column = |name: &str| {
            text.column(name)
                .ok_or_else(|| missing(&format!("column `{name}`")))
        };
        let columns = Self {
            count: text.header.len(),
            value: column("value")?,
            unit: column("unit")?,
            source: column("source")?,
            note: text.column("note"),
        };
        if columns.value == 0 {
            return Err(missing("key column before `value`"));
        }
        Ok(columns)
    }

    fn line(&self, row: &CsvRow, table: &str, units: &Units) -> Result<Line, Diagnostic> {
        let wrong = |message: String, help: &str| {
            Diagnostic::new(Code::BadTable, message, help).at(row.span, "")
        };
        row.check_length(self.count, Code::BadTable)?;
        let keys: Vec<String> = row.fields.iter().take(self.value).cloned().collect();
        if keys.iter().any(String::is_empty) {
            return Err(wrong(
                "the row has an empty key".into(),
                "fill in every column before `value`",
            ));
        }
        let source = FactorSource::parse(row.field(self.source)).ok_or_else(|| {
            let help =
                "name the publication, or write `common practice`, `company` or `from memory: …`";
            wrong(format!("`{}` has no source", keys.join(", ")), help)
        })?;
        let (value, unit) = (row.field(self.value), row.field(self.unit));
        let note = self.note.map_or("", |note| row.field(note)).to_owned();
        if unit == NONE || (value == NONE && unit != "text") {
            let removal = Removal {
                keys,
                source,
                note,
                span: row.span,
            };
            return match value == unit {
                true => Ok(Line::Removal(removal)),
                false => Err(taken::half_said(&removal)),
            };
        }
        let cell = if unit == "text" {
            Cell::Text(value.into(), source)
        } else {
            let unit = units.parse(unit).map_err(|error| {
                wrong(
                    error.to_string(),
                    "write a unit such as `ft3/bag`, `h/ft2`, `%`, `1`, or `text`",
                )
            })?;
            let written = number(value).ok_or_else(|| {
                wrong(
                    format!("`{value}` is not a number"),
                    "write `0.45` or `1 1/2`, without the unit",
                )
            })?;
            if written < 0.0 && unit.dim() != Dim::TEMPERATURE {
                return Err(wrong(
                    format!("`{value}` is less than nothing"),
                    "write a value of zero or more",
                ));
            }
            let quantity = unit.quantity(written).map_err(|error| {
                wrong(
                    format!("`{value}` cannot be used: {error}"),
                    "write a smaller number",
                )
            })?;
            let name = format!("{table}: {}", keys.join(", "));
            Cell::Factor(Arc::new(Factor {
                name,
                quantity,
                written,
                unit,
                source,
                span: row.span,
            }))
        };
        Ok(Line::Row(Row {
            keys,
            cell,
            value: row.field(self.value).to_owned(),
            unit: row.field(self.unit).to_owned(),
            note,
            span: row.span,
            replaces: None,
        }))
    }
}
