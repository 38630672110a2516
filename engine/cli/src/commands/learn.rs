//! `parge learn`: what past jobs used moves the rows of a company's pack, as a proposal that is
//! written into its tables only when it is asked for.

mod apply;
mod jobs;
mod plots;
mod tables;

use crate::args::LearnArgs;
use crate::origin::Origin;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::{Exit, World, packs};
use jobs::Gathered;
use parge_base::{Code, Diagnostic, Severity, Span, diagnostic, suggest};
use parge_calc::learn::model::Beliefs;
use parge_calc::learn::{CellName, Effect, Learned, effect, learn};
use parge_rules::{Cell, Pack};
use parge_sheets::{ProposalOf, is_proposal_json, proposal_json};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

pub(crate) fn run(args: &LearnArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    if args.apply && packs::is_of_the_program(&args.pack) {
        session.diagnostics.push(of_the_program(&args.pack));
        session.report(world)?;
        return Ok(Exit::Usage);
    }
    let here = Origin::Disk(world.folder.clone());
    let Some(pack) = session.pack_of(&args.pack, &here, None) else {
        return session.report(world);
    };
    let pack = Arc::new(pack);
    let wanted = wanted(&args.rows, &pack, &mut session);
    if !session.diagnostics.is_empty() {
        session.report(world)?;
        return Ok(Exit::Usage);
    }
    let gathered = jobs::gather(args, &pack, &mut session, world);
    let Some(gathered) = gathered.filter(|_| !diagnostic::any_error(&session.diagnostics)) else {
        return session.report(world);
    };
    let learned = learn(&gathered.jobs, &pack, &wanted, &Beliefs::default());
    let effects = effects(args, &learned, &pack, &mut session, world);
    let proposal = Proposal {
        pack: &pack,
        gathered: &gathered,
        learned: &learned,
        effects: &effects,
    };
    // With a plan that cannot be estimated nothing is written, and nothing applied.
    if !diagnostic::any_error(&session.diagnostics) {
        match written(args, &proposal, &mut session, world) {
            Ok(done) => told(args, &proposal, &done, world)?,
            Err(wrong) => session.diagnostics.extend(wrong),
        }
    }
    session.report(world)
}

/// What is proposed, and of what.
struct Proposal<'p> {
    pack: &'p Arc<Pack>,
    gathered: &'p Gathered,
    learned: &'p Learned,
    effects: &'p [Effect],
}

/// What was written.
struct Done {
    json: String,
    /// Charts, and tables of the pack.
    charts: Vec<PathBuf>,
    tables: Vec<PathBuf>,
}

fn told(
    args: &LearnArgs,
    proposal: &Proposal<'_>,
    done: &Done,
    world: &mut World<'_>,
) -> io::Result<()> {
    if args.output.as_deref() == Some(Path::new("-")) {
        return writeln!(world.out, "{}", done.json);
    }
    tables::show(proposal, world)?;
    tables::done(args, done, world)
}

