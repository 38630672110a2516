//! `parge new`: a job folder to start from.

use super::rules::make_folder;
use crate::args::NewArgs;
use crate::files::write_whole;
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic};
use std::io;
use std::path::Path;

/// The files of a new job.
const FILES: [(&str, &str); 2] = [
    ("job.parge", include_str!("../../template/job.parge")),
    ("prices.csv", include_str!("../../template/prices.csv")),
];

pub(crate) fn run(args: &NewArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    match write(&world.folder.join(&args.dir)) {
        Ok(()) => {
            let plan = args.dir.join("job.parge");
            writeln!(world.out, "wrote {}", plan.display())?;
            writeln!(world.out, "wrote {}", args.dir.join("prices.csv").display())?;
            writeln!(
                world.out,
                "now: parge estimate {} -o bid.xlsx",
                plan.display()
            )?;
        }
        Err(diagnostic) => session.diagnostics.push(diagnostic),
    }
    session.report(world)
}

fn write(folder: &Path) -> Result<(), Diagnostic> {
    if folder.exists() {
        let message = format!("{} is there already", folder.display());
        return Err(Diagnostic::new(
            Code::AlreadyThere,
            message,
            "name a folder that is not there yet",
        ));
    }
    make_folder(folder)?;
    FILES
        .iter()
        .try_for_each(|(name, text)| write_whole(&folder.join(name), text.as_bytes()))
}
