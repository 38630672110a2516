//! A blank form for what a job uses.

use crate::args::ActualsArgs;
use crate::outputs::{self, Output};
use crate::past_job::{PricedJob, RecordKind};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic, Severity};
use parge_sheets::{Form, is_untouched};
use std::io;
use std::path::Path;

pub(super) fn run(args: &ActualsArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let job = session.priced_job(&args.plan, world);
    let errors = |said: &Diagnostic| said.severity() == Severity::Error;
    session.diagnostics.retain(errors);
    if let Some(job) = job {
        let form = Form::of(&job.estimate, &job.lines(), &job.fingerprint);
        match &args.output {
            None => write!(world.out, "{}", form.text())?,
            Some(path) => {
                let written = write(path, &form, &job, args.force, &session, world);
                session.diagnostics.extend(written.err());
            }
        }
    }
    session.report(world)
}

fn write(
    path: &Path,
    form: &Form,
    job: &PricedJob,
    force: bool,
    session: &Session,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let kind = RecordKind::of(path).map_err(|said| Diagnostic {
        code: Code::CannotWrite,
        ..said
    })?;
    let bytes = match kind {
        RecordKind::Text => form.text().into_bytes(),
        RecordKind::Csv => form.csv().into_bytes(),
        RecordKind::Workbook => form.workbook(&job.estimate).map_err(|error| {
            let message = format!("the form cannot be made: {error}");
            let help = "divide the job into several plans";
            Diagnostic::new(Code::CannotWrite, message, help)
        })?,
    };
    // A form with an amount in it is somebody's work: only a blank one is replaced.
    let own = |there: &[u8]| there == bytes || is_untouched(there);
    let output = Output {
        path: world.folder.join(path),
        bytes: bytes.clone(),
    };
    outputs::write(&[output], &session.files, own, force)
}
