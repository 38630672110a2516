//! `parge rules test`: the cases of a pack, each with what came out otherwise than wanted.

use super::{label, load, located};
use crate::args::PackArgs;
use crate::origin::Origin;
use crate::session::{NET, Session};
use crate::table::visible;
use crate::{Exit, World, packs};
use parge_base::diagnostic::any_error;
use parge_base::{Code, Diagnostic, FileId, Severity, Sources, Spanned};
use parge_calc::contract::{FACE_HOOKS, OPENING_HOOK};
use parge_calc::expect::{OfPlan, Outcome, of_bid, of_plan, warned};
use parge_rules::{Asked, Case, Pack, cases};
use std::io;
use std::sync::Arc;

/// The lines before a plan's own: a case says only what it is about. Figures are compared in the
/// units of the case, so those of the job do not matter.
const HEAD: [&str; 2] = [
    "parge 1",
    "job \"Test\" { units us  rules \"the pack that is tested\" }",
];

pub(crate) fn run(args: &PackArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let Some(pack) = load(&args.pack, &mut session, world).map(Arc::new) else {
        return session.report(world);
    };
    let Some((word, origin)) = located(&args.pack, &mut session, world) else {
        return session.report(world);
    };
    let files = match packs::tests(&word, &origin) {
        Ok(files) => files,
        Err(diagnostic) => {
            session.diagnostics.push(diagnostic);
            return session.report(world);
        }
    };
    let mut tests = Tests {
        tested: Tested { pack, word, origin },
        session,
        count: 0,
        failed: 0,
    };
    for (name, text) in files {
        tests.file(name, text, world)?;
    }
    tests.end(world)
}

/// The pack that is tested.
struct Tested {
    pack: Arc<Pack>,
    /// The word for it, which paths of its cases start from.
    word: String,
    origin: Origin,
}

/// Cases on their way, with what was said of them.
struct Tests {
    tested: Tested,
    session: Session,
    count: usize,
    failed: usize,
}

impl Tests {
    fn file(&mut self, name: String, text: String, world: &mut World<'_>) -> io::Result<()> {
        let file = self.session.sources.add(name, text);
        let units = self.tested.pack.units();
        let (cases, mut wrong) = cases(&self.session.sources, file, units);
        self.session.diagnostics.append(&mut wrong);
        for case in cases {
            self.count += 1;
            let passes = self.one(&case, file, world)?;
            self.failed += usize::from(!passes);
        }
        Ok(())
    }

    /// Tells how many there were. A plan or a file that cannot be read is mended first, and a
    /// pack without a case has passed nothing.
    fn end(mut self, world: &mut World<'_>) -> io::Result<Exit> {
        let (count, failed) = (self.count, self.failed);
        if count == 0 && !any_error(&self.session.diagnostics) {
            let untested = no_tests(&self.tested.pack);
            self.session.diagnostics.push(untested);
        }
        if count > 0 {
            let word = if count == 1 { "case" } else { "cases" };
            writeln!(world.out, "{count} {word}, {failed} failed")?;
        }
        match self.session.report(world)? {
            Exit::Fine if failed > 0 => Ok(Exit::CheckFailed),
            exit => Ok(exit),
        }
    }

    /// Runs a case and tells its line; whether it passes.
    fn one(&mut self, case: &Case, file: FileId, world: &mut World<'_>) -> io::Result<bool> {
        let (tested, session) = (&self.tested, &mut self.session);
        // What was said of other cases is kept apart: each passes or fails by itself.
        let before = std::mem::take(&mut session.diagnostics);
        let mut outcome = match &case.asked {
            Asked::Bid { bid, charges } => of_bid(case, bid, charges, &tested.pack),
            Asked::Plan { .. } => take_off(case, file, tested, session).unwrap_or_default(),
        };
        session.diagnostics.append(&mut outcome.wrong);
        let is_wrong = any_error(&session.diagnostics);
        outcome.misses.extend(warned(case, &session.diagnostics));
        // A warning that the case wants is no news, and one that it does not want is a miss.
        let is_error = |said: &Diagnostic| said.severity() == Severity::Error;
        session.diagnostics.retain(is_error);
        let said = std::mem::replace(&mut session.diagnostics, before);
        session.diagnostics.extend(said);

        let passes = !is_wrong && outcome.misses.is_empty();
        let word = if passes { "ok    " } else { "FAILED" };
        writeln!(world.out, "{word}  {}", visible(&case.name.node))?;
        // Figures of a plan with a fault would only lead astray.
        for miss in outcome.misses.iter().filter(|_| !is_wrong) {
            let line = format!("{}: wanted {}, got {}", miss.what, miss.wanted, miss.got);
            writeln!(world.out, "          {}", visible(&line))?;
        }
        Ok(passes)
    }
}

