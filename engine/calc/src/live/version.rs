//! Laying out one version of the estimate after the other.

use super::coherent::System;
use super::expr::{BidFigure, Cell, Expr, Held};
use super::inputs::{self, bare, input_node, input_words};
use super::lines::{self, Is, Line};
use super::plan::Plan;
use super::rule::{Given, Laid, Lay, Workings};
use super::{Class, Content, Goes, Live, Planned, Rows, Term, Version, Working};
use crate::days::Source;
use crate::explain::names;
use crate::origins::job_origin;
use crate::price::Estimate;
use crate::takeoff::Taken;
use parge_base::trace::{Comparison, Guard};
use parge_base::{Dim, Function, NodeId, Op, Operator, Sources, Span, Tape};
use parge_rules::Run;
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::ops::Range;

/// Lays out an estimate and its alternates.
pub(super) fn lay_out<'a>(estimate: &'a Estimate, sources: &Sources) -> Live<'a> {
    let units = estimate.takeoff.measured.job.units;
    let system = System::new(units, estimate.currency);
    let alternates = estimate.alternates.iter().filter_map(|alternate| {
        Some((
            Some(alternate.name.as_str()),
            alternate.estimate.as_deref()?,
        ))
    });
    let versions: Vec<(Option<&str>, &Estimate)> =
        [(None, estimate)].into_iter().chain(alternates).collect();
    let asked = versions.iter().flat_map(|(_, version)| asked(version));
    let plan = Plan::of(&estimate.takeoff.measured, asked, sources, system);
    let mut live = Live {
        system,
        classes: Vec::new(),
        workings: Vec::new(),
        versions: Vec::new(),
        plan,
        planned: Planned::default(),
    };
    live.planned = planned(&live, &versions);
    for (number, (name, estimate)) in versions.into_iter().enumerate() {
        let (classes, workings) = (live.classes.len(), live.workings.len());
        live.versions.push(Version {
            name,
            estimate,
            classes: classes..classes,
            workings: workings..workings,
            has_days: estimate.takeoff.days.is_some(),
        });
        let mut laying = Laying {
            live: &mut live,
            estimate,
            sources,
            number,
            job_inputs: HashMap::new(),
            answers: HashMap::new(),
        };
        laying.everything();
        let (classes_end, workings_end) = (live.classes.len(), live.workings.len());
        if let Some(version) = live.versions.last_mut() {
            version.classes = classes..classes_end;
            version.workings = workings..workings_end;
        }
    }
    live
}

/// What the rules about the days were given: the days rest on all of it, in ways that no formula
/// says.
fn planned(live: &Live<'_>, versions: &[(Option<&str>, &Estimate)]) -> Planned {
    let mut planned = Planned::default();
    for (_, estimate) in versions {
        let takeoff = &estimate.takeoff;
        let crew = takeoff.measured.job.crew.map(|figure| figure.node);
        let asked = takeoff.days.iter().flat_map(|days| &days.asked);
        let crew = crew.filter(|_| takeoff.days.is_some());
        let mut cells = Vec::new();
        crew.into_iter()
            .for_each(|node| live.plan.expr(node).cells(&mut cells));
        for asked in asked {
            for (_, source) in &asked.origins {
                if let Source::Plan(node) = source {
                    live.plan.expr(*node).cells(&mut cells);
                }
            }
            if let Some(run) = takeoff.runs.get(asked.run) {
                planned
                    .factors
                    .extend(run.tape.factors().map(|factor| factor.span));
            }
        }
        while let Some(cell) = cells.pop() {
            match cell {
                Cell::Size(number) => {
                    planned.sizes.insert(number);
                }
                Cell::Worked(number) => {
                    if let Some(worked) = live.plan.worked.get(number) {
                        worked.expr.cells(&mut cells);
                    }
                }
                _ => {}
            }
        }
    }
    planned
}

