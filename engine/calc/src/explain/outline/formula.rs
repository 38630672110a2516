//! Formulas as they are read: infix, with no more brackets than are needed.

use super::Piece;
use crate::explain::{Id, Node, Origin, Step, Value};
use parge_base::{Function, Operator};

/// The most figures that one formula speaks of; what is longer is divided.
const LONGEST: usize = 12;
/// The most figures that an operand of a divided formula may speak of.
const LONGEST_OPERAND: usize = 6;
/// The most terms of a chain of plus and minus.
const LONGEST_CHAIN: usize = 24;

const PLUS: &str = " + ";
const MINUS: &str = " − ";

/// The most terms that a sum writes with plus signs.
pub(super) const MANY: usize = 8;

/// How tightly a sign binds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Binding {
    Loose,
    Sum,
    Product,
    Factor,
    Power,
}

/// Which steps stand in the formula of another, and which stand beneath it.
pub(super) struct Drawing<'e> {
    nodes: &'e [Node],
    uses: Vec<usize>,
    sizes: Vec<usize>,
    terms: Vec<Id>,
}

type Naming<'n> = &'n mut dyn FnMut(Id) -> Piece;

impl<'e> Drawing<'e> {
    pub(super) fn new(nodes: &'e [Node]) -> Self {
        let mut drawing = Self {
            nodes,
            uses: vec![0; nodes.len()],
            sizes: Vec::with_capacity(nodes.len()),
            terms: Vec::new(),
        };
        drawing.count_uses();
        for node in nodes {
            let on = node.step.operands();
            let of: usize = on.iter().map(|id| drawing.size_in(*id)).sum();
            // Every step counts, so that no formula is nested without end.
            let own = usize::from(on.len() < 2);
            drawing.sizes.push(of.saturating_add(own).max(1));
        }
        drawing
    }

    /// Uses by steps that the figure rests on; the square of a figure uses it once.
    fn count_uses(&mut self) {
        let mut reached = vec![false; self.nodes.len()];
        if let Some(root) = reached.last_mut() {
            *root = true;
        }
        for (id, node) in self.nodes.iter().enumerate().rev() {
            if !reached.get(id).is_some_and(|reached| *reached) {
                continue;
            }
            let mut on = node.step.operands();
            on.dedup();
            for id in on {
                if let (Some(reached), Some(uses)) = (reached.get_mut(id), self.uses.get_mut(id)) {
                    *reached = true;
                    *uses += 1;
                }
            }
        }
    }

    pub(super) fn uses(&self, id: Id) -> usize {
        self.uses.get(id).copied().unwrap_or(0)
    }

    fn size_in(&self, id: Id) -> usize {
        match self.nodes.get(id) {
            Some(node) if self.is_free(id, node) => self.sizes.get(id).copied().unwrap_or(1),
            _ => 1,
        }
    }

    /// Whether a step may stand in the formula of the one step that uses it.
    fn is_free(&self, id: Id, node: &Node) -> bool {
        let operation = matches!(node.step, Step::Apply(..) | Step::Combine(..));
        let once = self.uses(id) == 1 || self.is_small(node);
        operation && node.name.is_none() && node.class.is_none() && once
    }

    /// Half of what is written: shorter to read twice than to look up.
    fn is_small(&self, node: &Node) -> bool {
        let Step::Combine(_, a, b) = node.step else {
            return false;
        };
        let given = |id: Id| {
            let node = self.nodes.get(id);
            node.is_some_and(|node| matches!(node.step, Step::Given(_)))
        };
        let number = |id: Id| self.nodes.get(id).and_then(plain_number).is_some();
        given(a) && number(b) || number(a) && given(b)
    }

    /// What the formula written last speaks of.
    pub(super) fn take_terms(&mut self) -> Vec<Id> {
        std::mem::take(&mut self.terms)
    }

    /// The formula of a step; `name` makes the piece for a figure that stands beneath it.
    pub(super) fn formula(&mut self, id: Id, name: Naming<'_>) -> Vec<Piece> {
        let mut out = Vec::new();
        let id = self.behind(id);
        let long = self.sizes.get(id).is_some_and(|size| *size > LONGEST);
        if long && let Some((words, of)) = self.chain(id) {
            out.push(Piece::Text(words));
            self.terms.extend(of);
            return out;
        }
        if long && let Some(of) = self.mixed(id) {
            for (at, (sign, term)) in of.into_iter().enumerate() {
                if at > 0 {
                    out.push(Piece::Text(sign));
                }
                let binding = if sign == MINUS {
                    Binding::Product
                } else {
                    Binding::Sum
                };
                self.operand(term, LONGEST_OPERAND, binding, name, &mut out);
            }
            return out;
        }
        let limit = if long { LONGEST_OPERAND } else { LONGEST };
        self.step(id, limit, Binding::Loose, name, &mut out);
        out
    }

