//! Table `sheets` of a rule pack: the sizes of sheets and rolls, their laps, and how they are cut.

use crate::contract::{MATERIALS, SHEETS};
use parge_base::{Code, Diagnostic, Dim, Factor, Unit};
use parge_rules::{Pack, Tables};
use std::sync::Arc;

/// A sheet or a roll. Lengths are in metres.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The item.
    pub item: Arc<str>,
    /// The unit it is counted in: `sheet`, `roll`.
    pub unit: Unit,
    /// The rows of the table that say so.
    pub factors: Vec<Arc<Factor>>,
    pub(super) width: f64,
    pub(super) length: f64,
    pub(super) side_lap: f64,
    pub(super) end_lap: f64,
    /// How far it is carried past a corner, once a course.
    pub(super) corner_carry: f64,
    /// The least distance of end joints of two courses, one over the other.
    pub(super) stagger: f64,
    /// The shortest offcut that is used again; none where none is.
    pub(super) smallest_piece: Option<f64>,
    /// The share added for cutting where a face is counted by area.
    pub(super) cutting: f64,
    /// Whether it comes in pieces, or is taken off a roll by length.
    pub(super) whole_pieces: bool,
}

/// The columns that a table has to have to be laid out from. A pack may use the name for another
/// table of its own, which is left to its rules.
const COLUMNS: [&str; 2] = ["item", "property"];

const HELP: &str = "an item of table `sheets` has `width`, `length`, `side_lap` and `end_lap` as lengths; see the readme of a standard pack for what else it may have";

impl Sheet {
    /// The width by which each course goes up, m.
    pub(super) fn rise(&self) -> f64 {
        self.width - self.side_lap
    }

    /// The length by which each sheet goes on, m.
    pub(super) fn run(&self) -> f64 {
        self.length - self.end_lap
    }

    /// The area that one covers once it laps over its neighbours, m².
    pub(super) fn covers(&self) -> f64 {
        self.rise() * self.run()
    }

    /// The laps as the table has them.
    pub(super) fn laps(&self) -> String {
        let written = |property: &str| {
            let name = format!("{SHEETS}: {}, {property}", self.item);
            let factor = self.factors.iter().find(|factor| factor.name == name);
            factor.map_or(String::new(), |factor| {
                format!("{} {}", factor.written, factor.unit.text())
            })
        };
        format!("laps {} and {}", written("side_lap"), written("end_lap"))
    }
}

/// The items of the table, and what is wrong with it.
pub(super) fn read(pack: &Pack) -> (Vec<Sheet>, Vec<Diagnostic>) {
    let tables = pack.tables();
    let Some(table) = tables.get(SHEETS).filter(|t| t.key_columns == COLUMNS) else {
        return (Vec::new(), Vec::new());
    };
    let (mut sheets, mut said) = (Vec::new(), Vec::new());
    for item in tables.keys(SHEETS, &[]).unwrap_or_default() {
        match sheet(pack, tables, item) {
            Ok(sheet) => sheets.push(sheet),
            Err(message) => {
                let row = table
                    .rows
                    .iter()
                    .find(|row| row.keys.first().is_some_and(|key| key == item));
                let place = row.map_or(table.header_span, |row| row.span);
                said.push(Diagnostic::new(Code::BadTable, message, HELP).at(place, "this item"));
            }
        }
    }
    (sheets, said)
}

fn sheet(pack: &Pack, tables: &Tables, item: &str) -> Result<Sheet, String> {
    let mut rows = Rows {
        tables,
        item,
        used: Vec::new(),
    };
    let [width, length] = ["width", "length"].map(|name| rows.needed(name));
    let [side_lap, end_lap] = ["side_lap", "end_lap"].map(|name| rows.needed(name));
    let (width, length, side_lap, end_lap) = (width?, length?, side_lap?, end_lap?);
    if side_lap >= width || end_lap >= length {
        return Err(format!("`{item}` laps over its whole size"));
    }
    let reuse = rows.of("reuse", Dim::NONE)?.unwrap_or(0.0) > 0.0;
    let smallest = rows.of("smallest_piece", Dim::LENGTH)?;
    if smallest.is_some_and(|smallest| smallest <= end_lap) {
        return Err(format!(
            "`smallest_piece` of `{item}` is no longer than its end lap, so it would cover nothing"
        ));
    }
    let stagger = rows.of("stagger", Dim::LENGTH)?.unwrap_or(0.0);
    if stagger * 4.0 > length - end_lap {
        return Err(format!(
            "`stagger` of `{item}` is more than a quarter of what one covers, so that half a sheet does not stagger the joints"
        ));
    }
    let unit = tables.text(MATERIALS, &[item, "unit"]).unwrap_or_default();
    let unit = pack.units().parse(unit).ok();
    let unit = unit.filter(|unit| unit.dim().as_item().is_some());
    let unit = unit.ok_or_else(|| {
        format!("`{item}` of table `sheets` is not counted in pieces: table `materials` gives it no unit such as `sheet`")
    })?;
    Ok(Sheet {
        item: item.into(),
        unit,
        width,
        length,
        side_lap,
        end_lap,
        corner_carry: rows.of("corner_carry", Dim::LENGTH)?.unwrap_or(0.0),
        stagger,
        smallest_piece: smallest.filter(|_| reuse),
        cutting: rows.of("cutting", Dim::NONE)?.unwrap_or(0.0),
        whole_pieces: rows.of("whole_pieces", Dim::NONE)?.unwrap_or(1.0) > 0.0,
        factors: rows.used,
    })
}

/// The rows of one item.
struct Rows<'t> {
    tables: &'t Tables,
    item: &'t str,
    used: Vec<Arc<Factor>>,
}

impl Rows<'_> {
    /// A value in base units, where the table has it.
    fn of(&mut self, property: &str, dim: Dim) -> Result<Option<f64>, String> {
        let Some(factor) = self.tables.factor(SHEETS, &[self.item, property]) else {
            return Ok(None);
        };
        if factor.quantity.dim != dim {
            return Err(format!(
                "`{property}` of `{}` in table `sheets` is no {}",
                self.item,
                if dim.is_none() {
                    "plain number"
                } else {
                    "length"
                }
            ));
        }
        self.used.push(Arc::clone(factor));
        Ok(Some(factor.quantity.value))
    }

    fn needed(&mut self, property: &str) -> Result<f64, String> {
        let found = self.of(property, Dim::LENGTH)?;
        found.ok_or_else(|| format!("`{}` of table `sheets` has no `{property}`", self.item))
    }
}
