//! From a node of a tape to steps of an explanation.
//!
//! A rule's tape begins with inputs; each of them is a figure of the plan, and the walk goes on
//! there, so that its leaves are the plan's own numbers.

use super::build::{Builder, Outcome};
use super::figures::Fault;
use super::{Id, Node, Origin, Step, Value, names};
use crate::days::Source;
use crate::measure::Measured;
use crate::origins::{edge_origin, face_origin, job_origin};
use crate::takeoff::Taken;
use crate::takeoff::subjects::{edge_subject, face_subject, job_subject};
use parge_base::trace::Replay;
use parge_base::{Factor, NodeId, Op, Operator, Quantity, Span, Tape, trace};
use parge_rules::naming::is_script;
use std::collections::HashMap;
use std::rc::Rc;

/// Who a rule ran for; faces by their number in `Measured::faces`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Subject {
    Face(usize),
    Edge(usize),
    Whole,
    /// A question about the days by its number in `DayPlan::asked`.
    Asked(usize),
}

/// A tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum On {
    Plan,
    Rule(Subject),
    /// The rule for the price.
    Charges,
}

/// A tape with the values it has for one subject.
pub(super) struct View<'a> {
    on: On,
    tape: &'a Tape,
    replay: Option<Replay>,
    pub(super) names: Rc<HashMap<NodeId, String>>,
    origin: Origin,
}

impl<'a> View<'a> {
    pub(super) fn of_plan(measured: &'a Measured) -> Self {
        Self {
            on: On::Plan,
            tape: &measured.job.tape,
            replay: None,
            names: Rc::new(names::of_plan(measured)),
            origin: Origin::Plan,
        }
    }

    fn value(&self, node: NodeId) -> Quantity {
        let replay = self.replay.as_ref();
        replay.map_or_else(|| self.tape.value(node), |replay| replay.value(node))
    }
}

impl<'a> Builder<'a> {
    /// Enters a node of a tape after all that it rests on. A tape can be as deep as a plan is
    /// long, so the walk keeps its own stack.
    pub(super) fn walk(&mut self, on: On, node: NodeId) -> Outcome {
        let view = self.view(on)?;
        let mut stack = vec![node];
        while let Some(top) = stack.last().copied() {
            if self.entered.contains_key(&(on, top)) {
                stack.pop();
                continue;
            }
            let found = view.tape.node(top).ok_or(Fault::NoValue)?;
            let before = stack.len();
            let on_top = operands(found.op).into_iter().flatten();
            stack.extend(on_top.filter(|on_it| !self.entered.contains_key(&(on, *on_it))));
            if stack.len() == before {
                let id = self.enter(&view, top, found)?;
                self.entered.insert((on, top), id);
                stack.pop();
            }
        }
        self.entered.get(&(on, node)).copied().ok_or(Fault::NoValue)
    }

    /// Enters a node whose operands are entered.
    fn enter(&mut self, view: &View<'a>, node: NodeId, found: &trace::Node) -> Outcome {
        let value = view.value(node);
        let of = |id: NodeId| self.entered.get(&(view.on, id)).copied();
        let step = match found.op {
            Op::Input(slot) => {
                let name = view.tape.input_name(slot).unwrap_or_default();
                return self.input(view.on, name, value);
            }
            Op::Factor(number) => {
                let factor = view.tape.factor(number).ok_or(Fault::NoValue)?;
                return Ok(self.factor(factor));
            }
            Op::Literal | Op::Constant => Step::Given(self.literal_origin(view, found.place)),
            Op::Apply(function, a) => Step::Apply(function, of(a).ok_or(Fault::NoValue)?),
            Op::Combine(operator, a, b) => {
                let (a, b) = (of(a).ok_or(Fault::NoValue)?, of(b).ok_or(Fault::NoValue)?);
                if let Some(same) = self.unchanged(operator, a, b, value) {
                    return Ok(self.rename(same, view.names.get(&node)));
                }
                Step::Combine(operator, a, b)
            }
        };
        let id = match step {
            Step::Given(origin) => self.given(origin, Value::Quantity(value), found.place),
            step => self.step(step, found.place)?,
        };
        if let Some(name) = view.names.get(&node) {
            self.name(id, name.clone());
        }
        if let (On::Plan, Some(about)) = (view.on, names::about(self.job, node)) {
            self.note(id, about);
        }
        if let (On::Plan, Op::Literal, Some(place)) = (view.on, found.op, found.place)
            && let Some(cell) = self.job.origin_of(place)
        {
            self.note(id, format!("from cell {cell} of the client's sheet"));
        }
        if matches!(found.op, Op::Literal) && found.place.is_none() {
            self.note(id, "not stated, so this is taken");
        }
        Ok(id)
    }

    /// Where a number is written: what the plan's tape took over from a measuring rule stands in a
    /// script.
    fn literal_origin(&self, view: &View<'_>, place: Option<Span>) -> Origin {
        match place {
            Some(place) if is_script(self.sources.name(place.file)) => Origin::Script,
            _ => view.origin,
        }
    }