    /// What a contribution stands for: the formula of the rule's line, not its name alone.
    fn behind(&self, id: Id) -> Id {
        match self.nodes.get(id).map(|node| &node.step) {
            Some(Step::Same(of)) if self.uses(*of) == 1 => match self.nodes.get(*of) {
                Some(node) if matches!(node.step, Step::Apply(..) | Step::Combine(..)) => *of,
                _ => id,
            },
            _ => id,
        }
    }

    /// A long chain of one sign, as what it is in words and its terms.
    fn chain(&self, id: Id) -> Option<(&'static str, Vec<Id>)> {
        let sign = |id: Id| match self.nodes.get(id).map(|node| &node.step) {
            Some(Step::Combine(operator, a, b)) => Some((*operator, *a, *b)),
            _ => None,
        };
        let (operator, mut left, right) = sign(id)?;
        let words = match operator {
            Operator::Add => "the sum of these",
            Operator::Multiply => "the product of these",
            Operator::Max => "the largest of these",
            Operator::Min => "the smallest of these",
            Operator::Subtract | Operator::Divide | Operator::Power => return None,
        };
        let mut of = vec![right];
        while let Some((inner, a, b)) = sign(left)
            && inner == operator
            && self
                .nodes
                .get(left)
                .is_some_and(|node| self.is_free(left, node))
        {
            of.push(b);
            left = a;
        }
        of.push(left);
        of.reverse();
        (of.len() > LONGEST).then_some((words, of))
    }

    /// A chain of plus and minus with its terms and their signs, where one can still read it.
    fn mixed(&self, id: Id) -> Option<Vec<(&'static str, Id)>> {
        let mut of = Vec::new();
        let mut left = id;
        loop {
            let node = self.nodes.get(left)?;
            let inside = of.is_empty() || self.is_free(left, node);
            match node.step {
                Step::Combine(Operator::Add, a, b) if inside => {
                    of.push((PLUS, b));
                    left = a;
                }
                Step::Combine(Operator::Subtract, a, b) if inside => {
                    of.push((MINUS, b));
                    left = a;
                }
                _ => break,
            }
            if of.len() > LONGEST_CHAIN {
                return None;
            }
        }
        of.push((PLUS, left));
        of.reverse();
        (of.len() > 2).then_some(of)
    }

    fn operand(
        &mut self,
        id: Id,
        limit: usize,
        binding: Binding,
        name: Naming<'_>,
        out: &mut Vec<Piece>,
    ) {
        let Some(node) = self.nodes.get(id) else {
            return;
        };
        // An amount as a rule sees it is read as the amount that it is.
        if let (Step::Seen(amount), None) = (&node.step, &node.name) {
            self.terms.push(*amount);
            out.push(name(*amount));
            return;
        }
        if let Some(number) = plain_number(node) {
            out.push(Piece::Number(number));
        } else if self.is_free(id, node) && self.sizes.get(id).is_some_and(|size| *size <= limit) {
            self.step(id, limit, binding, name, out);
        } else {
            self.terms.push(id);
            out.push(name(id));
        }
    }

    fn step(
        &mut self,
        id: Id,
        limit: usize,
        binding: Binding,
        name: Naming<'_>,
        out: &mut Vec<Piece>,
    ) {
        let Some(node) = self.nodes.get(id) else {
            return;
        };
        match &node.step {
            Step::Apply(function, a) => {
                let (before, after) = around(*function);
                out.push(Piece::Text(before));
                let binding = match function {
                    Function::Negate => Binding::Factor,
                    _ => Binding::Loose,
                };
                self.operand(*a, limit, binding, name, out);
                out.push(Piece::Text(after));
            }
            Step::Combine(operator, a, b) => {
                self.combine(*operator, [*a, *b], limit, binding, name, out);
            }
            Step::Same(a) | Step::Seen(a) | Step::Amount { of: a, .. } => {
                self.operand(*a, limit, Binding::Loose, name, out)
            }
            Step::Hours(a) => {
                self.operand(*a, limit, Binding::Sum, name, out);
                out.push(Piece::Text(" in hours, to the hundredth"));
            }
            Step::Cost { price, number } => {
                self.infix([*number, *price], " × ", limit, name, out);
            }
            Step::MeanWage { of } => {
                for (number, [people, wage]) in of.iter().enumerate() {
                    out.push(Piece::Text(if number == 0 { "(" } else { PLUS }));
                    self.infix([*people, *wage], " × ", limit, name, out);
                }
                for (number, [people, _]) in of.iter().enumerate() {
                    out.push(Piece::Text(if number == 0 { ") / (" } else { PLUS }));
                    self.operand(*people, limit, Binding::Sum, name, out);
                }
                out.push(Piece::Text(")"));
            }
            Step::Share { of, rate } => self.infix([*of, *rate], " × ", limit, name, out),
            Step::UpTo { of, least } => {
                out.push(Piece::Text("what "));
                self.operand(*of, limit, Binding::Loose, name, out);
                out.push(Piece::Text(" lacks of "));
                self.operand(*least, limit, Binding::Loose, name, out);
            }
            Step::Rounded {
                of, multiple, up, ..
            } => {
                let to = if *up { " up to " } else { " to " };
                out.push(Piece::Text("what rounds "));
                self.operand(*of, limit, Binding::Loose, name, out);
                out.push(Piece::Text(to));
                self.operand(*multiple, limit, Binding::Loose, name, out);
            }
            Step::Margin { of, rate } => {
                self.infix([*of, *rate], " × ", limit, name, out);
                out.push(Piece::Text(" / (1 − "));
                out.push(name(*rate));
                out.push(Piece::Text(")"));
            }
            Step::Given(_) | Step::Sum { .. } => {}
        }
    }