fn no_tests(pack: &Pack) -> Diagnostic {
    let message = format!("{} has no tests, so nothing was tested", label(pack));
    let help = "write a file `tests/walls.toml` into the folder of the pack, with a block `[[case]]`: its `name`, a `plan`, and what must come out under `[case.needs]`; `parge why E0413` shows one";
    Diagnostic::new(Code::BadPackTest, message, help)
}

/// The outcome of a plan; none where it has a fault, which is told.
fn take_off(case: &Case, file: FileId, tested: &Tested, session: &mut Session) -> Option<Outcome> {
    let Asked::Plan {
        plan,
        rules,
        measure,
        areas,
        needs,
        waste,
        hours,
    } = &case.asked
    else {
        return None;
    };
    let wanted = OfPlan {
        areas,
        needs,
        waste,
        hours,
    };
    let (rules, measuring) = packs_of(case, rules.as_ref(), measure.as_ref(), tested, session)?;
    let name = session.sources.name(file).to_owned();
    let text = completed(plan, file, &session.sources);
    let packs = (Arc::clone(&rules), measuring);
    let loaded = session.load_case(text, tested.origin.clone(), &name, packs)?;
    let takeoff = session.take_off(&loaded)?;
    let pooled = session.pool(&takeoff, &loaded);
    Some(of_plan(case, wanted, &takeoff, &pooled, &rules))
}

/// The pack that says what faces need, and the one that measures where one does: the tested pack
/// is what it can be, and the case names the other.
fn packs_of(
    case: &Case,
    rules: Option<&Spanned<String>>,
    measure: Option<&Spanned<String>>,
    tested: &Tested,
    session: &mut Session,
) -> Option<(Arc<Pack>, Option<Arc<Pack>>)> {
    let has_rules = FACE_HOOKS.iter().any(|hook| tested.pack.has_hook(hook));
    let mut wrong = |span, message: &str, help: &str| {
        let said = Diagnostic::new(Code::BadPackTest, message, help).at(span, "");
        session.diagnostics.push(said);
        None
    };
    match (has_rules, rules, measure) {
        (true, Some(rules), _) => wrong(
            rules.span,
            "the pack that is tested says itself what faces need",
            "take `rules` out of the case",
        ),
        (false, None, _) => wrong(
            case.name.span,
            "the pack that is tested does not say what faces need, and the case names no pack that does",
            "add a line such as `rules = \"vertical-concrete\"` to the case",
        ),
        (false, _, Some(measure)) => wrong(
            measure.span,
            "the pack that is tested is the one that measures",
            "take `measure` out of the case",
        ),
        (false, Some(rules), None) => {
            let pack = session.pack_beside(rules, &tested.word, &tested.origin)?;
            Some((Arc::new(pack), Some(Arc::clone(&tested.pack))))
        }
        (true, None, None) => Some((Arc::clone(&tested.pack), None)),
        (true, None, Some(measure)) if measure.node == NET => {
            Some((Arc::clone(&tested.pack), None))
        }
        (true, None, Some(measure)) => {
            let pack = session.pack_beside(measure, &tested.word, &tested.origin)?;
            if pack.has_hook(OPENING_HOOK) {
                return Some((Arc::clone(&tested.pack), Some(Arc::new(pack))));
            }
            let message = format!("pack `{}` has no measuring rule", measure.node);
            let help = "name a pack that has `fn opening(opening)`, such as `half-openings`";
            let said = Diagnostic::new(Code::BadPackTest, message, help).at(measure.span, "");
            session.diagnostics.push(said);
            None
        }
    }
}

/// The plan behind the lines that every plan has, with as many empty ones between them that its
/// lines have the numbers that they have in the file of the case.
fn completed(plan: &Spanned<String>, file: FileId, sources: &Sources) -> String {
    let quoted = sources.slice(plan.span);
    let marks = quoted.len() - quoted.trim_start_matches(['\'', '"']).len();
    // A line end right behind the marks is no part of the text.
    let opening = quoted.get(marks..).unwrap_or("");
    let skipped = usize::from(marks > 1 && opening.starts_with(['\n', '\r']));
    let line = sources.place(file, plan.span.start).line + skipped;
    let empty = line.saturating_sub(HEAD.len() + 1);
    let mut text = HEAD.join("\n") + "\n";
    text.extend(std::iter::repeat_n('\n', empty));
    text + plan.node.as_str()
}
