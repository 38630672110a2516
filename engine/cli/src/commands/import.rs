//! `parge import`: a client's sheet becomes a plan, with a report that can be signed.

mod again;
mod ask;
mod copy;
mod prices;
mod said;
mod told;
mod update;

use crate::args::ImportArgs;
use crate::files::{ReadError, Unread, read_bytes, unread};
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::visible;
use crate::{Exit, World};
use again::Fault;
use parge_base::{Code, Diagnostic};
use parge_importers::faces::{Guess, Import, import};
use parge_importers::grid::{self, Book, Shown};
use parge_importers::profile::{Profile, scripted};
use parge_importers::report::{self, Report, Rows, UpdateLines};
use parge_importers::update::Merge;
use parge_importers::write::{PlanText, PlanWords, plan_text, reconcile, sums_of_sheet};
use std::io;
use std::path::{Path, PathBuf};

/// The pack and the price book of a plan for which no profile names any.
const RULES: &str = "vertical-concrete";
const PRICES: &str = "prices.csv";
/// The measuring rule of such a plan.
const MEASURE: &str = "net";

pub(crate) fn run(args: &ImportArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    if args.prices {
        return prices::run(args, session, world);
    }
    let made = make(args, &mut session, world)?;
    let Some(mut made) = made else {
        return session.report(world);
    };
    let merged = match update::merged(args, &made.text, &mut session, world) {
        Ok(merged) => merged,
        Err(()) => return session.report(world),
    };
    made.report.update = merged.as_ref().map(|merged| UpdateLines {
        changes: merged.changes.clone(),
        kept: merged.kept.clone(),
        deleted: merged.deleted.clone(),
    });
    let outputs = outputs(args, &mut made, merged, world);
    let written = outputs.and_then(|outputs| {
        let read = [world.folder.join(&args.sheet)];
        let is_untouched = |bytes: &[u8]| parge_sheets::is_untouched(bytes);
        outputs::write(&outputs, &read, is_untouched, args.force || args.update)?;
        Ok(outputs)
    });
    match written {
        Ok(outputs) => {
            tell_report(&made.report, world)?;
            tell_written(&outputs, world)?;
        }
        Err(diagnostic) => session.diagnostics.push(diagnostic),
    }
    let exit = session.report(world)?;
    Ok(match exit {
        Exit::Fine if !made.report.in_order => Exit::Problems,
        exit => exit,
    })
}

fn tell_report(report: &Report, world: &mut World<'_>) -> io::Result<()> {
    let text = report::text(report, false);
    text.lines()
        .try_for_each(|line| writeln!(world.out, "{}", visible(line)))
}

fn tell_written(outputs: &[Output], world: &mut World<'_>) -> io::Result<()> {
    for output in outputs {
        let path = output.path.strip_prefix(&world.folder);
        let path = path.unwrap_or(&output.path);
        writeln!(world.out, "wrote {}", path.display())?;
    }
    Ok(())
}

/// What was made of a sheet: the text of a plan or of a price book, and the report.
struct Made {
    book: Book,
    import: Import,
    profile: Profile,
    text: String,
    report: Report,
}

/// From the file to the text of a plan that says the same. `None` after it was told why not.
fn make(
    args: &ImportArgs,
    session: &mut Session,
    world: &mut World<'_>,
) -> io::Result<Option<Made>> {
    let Some(answered) = answered(args, import, session, world)? else {
        return Ok(None);
    };
    let Answered {
        book,
        profile,
        mut import,
    } = answered;
    import.guesses.extend(of_program(&profile));
    if said::anything(&import) {
        let shown = Shown::new(&book, &mut session.sources);
        // Where no header was found, what its rows are is not known either.
        if !import.tables.is_empty() {
            said::remarks(&import, &book, &shown, said::ADD_FACE, session);
        }
        if import.faces.is_empty() {
            session
                .diagnostics
                .push(said::nothing(&import, &book, &shown));
            return Ok(None);
        }
    }
    let plan = match plan_text(&book, &import, &profile, &words(&profile, &args.sheet)) {
        Ok(plan) => plan,
        Err(wrong) => {
            let why = wrong.first().map_or("", |first| &first.message);
            session.diagnostics.push(not_reconciled(why));
            return Ok(None);
        }
    };
    // Only a copy of the sheet shows its cells again.
    let book = match args.reports.iter().any(|path| is_copy(path)) {
        true => book,
        false => book.without_cells(),
    };
    let rows = match args.reports.is_empty() {
        true => Rows::NotTaken,
        false => Rows::All,
    };
    let report = check(&book, &import, &profile, (&plan, rows), session);
    Ok(report.map(|report| Made {
        book,
        import,
        profile,
        text: plan.text,
        report,
    }))
}

