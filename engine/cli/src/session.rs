//! One plan on its way through the stages, with all that was said about it.

use crate::files::{Unread, unread};
use crate::includes::Includes;
use crate::origin::Origin;
use crate::{World, exit::Exit, packs, render};
use parge_base::forecast::Forecast;
use parge_base::prices::PriceBook;
use parge_base::{Code, Diagnostic, FileId, Severity, Sources, Span, Spanned, diagnostic, suggest};
use parge_calc::actuals::{Fingerprint, fingerprint};
use parge_calc::alternates::with_alternates;
use parge_calc::contract::{FACE_HOOKS, HOOKS, OPENING_HOOK, Packs};
use parge_calc::learn::likely;
use parge_calc::learn::spread::spreads;
use parge_calc::pool::pool;
use parge_calc::price::{Estimate, Status};
use parge_calc::resolve::{no_job, wants};
use parge_calc::stages::{Given, priced, taken_off};
use parge_calc::takeoff::Takeoff;
use parge_calc::whatif::Basis;
use parge_grammar::ast::{Name, Plan, Statement};
use parge_rules::{Pack, PackFiles};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The texts and diagnostics of a run.
#[derive(Default)]
pub(crate) struct Session {
    pub(crate) sources: Sources,
    pub(crate) diagnostics: Vec<Diagnostic>,
    /// The files read beside the plan, which no output may replace.
    pub(crate) files: Vec<PathBuf>,
}

/// A plan with what it includes, before its packs are loaded.
pub(crate) struct PlanRead {
    pub(crate) plan: Plan,
    pub(crate) file: FileId,
    pub(crate) origin: Origin,
}

/// A plan with the pack it asks for.
pub(crate) struct Loaded {
    plan: Plan,
    pub(crate) pack: Arc<Pack>,
    pub(crate) measuring: Option<Arc<Pack>>,
    file: FileId,
    origin: Origin,
}

/// An estimate with what it rests on.
pub(crate) struct Estimated {
    pub(crate) estimate: Estimate,
    pub(crate) book: PriceBook,
    /// Of what priced it.
    pub(crate) fingerprint: Fingerprint<String>,
}

impl Session {
    /// Keeps what a stage says and hands on what it made.
    pub(crate) fn keep<T>(&mut self, (made, mut said): (T, Vec<Diagnostic>)) -> T {
        self.diagnostics.append(&mut said);
        made
    }

    pub(crate) fn or_say<T>(&mut self, result: Result<T, Diagnostic>) -> Option<T> {
        result
            .map_err(|diagnostic| self.diagnostics.push(diagnostic))
            .ok()
    }

    /// Reads a plan and loads its pack. Without a pack nothing can be looked up, so then only
    /// the plan's syntax has been checked.
    pub(crate) fn load(&mut self, path: &Path, world: &World<'_>) -> Option<Loaded> {
        let (origin, name) = Origin::of_file(&world.folder.join(path));
        self.load_from(origin, &name, &path.display().to_string())
    }

    /// The same for a plan of that name from the disk or from a revision.
    pub(crate) fn load_from(&mut self, origin: Origin, name: &Path, shown: &str) -> Option<Loaded> {
        let read = self.read(origin, name, shown)?;
        self.with_packs(read)
    }

    /// Reads a plan of that name with what it includes.
    pub(crate) fn read(&mut self, origin: Origin, name: &Path, shown: &str) -> Option<PlanRead> {
        let (plan, file) = self.read_plan(&origin, name, shown)?;
        Some(PlanRead { plan, file, origin })
    }

    /// Loads the packs that a plan asks for.
    pub(crate) fn with_packs(&mut self, read: PlanRead) -> Option<Loaded> {
        let PlanRead { plan, file, origin } = read;
        let pack = self.pack(&plan, file, &origin);
        let measuring = self.measuring(&plan, &origin);
        Some(Loaded {
            plan,
            pack: Arc::new(pack?),
            measuring: measuring?,
            file,
            origin,
        })
    }

