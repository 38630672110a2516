//! The folder of past jobs: which of them can be learned from, and what is wrong with the others.

use crate::World;
use crate::args::LearnArgs;
use crate::origin::Origin;
use crate::past_job::{PastJob, record_beside};
use crate::session::Session;
use parge_base::{Code, Diagnostic, Severity};
use parge_calc::actuals::{Actuals, JobKey, Part, compare};
use parge_calc::learn;
use parge_calc::whatif::Basis;
use parge_rules::Pack;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The plan of a job in its folder.
const PLAN: &str = "job.parge";

/// Past jobs.
#[derive(Default)]
pub(super) struct Gathered {
    pub(super) jobs: Vec<learn::PastJob>,
    /// The version of the pack that priced each of them.
    pub(super) versions: Vec<String>,
    /// The folders of those that were left out, each with the reason.
    pub(super) left_out: Vec<(String, String)>,
    /// Which folder has a job that was read, by its name and plan.
    seen: BTreeMap<(String, String), String>,
}

/// Reads the jobs of a folder. What is wrong with one is an error, or a warning where it may be left
/// out. `None` where the folder has no job.
pub(super) fn gather(
    args: &LearnArgs,
    pack: &Arc<Pack>,
    session: &mut Session,
    world: &World<'_>,
) -> Option<Gathered> {
    let folders = folders(&args.folder, session, world)?;
    let mut gathered = Gathered::default();
    for folder in &folders {
        let shown = folder.display().to_string();
        let before = std::mem::take(&mut session.diagnostics);
        let read = read(folder, pack, session, world);
        let read = read.and_then(|past| gathered.keep(past, &shown));
        let said = std::mem::replace(&mut session.diagnostics, before);
        match read {
            Ok(()) => session
                .diagnostics
                .extend(said.into_iter().filter(is_of_record)),
            Err(why) if args.leave_out => gathered.leave_out(&shown, why, said, session),
            Err(why) => {
                let errors = said
                    .into_iter()
                    .filter(|said| said.severity() == Severity::Error);
                session.diagnostics.extend(errors);
                session.diagnostics.extend(why);
            }
        }
    }
    Some(gathered)
}

/// The folders in a folder that have a plan, in the order of their names.
fn folders(folder: &Path, session: &mut Session, world: &World<'_>) -> Option<Vec<PathBuf>> {
    let here = Origin::Disk(world.folder.clone());
    let shown = folder.display();
    let nothing = |message: String| {
        let help = format!("name a folder that has a folder for each job, with `{PLAN}` in it");
        Diagnostic::new(Code::CannotRead, message, help)
    };
    let members = here
        .members(folder)
        .map_err(|why| nothing(format!("{shown} {why}")));
    let mut names: Vec<String> = session
        .or_say(members)?
        .into_iter()
        .filter(|member| !member.is_file && !member.name.starts_with('.'))
        .map(|member| member.name)
        .collect();
    names.sort();
    let jobs = names.into_iter().map(|name| folder.join(name));
    let jobs: Vec<PathBuf> = jobs.filter(|job| here.is_file(&job.join(PLAN))).collect();
    if jobs.is_empty() {
        session
            .diagnostics
            .push(nothing(format!("{shown} holds no past job")));
        return None;
    }
    Some(jobs)
}

/// What a record says that matches no line is told; what is said of the plan by itself was told when
/// it was priced.
fn is_of_record(said: &Diagnostic) -> bool {
    said.code == Code::MatchesNoLine
}

/// A job that was read.
struct Read {
    key: (String, String),
    version: String,
    job: learn::PastJob,
}

