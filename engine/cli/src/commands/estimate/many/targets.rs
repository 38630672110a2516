//! The files that a run over many jobs writes. What cannot be meant is refused before the run.

use super::super::TERMINAL;
use super::folder::PlanFile;
use super::job::Way;
use crate::World;
use crate::args::EstimateArgs;
use crate::outputs::{self, Output};
use parge_base::{Code, Diagnostic};
use parge_sheets::jobs::Jobs;
use parge_sheets::{is_jobs_json, is_untouched, jobs_csv, jobs_json, jobs_workbook};
use std::path::{Path, PathBuf};

/// Where the list of the jobs goes.
pub(super) struct Targets {
    workbook: Option<PathBuf>,
    json: Option<PathBuf>,
    csv: Option<PathBuf>,
    /// Whether the JSON stands in place of the tables.
    pub(super) terminal: bool,
}

impl Targets {
    pub(super) fn of(
        args: &EstimateArgs,
        world: &World<'_>,
        files: &[PlanFile],
        way: &Way,
    ) -> Result<Self, Diagnostic> {
        let folder = &world.folder;
        let workbook = args.output.as_ref();
        let workbook = workbook.map(|path| outputs::workbook_path(path, folder));
        let help = "name the list of the jobs as one, such as `--csv jobs.csv`";
        let csv = args.csv.as_ref();
        let csv = csv.map(|path| outputs::named(path, folder, "csv", help));
        let terminal = args.json.as_deref() == Some(Path::new(TERMINAL));
        let json = args.json.as_ref().filter(|_| !terminal);
        let targets = Self {
            workbook: workbook.transpose()?,
            csv: csv.transpose()?,
            json: json.map(|path| folder.join(path)),
            terminal,
        };
        let workbooks = files.iter().filter_map(|file| way.workbook(file));
        match targets.one_of(workbooks) {
            None => Ok(targets),
            Some(path) => {
                let message = format!("{} cannot be two outputs at once", path.display());
                let help = "give the list of the jobs another name";
                Err(Diagnostic::new(Code::CannotWrite, message, help))
            }
        }
    }

    /// The first path that is one of the list as well.
    fn one_of(&self, mut paths: impl Iterator<Item = PathBuf>) -> Option<PathBuf> {
        let of_list = [&self.workbook, &self.json, &self.csv];
        let of_list: Vec<&PathBuf> = of_list.into_iter().flatten().collect();
        paths.find(|path| of_list.iter().any(|of| outputs::same_file(of, path)))
    }

    /// Writes the list, all files of it or none.
    pub(super) fn write(
        &self,
        jobs: &Jobs,
        read: &[PathBuf],
        force: bool,
    ) -> Result<(), Diagnostic> {
        let mut files = Vec::new();
        let mut add = |path: &Option<PathBuf>, bytes: Vec<u8>| {
            let path = path.clone();
            files.extend(path.map(|path| Output { path, bytes }));
        };
        if self.workbook.is_some() {
            let bytes = jobs_workbook(jobs).map_err(|error| {
                let message = format!("the workbook of the jobs cannot be made: {error}");
                let help = "divide the folder into several";
                Diagnostic::new(Code::CannotWrite, message, help)
            })?;
            add(&self.workbook, bytes);
        }
        if self.json.is_some() {
            add(&self.json, jobs_json(jobs).into_bytes());
        }
        let lines = self.csv.as_ref().map(|_| jobs_csv(jobs).into_bytes());
        if let Some(lines) = &lines {
            add(&self.csv, lines.clone());
        }
        // Lines of values have no mark of their own: only the same ones are the program's.
        let is_own = |there: &[u8]| {
            is_untouched(there)
                || is_jobs_json(there)
                || lines.as_deref().is_some_and(|lines| lines == there)
        };
        outputs::write(&files, read, is_own, force)
    }
}
