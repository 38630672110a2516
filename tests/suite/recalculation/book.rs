//! A workbook whose formulas an engine computes.

use super::place::Place;
use super::value::Value;
use calamine::{Data, Range, Reader, Xlsx};
use ironcalc::base::Model;
use ironcalc::base::cell::CellValue;
use ironcalc::base::expressions::types::Area;
use ironcalc::base::types::CellType;
use ironcalc::import::load_from_xlsx_bytes;
use parge_base::Currency;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::io::Cursor;

/// A formula and the result that was stored with it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stored {
    pub(super) formula: String,
    pub(super) result: Value,
}

/// A cell that shows another value than it should.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Difference {
    pub(super) place: Place,
    pub(super) formula: String,
    pub(super) wanted: Value,
    pub(super) computed: Value,
}

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            place,
            formula,
            wanted,
            computed,
        } = self;
        write!(f, "{place}: {computed}, not {wanted}: ={formula}")
    }
}

/// A workbook whose formulas are computed, and the results that were stored in it.
///
/// The file is read twice, by two libraries: one computes, the other says which cells are
/// formulas and what was stored in them.
pub(super) struct Recalculated {
    model: Model<'static>,
    sheets: Vec<String>,
    stored: BTreeMap<Place, Stored>,
    /// The cells of columns of money, and the digits of the currency.
    money: BTreeSet<Place>,
    digits: u32,
}

impl Recalculated {
    /// Opens the bytes of an xlsx file and computes every formula.
    #[track_caller]
    pub(super) fn open(bytes: &[u8]) -> Self {
        let book = load_from_xlsx_bytes(bytes, "book", "en", "UTC").unwrap();
        let model = Model::from_workbook(book, "en").unwrap();
        let mut book = Self {
            sheets: model.workbook.get_worksheet_names(),
            model,
            stored: stored(bytes),
            money: BTreeSet::new(),
            digits: 0,
        };
        book.recalculate();
        book.find_money();
        book
    }

    /// Computes every formula anew.
    pub(super) fn recalculate(&mut self) {
        self.model.evaluate();
    }

    /// The names of the sheets, in their order.
    pub(super) fn sheets(&self) -> &[String] {
        &self.sheets
    }

    /// Every formula with the result that was stored, by place.
    pub(super) fn stored(&self) -> &BTreeMap<Place, Stored> {
        &self.stored
    }

    /// What a cell shows now.
    #[track_caller]
    pub(super) fn read(&self, place: &Place) -> Value {
        let (sheet, row, column) = self.index(place);
        let kind = self.model.get_cell_type(sheet, row, column).unwrap();
        let value = self.model.get_cell_value_by_index(sheet, row, column);
        match value.unwrap() {
            CellValue::String(text) if kind == CellType::ErrorValue => Value::Error(text),
            CellValue::String(text) => Value::Text(text),
            CellValue::Number(number) => Value::Number(number),
            CellValue::Boolean(truth) => Value::Truth(truth),
            CellValue::None => Value::Empty,
        }
    }

    /// Puts a value into a cell, as somebody would who types it in. Formulas follow when the book
    /// is recalculated.
    #[track_caller]
    pub(super) fn set(&mut self, place: &Place, value: impl Into<Value>) {
        assert!(
            !self.stored.contains_key(place),
            "{place} is a formula, which nobody is to type over"
        );
        let (sheet, row, column) = self.index(place);
        let model = &mut self.model;
        match value.into() {
            Value::Number(number) => model.update_cell_with_number(sheet, row, column, number),
            Value::Text(text) => model.update_cell_with_text(sheet, row, column, &text),
            Value::Truth(truth) => model.update_cell_with_bool(sheet, row, column, truth),
            Value::Empty => model.range_clear_contents(&Area {
                sheet,
                row,
                column,
                width: 1,
                height: 1,
            }),
            error @ Value::Error(_) => panic!("{error} is nothing that is typed in"),
        }
        .unwrap();
    }

    /// The cell that a defined name stands for.
    #[track_caller]
    pub(super) fn named(&self, name: &str) -> Place {
        let names = self.model.get_defined_name_list();
        let (.., formula) = names
            .iter()
            .find(|(known, ..)| known.eq_ignore_ascii_case(name))
            .unwrap_or_else(|| panic!("no cell has the name `{name}`"));
        Place::read(formula).unwrap_or_else(|| panic!("`{name}` is {formula}, which is no cell"))
    }