/// The nodes of the plan that the rules of a version were given.
fn asked(estimate: &Estimate) -> Vec<NodeId> {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    let mut all = Vec::new();
    for (run, rows) in classes_of(estimate) {
        if let Some(run) = takeoff.runs.get(run) {
            let used = inputs::used(&run.tape, &run.line_nodes());
            all.extend(inputs::origins(estimate, &rows, &run.tape, &used));
        }
    }
    all.extend(job.edges.iter().map(|edge| edge.length.node));
    if let Some(run) = takeoff
        .whole
        .as_ref()
        .and_then(|taken| takeoff.runs.get(taken.run))
    {
        let used = inputs::used(&run.tape, &run.line_nodes());
        let names = used.iter().filter_map(|slot| run.tape.input_name(*slot));
        all.extend(names.filter_map(|name| job_origin(job, bare(name))));
    }
    let days = takeoff.days.iter().flat_map(|days| &days.asked);
    let origins = days.flat_map(|asked| &asked.origins);
    all.extend(origins.filter_map(|(_, source)| match source {
        Source::Plan(node) => Some(*node),
        Source::Answer(..) => None,
    }));
    all
}

/// The faces and edges of a version by the run that answers for them, in the order of their first.
fn classes_of(estimate: &Estimate) -> Vec<(usize, Rows)> {
    let takeoff = &estimate.takeoff;
    let numbers = |taken: &[Taken]| {
        let mut runs: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (number, taken) in taken.iter().enumerate() {
            runs.entry(taken.run).or_default().push(number);
        }
        runs
    };
    // The rows of the tables of faces and edges are filled in by who knows the plan's rows.
    let pair = |numbers: Vec<usize>| numbers.into_iter().map(|number| [number, number]).collect();
    let faces = numbers(&takeoff.faces).into_iter();
    let faces = faces.map(|(run, numbers)| (run, Rows::Faces(pair(numbers))));
    let edges = numbers(&takeoff.edges).into_iter();
    let edges = edges.map(|(run, numbers)| (run, Rows::Edges(pair(numbers))));
    faces.chain(edges).collect()
}

/// The comparisons of a tape, each once.
fn guards(tape: &Tape) -> Vec<Guard> {
    let mut known = HashSet::new();
    let all = tape.guards().iter();
    all.filter(|guard| known.insert((guard.left, guard.comparison, guard.right)))
        .copied()
        .collect()
}

/// A step of the price of a version.
pub(super) fn bid_value(estimate: &Estimate, figure: BidFigure) -> f64 {
    let price = &estimate.price;
    let amount = match figure {
        BidFigure::Materials => price.materials,
        BidFigure::Labour => price.labour,
        BidFigure::Burden => price.burden,
        BidFigure::Overhead => price.overhead,
        BidFigure::Profit => price.profit,
        BidFigure::Allowances => price.allowances,
        BidFigure::Freight => price.freight,
        BidFigure::Contingency => price.contingency,
        BidFigure::Total => {
            let before = price.before_charges();
            return before.map_or(f64::NAN, |before| before.to_f64());
        }
        BidFigure::Hours => return estimate.labour.iter().map(|line| line.labour.hours).sum(),
    };
    amount.to_f64()
}

/// A version being laid out.
struct Laying<'l, 'a> {
    live: &'l mut Live<'a>,
    estimate: &'a Estimate,
    sources: &'l Sources,
    number: usize,
    /// What the rules for the job were given that is reckoned from all faces.
    job_inputs: HashMap<&'static str, Expr>,
    /// What questions about the days were answered with.
    answers: HashMap<(usize, &'static str), Expr>,
}

/// Parts of one sum that stand in one formula.
const CHUNK: usize = 60;

/// Who a run was made for.
struct Single<'r> {
    run: &'r Run,
    title: String,
    /// Whether the days were planned for its hours.
    is_planned_for: bool,
    /// Figures that others ask for.
    answers: Vec<(usize, &'static str)>,
}

impl<'a> Laying<'_, 'a> {
    fn everything(&mut self) {
        for (run, rows) in classes_of(self.estimate) {
            if let Some(run) = self.estimate.takeoff.runs.get(run) {
                let rows = self.with_rows(rows);
                self.class(run, rows);
            }
        }
        self.whole();
        self.days();
        self.charges();
        if self.number == 0 {
            self.colours();
        }
    }

