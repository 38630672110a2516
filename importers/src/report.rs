//! What an office signs: what became of every row, why each column was taken for what it is, and
//! the sums of the sheet beside those of the plan.

mod text;

pub use text::text;

use crate::columns::Role;
use crate::faces::{Import, Sizes, Verdict, Weight};
use crate::grid::{Book, letters};
use crate::price_list::OfferRead;
use crate::profile::Profile;
use crate::write::{MeasuredPlan, Sum, to_fill_in};
use parge_base::Dim;
use rayon::prelude::*;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;
use std::mem::discriminant;

/// The whole report, in the form in which it is written as JSON.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// The file.
    pub file: String,
    /// The profile that was used; empty where there was none.
    pub profile: String,
    /// What was made of it.
    pub makes: Makes,
    /// Whether every row with figures is in the plan and nothing contradicts.
    pub in_order: bool,
    /// How many rows had each verdict, in the order of the verdicts.
    pub verdicts: Vec<(String, usize)>,
    /// The sums of the sheet and the plan.
    pub sums: Vec<SumLine>,
    /// The sheet's own totals.
    pub totals: Vec<TotalLine>,
    /// What the columns are taken for.
    pub columns: Vec<ColumnLine>,
    /// What else was taken for granted, or answered.
    pub guesses: Vec<GuessLine>,
    /// What no sheet says, and the plan leaves open.
    pub to_fill_in: Vec<String>,
    /// What should be looked at.
    pub remarks: Vec<RemarkLine>,
    /// Every row with anything in it, or those that are not taken over alone: see [`Rows`].
    pub rows: Vec<RowLine>,
    /// What an update did to the plan that was there; none where none was asked for.
    pub update: Option<UpdateLines>,
}

/// What an update did, a line each.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct UpdateLines {
    /// What changed in the sheet and was taken over.
    pub changes: Vec<String>,
    /// What was changed or added in the plan and stays so, beside what the sheet says: the sums are
    /// those of the sheet without it.
    pub kept: Vec<String>,
    /// What was deleted in the plan and is in the sheet still, unchanged: it stays deleted, and the
    /// sums of the sheet have it.
    pub deleted: Vec<String>,
}

/// Which rows a report tells one by one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rows {
    /// Every one, for a report that is kept.
    All,
    /// Those that are not taken over, for one that is shown and forgotten.
    NotTaken,
}

/// What is made of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Makes {
    /// A plan, of measurements.
    #[serde(rename = "plan")]
    Plan,
    /// A price book, of prices.
    #[serde(rename = "price book")]
    PriceBook,
}

impl Makes {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::PriceBook => "price book",
        }
    }
}

/// A sum in the sheet and in the plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SumLine {
    /// What is summed.
    pub what: String,
    /// The unit; `1` for counts.
    pub unit: &'static str,
    /// In the rows of the sheet that were taken over.
    pub sheet: f64,
    /// In the plan, read again.
    pub plan: f64,
    /// As the program measures the plan, where it measures that.
    pub measured: Option<f64>,
    /// In rows that were not taken over, as far as it can be read.
    pub not_taken: f64,
    /// Whether they agree.
    pub agrees: bool,
}

/// A total of the sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TotalLine {
    /// The cell.
    pub cell: String,
    /// What it totals.
    pub of: String,
    /// The unit; `1` for counts.
    pub unit: &'static str,
    /// What it states.
    pub stated: f64,
    /// What the rows add up to.
    pub rows: f64,
    /// Which rows.
    pub which: String,
    /// Whether they agree.
    pub agrees: bool,
    /// The reading with which alone the total agrees, where its words and its place speak of
    /// another.
    pub only: Option<String>,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ColumnLine {
    /// Its sheet.
    pub sheet: String,
    /// Its letters.
    pub column: String,
    /// Its header.
    pub header: String,
    /// What it is.
    pub role: &'static str,
    /// The unit in its header.
    pub unit: Option<String>,
    /// Why.
    pub reason: String,
}

/// What was taken for granted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GuessLine {
    /// What.
    pub what: String,
    /// Why.
    pub reason: String,
}

/// What should be looked at.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RemarkLine {
    /// `contradiction` or `doubt`.
    pub weight: &'static str,
    /// The cell.
    pub cell: String,
    /// What it is.
    pub text: String,
    /// What to do.
    pub help: String,
}

/// A row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RowLine {
    /// Its sheet.
    pub sheet: String,
    /// Its number, from 1.
    pub row: u32,
    /// The first column of its table, where tables stand beside each other.
    pub from_column: Option<String>,
    /// What became of it.
    pub verdict: &'static str,
    /// The face, the opening, the heading, or the reason.
    pub detail: String,
}

