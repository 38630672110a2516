//! Whether a job is still priced by what a record says that it was priced by.

use crate::price::Estimate;
use parge_base::actuals::{Actuals, Fingerprint, Written};
use parge_base::{Code, Diagnostic};

/// What a job is known by among others: its name, and what priced it. Two records with one key
/// are of the same job.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct JobKey {
    /// The job's name.
    pub job: String,
    /// What priced it.
    pub fingerprint: Fingerprint<String>,
}

impl JobKey {
    /// The key of an estimated job.
    pub fn of(estimate: &Estimate, fingerprint: &Fingerprint<String>) -> Self {
        Self {
            job: estimate.takeoff.measured.job.name.clone(),
            fingerprint: fingerprint.clone(),
        }
    }
}

/// A part of what prices a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The plan, with what it includes.
    Plan,
    /// The rule packs.
    Rules,
    /// The price book.
    Prices,
}

impl Part {
    /// `plan`, `rules` or `prices`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Rules => "rules",
            Self::Prices => "prices",
        }
    }
}

/// What came of holding a record against what prices the job now.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// What is no longer as it was.
    pub changed: Vec<Part>,
    /// What the record does not say: nobody knows whether it changed.
    pub unknown: Vec<Part>,
    /// An error for another job, and where something changed an error, or a warning for whoever
    /// compares all the same.
    pub said: Vec<Diagnostic>,
}

/// Holds what a record says of the job's name and of what priced it against an estimate and its
/// fingerprints. `anyway` makes warnings of what changed.
pub fn held(
    estimate: &Estimate,
    now: &Fingerprint<String>,
    actuals: &Actuals,
    anyway: bool,
) -> Held {
    let stated = &actuals.priced;
    let parts = [
        (Part::Plan, &stated.plan, &now.plan),
        (Part::Rules, &stated.rules, &now.rules),
        (Part::Prices, &stated.prices, &now.prices),
    ];
    let mut held = Held {
        changed: Vec::new(),
        unknown: Vec::new(),
        said: other_job(estimate, actuals).into_iter().collect(),
    };
    let mut places: Vec<&Written> = Vec::new();
    for (part, stated, now) in parts {
        match stated {
            None => held.unknown.push(part),
            Some((print, place)) if !print.eq_ignore_ascii_case(now) => {
                held.changed.push(part);
                places.push(place);
            }
            Some(_) => {}
        }
    }
    let versions = other_versions(estimate, actuals);
    if let Some((_, place)) = &versions {
        held.unknown.retain(|part| *part != Part::Rules);
        if !held.changed.contains(&Part::Rules) {
            held.changed.push(Part::Rules);
        }
        places.push(place);
    }
    if let Some(place) = places.first() {
        let versions = versions.as_ref().map(|(words, _)| words.as_str());
        held.said
            .push(changed(&held.changed, versions, place, anyway));
    }
    held
}

fn changed(parts: &[Part], versions: Option<&str>, place: &Written, anyway: bool) -> Diagnostic {
    let (are, them) = match parts {
        [Part::Plan] => ("is", "it was"),
        _ => ("are", "they were"),
    };
    let mut message = format!(
        "{} {are} not what {them} when the job was priced",
        joined(parts)
    );
    if let Some(versions) = versions {
        message = format!("{message}: {versions}");
    }
    let (code, help) = match anyway {
        true => (
            Code::ComparedThoughChanged,
            "differences hold what changed since as well: nothing is to be learnt from them",
        ),
        false => (
            Code::ChangedSincePriced,
            "compare with what priced the job, as a revision of it has it; `--changed` compares \
             all the same, and says so",
        ),
    };
    Diagnostic::new(code, message, help).at(place.span, place.words.clone())
}

/// `the plan`, `the plan and the rules`, `the plan, the rules and the prices`.
fn joined(parts: &[Part]) -> String {
    let words: Vec<String> = parts
        .iter()
        .map(|part| format!("the {}", part.word()))
        .collect();
    match words.as_slice() {
        [] => String::new(),
        [only] => only.clone(),
        [init @ .., last] => format!("{} and {last}", init.join(", ")),
    }
}

fn other_job(estimate: &Estimate, actuals: &Actuals) -> Option<Diagnostic> {
    let (stated, place) = actuals.job.as_ref()?;
    let name = &estimate.takeoff.measured.job.name;
    let words = |text: &str| text.split_whitespace().map(str::to_lowercase).collect();
    let (a, b): (Vec<String>, Vec<String>) = (words(stated), words(name));
    if a == b {
        return None;
    }
    let message = format!("the record is of job `{stated}`, and the plan of job `{name}`");
    let help = "name the plan of that job, or correct the name in the record";
    let said = Diagnostic::new(Code::RecordOfOtherJob, message, help);
    Some(said.at(place.span, place.words.clone()))
}

/// The pack in the record where its name or version is another than the estimate's.
fn other_versions(estimate: &Estimate, actuals: &Actuals) -> Option<(String, Written)> {
    let now = &estimate.takeoff.pack;
    let first = actuals.packs.first()?;
    if first.name == now.name && first.version == now.version {
        return None;
    }
    let words = format!(
        "priced with `{} {}`, now `{} {}`",
        first.name, first.version, now.name, now.version
    );
    Some((words, first.place.clone()))
}

#[cfg(test)]
mod tests;