    /// The same with another pack than the plan asks for.
    pub(crate) fn load_with(
        &mut self,
        origin: Origin,
        name: &Path,
        shown: &str,
        pack: Arc<Pack>,
    ) -> Option<Loaded> {
        let (plan, file) = self.read_plan(&origin, name, shown)?;
        let measuring = self.measuring(&plan, &origin)?;
        Some(Loaded {
            plan,
            pack,
            measuring,
            file,
            origin,
        })
    }

    /// The plan of a test of a pack, behind the job block that every one has; `name` is the file
    /// that it stands in.
    pub(crate) fn load_case(
        &mut self,
        text: String,
        origin: Origin,
        name: &str,
        (pack, measuring): (Arc<Pack>, Option<Arc<Pack>>),
    ) -> Option<Loaded> {
        let file = self.sources.add(name, text);
        let parsed = parge_grammar::parse(file, self.sources.text(file));
        self.diagnostics.extend(parsed.diagnostics);
        let plan = parsed.plan;
        let wrong = not_in_a_case(&plan);
        let is_fine = wrong.is_empty();
        self.diagnostics.extend(wrong);
        is_fine.then_some(Loaded {
            plan,
            pack,
            measuring,
            file,
            origin,
        })
    }

    /// A plan with what it includes.
    fn read_plan(&mut self, origin: &Origin, name: &Path, shown: &str) -> Option<(Plan, FileId)> {
        let read = origin.read_text(name, shown, &mut self.sources);
        let file = self.or_say(read)?;
        let parsed = parge_grammar::parse(file, self.sources.text(file));
        self.diagnostics.extend(parsed.diagnostics);
        let mut includes = Includes::new(origin, name, &mut self.sources, &mut self.diagnostics);
        let plan = includes.join(parsed.plan);
        let mut included = includes.files;
        self.files.append(&mut included);
        Some((plan, file))
    }

    fn pack(&mut self, plan: &Plan, file: FileId, origin: &Origin) -> Option<Pack> {
        let Some(word) = wants(plan).rules else {
            self.missing(plan, file, "rules", "rules \"vertical-concrete\"");
            return None;
        };
        let pack = self.pack_of(&word.node, origin, Some(word.span))?;
        if FACE_HOOKS.iter().all(|hook| !pack.has_hook(hook)) {
            let message = format!(
                "pack `{}` has no rule that says what a face needs",
                word.node
            );
            let help = "name another pack; one that only measures is named by `measure`";
            self.diagnostics
                .push(Diagnostic::new(Code::BadHook, message, help).at(word.span, ""));
            return None;
        }
        Some(pack)
    }

    /// The pack with the measuring rule that the plan asks for; none within for `net`.
    fn measuring(&mut self, plan: &Plan, origin: &Origin) -> Option<Option<Arc<Pack>>> {
        let Some(word) = wants(plan).measuring.filter(|word| word.node != NET) else {
            return Some(None);
        };
        let found = packs::find(&word.node, origin, &mut self.sources).map_err(|error| {
            let is_name = !word.node.contains(['/', '.']);
            let error = match error.code {
                Code::PackNotFound if is_name => unknown_measuring(&word.node),
                _ => error,
            };
            error.at(word.span, "")
        });
        let layers = self.or_say(found)?;
        let pack = self.loaded(&layers)?;
        if !pack.has_hook(OPENING_HOOK) {
            let message = format!("pack `{}` has no measuring rule", word.node);
            let help = "a measuring rule has `fn opening(opening)`; write `measure net` for the program's own";
            self.diagnostics
                .push(Diagnostic::new(Code::BadHook, message, help).at(word.span, ""));
            return None;
        }
        Some(Some(Arc::new(pack)))
    }

    /// A pack by its name or path, and the place that asks for it.
    pub(crate) fn pack_of(
        &mut self,
        word: &str,
        origin: &Origin,
        place: Option<Span>,
    ) -> Option<Pack> {
        let found = packs::find(word, origin, &mut self.sources).map_err(|error| match place {
            Some(span) => error.at(span, "asked for here"),
            None => error,
        });
        let layers = self.or_say(found)?;
        self.loaded(&layers)
    }

