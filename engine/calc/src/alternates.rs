//! Alternates: the estimate once more, with what the client may choose instead.
//!
//! Nothing is reckoned from parts: packs are rounded over the whole job, and a rule may count
//! structures, so the difference is that of two whole estimates.

use crate::job::{AlternateChange, Job};
use crate::measure::Measured;
use crate::pool::pool;
use crate::price::{Estimate, Status, price};
use crate::takeoff::{Caution, take_off};
use parge_base::prices::PriceBook;
use parge_base::{Code, Diagnostic, Money, Severity};
use parge_rules::Pack;

/// An alternate with its price.
#[derive(Debug)]
pub struct PricedAlternate {
    /// Its name.
    pub name: String,
    /// What it changes, in words.
    pub changes: Vec<String>,
    /// What it adds to the total, or takes off it; none where a line of it has no price.
    pub difference: Option<Money>,
    /// Cautions that the estimate itself does not give.
    pub cautions: Vec<Caution>,
    /// The whole estimate with the changes made, where there is a difference.
    pub estimate: Option<Box<Estimate>>,
}

/// Prices the alternates of an estimate. What was said of the estimate itself is in `known` and
/// is not said again.
pub fn with_alternates(
    mut estimate: Estimate,
    pack: &Pack,
    book: &PriceBook,
    known: &[Diagnostic],
) -> (Estimate, Vec<Diagnostic>) {
    let (mut priced, mut diagnostics) = (Vec::new(), Vec::new());
    let job = &estimate.takeoff.measured.job;
    for (number, alternate) in job.content.alternates.iter().enumerate() {
        let measured = changed(&estimate.takeoff.measured, &alternate.changes);
        let mut said = Vec::new();
        let other = estimate_of(measured, pack, book, &mut said);
        let wrong = said.iter().any(|said| said.severity() == Severity::Error);
        let other = other.filter(|other| !wrong && other.status == Status::Complete);
        let difference = other
            .as_ref()
            .filter(|_| estimate.status == Status::Complete)
            .and_then(|other| other.price.total.minus(estimate.price.total).ok());
        let cautions = other.as_ref().map(|other| other.takeoff.cautions.clone());
        let cautions = cautions.unwrap_or_default();
        let new = |caution: &Caution| {
            let here = &estimate.takeoff.cautions;
            here.iter().all(|known| known.key != caution.key)
        };
        let fresh = said.into_iter().filter(|said| !is_known(said, known));
        diagnostics.extend(fresh.map(|said| Diagnostic {
            message: format!("alternate `{}`: {}", alternate.name, said.message),
            ..said
        }));
        priced.push(PricedAlternate {
            name: alternate.name.clone(),
            changes: words(job, number),
            difference,
            cautions: cautions.into_iter().filter(new).collect(),
            estimate: other.filter(|_| difference.is_some()).map(Box::new),
        });
    }
    estimate.alternates = priced;
    (estimate, diagnostics)
}

/// Whether the estimate itself says it as well. Of the prices that end before the bid does only the
/// first is named, and an alternate may have others: where the same day is asked for, that is enough.
fn is_known(said: &Diagnostic, known: &[Diagnostic]) -> bool {
    known.iter().any(|known| {
        let ends_first = said.code == Code::PriceEndsFirst && known.code == said.code;
        said == known || (ends_first && said.help == known.help)
    })
}

fn estimate_of(
    measured: Measured,
    pack: &Pack,
    book: &PriceBook,
    said: &mut Vec<Diagnostic>,
) -> Option<Estimate> {
    let (takeoff, mut wrong) = take_off(measured, pack);
    said.append(&mut wrong);
    let (pooled, mut wrong) = pool(&takeoff, pack);
    said.append(&mut wrong);
    let (estimate, mut wrong) = price(takeoff, pooled, book, pack);
    said.append(&mut wrong);
    estimate
}

/// The measured job with the changes made. Measures stay: a finish changes no size.
fn changed(measured: &Measured, changes: &[AlternateChange]) -> Measured {
    let mut other = measured.clone();
    for change in changes {
        match *change {
            AlternateChange::Finish { structure, finish } => {
                let job = &mut other.job;
                let faces = job
                    .faces
                    .iter_mut()
                    .filter(|face| face.structure == structure);
                faces.for_each(|face| face.finish = finish);
                let edges = job
                    .edges
                    .iter_mut()
                    .filter(|edge| edge.structure == structure);
                edges.for_each(|edge| edge.finish = Some(finish));
            }
            AlternateChange::Omit(structure) => {
                let job = &mut other.job;
                let of = |number: usize| job.faces.get(number).map(|face| face.structure);
                other.faces.retain(|face| of(face.face) != Some(structure));
                job.edges.retain(|edge| edge.structure != structure);
            }
        }
    }
    other
}

/// What an alternate changes, in words.
fn words(job: &Job, alternate: usize) -> Vec<String> {
    let alternate = job.content.alternates.get(alternate);
    let changes = alternate.map_or(&[][..], |alternate| &alternate.changes);
    let word = |change: &AlternateChange| match *change {
        AlternateChange::Finish { structure, finish } => {
            let finish = job.finishes.get(finish).map_or("", |finish| &finish.name);
            format!("{}: finish {finish}", job.structure_name(structure))
        }
        AlternateChange::Omit(structure) => {
            format!("without {}", job.structure_name(structure))
        }
    };
    changes.iter().map(word).collect()
}

#[cfg(test)]
mod tests;