    fn infix(
        &mut self,
        [a, b]: [Id; 2],
        sign: &'static str,
        limit: usize,
        name: Naming<'_>,
        out: &mut Vec<Piece>,
    ) {
        self.operand(a, limit, Binding::Product, name, out);
        out.push(Piece::Text(sign));
        self.operand(b, limit, Binding::Product, name, out);
    }

    fn combine(
        &mut self,
        operator: Operator,
        [a, b]: [Id; 2],
        limit: usize,
        around: Binding,
        name: Naming<'_>,
        out: &mut Vec<Piece>,
    ) {
        let (sign, own, left, right) = match operator {
            Operator::Add => (PLUS, Binding::Sum, Binding::Sum, Binding::Sum),
            Operator::Subtract => (MINUS, Binding::Sum, Binding::Sum, Binding::Product),
            Operator::Multiply => (" × ", Binding::Product, Binding::Product, Binding::Product),
            Operator::Divide => (" / ", Binding::Product, Binding::Product, Binding::Factor),
            Operator::Power => (" ^ ", Binding::Power, Binding::Power, Binding::Power),
            Operator::Min => return self.listed("the smaller of (", [a, b], limit, name, out),
            Operator::Max => return self.listed("the larger of (", [a, b], limit, name, out),
        };
        let square = operator == Operator::Multiply && a == b;
        let bracketed = around > own && !square;
        if bracketed {
            out.push(Piece::Text("("));
        }
        if square {
            // 16 ft² is an area: a length is squared in brackets.
            let bare = self
                .nodes
                .get(a)
                .is_some_and(|node| matches!(node.step, Step::Given(_)) && node.name.is_none());
            out.extend(bare.then_some(Piece::Text("(")));
            self.operand(a, limit, Binding::Power, name, out);
            out.push(Piece::Text(if bare { ")²" } else { "²" }));
        } else {
            self.operand(a, limit, left, name, out);
            out.push(Piece::Text(sign));
            self.operand(b, limit, right, name, out);
        }
        if bracketed {
            out.push(Piece::Text(")"));
        }
    }

    fn listed(
        &mut self,
        words: &'static str,
        [a, b]: [Id; 2],
        limit: usize,
        name: Naming<'_>,
        out: &mut Vec<Piece>,
    ) {
        out.push(Piece::Text(words));
        self.operand(a, limit, Binding::Loose, name, out);
        out.push(Piece::Text(", "));
        self.operand(b, limit, Binding::Loose, name, out);
        out.push(Piece::Text(")"));
    }
}

/// What is written around the operand of a function.
fn around(function: Function) -> (&'static str, &'static str) {
    match function {
        Function::Negate => ("−", ""),
        Function::Abs => ("|", "|"),
        Function::Root => ("√(", ")"),
        Function::ArcSine => ("arcsin(", ")"),
        Function::Exp => ("exp(", ")"),
        Function::Ln => ("ln(", ")"),
        Function::WholeUp => ("round up (", ")"),
        Function::Round => ("round (", ")"),
    }
}

/// A number that a script or a formula of geometry writes, where it needs no entry of its own.
fn plain_number(node: &Node) -> Option<f64> {
    let Step::Given(Origin::Plan | Origin::Script) = node.step else {
        return None;
    };
    match node.value {
        Value::Quantity(value) if value.dim.is_none() && node.name.is_none() => Some(value.value),
        _ => None,
    }
}

/// The terms with plus signs between them, or in words where they are too many.
pub(super) fn added(terms: &[usize], words: &'static str) -> Vec<Piece> {
    if terms.is_empty() || terms.len() > MANY {
        return vec![Piece::Text(words)];
    }
    let mut pieces = Vec::new();
    for term in terms {
        if !pieces.is_empty() {
            pieces.push(Piece::Text(" + "));
        }
        pieces.push(Piece::Term(*term));
    }
    pieces
}