/// Puts the report together. It tells `rows` one by one.
pub fn report(
    (book, import): (&Book, &Import),
    sums: &[Sum],
    measured: Option<&MeasuredPlan>,
    profile: &Profile,
    rows: Rows,
) -> Report {
    let metric = is_metric(import);
    let sums = sums.iter().map(|sum| sum_line(sum, measured, metric));
    let sums = sums.collect();
    Report {
        to_fill_in: to_fill_in(import, profile),
        ..together((book, import), sums, &profile.name, Makes::Plan, rows)
    }
}

/// The report of a price list; `again` are the offers of the price book, read again, and the sum of
/// their prices.
pub fn of_prices(book: &Book, import: &Import, again: (usize, Decimal), profile: &str) -> Report {
    let sum: Decimal = import.offers.iter().map(|offer| offer.price).sum();
    let line = |what: &str, sheet: f64, plan: f64, agrees: bool| SumLine {
        what: what.to_owned(),
        unit: "1",
        sheet,
        plan,
        measured: None,
        not_taken: 0.0,
        agrees,
    };
    let shown = |sum: Decimal| sum.to_f64().unwrap_or(f64::NAN);
    let count = import.offers.len();
    let sums = vec![
        line("offers", count as f64, again.0 as f64, count == again.0),
        line(
            "sum of their prices",
            shown(sum),
            shown(again.1),
            sum == again.1,
        ),
    ];
    together((book, import), sums, profile, Makes::PriceBook, Rows::All)
}

fn together(
    (book, import): (&Book, &Import),
    sums: Vec<SumLine>,
    profile: &str,
    makes: Makes,
    rows: Rows,
) -> Report {
    let metric = is_metric(import);
    let sheet = |number: usize| {
        let name = book.sheets.get(number).map_or("", |sheet| &sheet.name);
        name.to_owned()
    };
    let told = |verdict: &Verdict| rows == Rows::All || matches!(verdict, Verdict::Rejected(_));
    let rows = import.rows.par_iter().filter(|row| told(&row.verdict));
    let rows = rows.map(|row| RowLine {
        sheet: sheet(row.sheet),
        row: row.row + 1,
        from_column: (row.from_column > 0).then(|| letters(row.from_column)),
        verdict: row.verdict.word(),
        detail: detail(book, import, &row.verdict),
    });
    let columns = import.tables.iter().flat_map(|table| {
        table.columns.iter().map(move |column| ColumnLine {
            sheet: sheet(table.sheet),
            column: letters(column.column),
            header: column.header.clone(),
            role: column.role.word(),
            unit: column.unit.map(|unit| unit.word()),
            reason: column.reason.clone(),
        })
    });
    Report {
        file: book.name.clone(),
        makes,
        profile: profile.to_owned(),
        in_order: in_order(import, &sums),
        verdicts: verdicts(import),
        totals: import
            .totals
            .iter()
            .map(|total| total_line(book, total, metric))
            .collect(),
        columns: columns.collect(),
        guesses: import
            .guesses
            .iter()
            .map(|guess| GuessLine {
                what: guess.what.clone(),
                reason: guess.reason.clone(),
            })
            .collect(),
        remarks: import
            .remarks
            .iter()
            .map(|remark| remark_line(book, remark))
            .collect(),
        sums,
        rows: rows.collect(),
        to_fill_in: Vec::new(),
        update: None,
    }
}

/// Whether all was taken over and nothing contradicts. What only should be looked at is no fault.
fn in_order(import: &Import, sums: &[SumLine]) -> bool {
    let all_taken = import
        .rows
        .iter()
        .all(|row| !matches!(row.verdict, Verdict::Rejected(_)));
    let agrees = import
        .remarks
        .iter()
        .all(|remark| remark.weight != Weight::Contradiction);
    all_taken && agrees && sums.iter().all(|sum| sum.agrees)
}

fn verdicts(import: &Import) -> Vec<(String, usize)> {
    let kinds = [
        Verdict::Face(0),
        Verdict::Opening(0, 0),
        Verdict::Offer(0),
        Verdict::Heading(String::new()),
        Verdict::Total(None),
        Verdict::Note,
        Verdict::Rejected(String::new()),
    ];
    let mut counts = kinds.map(|kind| (discriminant(&kind), kind.word(), 0));
    for row in &import.rows {
        let own = discriminant(&row.verdict);
        if let Some((.., count)) = counts.iter_mut().find(|(kind, ..)| *kind == own) {
            *count += 1;
        }
    }
    counts
        .map(|(_, word, count)| (word.to_owned(), count))
        .to_vec()
}