    /// A plan is refused whose colours do not add up, so that is watched here.
    fn colours(&mut self) {
        let finishes = &self.estimate.takeoff.measured.job.finishes;
        for finish in finishes.iter().filter(|finish| !finish.colours.is_empty()) {
            let shares = finish.colours.iter();
            let shares = shares.map(|(_, share)| self.live.plan.expr(share.node));
            let held = Held {
                left: Expr::Sum(shares.collect()),
                comparison: Comparison::Equal,
                right: Expr::Number(1.0),
                held: true,
            };
            if held.left.has_cell() {
                let of = format!("colours of {}", finish.name);
                self.add_checks(&of, vec![(held, Some(finish.thickness.span))]);
            }
        }
    }

    /// Rows with their places in the tables of faces and edges.
    fn with_rows(&self, rows: Rows) -> Rows {
        let takeoff = &self.estimate.takeoff;
        match rows {
            Rows::Faces(rows) => {
                let row = |[_, number]: [usize; 2]| {
                    let face = takeoff.measured.faces.get(number)?.face;
                    Some([*self.live.plan.face_rows.get(&face)?, number])
                };
                Rows::Faces(rows.into_iter().filter_map(row).collect())
            }
            Rows::Edges(rows) => {
                let row = |[_, number]: [usize; 2]| {
                    let edge = takeoff.measured.job.edges.get(number)?;
                    Some([self.live.plan.edge_row(edge)?, number])
                };
                Rows::Edges(rows.into_iter().filter_map(row).collect())
            }
        }
    }

    /// Lays out a class: its table, and its lines.
    fn class(&mut self, run: &'a Run, rows: Rows) {
        let class = self.live.classes.len();
        let (tape, lines) = lines::of(run);
        let title = self.class_title(&rows);
        let used = inputs::used(&tape, &run.line_nodes());
        let is_laid_out = used.iter().any(|slot| {
            let name = tape.input_name(*slot).unwrap_or("");
            bare(name).starts_with(inputs::LAID_OUT)
        });
        let given: Vec<Given> = input_names(&tape)
            .map(|name| {
                let plan = &self.live.plan;
                inputs::same_for_all(plan, self.estimate, &rows, name)
                    .map_or(Given::Differs, Given::Same)
            })
            .collect();
        let columns = match &rows {
            Rows::Faces(_) => self.job_columns(&tape),
            Rows::Edges(_) => Vec::new(),
        };
        let (first, guards) = (self.live.workings.len(), guards(&tape));
        let mut names = names::of_rule(run, self.sources);
        for line in &lines {
            names.entry(line.node).or_insert_with(|| line.words());
        }
        let (laid, first_total) = self.lay(
            &title,
            &Lay {
                tape: &tape,
                system: self.live.system,
                class,
                given: &given,
                lines: &lines.iter().map(|line| line.node).collect::<Vec<_>>(),
                columns: &columns,
                guards: &guards,
            },
            &names,
        );
        let terms = laid.terms.iter().map(|node| Term {
            what: term_words(&tape, &names, *node),
            kind: tape.value(*node).dim,
            total: 0.0,
            largest: 0.0,
            node: *node,
        });
        self.live.classes.push(Class {
            title: title.clone(),
            terms: terms.collect(),
            count: 0.0,
            rows,
            is_laid_out,
            tape,
            guards,
            laid,
            version: self.number,
        });
        // What is the same for all is valued before the rows, and the rows before their sums.
        self.value_workings(first..first_total);
        self.value_class(class);
        self.value_workings(first_total..self.live.workings.len());
        for line in &lines {
            let laid = self.live.classes.get(class).map(|class| &class.laid);
            let expr = laid.map(|laid| laid.total_expr(line.node));
            self.line(&title, line, expr, true);
        }
        self.check_guards(&title, class);
    }

    /// Lays out a run; also says which of the new workings is the first that is a sum over rows.
    fn lay(
        &mut self,
        title: &str,
        lay: &Lay<'_>,
        names: &HashMap<NodeId, String>,
    ) -> (Laid, usize) {
        let mut added = Added {
            workings: &mut self.live.workings,
            version: self.number,
            of: title,
            tape: lay.tape,
            names,
            first_total: None,
        };
        let laid = lay.out(&mut self.live.plan.factors, &mut added);
        let first_total = added.first_total.unwrap_or(added.workings.len());
        (laid, first_total)
    }

