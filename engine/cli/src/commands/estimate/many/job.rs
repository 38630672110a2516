//! One of many jobs, from its plan to its row.

use super::super::no_workbook;
use super::folder::PlanFile;
use crate::exit::Exit;
use crate::files::cannot_write;
use crate::origin::Origin;
use crate::outputs::{self, Written};
use crate::session::{PlanRead, Session};
use parge_base::{Diagnostic, diagnostic};
use parge_calc::price::Estimate;
use parge_grammar::ast::{Job, JobSetting, Plan, Statement};
use parge_sheets::jobs::{Figures, JobRow};
use parge_sheets::write_workbook;
use std::fs;
use std::path::{Path, PathBuf};

/// What is done with every job.
pub(super) struct Way {
    /// Where each workbook goes, by the path of its plan.
    pub(super) workbooks: Option<PathBuf>,
    /// Whether files may be replaced that were changed.
    pub(super) force: bool,
}

impl Way {
    /// The workbook of a job, where there is to be one.
    pub(super) fn workbook(&self, file: &PlanFile) -> Option<PathBuf> {
        let folder = self.workbooks.as_ref()?;
        Some(folder.join(&file.inside).with_extension("xlsx"))
    }
}

/// What became of a file.
pub(super) struct Looked {
    /// Whether it has a job block, or could not be read, so that nobody knows.
    pub(super) is_job: bool,
    /// Its row in the list.
    pub(super) row: JobRow,
    /// How it ended.
    pub(super) exit: Exit,
    /// The files that were read beside it.
    pub(super) read: Vec<PathBuf>,
}

/// Goes all the way with a file that may be a job. Only its row is kept.
pub(super) fn look(file: &PlanFile, way: &Way) -> Looked {
    let mut session = Session::default();
    let mut row = JobRow {
        plan: file.name(),
        name: String::new(),
        client: None,
        figures: None,
        errors: 0,
        warnings: 0,
        first: None,
    };
    let (origin, name) = Origin::of_file(&file.path);
    let read = session.read(origin, &name, &row.plan);
    let mut is_job = true;
    if let Some(read) = read {
        is_job = has_job(&read.plan);
        if let Some(job) = job_of(&read.plan) {
            row.name.clone_from(&job.name.node);
            row.client = client_of(job);
        }
        if is_job {
            row.figures = estimate(&mut session, read, file, way);
        }
    }
    diagnostic::tidy(&mut session.diagnostics);
    row.say(&session.diagnostics, &session.sources);
    Looked {
        is_job,
        row,
        exit: session.exit(),
        read: session.files,
    }
}

/// The figures of a job, and its workbook written.
fn estimate(session: &mut Session, read: PlanRead, file: &PlanFile, way: &Way) -> Option<Figures> {
    let loaded = session.with_packs(read);
    let estimate = loaded.and_then(|loaded| session.estimate(&loaded));
    diagnostic::tidy(&mut session.diagnostics);
    let estimate = estimate?;
    if let Some(path) = way.workbook(file) {
        let written = write(&estimate, session, file, &path, way.force);
        session.diagnostics.extend(written.err());
    }
    Some(Figures::of(&estimate))
}

fn write(
    estimate: &Estimate,
    session: &Session,
    file: &PlanFile,
    path: &Path,
    force: bool,
) -> Result<(), Diagnostic> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|error| cannot_write(folder, &error))?;
    }
    let (sources, said) = (&session.sources, session.diagnostics.as_slice());
    let workbook = Written {
        path: path.to_owned(),
        write: Box::new(|file| write_workbook(estimate, sources, said, file).map_err(no_workbook)),
    };
    let mut read = session.files.clone();
    read.push(file.path.clone());
    outputs::write_each(&[workbook], &read, outputs::is_untouched, force)
}

/// Whether a plan has a job block, be it one that cannot be read.
fn has_job(plan: &Plan) -> bool {
    job_of(plan).is_some() || plan.damages_a("job")
}

fn job_of(plan: &Plan) -> Option<&Job> {
    plan.statements
        .iter()
        .find_map(|statement| match statement {
            Statement::Job(job) => Some(job),
            _ => None,
        })
}

fn client_of(job: &Job) -> Option<String> {
    job.settings.iter().find_map(|setting| match &setting.node {
        JobSetting::Client(name) => Some(name.node.clone()),
        _ => None,
    })
}