    /// A pack that a case of the tests of another names.
    pub(crate) fn pack_beside(
        &mut self,
        word: &Spanned<String>,
        tested: &str,
        origin: &Origin,
    ) -> Option<Pack> {
        let found = packs::find_beside(&word.node, tested, origin, &mut self.sources);
        let found = found.map_err(|error| error.at(word.span, "asked for here"));
        let layers = self.or_say(found)?;
        self.loaded(&layers)
    }

    fn loaded(&mut self, layers: &[PackFiles]) -> Option<Pack> {
        match parge_rules::load(layers, HOOKS, &mut self.sources) {
            Ok(pack) => Some(pack),
            Err(mut wrong) => {
                self.diagnostics.append(&mut wrong);
                None
            }
        }
    }

    /// Says that the job block lacks a setting; a plan that could not be read whole may have it.
    fn missing(&mut self, plan: &Plan, file: FileId, word: &str, example: &str) {
        let Some(span) = job_span(plan) else {
            self.diagnostics.extend(no_job(plan, self.end(file)));
            return;
        };
        if !plan.damages_a("job") {
            let message = format!("the job states no `{word}`");
            let help = format!("add a line to the job block, such as `{example}`");
            self.diagnostics
                .push(Diagnostic::new(Code::MissingSetting, message, help).at(span, ""));
        }
    }

    /// The end of a plan, where to point for what is missing from it.
    pub(crate) fn end_of(&self, loaded: &Loaded) -> Span {
        self.end(loaded.file)
    }

    fn end(&self, file: FileId) -> Span {
        let length = self.sources.text(file).len();
        Span::new(file, length, length)
    }

    /// From syntax to measured faces and what the rules need for them.
    pub(crate) fn take_off(&mut self, loaded: &Loaded) -> Option<Takeoff> {
        let forecast = self.forecast(loaded);
        self.take_off_under(loaded, forecast.as_ref())
    }

    fn take_off_under(&mut self, loaded: &Loaded, forecast: Option<&Forecast>) -> Option<Takeoff> {
        let end = self.end(loaded.file);
        let packs = Packs {
            rules: &loaded.pack,
            measuring: loaded.measuring.as_deref(),
        };
        let given = Given {
            plan: &loaded.plan,
            packs,
            forecast,
            end,
        };
        self.keep(taken_off(given, &self.sources))
    }

    /// All that an estimate rests on, to be changed and estimated anew; `None` where the price
    /// book or the weather cannot be read, and then the plan is looked at all the same.
    pub(crate) fn basis(&mut self, loaded: Loaded) -> Option<Basis> {
        let end = self.end(loaded.file);
        let Some(book) = self.prices(&loaded) else {
            self.take_off(&loaded);
            return None;
        };
        let forecast = self.forecast(&loaded);
        if forecast.is_none() && wants(&loaded.plan).forecast.is_some() {
            return None;
        }
        Some(Basis {
            plan: Arc::new(loaded.plan),
            rules: loaded.pack,
            measuring: loaded.measuring,
            book: Arc::new(book),
            forecast: forecast.map(Arc::new),
            end,
        })
    }

    /// The price book that the plan asks for.
    pub(crate) fn prices(&mut self, loaded: &Loaded) -> Option<PriceBook> {
        let Some(Name { node: word, span }) = wants(&loaded.plan).prices else {
            self.missing(&loaded.plan, loaded.file, "prices", "prices \"prices.csv\"");
            return None;
        };
        let units = loaded.pack.units();
        let (path, sheet) = book_and_sheet(word);
        if !is_workbook(path) {
            let file = self.beside_plan(loaded, path, *span)?;
            return self.keep(parge_importers::price_book(&self.sources, file, units));
        }
        let bytes = self.workbook_beside_plan(loaded, path, *span)?;
        let name = loaded.origin.shown(path);
        let sources = &mut self.sources;
        let (book, said) =
            parge_importers::price_book_of_workbook(sources, &name, &bytes, sheet, units);
        let said = said.into_iter().map(|said| asked_for(said, *span));
        self.keep((book, said.collect()))
    }