    fn class_title(&self, rows: &Rows) -> String {
        let job = &self.estimate.takeoff.measured.job;
        let title = match rows {
            Rows::Faces(rows) => {
                let measured = rows
                    .first()
                    .and_then(|[_, number]| self.estimate.takeoff.measured.faces.get(*number));
                let face = measured.and_then(|measured| job.faces.get(measured.face));
                face.map(|face| {
                    let finish = job.finishes.get(face.finish);
                    let finish = finish.map_or("", |finish| &finish.name);
                    format!("{finish} on {}", face.substrate)
                })
            }
            Rows::Edges(rows) => {
                let edge = rows.first().and_then(|[_, number]| job.edges.get(*number));
                edge.map(|edge| format!("edges: {}", edge.kind))
            }
        };
        let title = title.unwrap_or_default();
        let alike = self
            .live
            .classes
            .iter()
            .filter(|class| class.version == self.number);
        let begins =
            |class: &&Class| class.title == title || class.title.starts_with(&format!("{title} ("));
        match alike.filter(begins).count() {
            0 => title,
            others => format!("{title} ({})", others + 1),
        }
    }

    /// The measures that the rules for the job are given added up over all faces.
    fn job_columns(&self, tape: &Tape) -> Vec<NodeId> {
        let takeoff = &self.estimate.takeoff;
        let whole = takeoff.whole.as_ref();
        let run = whole.and_then(|whole| takeoff.runs.get(whole.run));
        let runs = run.into_iter().chain(&self.estimate.charging);
        let mut asked: Vec<&str> = Vec::new();
        for run in runs {
            let used = inputs::used(&run.tape, &run.line_nodes());
            let names = used.iter().filter_map(|slot| run.tape.input_name(*slot));
            asked.extend(names.map(bare));
        }
        let columns = SUMMED.iter().filter(|(name, _)| asked.contains(name));
        columns
            .filter_map(|(_, measure)| input_node(tape, measure))
            .collect()
    }

    /// Adds the sums over the rows of a class.
    fn value_class(&mut self, class: usize) {
        let Some(found) = self.live.classes.get(class) else {
            return;
        };
        let mut sums = vec![(0.0, f64::NEG_INFINITY); found.terms.len()];
        let mut number = 0.0;
        for row in 0..found.rows.len() {
            let count = found
                .rows
                .count(row)
                .map_or(0.0, |cell| self.live.value(cell));
            number += count;
            for (term, (total, largest)) in sums.iter_mut().enumerate() {
                let value = self.live.value(Cell::Term { class, row, term });
                *total += count * value;
                *largest = f64::max(*largest, value);
            }
        }
        if let Some(found) = self.live.classes.get_mut(class) {
            found.count = number;
            for (term, (total, largest)) in found.terms.iter_mut().zip(sums) {
                (term.total, term.largest) = (total, largest);
            }
        }
    }

    fn value_workings(&mut self, range: Range<usize>) {
        for number in range {
            let value = match self.live.workings.get(number).map(|line| &line.content) {
                Some(Content::Figure(expr)) => expr.value(&|cell| self.live.value(cell)),
                Some(Content::Counted(value)) => *value,
                Some(Content::Held(_)) | None => 0.0,
            };
            if let Some(line) = self.live.workings.get_mut(number) {
                line.value = value;
            }
        }
    }

    /// Adds a line to the workings, and says its cell.
    fn add(&mut self, of: &str, what: String, content: Content, kind: Dim) -> Cell {
        let number = self.live.workings.len();
        self.live.workings.push(Working {
            version: self.number,
            of: of.to_owned(),
            what,
            goes: Goes::On,
            content,
            value: 0.0,
            kind,
            is_planned_for: false,
            place: None,
        });
        self.value_workings(number..number + 1);
        Cell::Working(number)
    }

