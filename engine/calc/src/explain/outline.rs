//! The reading form of an explanation: chains joined into formulas, equal contributions
//! together, each entry once.

mod formula;

use super::{Explanation, Id, Node, Origin, Step, Value, plus};
use formula::Drawing;
use parge_base::{FactorSource, Operator, Span, Unit};
use std::cmp::Ordering;
use std::collections::HashMap;

/// A piece of a formula.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// A sign or words.
    Text(&'static str),
    /// A plain number that the script or the geometry writes.
    Number(f64),
    /// An entry by its number.
    Term(usize),
}

/// What is read in one line, with what stands beneath it.
#[derive(Debug, Clone)]
pub struct Entry {
    /// What it is called; empty for a quantity that is nothing but its value.
    pub name: String,
    /// How it is reckoned; empty for a leaf.
    pub formula: Vec<Piece>,
    /// Its value.
    pub value: Value,
    /// The unit it is written or shown in, where that is not the usual one of its kind.
    pub unit: Option<Unit>,
    /// Where it stands.
    pub place: Option<Span>,
    /// Who says so.
    pub source: Option<FactorSource>,
    /// What is to be said of it.
    pub note: Option<String>,
    /// Where it comes from, for a leaf.
    pub origin: Option<Origin>,
    /// Whether its value is a number of hours, as they are printed and paid.
    pub hours: bool,
    /// The entries beneath it, by their numbers.
    pub terms: Vec<usize>,
    /// Whether it is reckoned in the same way as the entry before it, from other sizes.
    pub alike: bool,
    /// Whether the entries beneath are contributions, the largest first.
    pub contributions: bool,
}

/// An explanation as it is read. The entries form no loop, and one can stand beneath several
/// others.
#[derive(Debug, Clone)]
pub struct Outline {
    /// The figure, as it can be asked for.
    pub figure: String,
    /// The entries; the first is the figure.
    pub entries: Vec<Entry>,
}

impl Outline {
    /// The reading form of an explanation.
    pub fn of(explanation: &Explanation) -> Self {
        let mut drawing = Drawing::new(&explanation.nodes);
        let mut writing = Writing {
            explanation,
            entries: Vec::new(),
            numbers: HashMap::new(),
            words: Vec::new(),
        };
        if let Some(root) = explanation.nodes.len().checked_sub(1) {
            writing.number(root);
        }
        // An entry asks for others that stand before it among the steps, so one way down
        // reaches all of them.
        for id in (0..explanation.nodes.len()).rev() {
            if let Some(number) = writing.numbers.get(&id).copied() {
                writing.write(number, id, &mut drawing);
            }
        }
        writing.name_the_rest();
        Self {
            figure: explanation.figure.clone(),
            entries: writing.entries,
        }
    }

    /// The sum of some entries, for those that are not shown one by one.
    pub fn together(&self, entries: &[usize]) -> Option<Value> {
        sum(entries
            .iter()
            .map(|number| self.entries.get(*number).map(|entry| entry.value)))
    }
}

fn sum(values: impl Iterator<Item = Option<Value>>) -> Option<Value> {
    let mut sum = None;
    for value in values {
        sum = Some(match sum {
            None => value?,
            Some(sum) => plus(sum, value?)?,
        });
    }
    sum
}

/// Contributions larger first.
fn larger_first(a: Value, b: Value) -> Ordering {
    match (a, b) {
        (Value::Quantity(a), Value::Quantity(b)) => b.value.total_cmp(&a.value),
        (Value::Money(a), Value::Money(b)) => b.amount().cmp(&a.amount()),
        (Value::Rate(a), Value::Rate(b)) => b.cmp(&a),
        _ => Ordering::Equal,
    }
}

/// An entry with all but its formula.
fn blank(node: &Node) -> Entry {
    Entry {
        name: node.name.clone().unwrap_or_default(),
        formula: Vec::new(),
        value: node.value,
        unit: node.unit.clone(),
        place: node.place,
        source: node.source.clone(),
        note: node.note.clone(),
        origin: match node.step {
            Step::Given(origin) => Some(origin),
            _ => None,
        },
        hours: matches!(node.step, Step::Hours(_)),
        terms: Vec::new(),
        alike: false,
        contributions: false,
    }
}

/// The word for a step that has no name.
fn word(node: &Node) -> Option<&'static str> {
    if node.name.is_some() {
        return None;
    }
    Some(match node.step {
        Step::Given(_) => return None,
        Step::Combine(Operator::Add, ..) | Step::Sum { .. } => "sum",
        Step::Combine(Operator::Subtract, ..) => "difference",
        Step::Combine(Operator::Multiply, ..) => "product",
        Step::Combine(Operator::Divide, ..) => "quotient",
        Step::Combine(Operator::Min, ..) => "smallest",
        Step::Combine(Operator::Max, ..) => "largest",
        _ => "figure",
    })
}

struct Writing<'e> {
    explanation: &'e Explanation,
    entries: Vec<Entry>,
    /// The entries of steps.
    numbers: HashMap<Id, usize>,
    /// The words for what has no name, by entry.
    words: Vec<Option<&'static str>>,
}