/// The rows that lines are put down to at the user's word.
fn wanted(rows: &[String], pack: &Pack, session: &mut Session) -> Vec<CellName> {
    let tables = pack.tables().iter();
    let cells = tables.flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    let numbers = cells.filter(|(_, row)| matches!(row.cell, Cell::Factor(_)));
    let known: Vec<CellName> = numbers
        .map(|(table, row)| CellName {
            table: table.name.clone(),
            keys: row.keys.clone(),
        })
        .collect();
    let mut found = Vec::new();
    for row in rows {
        match known.iter().find(|cell| cell.to_string() == *row) {
            Some(cell) => found.push(cell.clone()),
            None => {
                let message = format!("the pack has no row `{row}` with a number");
                let names: Vec<String> = known.iter().map(CellName::to_string).collect();
                let near = suggest::nearest(row, names.iter().map(String::as_str));
                let help = near.map_or_else(
                    || "write table and keys, as `mixes.finish-mix.yield`".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                let file = session.sources.add("--row", row.as_str());
                let span = Span::new(file, 0, row.len());
                let said = Diagnostic::new(Code::UnknownName, message, help);
                session.diagnostics.push(said.at(span, ""));
            }
        }
    }
    found
}

fn of_the_program(word: &str) -> Diagnostic {
    let message = format!("`{word}` is a pack of the program, which is never changed");
    let help = "make a pack of your own with `parge rules new our-rules`, and name it by its path";
    Diagnostic::new(Code::PackOfProgram, message, help)
}

/// What the proposal does to the plans that were named.
fn effects(
    args: &LearnArgs,
    learned: &Learned,
    pack: &Arc<Pack>,
    session: &mut Session,
    world: &World<'_>,
) -> Vec<Effect> {
    let place = Span::new(session.sources.add("the proposal", ""), 0, 0);
    let before = std::mem::take(&mut session.diagnostics);
    let mut all = Vec::new();
    for plan in &args.plans {
        let (origin, name) = Origin::of_file(&world.folder.join(plan));
        let shown = plan.display().to_string();
        let loaded = session.load_with(origin, &name, &shown, Arc::clone(pack));
        let Some(basis) = loaded.and_then(|loaded| session.basis(loaded)) else {
            continue;
        };
        let found = effect(&basis, learned, &session.sources, place);
        all.extend(session.keep(found));
    }
    // Warnings are told by `parge check`.
    let said = std::mem::replace(&mut session.diagnostics, before);
    let errors = said
        .into_iter()
        .filter(|said| said.severity() == Severity::Error);
    session.diagnostics.extend(errors);
    all
}

/// Writes all that was asked for, or nothing.
fn written(
    args: &LearnArgs,
    proposal: &Proposal<'_>,
    session: &mut Session,
    world: &World<'_>,
) -> Result<Done, Vec<Diagnostic>> {
    let json = proposal_json(&ProposalOf {
        pack: &proposal.pack.manifest.name,
        version: &proposal.pack.version(),
        learned: proposal.learned,
        priced_with: &proposal.gathered.versions,
        left_out: &proposal.gathered.left_out,
        effects: proposal.effects,
    });
    let charts = plots::charts(args, proposal.learned, world);
    let tables = match args.apply {
        true => apply::tables(args, proposal, session, world)?,
        false => Vec::new(),
    };
    let of_json = args.output.as_ref().filter(|path| *path != Path::new("-"));
    let of_json = of_json.map(|path| Output {
        path: world.folder.join(path),
        bytes: json.clone().into_bytes(),
    });
    let done = Done {
        json,
        charts: names(&charts, world),
        tables: names(tables.iter().map(|edited| &edited.output), world),
    };
    // A chart is the program's own where it is the same, a table of the pack where it is as it was
    // read.
    let mut own: Vec<Vec<u8>> = charts.iter().map(|chart| chart.bytes.clone()).collect();
    own.extend(tables.iter().map(|edited| edited.was.clone()));
    let tables = tables.into_iter().map(|edited| edited.output);
    let outputs: Vec<Output> = charts.into_iter().chain(of_json).chain(tables).collect();
    make_folders(&outputs).map_err(|wrong| vec![wrong])?;
    let is_own = |there: &[u8]| is_proposal_json(there) || own.iter().any(|own| own == there);
    outputs::write(&outputs, &session.files, is_own, args.force).map_err(|wrong| vec![wrong])?;
    Ok(done)
}

/// Makes the folders of charts, and of the first table of a pack.
fn make_folders(outputs: &[Output]) -> Result<(), Diagnostic> {
    let folders = outputs.iter().filter_map(|output| output.path.parent());
    for folder in folders.filter(|folder| !folder.is_dir()) {
        std::fs::create_dir_all(folder).map_err(|error| {
            let message = format!("{} cannot be made: {error}", folder.display());
            let help = "name a folder that is there, or one that can be made";
            Diagnostic::new(Code::CannotWrite, message, help)
        })?;
    }
    Ok(())
}

/// Paths as they are shown: from the folder that the program runs in.
fn names<'o>(outputs: impl IntoIterator<Item = &'o Output>, world: &World<'_>) -> Vec<PathBuf> {
    let short = |output: &Output| {
        let inside = output.path.strip_prefix(&world.folder);
        inside.unwrap_or(&output.path).to_owned()
    };
    outputs.into_iter().map(short).collect()
}