    /// Adds a line of a rule: so much of an item, so many hours, an amount.
    fn line(&mut self, of: &str, line: &Line, expr: Option<Expr>, is_planned_for: bool) {
        let Some(expr) = expr else { return };
        let goes = match &line.is {
            Is::Need(item) => self.material(item).map(Goes::Need),
            Is::Waste(item) => self.material(item).map(Goes::Waste),
            Is::Hours(phase) => {
                let mut lines = self.estimate.labour.iter();
                let at = lines.position(|line| *line.labour.phase == **phase);
                at.map(Goes::Hours)
            }
            Is::Charge(node) => {
                let mut charges = self.estimate.charges.iter();
                charges
                    .position(|charge| charge.value == *node)
                    .map(Goes::Charge)
            }
        };
        let what = line.words();
        let (goes, content, kind) = match goes {
            Some(goes) => (goes, Content::Figure(expr), line.kind),
            // Nothing is needed now; when something is, a line is missing.
            None => (
                Goes::Check,
                Content::Held(is_nothing(rounded(expr, &line.is, self.estimate))),
                Dim::NONE,
            ),
        };
        self.add(of, what, content, kind);
        if let Some(added) = self.live.workings.last_mut() {
            added.goes = goes;
            added.place = line.place;
            added.is_planned_for = is_planned_for && matches!(line.is, Is::Hours(_));
        }
    }

    fn material(&self, item: &str) -> Option<usize> {
        let mut materials = self.estimate.materials.iter();
        materials.position(|line| line.material.item == item)
    }

    /// Adds the comparisons of a class that are the same for all its rows.
    fn check_guards(&mut self, title: &str, class: usize) {
        let Some(found) = self.live.classes.get(class) else {
            return;
        };
        let same =
            |guard: &&Guard| !found.laid.differs(guard.left) && !found.laid.differs(guard.right);
        let held: Vec<(Held, Option<Span>)> = found
            .guards
            .iter()
            .filter(same)
            .filter_map(|guard| held(&found.laid, guard))
            .collect();
        self.add_checks(title, held);
    }

    fn add_checks(&mut self, of: &str, held: Vec<(Held, Option<Span>)>) {
        for (held, place) in held {
            let what = "comparison".to_owned();
            self.add(of, what, Content::Held(held), Dim::NONE);
            if let Some(added) = self.live.workings.last_mut() {
                (added.goes, added.place) = (Goes::Check, place);
            }
        }
    }