    /// The operand that an operation leaves as it is: nothing added, once taken. Only where the
    /// value is the same to the last bit.
    fn unchanged(&self, operator: Operator, a: Id, b: Id, value: Quantity) -> Option<Id> {
        let given = |id: Id, wanted: f64| {
            self.nodes.get(id).is_some_and(|node| {
                let given = matches!(node.step, Step::Given(Origin::Plan | Origin::Script));
                let hidden = node.name.is_none() || wanted == 0.0;
                let is = matches!(node.value, Value::Quantity(found) if found.value == wanted);
                given && hidden && is
            })
        };
        let neutral = |id: Id, wanted: f64| match self.nodes.get(id).map(|node| &node.step) {
            // A corner at 0 ft gives products that are nothing.
            Some(Step::Combine(Operator::Multiply, a, b)) if wanted == 0.0 => {
                given(*a, 0.0) || given(*b, 0.0)
            }
            _ => given(id, wanted),
        };
        let same = |id: Id| {
            let found = self.nodes.get(id).map(|node| node.value);
            matches!(found, Some(Value::Quantity(found))
                if found.value.to_bits() == value.value.to_bits() && found.dim == value.dim)
        };
        let kept = match operator {
            Operator::Add if neutral(b, 0.0) => a,
            Operator::Add if neutral(a, 0.0) => b,
            Operator::Subtract if neutral(b, 0.0) => a,
            Operator::Multiply if neutral(b, 1.0) => a,
            Operator::Multiply if neutral(a, 1.0) => b,
            Operator::Divide if neutral(b, 1.0) => a,
            _ => return None,
        };
        same(kept).then_some(kept)
    }

    /// Gives a step the name of what is the same: a face without openings has its coated area
    /// from its shape. A name that the plan gave stays.
    fn rename(&mut self, id: Id, name: Option<&String>) -> Id {
        let Some(name) = name else {
            return id;
        };
        let free = self.nodes.get(id).is_some_and(|node| {
            let operation = !matches!(node.step, Step::Given(_));
            operation || node.name.is_none()
        });
        if free {
            self.name(id, name.clone())
        } else {
            id
        }
    }

    /// A cell of a table; one step, whoever uses it.
    fn factor(&mut self, factor: &Factor) -> Id {
        if let Some(known) = self.factors.get(&factor.span) {
            return *known;
        }
        let value = Value::Quantity(factor.quantity);
        let id = self.push(Node {
            name: Some(names::factor_words(&factor.name)),
            unit: Some(factor.unit.clone()),
            place: Some(factor.span),
            source: Some(factor.source.clone()),
            ..Node::bare(Step::Given(Origin::Table), value)
        });
        self.factors.insert(factor.span, id);
        id
    }

    /// What a rule was given, as the figure of the plan that it is.
    fn input(&mut self, on: On, name: &str, value: Quantity) -> Outcome {
        let measured = &self.estimate.takeoff.measured;
        let (kind, name) = name.split_once('.').unwrap_or(("", name));
        let node = match on {
            On::Rule(Subject::Face(number)) => {
                let face = measured.faces.get(number);
                face.and_then(|face| face_origin(self.job, face, name))
            }
            On::Rule(Subject::Edge(number)) => edge_origin(self.job, number, name),
            On::Rule(Subject::Asked(number)) => match self.asked_origin(number, name) {
                Some((on, node)) => return self.walk(on, node),
                None => None,
            },
            On::Rule(Subject::Whole) => {
                if let Some(id) = self.job_input(name)? {
                    return Ok(id);
                }
                job_origin(self.job, name)
            }
            On::Charges => return self.bid_input(name),
            On::Plan => None,
        };
        if let (None, On::Rule(Subject::Face(number))) = (node, on)
            && let Some(id) = self.laid_out(number, name)
        {
            return Ok(id);
        }
        match node {
            Some(node) => self.walk(On::Plan, node),
            None => {
                let id = self.given(Origin::Counted, Value::Quantity(value), None);
                Ok(self.name(id, format!("{kind} {}", names::words(name))))
            }
        }
    }

    /// What was laid out on a face, by its name for rules: `layouts[1].pieces`. It is counted piece
    /// by piece, so it is a leaf, and its note says what was laid.
    fn laid_out(&mut self, face: usize, name: &str) -> Option<Id> {
        let (number, figure) = name.strip_prefix("layouts[")?.split_once("].")?;
        let number = number.parse::<usize>().ok()?.checked_sub(1)?;
        let takeoff = &self.estimate.takeoff;
        let layout = takeoff.layouts.get(face)?.get(number)?;
        let (value, words) = match figure {
            "pieces" => (layout.pieces, "laid out"),
            "by_area" => (layout.by_area, "by area"),
            _ => return None,
        };
        let measured = takeoff.measured.faces.get(face)?;
        let place = self.job.faces.get(measured.face).map(|face| face.span);
        let id = self.given(Origin::Counted, Value::Quantity(value), place);
        self.name(id, format!("{} {words}", layout.sheet.item));
        self.note(id, &*layout.note);
        Some(id)
    }

