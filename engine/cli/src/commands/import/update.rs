//! A revised sheet over a plan that is there.

use super::ending;
use crate::World;
use crate::args::ImportArgs;
use crate::files::{read_bytes, read_text};
use crate::session::Session;
use parge_base::{Code, Diagnostic, FileId, Span};
use parge_importers::update::{Conflict, Merge, Texts, merge};
use std::path::{Path, PathBuf};

/// The file beside a plan with what the last import wrote.
pub(super) fn base_of(plan: &Path) -> PathBuf {
    plan.with_extension("imported.parge")
}

/// Refuses to replace a report that is there and was not left as the program wrote it.
pub(super) fn spare_reports(reports: &[PathBuf], world: &World<'_>) -> Result<(), Diagnostic> {
    for path in reports {
        let full = world.folder.join(path);
        let own = || {
            let bytes = read_bytes(&full, u64::from(u32::MAX));
            bytes.is_ok_and(|bytes| parge_sheets::is_untouched(&bytes))
        };
        if full.exists() && !own() {
            let message = format!(
                "{} is there already, and was not left as this program wrote it",
                path.display()
            );
            let help = "choose another name, or add `--force` to replace it";
            return Err(Diagnostic::new(Code::AlreadyThere, message, help));
        }
    }
    Ok(())
}

/// The plan with what changed in the sheet; none where no update is asked for. An error after what
/// is wrong was told.
pub(super) fn merged(
    args: &ImportArgs,
    revised: &str,
    session: &mut Session,
    world: &World<'_>,
) -> Result<Option<Merge>, ()> {
    let Some(path) = args.output.as_ref().filter(|_| args.update) else {
        return Ok(None);
    };
    let found = with_texts(path, revised, session, world);
    let (file, merge) = found.map_err(|error| session.diagnostics.push(error))?;
    if merge.conflicts.is_empty() {
        return Ok(Some(merge));
    }
    let conflicts = merge.conflicts.iter().map(|conflict| told(conflict, file));
    session.diagnostics.extend(conflicts);
    Err(())
}

fn with_texts(
    path: &Path,
    revised: &str,
    session: &mut Session,
    world: &World<'_>,
) -> Result<(FileId, Merge), Diagnostic> {
    let full = ending(path, "parge", world)?;
    let shown = path.display().to_string();
    let file = read_text(&full, &shown, &mut session.sources)?;
    let beside = base_of(path).display().to_string();
    let base =
        read_text(&base_of(&full), &beside, &mut session.sources).map_err(|error| Diagnostic {
            help:
                "the last import wrote it beside the plan; without it, nobody knows what was edited"
                    .to_owned(),
            ..error
        })?;
    let texts = Texts {
        base: session.sources.text(base),
        plan: session.sources.text(file),
        revised,
    };
    let merge = merge(texts).map_err(|why| {
        let help = "mend the plan first: `parge check` tells where";
        Diagnostic::new(Code::UpdateConflict, why, help)
    })?;
    Ok((file, merge))
}

fn told(conflict: &Conflict, file: FileId) -> Diagnostic {
    let words = |text: &Option<String>| match text {
        Some(text) => format!("`{text}`"),
        None => "nothing".to_owned(),
    };
    let message = format!(
        "{}: the last import wrote {}, the plan says {}, and the sheet says {} now",
        conflict.what,
        words(&conflict.base),
        words(&conflict.plan),
        words(&conflict.revised)
    );
    let help = match &conflict.revised {
        Some(revised) => format!(
            "write `{revised}` into the plan if the sheet is right; else ask for another sheet"
        ),
        None => {
            "take it out of the plan if the sheet is right; else ask for another sheet".to_owned()
        }
    };
    let said = Diagnostic::new(Code::UpdateConflict, message, help);
    match conflict.place {
        Some((start, end)) => said.at(Span::new(file, start, end), ""),
        None => said,
    }
}
