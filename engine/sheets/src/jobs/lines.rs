//! Many jobs as lines of values (CSV).

use super::{FirstError, JobRow, Jobs};
use crate::csv::{self, cell};
use parge_base::Money;
use parge_base::number::{NOISE_DECIMALS, round_to};

/// The columns, in their order.
const COLUMNS: [&str; 14] = [
    "plan",
    "job",
    "client",
    "faces",
    "net_area",
    "area_unit",
    "materials",
    "labour",
    "total",
    "currency",
    "status",
    "errors",
    "warnings",
    "first_error",
];

/// The jobs, a line each, under a header. There are no totals: the lines may be of several currencies.
pub fn jobs_csv(jobs: &Jobs) -> String {
    let header = csv::line(&COLUMNS.map(str::to_owned));
    let lines = jobs.rows.iter().map(|row| csv::line(&cells(row)));
    let lines: String = lines.collect();
    format!("{}{header}{lines}", csv::MARK)
}

/// The figures of a job that could not be estimated are empty, so that none of them is taken for 0.
fn cells(row: &JobRow) -> [String; COLUMNS.len()] {
    let figures = row.figures.as_ref();
    let money = |of: fn(&super::Figures) -> Money| {
        figures.map_or(String::new(), |figures| of(figures).to_text())
    };
    let area = |figures: &super::Figures| round_to(figures.net_area, NOISE_DECIMALS).to_string();
    let currency = |figures: &super::Figures| figures.total.currency().code().to_owned();
    [
        cell(&row.plan),
        cell(&row.name),
        cell(row.client.as_deref().unwrap_or_default()),
        figures.map_or(String::new(), |figures| figures.faces.to_string()),
        figures.map_or(String::new(), area),
        figures.map_or(String::new(), |figures| figures.area_unit.to_owned()),
        money(|figures| figures.materials),
        money(|figures| figures.labour),
        money(|figures| figures.total),
        figures.map_or(String::new(), currency),
        row.status().to_owned(),
        row.errors.to_string(),
        row.warnings.to_string(),
        cell(&row.first.as_ref().map_or(String::new(), FirstError::words)),
    ]
}