    /// Keeps the price book that the plan names from being an output of a command that does not
    /// read it.
    pub(crate) fn guard_prices(&mut self, loaded: &Loaded) {
        if let Some(Name { node: word, .. }) = wants(&loaded.plan).prices {
            let (path, _) = book_and_sheet(word);
            self.files.extend(loaded.origin.on_disk(Path::new(path)));
        }
    }

    /// The weather of days that the plan asks for; none where it asks for none.
    pub(crate) fn forecast(&mut self, loaded: &Loaded) -> Option<Forecast> {
        let Name { node: word, span } = wants(&loaded.plan).forecast?;
        let file = self.beside_plan(loaded, word, *span)?;
        self.keep(parge_importers::forecast(
            &self.sources,
            file,
            loaded.pack.units(),
        ))
    }

    /// A text file that the plan names by its path from the plan's folder.
    fn beside_plan(&mut self, loaded: &Loaded, word: &str, span: Span) -> Option<FileId> {
        let (origin, path) = (&loaded.origin, Path::new(word));
        self.files.extend(origin.on_disk(path));
        let read = origin.read_text(path, &origin.shown(word), &mut self.sources);
        self.or_say(read.map_err(|error| asked_for(error, span)))
    }

    /// A workbook that the plan names by its path from the plan's folder.
    fn workbook_beside_plan(&mut self, loaded: &Loaded, word: &str, span: Span) -> Option<Vec<u8>> {
        let (origin, path) = (&loaded.origin, Path::new(word));
        self.files.extend(origin.on_disk(path));
        let read = origin.read(path, parge_importers::MAX_WORKBOOK_BYTES);
        let read = read.map_err(|why| match why {
            Unread::TooLarge => {
                let most = parge_importers::MAX_WORKBOOK_BYTES >> 20;
                let message = format!("{} is larger than {most} MB", origin.shown(word));
                let help = "a price book is far smaller: take out what is no price";
                Diagnostic::new(Code::TooLarge, message, help)
            }
            why => unread(why, &origin.shown(word)),
        });
        self.or_say(read.map_err(|error| asked_for(error, span)))
    }

    /// The pooled needs.
    pub(crate) fn pool(&mut self, takeoff: &Takeoff, loaded: &Loaded) -> parge_calc::pool::Pooled {
        self.keep(pool(takeoff, &loaded.pack))
    }

    /// The whole way to a price. `None` with anything wrong but missing prices: a figure that
    /// rests on a plan with a fault would look right.
    pub(crate) fn estimate(&mut self, loaded: &Loaded) -> Option<Estimate> {
        self.estimated(loaded).map(|made| made.estimate)
    }

    /// The same with the price book, whose rows an explanation names.
    pub(crate) fn estimate_with_prices(
        &mut self,
        loaded: &Loaded,
    ) -> Option<(Estimate, PriceBook)> {
        self.estimated(loaded)
            .map(|made| (made.estimate, made.book))
    }

    /// The same with all that comes of it.
    pub(crate) fn estimated(&mut self, loaded: &Loaded) -> Option<Estimated> {
        let forecast = self.forecast(loaded);
        let takeoff = self.take_off_under(loaded, forecast.as_ref());
        let book = self.prices(loaded);
        let estimate = priced(takeoff?, book.as_ref(), &loaded.pack, &self.diagnostics);
        let (estimate, book) = (self.keep(estimate)?, book?);
        let whole = with_alternates(estimate, &loaded.pack, &book, &self.diagnostics);
        let estimate = self.keep(whole);
        let packs = (&*loaded.pack, loaded.measuring.as_deref());
        let forecast = forecast.as_ref();
        let fingerprint = fingerprint(&loaded.plan, forecast, packs, &book, &self.sources);
        Some(Estimated {
            estimate,
            book,
            fingerprint,
        })
    }