    /// A tape with its values for a subject. A rule that ran for another face of the class is
    /// replayed, which gives the same bits as a run.
    pub(super) fn view(&mut self, on: On) -> Result<Rc<View<'a>>, Fault> {
        if let Some(view) = self.view.as_ref().filter(|view| view.on == on) {
            return Ok(Rc::clone(view));
        }
        let subject = match on {
            On::Plan => return Ok(Rc::clone(&self.plan)),
            On::Charges => return self.view_of_charges(),
            On::Rule(subject) => subject,
        };
        let number = self.run_of(subject).ok_or(Fault::NoValue)?;
        let run = self
            .estimate
            .takeoff
            .runs
            .get(number)
            .ok_or(Fault::NoValue)?;
        let inputs = self.inputs(subject).ok_or(Fault::NoValue)?;
        let replay = run.tape.replay(&inputs).map_err(|_| Fault::NoValue)?;
        let sources = self.sources;
        let names = self
            .rule_names
            .entry(number)
            .or_insert_with(|| Rc::new(names::of_rule(run, sources)));
        let view = Rc::new(View {
            on,
            tape: &run.tape,
            replay: Some(replay),
            names: Rc::clone(names),
            origin: Origin::Script,
        });
        self.view = Some(Rc::clone(&view));
        Ok(view)
    }

    /// The tape of the rule for the price, which ran for this bid alone.
    fn view_of_charges(&mut self) -> Result<Rc<View<'a>>, Fault> {
        let run = self.estimate.charging.as_ref().ok_or(Fault::NoValue)?;
        let view = Rc::new(View {
            on: On::Charges,
            tape: &run.tape,
            replay: None,
            names: Rc::new(names::of_rule(run, self.sources)),
            origin: Origin::Script,
        });
        self.view = Some(Rc::clone(&view));
        Ok(view)
    }

    /// The tape and the node behind a figure that a rule was given with a question.
    fn asked_origin(&self, number: usize, name: &str) -> Option<(On, NodeId)> {
        let takeoff = &self.estimate.takeoff;
        let all = &takeoff.days.as_ref()?.asked;
        let origins = &all.get(number)?.origins;
        let (_, source) = origins.iter().find(|(known, _)| *known == name)?;
        match source {
            Source::Plan(node) => Some((On::Plan, *node)),
            Source::Answer(other, answer) => {
                let run = takeoff.runs.get(all.get(*other)?.run)?;
                let node = run.given(answer)?.value;
                Some((On::Rule(Subject::Asked(*other)), node))
            }
        }
    }

    /// The number of the run that answered for a subject.
    pub(super) fn run_of(&self, subject: Subject) -> Option<usize> {
        match subject {
            Subject::Asked(number) => {
                let days = self.estimate.takeoff.days.as_ref()?;
                Some(days.asked.get(number)?.run)
            }
            _ => Some(self.taken(subject)?.run),
        }
    }

    /// What a subject takes.
    pub(super) fn taken(&self, subject: Subject) -> Option<&'a Taken> {
        let takeoff = &self.estimate.takeoff;
        match subject {
            Subject::Asked(number) => {
                let mut days = takeoff.days.iter().flat_map(|plan| &plan.days);
                let day = days.position(|day| day.asked == Some(number))?;
                takeoff.daily.get(day)
            }
            Subject::Face(number) => takeoff.faces.get(number),
            Subject::Edge(number) => takeoff.edges.get(number),
            Subject::Whole => takeoff.whole.as_ref(),
        }
    }

    /// What the rule was given for a subject.
    fn inputs(&self, subject: Subject) -> Option<Vec<Quantity>> {
        let takeoff = &self.estimate.takeoff;
        let subject = match subject {
            Subject::Asked(number) => {
                let days = takeoff.days.as_ref()?;
                return Some(days.asked.get(number)?.subject.inputs());
            }
            Subject::Face(number) => {
                let measured = takeoff.measured.faces.get(number)?;
                let face = self.job.faces.get(measured.face)?;
                face_subject(
                    self.job,
                    face,
                    self.job.finishes.get(face.finish)?,
                    measured,
                    takeoff.layouts.get(number)?,
                )
            }
            Subject::Edge(number) => edge_subject(self.job, self.job.edges.get(number)?),
            Subject::Whole => {
                let on_the_wall = [&takeoff.faces[..], &takeoff.edges];
                job_subject(&takeoff.measured, &takeoff.passed.totals, on_the_wall).ok()?
            }
        };
        Some(subject.inputs())
    }
}

fn operands(op: Op) -> [Option<NodeId>; 2] {
    match op {
        Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => [None, None],
        Op::Apply(_, a) => [Some(a), None],
        // The left one is entered first, so that terms stand in the order they are written.
        Op::Combine(_, a, b) => [Some(b), Some(a)],
    }
}