fn detail(book: &Book, import: &Import, verdict: &Verdict) -> String {
    let face = |number: &usize| import.faces.get(*number);
    match verdict {
        Verdict::Face(number) => face(number).map_or_else(String::new, |face| {
            let size = match &face.sizes {
                Sizes::Rect(level, upright) => {
                    format!("{} x {}", level.written(), upright.written())
                }
                Sizes::Area { area, .. } => area.written().to_owned(),
            };
            format!(
                "{}, {}: {size}, count {}",
                face.structure, face.name, face.count
            )
        }),
        Verdict::Opening(number, opening) => face(number).map_or_else(String::new, |face| {
            let name = face
                .openings
                .get(*opening)
                .map_or("", |opening| &opening.name);
            format!("{name}, in {}, {}", face.structure, face.name)
        }),
        Verdict::Offer(number) => import
            .offers
            .get(*number)
            .map_or_else(String::new, shown_offer),
        Verdict::Total(Some(number)) => {
            import
                .totals
                .get(*number)
                .map_or_else(String::new, |total| {
                    let (agrees, of) = match &total.only {
                        Some(only) => ("agrees only with", only),
                        None if total.agrees => ("agrees with", &total.of),
                        None => ("does not agree with", &total.of),
                    };
                    format!("{} {agrees} {of}", book.cell_name(total.at))
                })
        }
        Verdict::Heading(text) | Verdict::Rejected(text) => text.clone(),
        Verdict::Total(None) | Verdict::Note => String::new(),
    }
}

fn shown_offer(offer: &OfferRead) -> String {
    let [item, _, pack, unit, _, price, currency, ..] = &offer.fields;
    format!("{item}, {pack} {unit}: {price} {currency}")
}

/// Whether most faces are written in metric units.
pub fn is_metric(import: &Import) -> bool {
    let metric = import.faces.iter().filter(|face| {
        let written = match &face.sizes {
            Sizes::Rect(level, _) => level.written(),
            Sizes::Area { area, .. } => area.written(),
        };
        written.trim_end_matches('2').ends_with('m')
    });
    metric.count() * 2 > import.faces.len()
}

/// The unit in which a kind is shown, and its size.
fn unit(dim: Dim, metric: bool) -> (&'static str, f64) {
    match (dim, metric) {
        (Dim::AREA, true) => ("m2", 1.0),
        (Dim::AREA, false) => ("ft2", 0.3048 * 0.3048),
        (Dim::LENGTH, true) => ("m", 1.0),
        (Dim::LENGTH, false) => ("ft", 0.3048),
        _ => ("1", 1.0),
    }
}

fn sum_line(sum: &Sum, measured: Option<&MeasuredPlan>, metric: bool) -> SumLine {
    let (unit, size) = unit(sum.dim, metric);
    let measured = measured.and_then(|measured| sum.measured(measured));
    let near = |value: f64| (value - sum.plan).abs() <= sum.plan.abs() * 1e-9;
    SumLine {
        what: sum.what.to_owned(),
        unit,
        sheet: sum.sheet / size,
        plan: sum.plan / size,
        measured: measured.map(|value| value / size),
        not_taken: sum.rejected / size,
        agrees: sum.agrees() && measured.is_none_or(near),
    }
}

fn total_line(book: &Book, total: &crate::faces::TotalRead, metric: bool) -> TotalLine {
    let dim = match total.role {
        Role::Area | Role::NetArea | Role::Deduction => Dim::AREA,
        Role::Count | Role::OpeningCount => Dim::NONE,
        _ => Dim::LENGTH,
    };
    let (unit, size) = unit(dim, metric);
    TotalLine {
        cell: book.cell_name(total.at),
        of: total.role.word().to_owned(),
        unit,
        stated: total.stated / size,
        rows: total.found / size,
        which: total.of.clone(),
        agrees: total.agrees,
        only: total.only.clone(),
    }
}

fn remark_line(book: &Book, remark: &crate::faces::Remark) -> RemarkLine {
    RemarkLine {
        weight: match remark.weight {
            Weight::Contradiction => "contradiction",
            Weight::Doubt => "doubt",
        },
        cell: book.cell_name(remark.at),
        text: remark.text.clone(),
        help: remark.help.clone(),
    }
}

/// The report as JSON.
pub fn json(report: &Report) -> Option<String> {
    serde_json::to_string_pretty(report).ok()
}
