//! Putting an explanation together.

use super::figures::{Fault, Figure};
use super::tapes::{On, Subject, View};
use super::{Class, Explanation, Id, Node, Origin, Step, Value, compute};
use crate::job::Job;
use crate::price::Estimate;
use parge_base::prices::PriceBook;
use parge_base::{Dim, NodeId, Operator, Quantity, Sources, Span, Unit, Units};
use std::collections::HashMap;
use std::rc::Rc;

/// Temperatures below this are differences: a plan states none below -40 °F, which is 233 K.
const STEP: f64 = 150.0;

pub(super) type Outcome = Result<Id, Fault>;

/// The steps so far, and what has been entered already: a step stands once, however often it is
/// used.
pub(super) struct Builder<'a> {
    pub(super) estimate: &'a Estimate,
    pub(super) job: &'a Job,
    pub(super) book: &'a PriceBook,
    pub(super) sources: &'a Sources,
    pub(super) nodes: Vec<Node>,
    pub(super) classes: Vec<Class>,
    /// The unit that figures of its kind are shown in for now: gallons of water are no feet.
    pub(super) unit: Option<Unit>,
    pub(super) entered: HashMap<(On, NodeId), Id>,
    pub(super) factors: HashMap<Span, Id>,
    pub(super) counts: HashMap<Subject, Id>,
    pub(super) contributions: HashMap<(Subject, usize, &'static str), Id>,
    pub(super) named: HashMap<&'static str, Id>,
    pub(super) view: Option<Rc<View<'a>>>,
    pub(super) plan: Rc<View<'a>>,
    pub(super) rule_names: HashMap<usize, Rc<HashMap<NodeId, String>>>,
    pub(super) class_numbers: HashMap<(usize, usize, &'static str), usize>,
}

impl<'a> Builder<'a> {
    pub(super) fn new(estimate: &'a Estimate, book: &'a PriceBook, sources: &'a Sources) -> Self {
        let job = &estimate.takeoff.measured.job;
        Self {
            estimate,
            job,
            book,
            sources,
            nodes: Vec::new(),
            classes: Vec::new(),
            unit: None,
            entered: HashMap::new(),
            factors: HashMap::new(),
            counts: HashMap::new(),
            contributions: HashMap::new(),
            named: HashMap::new(),
            view: None,
            plan: Rc::new(View::of_plan(&estimate.takeoff.measured)),
            rule_names: HashMap::new(),
            class_numbers: HashMap::new(),
        }
    }

    /// Enters a figure and all that it rests on.
    pub(super) fn figure(&mut self, figure: &Figure) -> Result<(), Fault> {
        let root = match figure {
            Figure::Price(step) => self.price_step(*step)?,
            Figure::Material(number, part) => self.material(*number, *part)?,
            Figure::Hours(number) => self.hours(*number)?,
            Figure::LabourCost(number) => self.labour_cost(*number)?,
            Figure::Name(node) | Figure::Measure(node) => self.walk(On::Plan, *node)?,
            Figure::FaceNeed(face, item) => self.face_need(*face, item)?,
            Figure::FaceHours(face, phase) => self.face_hours(*face, phase)?,
            Figure::Batch(card) => self.batch(*card)?,
        };
        // Nothing stands on the root, so what was entered after it is not part of it.
        self.nodes.truncate(root + 1);
        Ok(())
    }

    pub(super) fn finish(self, figure: String) -> Explanation {
        Explanation {
            figure,
            nodes: self.nodes,
            classes: self.classes,
        }
    }

    pub(super) fn push(&mut self, node: Node) -> Id {
        self.nodes.push(node);
        self.nodes.len() - 1
    }

    /// A leaf.
    pub(super) fn given(&mut self, origin: Origin, value: Value, place: Option<Span>) -> Id {
        let unit = self.unit_of(value);
        self.push(Node {
            unit,
            place,
            ..Node::bare(Step::Given(origin), value)
        })
    }

    /// A step on others, with the value that they give.
    pub(super) fn step(&mut self, step: Step, place: Option<Span>) -> Outcome {
        let values = |id: Id| self.nodes.get(id).map(|node| node.value);
        let value = compute(&step, &values).ok_or(Fault::NoValue)?;
        let unit = self.unit_of(value).or_else(|| self.percent(&step));
        Ok(self.push(Node {
            unit,
            place,
            ..Node::bare(step, value)
        }))
    }

    pub(super) fn combine(&mut self, operator: Operator, a: Id, b: Id) -> Outcome {
        self.step(Step::Combine(operator, a, b), None)
    }

    pub(super) fn name(&mut self, id: Id, name: impl Into<String>) -> Id {
        if let Some(node) = self.nodes.get_mut(id) {
            node.name = Some(name.into());
        }
        id
    }

    pub(super) fn note(&mut self, id: Id, note: impl Into<String>) {
        if let Some(node) = self.nodes.get_mut(id) {
            node.note = Some(note.into());
        }
    }

    pub(super) fn set_unit(&mut self, id: Id, unit: &Unit) {
        if let Some(node) = self.nodes.get_mut(id) {
            node.unit = Some(unit.clone());
        }
    }

    pub(super) fn set_place(&mut self, id: Id, place: Option<Span>) {
        if let Some(node) = self.nodes.get_mut(id) {
            node.place = place;
        }
    }

    /// Shares of a hundred added up are one, too.
    fn percent(&self, step: &Step) -> Option<Unit> {
        let Step::Combine(Operator::Add | Operator::Subtract, a, b) = step else {
            return None;
        };
        let unit = |id: &Id| self.nodes.get(*id).and_then(|node| node.unit.as_ref());
        let (a, b) = (unit(a)?, unit(b)?);
        (a.text() == "%" && b.text() == "%").then(|| a.clone())
    }

    fn unit_of(&self, value: Value) -> Option<Unit> {
        match value {
            // So cold is no thermometer reading: it is a step or a difference.
            Value::Quantity(Quantity { dim, value }) if dim == Dim::TEMPERATURE && value < STEP => {
                Units::standard().parse("K").ok()
            }
            Value::Quantity(Quantity { dim, .. }) if !dim.is_none() => {
                self.unit.clone().filter(|unit| unit.dim() == dim)
            }
            _ => None,
        }
    }
}

impl Node {
    /// A step that has nothing but its value yet.
    pub(super) fn bare(step: Step, value: Value) -> Self {
        Self {
            step,
            value,
            name: None,
            unit: None,
            place: None,
            source: None,
            note: None,
            class: None,
        }
    }
}

impl Step {
    /// The steps that this one rests on, in the order of its operands.
    pub fn operands(&self) -> Vec<Id> {
        match self {
            Self::Given(_) => Vec::new(),
            Self::Same(a)
            | Self::Apply(_, a)
            | Self::Seen(a)
            | Self::Amount { of: a, .. }
            | Self::Hours(a) => vec![*a],
            Self::Combine(_, a, b)
            | Self::Cost {
                price: a,
                number: b,
            }
            | Self::Share { of: a, rate: b }
            | Self::UpTo { of: a, least: b }
            | Self::Margin { of: a, rate: b } => vec![*a, *b],
            Self::Sum { of, .. } => of.clone(),
            Self::Rounded {
                of,
                multiple,
                least,
                ..
            } => [*of, *multiple].into_iter().chain(*least).collect(),
            Self::MeanWage { of } => of.as_flattened().to_vec(),
        }
    }
}