/// A file that was read with nothing left open.
struct Answered {
    book: Book,
    profile: Profile,
    import: Import,
}

/// Reads the file by `import`, and asks until nothing is open. `None` after it was told why not.
fn answered(
    args: &ImportArgs,
    import: fn(&Book, &Profile) -> Import,
    session: &mut Session,
    world: &mut World<'_>,
) -> io::Result<Option<Answered>> {
    let (sheet, folder) = (&args.sheet, &world.folder);
    let (profile, book) = rayon::join(
        || told::profile(args, session, folder),
        || read(sheet, folder),
    );
    let book = book.map_err(|error| session.diagnostics.push(error));
    let (Some(mut profile), Ok(book)) = (profile, book) else {
        return Ok(None);
    };
    // What a profile's script makes of odd cells is read; what is shown is what the file has.
    let read = match scripted(&book, &profile, &mut session.sources) {
        Ok(read) => read,
        Err(error) => {
            session.diagnostics.push(error);
            return Ok(None);
        }
    };
    let import = loop {
        let mut found = import(&read.book, &profile);
        found.remarks.extend(read.remarks.iter().cloned());
        if found.questions.is_empty() {
            break found;
        }
        if !ask::ask(&book, &found.questions, &mut profile, world)? {
            let shown = Shown::new(&book, &mut session.sources);
            said::questions(&found, &shown, &mut session.diagnostics);
            return Ok(None);
        }
    };
    Ok(Some(Answered {
        book,
        profile,
        import,
    }))
}

/// Reads the text of the plan again, measures it, and holds it against the sheet. The report tells
/// `rows` one by one.
fn check(
    book: &Book,
    import: &Import,
    profile: &Profile,
    (plan, rows): (&PlanText, Rows),
    session: &mut Session,
) -> Option<Report> {
    let (sheet, again) = rayon::join(
        || sums_of_sheet(import, &profile.answers),
        || again::in_parts(plan),
    );
    let again = match again.map_or_else(|| again::whole(plan, session), Ok) {
        Ok(again) => again,
        Err(Fault::Unreadable(why)) => {
            session.diagnostics.push(not_reconciled(&why));
            return None;
        }
        Err(Fault::Told) => return None,
    };
    let sums = reconcile(&sheet, &again.sums);
    let measured = Some(&again.measured);
    let report = report::report((book, import), &sums, measured, profile, rows);
    if let Some(wrong) = report.sums.iter().find(|sum| !sum.agrees) {
        let why = format!(
            "{}: {} in the sheet, {} in the plan",
            wrong.what, wrong.sheet, wrong.plan
        );
        session.diagnostics.push(not_reconciled(&why));
        return None;
    }
    Some(report)
}

fn not_reconciled(why: &str) -> Diagnostic {
    let message = format!("the plan would not say what the sheet says: {why}");
    let help =
        "nothing was written; this is a fault of the program: please report it with the sheet";
    Diagnostic::new(Code::NotReconciled, message, help)
}

/// The file as sheets of cells.
fn read(path: &Path, folder: &Path) -> Result<Book, Diagnostic> {
    let name = path.display().to_string();
    let limit = grid::MAX_BYTES as u64;
    let bytes = read_bytes(&folder.join(path), limit).map_err(|error| match error {
        ReadError::TooLarge => {
            let message = format!("{name} is larger than {} MB", limit >> 20);
            let help = "copy the table of measurements into a new workbook, and import that";
            Diagnostic::new(Code::BadSheet, message, help)
        }
        other => unread(Unread::from(other), &name),
    })?;
    let file = path
        .file_name()
        .map_or(name.clone(), |file| file.to_string_lossy().into_owned());
    grid::open(&file, &bytes).map_err(|error| Diagnostic {
        message: format!("{name}: {}", error.message),
        ..error
    })
}