    /// The digits that money of a cell is held to, and nothing where the cell is not money.
    pub(super) fn money(&self, place: &Place) -> Option<u32> {
        self.money.contains(place).then_some(self.digits)
    }

    /// The formulas whose result is another than the one stored.
    pub(super) fn differences(&self) -> Vec<Difference> {
        self.differences_from(self)
    }

    /// The formulas whose result is another than the one stored at the same place of another
    /// workbook. A formula that only one of both has differs too.
    pub(super) fn differences_from(&self, other: &Self) -> Vec<Difference> {
        let both = self.stored.keys().chain(other.stored.keys());
        let places: BTreeSet<&Place> = both.collect();
        let differs = |place: &Place| {
            let formula = self.stored.get(place).or(other.stored.get(place))?;
            let wanted = other.stored.get(place);
            let wanted = wanted.map_or(Value::Empty, |stored| stored.result.clone());
            let computed = match self.stored.contains_key(place) {
                true => self.read(place),
                false => Value::Empty,
            };
            (!computed.agrees(&wanted, self.money(place))).then(|| Difference {
                place: place.clone(),
                formula: formula.formula.clone(),
                wanted,
                computed,
            })
        };
        places.into_iter().filter_map(differs).collect()
    }

    /// The cells that show an error, formulas or not.
    pub(super) fn errors(&self) -> Vec<(Place, Value)> {
        let cells = self.cells().into_iter();
        cells
            .filter(|(_, value)| matches!(value, Value::Error(_)))
            .collect()
    }

    /// All cells in which something stands: by sheet, then row, then column.
    pub(super) fn cells(&self) -> Vec<(Place, Value)> {
        let cells = self.model.get_all_cells().into_iter();
        cells
            .map(|cell| {
                let sheet = &self.sheets[cell.index as usize];
                let (row, column) = (
                    cell.row.try_into().unwrap(),
                    cell.column.try_into().unwrap(),
                );
                let place = Place::new(sheet, row, column);
                let value = self.read(&place);
                (place, value)
            })
            .filter(|(_, value)| *value != Value::Empty)
            .collect()
    }

    /// Money stands under a head that ends with the currency, as `Cost, USD`.
    fn find_money(&mut self) {
        let Some(code) = self.fact("Summary", "Currency") else {
            return;
        };
        let ending = format!(", {code}");
        self.digits = Currency::from_code(&code).unwrap().decimals();
        let mut under = BTreeMap::new();
        for (place, value) in self.cells() {
            let head = under
                .entry((place.sheet.clone(), place.column))
                .or_insert(false);
            match value {
                Value::Text(text) if !self.stored.contains_key(&place) => {
                    *head = text.ends_with(&ending);
                }
                _ if *head => {
                    self.money.insert(place);
                }
                _ => {}
            }
        }
    }

    #[track_caller]
    fn index(&self, place: &Place) -> (u32, i32, i32) {
        let sheet = self.sheets.iter().position(|name| *name == place.sheet);
        let sheet = sheet.unwrap_or_else(|| panic!("no sheet `{}`", place.sheet));
        let number = |of: u32| i32::try_from(of).unwrap();
        (
            sheet.try_into().unwrap(),
            number(place.row),
            number(place.column),
        )
    }
}

/// Every formula with its stored result, as the file holds them.
pub(super) fn stored(bytes: &[u8]) -> BTreeMap<Place, Stored> {
    let mut book = Xlsx::new(Cursor::new(bytes)).unwrap();
    let mut stored = BTreeMap::new();
    for sheet in book.sheet_names() {
        let formulas: Range<String> = book.worksheet_formula(&sheet).unwrap();
        let results: Range<Data> = book.worksheet_range(&sheet).unwrap();
        let Some((top, left)) = formulas.start() else {
            continue;
        };
        for (row, column, formula) in formulas.used_cells() {
            if formula.is_empty() {
                continue;
            }
            let at = (
                top + u32::try_from(row).unwrap(),
                left + u32::try_from(column).unwrap(),
            );
            let result = results.get_value(at).map_or(Value::Empty, Value::from);
            let formula = formula.clone();
            let place = Place::new(&sheet, at.0 + 1, at.1 + 1);
            stored.insert(place, Stored { formula, result });
        }
    }
    stored
}