/// Reads a job and estimates it with the pack that is to learn. The reason is none where what the
/// session says is all there is to say.
fn read(
    folder: &Path,
    pack: &Arc<Pack>,
    session: &mut Session,
    world: &World<'_>,
) -> Result<Read, Option<Diagnostic>> {
    let plan = folder.join(PLAN);
    let no_record = |said: Diagnostic| {
        let message = format!("{}{}", cannot(&folder.display().to_string()), said.message);
        Some(Diagnostic::new(Code::JobUnfit, message, said.help))
    };
    let record = record_beside(&plan, world).map_err(no_record)?;
    let past = session.past_job(&plan, &record, true, world).ok_or(None)?;
    if let Some(why) = unfit(folder, &past, pack) {
        return Err(Some(why));
    }
    let PastJob { job, actuals, held } = past;
    let key = JobKey::of(&job.estimate, &job.fingerprint);
    let version = version(&actuals, pack);
    let basis = Basis {
        rules: Arc::clone(pack),
        ..job.basis
    };
    let (estimate, said) = basis.total(&session.sources);
    session.diagnostics.extend(said);
    let estimate = estimate.ok_or(None)?;
    let compared = compare(&estimate, &actuals, &held);
    let compared = session.keep(compared).ok_or(None)?;
    Ok(Read {
        key: (key.job, key.fingerprint.plan),
        version,
        job: learn::PastJob::of(&estimate, &compared),
    })
}

/// The version of the pack that priced a job, as its record states it.
fn version(actuals: &Actuals, pack: &Pack) -> String {
    let mut stated = actuals.packs.iter();
    let own = stated.find(|stated| stated.name == pack.manifest.name);
    own.map_or("not stated", |stated| &stated.version)
        .to_owned()
}

/// How the reason begins for which a job teaches nothing.
fn cannot(folder: &str) -> String {
    format!("{folder} cannot be learned from: ")
}

/// Why a job says nothing of the pack, though it can be read.
fn unfit(folder: &Path, past: &PastJob, pack: &Pack) -> Option<Diagnostic> {
    let shown = folder.display();
    let unfit = |why: String, help: &str| {
        let message = format!("{}{why}", cannot(&shown.to_string()));
        Some(Diagnostic::new(Code::JobUnfit, message, help))
    };
    if past.held.changed.contains(&Part::Plan) {
        let help = "put back the plan that was priced, or let its record be of this one";
        return unfit("its plan was changed after it was priced".to_owned(), help);
    }
    let own = &pack.manifest.name;
    let other = |name: &str| {
        let help = "learn from it for that pack, in a folder of its own";
        unfit(
            format!("it was priced with pack `{name}`, not with `{own}`"),
            help,
        )
    };
    let priced = &past.job.basis.rules.manifest.name;
    if priced != own {
        return other(priced);
    }
    let stated = &past.actuals.packs;
    let measures = past.job.basis.measuring.as_ref();
    let measures = measures.map(|pack| pack.manifest.name.as_str());
    let first = stated
        .iter()
        .find(|stated| Some(stated.name.as_str()) != measures);
    match first {
        Some(first) if stated.iter().all(|stated| stated.name != *own) => other(&first.name),
        _ => None,
    }
}

impl Gathered {
    /// Keeps a job, unless it is there already.
    fn keep(&mut self, read: Read, folder: &str) -> Result<(), Option<Diagnostic>> {
        if let Some(first) = self.seen.get(&read.key) {
            let message = format!("{folder} and {first} hold the same job: it would count twice");
            let help = "take one of the two folders away";
            return Err(Some(Diagnostic::new(Code::JobTwice, message, help)));
        }
        self.seen.insert(read.key, folder.to_owned());
        self.jobs.push(read.job);
        self.versions.push(read.version);
        Ok(())
    }

    /// Leaves a job out, and says so.
    fn leave_out(
        &mut self,
        folder: &str,
        why: Option<Diagnostic>,
        said: Vec<Diagnostic>,
        session: &mut Session,
    ) {
        let mut errors = said
            .into_iter()
            .filter(|said| said.severity() == Severity::Error);
        let first = why.or_else(|| errors.next());
        let cannot = cannot(folder);
        let reason = |said: &Diagnostic| {
            let message = &said.message;
            message.strip_prefix(&cannot).unwrap_or(message).to_owned()
        };
        let reason = first.as_ref().map(reason);
        let reason = reason.unwrap_or_else(|| "it cannot be estimated".to_owned());
        let message = format!("{folder} is left out: {reason}");
        let help = match &first {
            Some(said) => said.help.clone(),
            None => "estimate its plan by itself".to_owned(),
        };
        let mut left = Diagnostic::new(Code::JobLeftOut, message, help);
        left.labels = first.map(|said| said.labels).unwrap_or_default();
        self.left_out.push((folder.to_owned(), reason));
        session.diagnostics.push(left);
    }
}
