//! A job that was priced, and the record of what it used.

use crate::World;
use crate::files;
use crate::origin::Origin;
use crate::session::Session;
use parge_base::{Code, Diagnostic, diagnostic};
use parge_calc::actuals::{Actuals, Fingerprint, Held, Lines, held, lines, of_basis};
use parge_calc::price::Estimate;
use parge_calc::whatif::Basis;
use std::path::{Path, PathBuf};

/// The most bytes of a workbook with a record.
const MAX_WORKBOOK_BYTES: u64 = parge_importers::grid::MAX_BYTES as u64;

/// A job with its price.
pub(crate) struct PricedJob {
    /// All that the estimate rests on.
    pub(crate) basis: Basis,
    pub(crate) estimate: Estimate,
    /// Of what prices it now.
    pub(crate) fingerprint: Fingerprint<String>,
    /// All that was said of the estimate.
    pub(crate) said: Vec<Diagnostic>,
}

impl PricedJob {
    /// What a record can fill in.
    pub(crate) fn lines(&self) -> Lines {
        lines(&self.estimate, self.basis.rules.units())
    }
}

/// A job with its price and its record.
pub(crate) struct PastJob {
    pub(crate) job: PricedJob,
    pub(crate) actuals: Actuals,
    /// Whether the record cites what prices the job now.
    pub(crate) held: Held,
}

/// The kinds of files that a record can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum RecordKind {
    Text,
    Csv,
    Workbook,
}

impl RecordKind {
    /// By the ending of a name.
    pub(crate) fn of(path: &Path) -> Result<Self, Diagnostic> {
        let ending = path.extension().map(|ending| ending.to_ascii_lowercase());
        match ending.as_ref().and_then(|ending| ending.to_str()) {
            Some("txt") => Ok(Self::Text),
            Some("csv") => Ok(Self::Csv),
            Some("xlsx") => Ok(Self::Workbook),
            _ => {
                let message = format!("{} ends in none of .txt, .csv and .xlsx", path.display());
                let help = "name it by its kind, such as `actuals.txt`";
                Err(Diagnostic::new(Code::BadActuals, message, help))
            }
        }
    }
}

/// The record that lies beside a plan; an error where there is none, or more than one.
pub(crate) fn record_beside(plan: &Path, world: &World<'_>) -> Result<PathBuf, Diagnostic> {
    let folder = plan.parent().unwrap_or(Path::new(""));
    let there = |name: &&str| world.folder.join(folder).join(name).is_file();
    let found: Vec<&str> = RECORDS.iter().copied().filter(there).collect();
    match found.as_slice() {
        [only] => Ok(folder.join(only)),
        [] => {
            let message = format!("no record lies beside {}", plan.display());
            let help = "name one behind the plan; `parge actuals --form` makes a form for it";
            Err(Diagnostic::new(Code::CannotRead, message, help))
        }
        [first, second, ..] => {
            let message = format!("{first} and {second} both lie beside {}", plan.display());
            let help = "name the one that holds behind the plan, and take the other one away";
            Err(Diagnostic::new(Code::BadActuals, message, help))
        }
    }
}

/// What a record is called that lies beside its plan.
const RECORDS: [&str; 3] = ["actuals.txt", "actuals.csv", "actuals.xlsx"];

impl Session {
    /// A plan with its estimate, by the word that a command has for it. `None` after what keeps it
    /// from being estimated was said; a line without a price is said, and leaves an estimate.
    pub(crate) fn priced_job(&mut self, plan: &Path, world: &World<'_>) -> Option<PricedJob> {
        let found = Origin::of_word(plan, &world.folder);
        let (origin, name) = self.or_say(found)?;
        self.files.extend(origin.on_disk(&name));
        let loaded = self.load_from(origin, &name, &plan.display().to_string())?;
        let basis = self.basis(loaded)?;
        let wrong = diagnostic::any_error(&self.diagnostics);
        let (estimate, said) = basis.estimate(&self.sources);
        self.diagnostics.extend(said);
        let estimate = estimate.filter(|_| !wrong)?;
        Some(PricedJob {
            fingerprint: of_basis(&basis, &self.sources),
            said: self.diagnostics.clone(),
            basis,
            estimate,
        })
    }

    /// The same with a record of what it used. What prices the job must be what the record cites;
    /// `anyway` makes a warning of what changed.
    pub(crate) fn past_job(
        &mut self,
        plan: &Path,
        record: &Path,
        anyway: bool,
        world: &World<'_>,
    ) -> Option<PastJob> {
        let job = self.priced_job(plan, world)?;
        let actuals = self.record(record, &job.lines(), world)?;
        let held = held(&job.estimate, &job.fingerprint, &actuals, anyway);
        let refused = diagnostic::any_error(&held.said);
        self.diagnostics.extend(held.said.iter().cloned());
        (!refused).then_some(PastJob { job, actuals, held })
    }

    /// A record by its path.
    fn record(&mut self, path: &Path, lines: &Lines, world: &World<'_>) -> Option<Actuals> {
        let full = world.folder.join(path);
        let shown = path.display().to_string();
        self.files.push(full.clone());
        let kind = self.or_say(RecordKind::of(path))?;
        if kind == RecordKind::Workbook {
            let bytes = files::read_bytes(&full, MAX_WORKBOOK_BYTES);
            let bytes = bytes.map_err(|error| files::unread(error.into(), &shown));
            let bytes = self.or_say(bytes)?;
            let read =
                parge_importers::actuals_of_workbook(&mut self.sources, &shown, &bytes, lines);
            return self.keep(read);
        }
        let file = files::read_text(&full, &shown, &mut self.sources);
        let file = self.or_say(file)?;
        let read = match kind {
            RecordKind::Csv => parge_importers::actuals_of_csv(&self.sources, file, lines),
            _ => parge_importers::actuals_of_text(&self.sources, file, lines),
        };
        self.keep(read)
    }
}
