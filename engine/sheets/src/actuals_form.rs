//! A blank form for what a job uses, as a text, as lines of values, or as a workbook.
//!
//! It names every line of the estimate with its unit, and what priced the job. What was estimated is
//! not on it: a record is what somebody counted, and a number that stands there already is soon
//! copied.

mod sheet;
mod text;

use crate::csv;
use crate::workbook::SheetError;
use parge_base::prices::PackSize;
use parge_calc::actuals::{Fingerprint, ItemLine, Lines, PhaseLine};
use parge_calc::price::Estimate;

/// The columns of the table, as the reader of records knows them.
pub(crate) const COLUMNS: [&str; 8] = [
    "what", "name", "where", "amount", "unit", "price", "currency", "note",
];

/// Lines for remarks.
const REMARKS: usize = 3;

/// What a row of the form is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum What {
    Material,
    Hours,
    Area,
    Job,
    PricedPlan,
    PricedRules,
    PricedPrices,
    Rules,
    FirstDay,
    LastDay,
    Days,
    Weather,
    Remark,
}

impl What {
    fn word(self) -> &'static str {
        match self {
            Self::Material => "material",
            Self::Hours => "hours",
            Self::Area => "area",
            Self::Job => "job",
            Self::PricedPlan => "priced plan",
            Self::PricedRules => "priced rules",
            Self::PricedPrices => "priced prices",
            Self::Rules => "rules",
            Self::FirstDay => "first day",
            Self::LastDay => "last day",
            Self::Days => "days",
            Self::Weather => "weather",
            Self::Remark => "remark",
        }
    }
}

/// A row of the form.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    pub(crate) what: What,
    /// The item, phase, face, job, fingerprint or pack.
    pub(crate) name: String,
    /// The structure, or `job`.
    pub(crate) place: String,
    pub(crate) unit: String,
    /// What it is, in words; of a pack its version.
    pub(crate) note: String,
}

/// A blank form.
#[derive(Debug, Clone)]
pub struct Form {
    rows: Vec<Row>,
    currency: &'static str,
}

impl Form {
    /// The form of an estimated job.
    pub fn of(estimate: &Estimate, lines: &Lines, print: &Fingerprint<String>) -> Self {
        let pack = &estimate.takeoff.pack;
        let row = |what, name: &str, note: &str| Row {
            what,
            name: name.to_owned(),
            place: String::new(),
            unit: String::new(),
            note: note.to_owned(),
        };
        let blank = |what| row(what, "", "");
        let mut rows = vec![
            row(What::Job, &lines.job, ""),
            row(What::PricedPlan, &print.plan, ""),
            row(What::PricedRules, &print.rules, ""),
            row(What::PricedPrices, &print.prices, ""),
            row(What::Rules, &pack.name, &pack.version),
            blank(What::FirstDay),
            blank(What::LastDay),
            blank(What::Days),
        ];
        rows.extend(lines.items.iter().map(material));
        rows.extend(lines.phases.iter().flat_map(hours));
        let area = crate::shown::area_unit(estimate.takeoff.measured.job.units);
        let with_faces = lines
            .structures
            .iter()
            .filter(|line| !line.faces.is_empty());
        rows.extend(with_faces.map(|line| Row {
            place: line.name.clone(),
            unit: area.to_owned(),
            ..blank(What::Area)
        }));
        rows.push(blank(What::Weather));
        rows.extend((0..REMARKS).map(|_| blank(What::Remark)));
        Self {
            rows,
            currency: lines.currency.code(),
        }
    }

    /// As a text that a foreman fills in.
    pub fn text(&self) -> String {
        text::text(self)
    }

    /// As lines of values under a header.
    pub fn csv(&self) -> String {
        let header = csv::line(&COLUMNS.map(str::to_owned));
        let lines = self
            .rows
            .iter()
            .map(|row| csv::line(&self.cells(row).map(|text| csv::cell(&text))));
        let lines: String = lines.collect();
        format!("{}{header}{lines}", csv::MARK)
    }

    /// As a workbook with one sheet, in the look of the estimate's.
    pub fn workbook(&self, estimate: &Estimate) -> Result<Vec<u8>, SheetError> {
        sheet::workbook(self, estimate)
    }

    /// The cells of a row, in the order of [`COLUMNS`].
    fn cells(&self, row: &Row) -> [String; COLUMNS.len()] {
        let has_price = matches!(row.what, What::Material | What::Hours);
        [
            row.what.word().to_owned(),
            row.name.clone(),
            row.place.clone(),
            String::new(),
            row.unit.clone(),
            String::new(),
            if has_price { self.currency } else { "" }.to_owned(),
            match row.what {
                // A version alone may be a number to a spreadsheet: 1 for 1.0.
                What::Rules => format!("version {}", row.note),
                _ => row.note.clone(),
            },
        ]
    }
}

fn material(line: &ItemLine) -> Row {
    let unit = line.unit.text();
    let in_packs = line.pack.as_ref().filter(|pack| {
        let is_unit = line.unit.show(pack.size) == Some(1.0);
        !is_unit && pack.name != unit
    });
    let note = match in_packs {
        Some(pack) => {
            let PackSize {
                written,
                unit,
                name,
                ..
            } = pack;
            format!(
                "{}; 1 {name} is {written} {}",
                line.description,
                unit.text()
            )
        }
        None => line.description.clone(),
    };
    Row {
        what: What::Material,
        name: line.item.clone(),
        place: String::new(),
        unit: unit.to_owned(),
        note,
    }
}

/// A phase by structure where it is worked on several, and by what belongs to none.
fn hours(line: &PhaseLine) -> Vec<Row> {
    let of_job = line.of_job.then(|| "job".to_owned());
    let mut places: Vec<String> = line.structures.iter().cloned().chain(of_job).collect();
    if places.len() < 2 {
        places = vec![String::new()];
    }
    let row = |place| Row {
        what: What::Hours,
        name: line.phase.clone(),
        place,
        unit: "h".to_owned(),
        note: line.description.clone(),
    };
    places.into_iter().map(row).collect()
}

#[cfg(test)]
mod tests;