impl Writing<'_> {
    /// The entry of a step.
    fn number(&mut self, id: Id) -> usize {
        if let Some(known) = self.numbers.get(&id) {
            return *known;
        }
        let number = self.entries.len();
        self.numbers.insert(id, number);
        if let Some(node) = self.explanation.nodes.get(id) {
            self.entries.push(blank(node));
            self.words.push(word(node));
        }
        number
    }

    /// Gives what has no name a word and a number, in the order in which it is read, so that a
    /// formula can speak of it.
    fn name_the_rest(&mut self) {
        let mut counts: HashMap<&str, usize> = HashMap::new();
        let mut seen = vec![false; self.entries.len()];
        let mut stack = vec![0];
        while let Some(number) = stack.pop() {
            let Some(seen) = seen.get_mut(number).filter(|seen| !**seen) else {
                continue;
            };
            *seen = true;
            let word = self.words.get(number).copied().flatten();
            let Some(entry) = self.entries.get_mut(number) else {
                continue;
            };
            if let Some(word) = word {
                let count = counts.entry(word).or_insert(0);
                *count += 1;
                entry.name = format!("{word} {count}");
            }
            stack.extend(entry.terms.iter().rev());
        }
    }

    /// Writes the formula of a step and finds what stands beneath it.
    fn write(&mut self, number: usize, id: Id, drawing: &mut Drawing<'_>) {
        let Some(node) = self.explanation.nodes.get(id) else {
            return;
        };
        match &node.step {
            Step::Given(_) => {}
            Step::Sum { of, .. } => self.write_sum(number, of, "the sum of these"),
            Step::Hours(time) => {
                let explanation = self.explanation;
                match explanation.nodes.get(*time).map(|node| &node.step) {
                    Some(Step::Sum { of, .. }) if drawing.uses(*time) == 1 => {
                        self.write_sum(number, of, "the sum of these, to the hundredth");
                    }
                    _ => self.write_formula(number, id, drawing),
                }
            }
            _ => self.write_formula(number, id, drawing),
        }
    }

    fn write_formula(&mut self, number: usize, id: Id, drawing: &mut Drawing<'_>) {
        let pieces = drawing.formula(id, &mut |id| Piece::Term(self.number(id)));
        let mut terms = Vec::new();
        for term in drawing.take_terms() {
            let term = self.number(term);
            if !terms.contains(&term) {
                terms.push(term);
            }
        }
        if let Some(entry) = self.entries.get_mut(number) {
            // What is nothing but another figure has it beneath, and needs no formula.
            if !matches!(pieces.as_slice(), [Piece::Term(_)]) {
                entry.formula = pieces;
            }
            entry.terms = terms;
        }
    }

    fn write_sum(&mut self, number: usize, of: &[Id], words: &'static str) {
        let classed = |id: &Id| {
            let node = self.explanation.nodes.get(*id);
            node.is_some_and(|node| node.class.is_some())
        };
        let contributions = !of.is_empty() && of.iter().all(classed);
        let (mut terms, formula) = if contributions {
            (self.classes(of), vec![Piece::Text(words)])
        } else {
            let terms: Vec<usize> = of.iter().map(|id| self.number(*id)).collect();
            let formula = formula::added(&terms, words);
            (terms, formula)
        };
        let money = matches!(
            self.entries.get(number).map(|entry| entry.value),
            Some(Value::Money(_))
        );
        let many = terms.len() > formula::MANY && !money;
        if many && !contributions {
            self.sort(&mut terms);
        }
        if let Some(entry) = self.entries.get_mut(number) {
            if terms.len() != 1 {
                entry.formula = formula;
            }
            entry.terms = terms;
            entry.contributions = contributions || many;
        }
    }

    /// The largest first.
    fn sort(&self, entries: &mut [usize]) {
        let value = |number: &usize| self.entries.get(*number).map(|entry| entry.value);
        entries.sort_by(|a, b| match (value(a), value(b)) {
            (Some(a), Some(b)) => larger_first(a, b),
            _ => Ordering::Equal,
        });
    }

    /// The contributions class by class, the largest first.
    fn classes(&mut self, of: &[Id]) -> Vec<usize> {
        let mut order: Vec<usize> = Vec::new();
        let mut members: HashMap<usize, Vec<Id>> = HashMap::new();
        for id in of {
            let node = self.explanation.nodes.get(*id);
            let Some(class) = node.and_then(|node| node.class) else {
                continue;
            };
            let list = members.entry(class).or_default();
            if list.is_empty() {
                order.push(class);
            }
            list.push(*id);
        }
        let mut entries = Vec::new();
        for class in order {
            entries.extend(members.remove(&class).and_then(|of| self.class(class, of)));
        }
        self.sort(&mut entries);
        entries
    }

    /// The entry of a class: its only member, or all of them together.
    fn class(&mut self, class: usize, of: Vec<Id>) -> Option<usize> {
        if let [only] = of.as_slice() {
            return Some(self.number(*only));
        }
        let explanation = self.explanation;
        let value = |id: &Id| explanation.nodes.get(*id).map(|node| node.value);
        let together = sum(of.iter().map(value))?;
        let mut terms: Vec<usize> = of.iter().map(|id| self.number(*id)).collect();
        self.sort(&mut terms);
        for alike in terms.iter().skip(1) {
            if let Some(entry) = self.entries.get_mut(*alike) {
                entry.alike = true;
            }
        }
        let first = self.entries.get(*terms.first()?)?;
        let class = explanation.classes.get(class)?;
        let entry = Entry {
            name: format!("{}, {} reckoned alike", class.title, terms.len()),
            formula: Vec::new(),
            value: together,
            unit: first.unit.clone(),
            place: class.place,
            source: None,
            note: None,
            origin: None,
            hours: false,
            terms,
            alike: false,
            contributions: true,
        };
        self.entries.push(entry);
        self.words.push(None);
        Some(self.entries.len() - 1)
    }
}
