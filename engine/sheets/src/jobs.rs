//! Many jobs estimated in one run: a row a job, and what they come to. Amounts of different
//! currencies are never added.

mod lines;
mod wire;

pub use lines::jobs_csv;
pub use wire::{JOBS_SCHEMA, is_jobs_json, jobs_json};

use crate::shown;
use parge_base::{Currency, Diagnostic, Money, Severity, Sources};
use parge_calc::price::{Estimate, Status};
use serde::Serialize;
use std::collections::BTreeMap;

/// What a run over a folder of plans came to.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Jobs {
    /// The jobs, in the order of their plans' paths.
    pub rows: Vec<JobRow>,
    /// The files without a job block.
    pub parts: Vec<Part>,
}

/// A file without a job block, which holds what plans include.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Part {
    /// Its path from the folder of all, with `/` between folders.
    pub file: String,
    /// Whether a job includes it.
    pub included: bool,
}

/// A job.
#[derive(Debug, Clone, PartialEq)]
pub struct JobRow {
    /// The path of its plan from the folder of all, with `/` between folders.
    pub plan: String,
    /// What the plan calls it; empty where that cannot be read.
    pub name: String,
    /// For whom.
    pub client: Option<String>,
    /// Its figures; none where it could not be estimated.
    pub figures: Option<Figures>,
    /// How many errors were found.
    pub errors: usize,
    /// How many warnings were found.
    pub warnings: usize,
    /// The first of the errors.
    pub first: Option<FirstError>,
}

/// The figures of a job.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// Equal faces counted each.
    pub faces: u64,
    /// What is coated, in `area_unit`.
    pub net_area: f64,
    /// `ft2` or `m2`.
    pub area_unit: &'static str,
    /// The sum of the priced materials.
    pub materials: Money,
    /// The sum of the priced labour, before burden.
    pub labour: Money,
    /// What the client pays.
    pub total: Money,
    /// Whether every line is priced.
    pub status: Status,
}

/// An error as a line of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FirstError {
    /// The stable code.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// The file, its line and column, from 1; none for what concerns no text.
    pub place: Option<(String, usize, usize)>,
}

/// What the jobs of one currency come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Total {
    /// The currency.
    pub currency: Currency,
    /// How many jobs.
    pub jobs: usize,
    /// How many of them have lines without a price, which are in no sum.
    pub incomplete: usize,
    /// The sums; none where one is too large to be written.
    pub sums: Option<Sums>,
}

/// Sums over jobs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sums {
    /// Of the priced materials.
    pub materials: Money,
    /// Of the priced labour.
    pub labour: Money,
    /// Of what the clients pay.
    pub total: Money,
}

impl Figures {
    /// Those of an estimate.
    pub fn of(estimate: &Estimate) -> Self {
        let takeoff = &estimate.takeoff;
        let faces = shown::faces(takeoff).map(|face| u64::from(face.count));
        let price = &estimate.price;
        Self {
            faces: faces.sum(),
            net_area: shown::total_areas(takeoff).net,
            area_unit: shown::area_unit(takeoff.measured.job.units),
            materials: price.materials,
            labour: price.labour,
            total: price.total,
            status: estimate.status,
        }
    }
}

impl JobRow {
    /// What was said of the job, taken into its row.
    pub fn say(&mut self, diagnostics: &[Diagnostic], sources: &Sources) {
        let errors = diagnostics
            .iter()
            .filter(|said| said.severity() == Severity::Error);
        self.errors = errors.clone().count();
        self.warnings = diagnostics.len() - self.errors;
        self.first = errors.clone().next().map(|error| FirstError {
            code: error.code.id(),
            message: error.message.clone(),
            place: error.span().map(|span| {
                let place = sources.place(span.file, span.start);
                let name = sources.name(span.file).to_owned();
                (name, place.line, place.column)
            }),
        });
    }

    /// `complete`, `incomplete`, or `failed` where it could not be estimated.
    pub fn status(&self) -> &'static str {
        match self.figures.map(|figures| figures.status) {
            Some(Status::Complete) => "complete",
            Some(Status::Incomplete) => "incomplete",
            None => "failed",
        }
    }
}

impl FirstError {
    /// In a line: `E0202: there is no finish `x` (job.parge:12:5)`.
    pub fn words(&self) -> String {
        let Self { code, message, .. } = self;
        match &self.place {
            Some((file, line, column)) => format!("{code}: {message} ({file}:{line}:{column})"),
            None => format!("{code}: {message}"),
        }
    }
}

impl Jobs {
    /// How many jobs could not be estimated.
    pub fn failed(&self) -> usize {
        let failed = self.rows.iter().filter(|row| row.figures.is_none());
        failed.count()
    }

    /// What the estimated jobs come to, by currency.
    pub fn totals(&self) -> Vec<Total> {
        let mut totals: BTreeMap<&str, Total> = BTreeMap::new();
        for figures in self.rows.iter().filter_map(|row| row.figures) {
            let currency = figures.total.currency();
            let total = totals.entry(currency.code()).or_insert(Total {
                currency,
                jobs: 0,
                incomplete: 0,
                sums: Some(Sums::nothing(currency)),
            });
            total.jobs += 1;
            total.incomplete += usize::from(figures.status == Status::Incomplete);
            total.sums = total.sums.and_then(|sums| sums.plus(&figures));
        }
        totals.into_values().collect()
    }
}

impl Sums {
    fn nothing(currency: Currency) -> Self {
        let zero = Money::zero(currency);
        Self {
            materials: zero,
            labour: zero,
            total: zero,
        }
    }

    fn plus(self, figures: &Figures) -> Option<Self> {
        Some(Self {
            materials: self.materials.plus(figures.materials).ok()?,
            labour: self.labour.plus(figures.labour).ok()?,
            total: self.total.plus(figures.total).ok()?,
        })
    }
}

#[cfg(test)]
mod tests;
