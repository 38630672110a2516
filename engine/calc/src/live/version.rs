//! Laying out one version of the estimate after the other.

mod class;
mod single;

use super::coherent::System;
use super::expr::{BidFigure, Cell, Expr, Held};
use super::inputs::{self, bare, input_node, input_words};
use super::lines::{self, Is, Line};
use super::plan::Plan;
use super::rule::{Given, Laid, Lay, Workings};
use super::{Class, Content, Goes, Live, Planned, Rows, Term, Version, Working};
use crate::days::Source;
use crate::explain::names::{self, RuleNames};
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
            names: RuleNames::new(sources),
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
    names: RuleNames<'l>,
    number: usize,
    /// What the rules for the job were given that is reckoned from all faces.
    job_inputs: HashMap<&'static str, Expr>,
    /// What questions about the days were answered with.
    answers: HashMap<(usize, &'static str), Expr>,
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

    fn add_checks(&mut self, of: &str, held: Vec<(Held, Option<Span>)>) {
        for (held, place) in held {
            let what = "comparison".to_owned();
            self.add(of, what, Content::Held(held), Dim::NONE);
            if let Some(added) = self.live.workings.last_mut() {
                (added.goes, added.place) = (Goes::Check, place);
            }
        }
    }
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
