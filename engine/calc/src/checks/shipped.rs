//! What the packs that the program carries say and reckon: rows of their tables, numbers in their
//! texts, and plans put through their rules.

use super::show;
use crate::contract::{HOOKS, Packs};
use crate::measure::measure;
use crate::resolve::resolve;
use crate::takeoff::{Takeoff, take_off};
use parge_base::diagnostic::any_error;
use parge_base::{Diagnostic, Dim, Quantity, Sources, Span};
use parge_rules::{Pack, PackFiles, Row, Table};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// The packs that the checks ask.
pub(super) const PLASTER: &str = "portland-plaster";
/// See [`PLASTER`].
pub(super) const VERTICAL: &str = "vertical-concrete";

/// Where a row of a pack's table stands: pack, table, keys.
pub(super) type Place = (&'static str, &'static str, &'static [&'static str]);

/// A row of a layer over a pack: its table, and the row as it stands in a file.
pub(super) type Edit = (&'static str, &'static str);

/// A plan under a pack, of which rows may be replaced as by a company's pack.
pub(super) struct Case<'c> {
    pub(super) pack: &'static str,
    pub(super) edits: &'c [Edit],
    /// What the job states beside its crew.
    pub(super) job: &'c str,
    /// The technique and thickness of the finish `plain`.
    pub(super) finish: &'c str,
    /// The substrate, and the face behind its name.
    pub(super) on: (&'c str, &'c str),
}