    /// Lays out a run that was made once, for one thing.
    fn single(&mut self, single: &Single<'a>, given: &mut dyn FnMut(&mut Self, &str) -> Expr) {
        let (tape, lines) = lines::of(single.run);
        let (nodes, guards) = (lines.iter().map(|line| line.node), guards(&tape));
        let answer = |name: &'static str| Some((name, single.run.given(name)?.value));
        let answers: Vec<(usize, &'static str, NodeId)> = single
            .answers
            .iter()
            .filter_map(|(asked, name)| answer(name).map(|(name, node)| (*asked, name, node)))
            .collect();
        let nodes: Vec<NodeId> = nodes
            .chain(answers.iter().map(|(.., node)| *node))
            .collect();
        let used = inputs::used(&tape, &nodes);
        let names: Vec<String> = input_names(&tape).map(str::to_owned).collect();
        let slots =
            names
                .iter()
                .enumerate()
                .map(|(slot, name)| match used.contains(&(slot as u32)) {
                    true => Given::Same(given(self, name)),
                    false => Given::Same(Expr::Number(f64::NAN)),
                });
        let slots: Vec<Given> = slots.collect();
        let first = self.live.workings.len();
        let words = names::of_rule(single.run, self.sources);
        let lay = Lay {
            tape: &tape,
            system: self.live.system,
            class: usize::MAX,
            given: &slots,
            lines: &nodes,
            columns: &[],
            guards: &guards,
        };
        let (laid, _) = self.lay(&single.title, &lay, &words);
        self.value_workings(first..self.live.workings.len());
        for line in &lines {
            let expr = laid.same_for_all(line.node);
            self.line(&single.title, line, expr, single.is_planned_for);
        }
        for (asked, name, node) in answers {
            if let Some(expr) = laid.same_for_all(node) {
                let kind = tape.value(node).dim;
                let what = names::words(name);
                let cell = self.add(&single.title, what, Content::Figure(expr), kind);
                if let Some(added) = self.live.workings.last_mut() {
                    added.is_planned_for = single.is_planned_for;
                }
                self.answers.insert((asked, name), Expr::At(cell));
            }
        }
        let held = guards
            .iter()
            .filter_map(|guard| held(&laid, guard))
            .collect();
        self.add_checks(&single.title, held);
    }

    /// The rules for the job as a whole.
    fn whole(&mut self) {
        let takeoff = &self.estimate.takeoff;
        let Some(run) = takeoff
            .whole
            .as_ref()
            .and_then(|taken| takeoff.runs.get(taken.run))
        else {
            return;
        };
        let single = Single {
            run,
            title: THE_JOB.to_owned(),
            is_planned_for: true,
            answers: Vec::new(),
        };
        self.single(&single, &mut |laying, name| {
            laying.job_input(run, bare(name))
        });
    }

    /// What a rule for the job is given.
    fn job_input(&mut self, run: &Run, name: &str) -> Expr {
        if let Some(node) = job_origin(&self.estimate.takeoff.measured.job, name) {
            return self.live.plan.expr(node);
        }
        let classes = || self.live.classes.iter().enumerate();
        let of_version = classes().filter(|(_, class)| class.version == self.number);
        let faces: Vec<usize> = of_version
            .filter(|(_, class)| matches!(class.rows, Rows::Faces(_)))
            .map(|(number, _)| number)
            .collect();
        let (key, kind, words) = match name {
            "area" => ("area", Dim::AREA, "coated area of all faces"),
            "ground_run" => (
                "ground_run",
                Dim::LENGTH,
                "length of all faces along the ground",
            ),
            "faces" => ("faces", Dim::NONE, "number of faces"),
            "hours" => ("hours", Dim::TIME, "hours on all faces and edges"),
            "working_height" => ("working_height", Dim::LENGTH, "highest working height"),
            _ => return self.counted(run, name),
        };
        if let Some(known) = self.job_inputs.get(key) {
            return known.clone();
        }
        let column = |measure: &str| {
            let cells = faces.iter().filter_map(|class| {
                let found = self.live.classes.get(*class)?;
                let node = input_node(&found.tape, measure)?;
                Some((*class, found.laid.column(node)?))
            });
            cells.collect::<Vec<_>>()
        };
        let totals = |measure: &str| {
            let cells = column(measure).into_iter();
            cells
                .map(|(class, term)| Expr::At(Cell::TermTotal { class, term }))
                .collect::<Vec<_>>()
        };
        let (parts, largest) = match key {
            "area" => (totals("area"), false),
            "ground_run" => (totals("bottom"), false),
            "faces" => {
                let counts = faces.iter().map(|class| Expr::At(Cell::ClassCount(*class)));
                (counts.collect(), false)
            }
            "hours" => (self.hours_so_far(), false),
            _ => {
                let cells = column("working_height").into_iter();
                let cells = cells.map(|(class, term)| Expr::At(Cell::TermColumn { class, term }));
                (cells.collect(), true)
            }
        };
        let expr = self.gathered(parts, words, kind, largest);
        let cell = self.add(THE_JOB, words.to_owned(), Content::Figure(expr), kind);
        self.job_inputs.insert(key, Expr::At(cell));
        Expr::At(cell)
    }

    /// The hours of faces and edges.
    fn hours_so_far(&self) -> Vec<Expr> {
        let lines = self.live.workings.iter().enumerate();
        let hours = lines
            .filter(|(_, line)| line.version == self.number && matches!(line.goes, Goes::Hours(_)));
        hours
            .map(|(number, _)| Expr::At(Cell::Working(number)))
            .collect()
    }

    /// A sum, or the largest, of parts that may be too many for one formula.
    fn gathered(&mut self, mut parts: Vec<Expr>, words: &str, kind: Dim, largest: bool) -> Expr {
        let gather = |parts: Vec<Expr>| match largest {
            true => Expr::Largest(parts),
            false => Expr::Sum(parts),
        };
        while parts.len() > CHUNK {
            let chunks: Vec<Vec<Expr>> = parts.chunks(CHUNK).map(<[Expr]>::to_vec).collect();
            parts = Vec::new();
            for chunk in chunks {
                let what = format!("{words}, in part");
                let cell = self.add(THE_JOB, what, Content::Figure(gather(chunk)), kind);
                parts.push(Expr::At(cell));
            }
        }
        gather(parts)
    }

    /// A figure that was counted: no formula gives it.
    fn counted(&mut self, run: &Run, name: &str) -> Expr {
        let node = input_node(&run.tape, name);
        let value = node.map(|node| run.tape.value(node));
        let Some(value) = value else {
            return Expr::Number(f64::NAN);
        };
        let (number, words) = (self.live.system.value(value), input_words(name));
        let content = Content::Counted(number);
        let cell = self.add(THE_JOB, words, content, value.dim);
        Expr::At(cell)
    }

    /// The rules that were asked about the days, as far as the price rests on their answers.
    fn days(&mut self) {
        let estimate = self.estimate;
        let Some(days) = &estimate.takeoff.days else {
            return;
        };
        let of_days = days.days.iter().filter_map(|day| day.asked);
        let wanted = wanted_answers(estimate, of_days.collect());
        for (number, answers) in wanted {
            let Some(asked) = days.asked.get(number) else {
                continue;
            };
            let Some(run) = estimate.takeoff.runs.get(asked.run) else {
                continue;
            };
            let is_asked_for = !answers.is_empty();
            let single = Single {
                run,
                title: asked.name.clone(),
                is_planned_for: is_asked_for,
                answers: answers.into_iter().map(|name| (number, name)).collect(),
            };
            self.single(&single, &mut |laying, name| {
                let origins = asked.origins.iter();
                let origin = origins.clone().find(|(known, _)| *known == bare(name));
                match origin {
                    Some((_, Source::Plan(node))) => laying.live.plan.expr(*node),
                    Some((_, Source::Answer(other, answer))) => {
                        let known = laying.answers.get(&(*other, *answer));
                        known.cloned().unwrap_or(Expr::Number(f64::NAN))
                    }
                    None => laying.counted(run, bare(name)),
                }
            });
        }
    }

    /// The rule that adds to the price.
    fn charges(&mut self) {
        let Some(run) = &self.estimate.charging else {
            return;
        };
        let single = Single {
            run,
            title: "the price".to_owned(),
            is_planned_for: false,
            answers: Vec::new(),
        };
        self.single(&single, &mut |laying, name| {
            let figure = match bare(name) {
                "materials" => BidFigure::Materials,
                "labour" => BidFigure::Labour,
                "burden" => BidFigure::Burden,
                "overhead" => BidFigure::Overhead,
                "profit" => BidFigure::Profit,
                "allowances" => BidFigure::Allowances,
                "freight" => BidFigure::Freight,
                "contingency" => BidFigure::Contingency,
                "total" => BidFigure::Total,
                "hours" => BidFigure::Hours,
                other => return laying.job_input(run, other),
            };
            Expr::At(Cell::Bid(laying.number, figure))
        });
    }
}

/// What the rules for the job are given, and the measure of a face that it is reckoned from.
const SUMMED: [(&str, &str); 3] = [
    ("area", "area"),
    ("ground_run", "bottom"),
    ("working_height", "working_height"),
];

const THE_JOB: &str = "the job as a whole";

/// The questions about the days that answers are wanted of, with the names of the answers, each
/// after those that it rests on.
fn wanted_answers(
    estimate: &Estimate,
    days: Vec<usize>,
) -> BTreeMap<usize, BTreeSet<&'static str>> {
    let mut wanted: BTreeMap<usize, BTreeSet<&'static str>> = BTreeMap::new();
    let Some(plan) = &estimate.takeoff.days else {
        return wanted;
    };
    let mut open = days;
    while let Some(number) = open.pop() {
        if wanted.contains_key(&number) {
            continue;
        }
        wanted.insert(number, BTreeSet::new());
        let origins = plan.asked.get(number).map(|asked| &asked.origins);
        for (_, source) in origins.into_iter().flatten() {
            if let Source::Answer(other, _) = source {
                open.push(*other);
            }
        }
    }
    let numbers: Vec<usize> = wanted.keys().copied().collect();
    for number in numbers {
        let origins = plan.asked.get(number).map(|asked| &asked.origins);
        for (_, source) in origins.into_iter().flatten() {
            if let Source::Answer(other, name) = source
                && let Some(names) = wanted.get_mut(other)
            {
                names.insert(name);
            }
        }
    }
    wanted
}

