//! Many jobs as JSON, in the form that [`JOBS_SCHEMA`] describes. Its names are promised to other
//! programs.

use super::{FirstError, JobRow, Jobs, Part, Total};
use crate::wire::Measure;
use parge_base::number::{NOISE_DECIMALS, round_to};
use serde::Serialize;

/// The JSON Schema (draft 2020-12) of what [`jobs_json`] writes.
pub const JOBS_SCHEMA: &str = include_str!("../../schema/jobs.schema.json");

/// All jobs.
#[derive(Debug, Serialize)]
struct JobsWire<'a> {
    jobs: Vec<RowWire<'a>>,
    totals: Vec<TotalWire>,
    failed: usize,
    parts: &'a [Part],
}

/// A job; the figures are null where it could not be estimated.
#[derive(Debug, Serialize)]
struct RowWire<'a> {
    plan: &'a str,
    job: &'a str,
    client: Option<&'a str>,
    faces: Option<u64>,
    net_area: Option<Measure<'static>>,
    materials: Option<String>,
    labour: Option<String>,
    total: Option<String>,
    currency: Option<&'static str>,
    status: &'static str,
    errors: usize,
    warnings: usize,
    first_error: Option<ErrorWire<'a>>,
}

/// An error.
#[derive(Debug, Serialize)]
struct ErrorWire<'a> {
    code: &'static str,
    message: &'a str,
    file: Option<&'a str>,
    line: Option<usize>,
    column: Option<usize>,
}

/// What the jobs of a currency come to; a sum that is too large to be written is null.
#[derive(Debug, Serialize)]
struct TotalWire {
    currency: &'static str,
    jobs: usize,
    incomplete: usize,
    materials: Option<String>,
    labour: Option<String>,
    total: Option<String>,
}

/// The jobs with their totals.
pub fn jobs_json(jobs: &Jobs) -> String {
    let wire = JobsWire {
        jobs: jobs.rows.iter().map(row).collect(),
        totals: jobs.totals().iter().map(total).collect(),
        failed: jobs.failed(),
        parts: &jobs.parts,
    };
    // Fails only for maps whose keys are no text, and here is none.
    serde_json::to_string_pretty(&wire).unwrap_or_default()
}

/// Whether a file is one that [`jobs_json`] made: JSON that nobody works in.
pub fn is_jobs_json(bytes: &[u8]) -> bool {
    let value = serde_json::from_slice::<serde_json::Value>(bytes);
    let has_all = |value: serde_json::Value| {
        let mut keys = ["jobs", "totals", "failed", "parts"].iter();
        keys.all(|key| value.get(key).is_some())
    };
    value.is_ok_and(has_all)
}

fn row(row: &JobRow) -> RowWire<'_> {
    let figures = row.figures.as_ref();
    RowWire {
        plan: &row.plan,
        job: &row.name,
        client: row.client.as_deref(),
        faces: figures.map(|figures| figures.faces),
        net_area: figures.map(|figures| Measure {
            value: round_to(figures.net_area, NOISE_DECIMALS),
            unit: figures.area_unit,
        }),
        materials: figures.map(|figures| figures.materials.to_text()),
        labour: figures.map(|figures| figures.labour.to_text()),
        total: figures.map(|figures| figures.total.to_text()),
        currency: figures.map(|figures| figures.total.currency().code()),
        status: row.status(),
        errors: row.errors,
        warnings: row.warnings,
        first_error: row.first.as_ref().map(error),
    }
}

fn error(error: &FirstError) -> ErrorWire<'_> {
    let place = error.place.as_ref();
    ErrorWire {
        code: error.code,
        message: &error.message,
        file: place.map(|(file, ..)| file.as_str()),
        line: place.map(|(_, line, _)| *line),
        column: place.map(|(.., column)| *column),
    }
}

fn total(total: &Total) -> TotalWire {
    let sums = total.sums.as_ref();
    TotalWire {
        currency: total.currency.code(),
        jobs: total.jobs,
        incomplete: total.incomplete,
        materials: sums.map(|sums| sums.materials.to_text()),
        labour: sums.map(|sums| sums.labour.to_text()),
        total: sums.map(|sums| sums.total.to_text()),
    }
}