    /// Adds the range in which the total is likely to lie, by what the pack knows of its factors. An
    /// incomplete estimate has none.
    pub(crate) fn with_range(&mut self, loaded: &Loaded, estimated: &mut Estimated) {
        let Estimated { estimate, book, .. } = estimated;
        match spreads(&loaded.pack) {
            Ok(_) if estimate.status == Status::Incomplete => {}
            Ok(spreads) => estimate.likely = likely(estimate, &spreads, &loaded.pack, book),
            Err(mut wrong) => self.diagnostics.append(&mut wrong),
        }
    }

    /// Tells everything, and the exit code that follows from it.
    pub(crate) fn report(&mut self, world: &mut World<'_>) -> io::Result<Exit> {
        diagnostic::tidy(&mut self.diagnostics);
        render::diagnostics(
            world.err,
            &self.sources,
            &self.diagnostics,
            world.colour,
            world.width,
        )?;
        Ok(self.exit())
    }

    /// The exit code that follows from what was said.
    pub(crate) fn exit(&self) -> Exit {
        let errors = self
            .diagnostics
            .iter()
            .filter(|d| d.severity() == Severity::Error);
        let of_files = |code| {
            matches!(
                code,
                Code::CannotRead | Code::CannotWrite | Code::AlreadyThere
            )
        };
        // A problem in what the user wrote can be mended first, whatever else went wrong.
        errors.fold(Exit::Fine, |exit, error| {
            match (exit, of_files(error.code)) {
                (Exit::Problems, _) | (_, false) => Exit::Problems,
                (_, true) => Exit::Failed,
            }
        })
    }
}

/// What concerns no text points at the word in the plan that asked for the file.
fn asked_for(diagnostic: Diagnostic, span: Span) -> Diagnostic {
    match diagnostic.labels.is_empty() {
        true => diagnostic.at(span, "asked for here"),
        false => diagnostic,
    }
}

/// A price book and its sheet: `prices.xlsx#Spring 2026` is the sheet `Spring 2026` of
/// `prices.xlsx`. A book that is no workbook has none.
fn book_and_sheet(word: &str) -> (&str, Option<&str>) {
    match word.rsplit_once('#') {
        Some((path, sheet)) if is_workbook(path) => (path, Some(sheet)),
        _ => (word, None),
    }
}

fn is_workbook(path: &str) -> bool {
    let ending = Path::new(path).extension();
    ending.is_some_and(|ending| ending.eq_ignore_ascii_case("xlsx"))
}

/// The program's own measuring rule.
pub(crate) const NET: &str = "net";

fn unknown_measuring(word: &str) -> Diagnostic {
    let known = parge_standard_packs::names().into_iter().filter(|name| {
        parge_standard_packs::find(name).is_some_and(|files| {
            let scripts = files.texts.iter();
            scripts
                .into_iter()
                .any(|(_, text)| text.contains("fn opening("))
        })
    });
    let known: Vec<&str> = [NET].into_iter().chain(known).collect();
    let message = format!("`measure` does not know `{word}`");
    Diagnostic::new(Code::UnknownWord, message, suggest::help_for(word, known))
}

/// What the plan of a test cannot have: a case that rests on other files says something else in
/// another folder, and what its job would state changes nothing that is compared.
fn not_in_a_case(plan: &Plan) -> Vec<Diagnostic> {
    let wrong = |span, message: &str, help: &str| {
        Diagnostic::new(Code::BadPackTest, message, help).at(span, "")
    };
    let mut jobs = 0;
    let statements = plan.statements.iter();
    statements
        .filter_map(|statement| match statement {
            Statement::Include(path) => Some(wrong(
                path.span,
                "the plan of a case includes no file",
                "write what it needs into the case",
            )),
            Statement::Job(job) => {
                jobs += 1;
                (jobs > 1).then(|| {
                    wrong(
                        job.name.span,
                        "the plan of a case has no job block",
                        "take it out: the program adds one, and a structure can state its conditions",
                    )
                })
            }
            _ => None,
        })
        .collect()
}

fn job_span(plan: &Plan) -> Option<Span> {
    plan.statements
        .iter()
        .find_map(|statement| match statement {
            Statement::Job(job) => Some(job.name.span),
            _ => None,
        })
}