/// A comparison of figures that are the same for all rows; none where nothing can move it.
fn held(laid: &Laid, guard: &Guard) -> Option<(Held, Option<Span>)> {
    let held = Held {
        left: laid.same_for_all(guard.left)?,
        comparison: guard.comparison,
        right: laid.same_for_all(guard.right)?,
        held: guard.held,
    };
    let moves = held.left.has_cell() || held.right.has_cell();
    moves.then_some((held, guard.place))
}

/// An amount is nothing that rounds to nothing in the smallest money.
fn rounded(expr: Expr, is: &Is, estimate: &Estimate) -> Expr {
    match is {
        Is::Charge(_) => {
            let parts = 10f64.powi(estimate.currency.decimals() as i32);
            let in_parts = Expr::combine(Operator::Multiply, expr, Expr::Number(parts));
            Expr::apply(Function::Round, in_parts)
        }
        Is::Need(_) | Is::Waste(_) | Is::Hours(_) => expr,
    }
}

/// That a figure is nothing.
fn is_nothing(expr: Expr) -> Held {
    Held {
        left: expr,
        comparison: Comparison::Equal,
        right: Expr::Number(0.0),
        held: true,
    }
}

/// The names of the inputs of a tape, in the order of their slots.
fn input_names(tape: &Tape) -> impl Iterator<Item = &str> {
    (0..).map_while(|slot| tape.input_name(slot))
}