/// What a plan is asked for.
#[derive(Clone, Copy)]
pub(super) enum Of {
    /// The need of an item without its waste.
    Need(&'static str),
    /// The hours of a phase, before they are rounded.
    Hours(&'static str),
    /// Whether a caution is said: 1 or 0.
    Caution(&'static str),
    /// How many warnings are said.
    Warnings,
    /// The sheets of an item by area and laps, before they are laid out.
    ByArea(&'static str),
    /// The coated area of its one face.
    Area,
}

/// The packs with their texts, and those of which rows were replaced.
pub(super) struct Shipped {
    packs: Vec<(&'static str, PackFiles, Pack)>,
    /// By the pack and what replaces its rows: several checks ask the same one.
    edited: RefCell<BTreeMap<String, Option<Rc<Pack>>>>,
}

impl Shipped {
    /// Loads the packs; one that cannot be loaded gives no value to any check.
    pub(super) fn load(find: &dyn Fn(&str) -> Option<PackFiles>) -> Self {
        let load = |name: &'static str| {
            let files = find(name)?;
            let layers = std::slice::from_ref(&files);
            let pack = parge_rules::load(layers, HOOKS, &mut Sources::new()).ok()?;
            Some((name, files, pack))
        };
        Self {
            packs: [PLASTER, VERTICAL].into_iter().filter_map(load).collect(),
            edited: RefCell::default(),
        }
    }

    fn entry(&self, name: &str) -> Option<(&PackFiles, &Pack)> {
        let found = self.packs.iter().find(|(loaded, ..)| *loaded == name);
        found.map(|(_, files, pack)| (files, pack))
    }

    fn pack(&self, name: &str) -> Option<&Pack> {
        self.entry(name).map(|(_, pack)| pack)
    }

    /// A number of a table, in a unit.
    pub(super) fn factor(&self, (pack, table, keys): Place, unit: &str) -> Option<f64> {
        let factor = self.pack(pack)?.tables().factor(table, keys)?;
        show(unit, factor.quantity)
    }

    /// The sum of several numbers of tables.
    pub(super) fn sum(&self, places: &[Place], unit: &str) -> Option<f64> {
        places.iter().map(|place| self.factor(*place, unit)).sum()
    }

    /// How many rows stand under the keys.
    pub(super) fn count(&self, (pack, table, keys): Place) -> Option<f64> {
        let keys = self.pack(pack)?.tables().keys(table, keys).ok()?;
        Some(keys.len() as f64)
    }

    /// The number that stands between two phrases in the text of a row.
    pub(super) fn said(&self, (pack, table, keys): Place, around: [&str; 2]) -> Option<f64> {
        number_between(self.pack(pack)?.tables().text(table, keys)?, around)
    }

    /// The same, where both packs say the same number.
    pub(super) fn agreed(&self, table: &str, keys: &[&str], around: [&str; 2]) -> Option<f64> {
        let number =
            |(_, _, pack): &(_, _, Pack)| number_between(pack.tables().text(table, keys)?, around);
        let numbers: Vec<f64> = self.packs.iter().map(number).collect::<Option<_>>()?;
        match numbers[..] {
            [one, other] if one == other => Some(one),
            _ => None,
        }
    }

    /// How many rows of a table are not alike in both packs.
    pub(super) fn differing(&self, table: &str) -> Option<f64> {
        let (one, other) = (self.pack(PLASTER)?, self.pack(VERTICAL)?);
        let (one, other) = (one.tables().get(table)?, other.tables().get(table)?);
        let alone = |row: &Row, table: &Table| {
            let mut rows = table.rows.iter();
            !rows.any(|there| there.keys == row.keys && there.reads_as(row))
        };
        let of_one = one.rows.iter().filter(|row| alone(row, other)).count();
        let of_other = other.rows.iter().filter(|row| alone(row, one)).count();
        Some((of_one + of_other) as f64)
    }

    /// The number that stands between two phrases in the note of a row.
    pub(super) fn noted(&self, (pack, table, keys): Place, around: [&str; 2]) -> Option<f64> {
        let row = self.pack(pack)?.tables().find(table, keys).ok()?;
        number_between(&row.note, around)
    }

    /// What a plan comes to, in a unit.
    pub(super) fn plan(&self, case: &Case<'_>, of: Of, unit: &str) -> Option<f64> {
        let (takeoff, said) = self.taken(case)?;
        let found = match of {
            Of::Need(item) => {
                let needs = takeoff.all_taken().flat_map(|taken| &taken.needs);
                let lines = needs.filter(|line| &*line.item == item);
                added(lines.map(|line| line.amount))?
            }
            Of::Hours(phase) => {
                let hours = takeoff.all_taken().flat_map(|taken| &taken.hours);
                let lines = hours.filter(|line| &*line.phase == phase);
                added(lines.map(|line| line.time)).unwrap_or(Quantity::zero(Dim::TIME))
            }
            Of::Caution(key) => {
                let is_said = takeoff.cautions.iter().any(|caution| caution.key == key);
                Quantity::plain(f64::from(u8::from(is_said)))
            }
            Of::Warnings => Quantity::plain(said.len() as f64),
            Of::Area => {
                let face = takeoff.measured.faces.first()?;
                takeoff.measured.job.tape.value(face.net)
            }
            Of::ByArea(item) => {
                let mut layouts = takeoff.layouts.iter().flatten();
                layouts.find(|layout| &*layout.sheet.item == item)?.by_area
            }
        };
        show(unit, found)
    }

    fn taken(&self, case: &Case<'_>) -> Option<(Takeoff, Vec<Diagnostic>)> {
        let edited;
        let pack = if case.edits.is_empty() {
            self.pack(case.pack)?
        } else {
            edited = self.edited(case.pack, case.edits)?;
            &edited
        };
        let (substrate, face) = case.on;
        let text = format!(
            "parge 1\njob \"check\" {{ crew 1  {} }}\nfinish plain {{ {} }}\n\
             structure \"check\" on {substrate} {{\n  face f {face} plain\n}}\n",
            case.job, case.finish
        );
        let mut sources = Sources::new();
        let file = sources.add("check.parge", text);
        let parsed = parge_grammar::parse(file, sources.text(file));
        let (job, said) = resolve(&parsed.plan, Packs::of(pack), Span::new(file, 0, 0));
        let fine = parsed.diagnostics.is_empty() && !any_error(&said);
        let (measured, said) = measure(job.filter(|_| fine)?, Packs::of(pack));
        if any_error(&said) {
            return None;
        }
        let (takeoff, said) = take_off(measured, pack);
        (!any_error(&said)).then_some((takeoff, said))
    }

    /// The pack under a layer that replaces rows.
    fn edited(&self, name: &str, edits: &[Edit]) -> Option<Rc<Pack>> {
        let rows = edits.iter().map(|(table, row)| format!("{table} {row}"));
        let key = format!("{name}\n{}", rows.collect::<Vec<_>>().join("\n"));
        let mut known = self.edited.borrow_mut();
        let load = || self.load_edited(name, edits).map(Rc::new);
        known.entry(key).or_insert_with(load).clone()
    }

    fn load_edited(&self, name: &str, edits: &[Edit]) -> Option<Pack> {
        let (base, _) = self.entry(name)?;
        let mut layer = PackFiles {
            folder: "check".to_owned(),
            ..PackFiles::default()
        };
        let manifest = format!(
            "name = \"check\"\nversion = \"1.0.0\"\nsummary = \"rows of a check\"\n\
             extends = \"{name}\"\nrules = []\n"
        );
        layer.texts.insert(PackFiles::MANIFEST.to_owned(), manifest);
        for (table, row) in edits {
            let path = format!("tables/{table}.csv");
            let header = base.texts.get(&path)?.lines().next()?;
            let text = layer.texts.entry(path).or_insert(format!("{header}\n"));
            *text += row;
            text.push('\n');
        }
        parge_rules::load(&[base.clone(), layer], HOOKS, &mut Sources::new()).ok()
    }
}

fn added(amounts: impl Iterator<Item = Quantity>) -> Option<Quantity> {
    let mut sum: Option<Quantity> = None;
    for amount in amounts {
        sum = Some(match sum {
            Some(sum) => sum.plus(amount).ok()?,
            None => amount,
        });
    }
    sum
}

/// The number between two phrases: `4`, `0.5`, `1/4` or `2 5/8`.
pub(super) fn number_between(text: &str, [before, after]: [&str; 2]) -> Option<f64> {
    let (_, rest) = text.split_once(before)?;
    let (number, _) = rest.split_once(after)?;
    let mut parts = number.split_whitespace().map(part).peekable();
    parts.peek()?;
    parts.sum()
}

fn part(text: &str) -> Option<f64> {
    match text.split_once('/') {
        Some((upper, lower)) => Some(upper.parse::<f64>().ok()? / lower.parse::<f64>().ok()?),
        None => text.parse().ok(),
    }
}