fn words(profile: &Profile, sheet: &Path) -> PlanWords {
    let job = &profile.job;
    let stem = sheet
        .file_stem()
        .map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    PlanWords {
        name: job.name.clone().unwrap_or(stem),
        rules: job.rules.clone().unwrap_or_else(|| RULES.to_owned()),
        prices: job.prices.clone().unwrap_or_else(|| PRICES.to_owned()),
        measure: job.measure.clone().unwrap_or_else(|| MEASURE.to_owned()),
    }
}

/// What the job of the plan says that neither a profile nor the sheet does.
fn of_program(profile: &Profile) -> Option<Guess> {
    let job = &profile.job;
    let named = [
        ("rules", &job.rules, RULES),
        ("prices", &job.prices, PRICES),
        ("measure", &job.measure, MEASURE),
    ];
    let own = named.iter().filter(|(_, said, _)| said.is_none());
    let own: Vec<String> = own
        .map(|(key, _, value)| format!("`{key} {value}`"))
        .collect();
    (!own.is_empty()).then(|| Guess {
        what: format!("the job says {}", own.join(", ")),
        reason: "no profile names others".to_owned(),
    })
}

/// All files that are to be written.
fn outputs(
    args: &ImportArgs,
    made: &mut Made,
    merged: Option<Merge>,
    world: &World<'_>,
) -> Result<Vec<Output>, Diagnostic> {
    let mut outputs = Vec::new();
    // An update may replace the plan that it merged, and no report that somebody worked in.
    if args.update && !args.force {
        update::spare_reports(&args.reports, world)?;
    }
    if let Some(path) = &args.output {
        let path = ending(path, "parge", world)?;
        let first = std::mem::take(&mut made.text);
        let text = merged.map_or_else(|| first.clone(), |merged| merged.text);
        // The first import is what a revised sheet is held against.
        outputs.push(Output {
            path: update::base_of(&path),
            bytes: first.into_bytes(),
        });
        outputs.push(Output {
            path,
            bytes: text.into_bytes(),
        });
    }
    outputs.extend(beside(args, made, world)?);
    Ok(outputs)
}

/// The reports and the profile.
fn beside(args: &ImportArgs, made: &Made, world: &World<'_>) -> Result<Vec<Output>, Diagnostic> {
    let mut outputs = Vec::new();
    for path in &args.reports {
        outputs.push(report_file(path, made, world)?);
    }
    if let Some(path) = &args.learn {
        let path = ending(path, "toml", world)?;
        let learnt = told::learnt(&made.profile, &made.import, &made.book);
        let text = parge_importers::profile::write(&learnt).unwrap_or_default();
        outputs.push(Output {
            path,
            bytes: text.into_bytes(),
        });
    }
    Ok(outputs)
}

/// The ending of a report, which says what it is.
fn kind(path: &Path) -> Option<String> {
    let kind = path.extension()?;
    Some(kind.to_string_lossy().to_lowercase())
}

/// Whether a report is a copy of the sheet.
fn is_copy(path: &Path) -> bool {
    kind(path).as_deref() == Some("xlsx")
}

fn report_file(path: &Path, made: &Made, world: &World<'_>) -> Result<Output, Diagnostic> {
    let bytes = match kind(path).as_deref() {
        Some("json") => report::json(&made.report).unwrap_or_default().into_bytes(),
        Some("txt") => report::text(&made.report, true).into_bytes(),
        Some("xlsx") => {
            let copy = copy::copy(&made.book, &made.import, &made.report);
            parge_sheets::verdict_workbook(&copy).map_err(|error| {
                let help = "write the report as .json or .txt";
                Diagnostic::new(Code::CannotWrite, error.to_string(), help)
            })?
        }
        _ => {
            let message = format!("{} is no name of a report", path.display());
            let help = "let it end in .xlsx, .json or .txt";
            return Err(Diagnostic::new(Code::CannotWrite, message, help));
        }
    };
    Ok(Output {
        path: world.folder.join(path),
        bytes,
    })
}

/// The path of an output, which must have its ending.
fn ending(path: &Path, wanted: &str, world: &World<'_>) -> Result<PathBuf, Diagnostic> {
    let fits = path
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case(wanted));
    if fits {
        return Ok(world.folder.join(path));
    }
    let message = format!("{} does not end in .{wanted}", path.display());
    let help = format!("give it a name that does: `{}.{wanted}`", path.display());
    Err(Diagnostic::new(Code::CannotWrite, message, help))
}