/// A column of a class in words.
fn term_words(tape: &Tape, names: &HashMap<NodeId, String>, node: NodeId) -> String {
    if let Some(name) = names.get(&node) {
        return name.clone();
    }
    let side = |node: NodeId| term_words(tape, names, node);
    match tape.node(node).map(|node| node.op) {
        Some(Op::Input(slot)) => input_words(tape.input_name(slot).unwrap_or("")),
        Some(Op::Combine(Operator::Multiply, a, b)) if short(tape, a) && short(tape, b) => {
            format!("{} × {}", side(a), side(b))
        }
        Some(Op::Combine(Operator::Divide, a, b)) if short(tape, a) && short(tape, b) => {
            format!("{} ÷ {}", side(a), side(b))
        }
        Some(Op::Factor(number)) => {
            let factor = tape.factor(number);
            factor.map_or(String::new(), |factor| names::factor_words(&factor.name))
        }
        _ => "part of a rule".to_owned(),
    }
}

fn short(tape: &Tape, node: NodeId) -> bool {
    let op = tape.node(node).map(|node| node.op);
    matches!(op, Some(Op::Input(_) | Op::Factor(_)))
}

/// Takes what wants a cell of its own into the workings.
struct Added<'w> {
    workings: &'w mut Vec<Working>,
    version: usize,
    of: &'w str,
    tape: &'w Tape,
    names: &'w HashMap<NodeId, String>,
    first_total: Option<usize>,
}

impl Workings for Added<'_> {
    fn add(&mut self, node: NodeId, expr: Expr, total: bool) -> Cell {
        let number = self.workings.len();
        if total {
            self.first_total.get_or_insert(number);
        }
        let name = self.names.get(&node);
        let name = name.map_or("part of a rule", String::as_str);
        let found = self.tape.node(node);
        self.workings.push(Working {
            version: self.version,
            of: self.of.to_owned(),
            what: match total {
                true => format!("{name}, over all"),
                false => name.to_owned(),
            },
            goes: Goes::On,
            content: Content::Figure(expr),
            value: 0.0,
            kind: self.tape.value(node).dim,
            is_planned_for: false,
            place: found.and_then(|node| node.place),
        });
        Cell::Working(number)
    }
}
