//! Evaluates the expressions of a plan on the job's tape, checking dimensions as it goes.
//!
//! A name may be used before it is defined. What has been reported once comes back as `None`
//! and is not reported again by what depends on it.

use crate::job::Figure;
use parge_base::{
    Code, Diagnostic, Dim, Function, NodeId, Operator, Quantity, QuantityError, Span, Tape, suggest,
};
use parge_grammar::ast::{BinaryOp, Expr, ExprKind, Let, Name, Plan, Statement};
use std::collections::{BTreeMap, BTreeSet};

/// The values of a plan while it is resolved.
pub(super) struct Values<'p> {
    pub(super) tape: Tape,
    pub(super) diagnostics: Vec<Diagnostic>,
    plan: &'p Plan,
    lets: BTreeMap<&'p str, (&'p Let, Option<NodeId>)>,
    used: BTreeSet<String>,
}

impl<'p> Values<'p> {
    /// Evaluates all `let` statements, each after those it depends on.
    pub(super) fn new(plan: &'p Plan) -> Self {
        let mut values = Self {
            tape: Tape::new(),
            diagnostics: Vec::new(),
            plan,
            lets: BTreeMap::new(),
            used: BTreeSet::new(),
        };
        let lets = plan
            .statements
            .iter()
            .filter_map(|statement| match statement {
                Statement::Let(item) => Some(item),
                _ => None,
            });
        for item in lets {
            if let Some((first, _)) = values.lets.get(item.name.node.as_str()) {
                let first = first.name.span;
                values.diagnostics.push(twice("name", &item.name, first));
            } else {
                values.lets.insert(&item.name.node, (item, None));
            }
        }
        for name in values.order() {
            if let Some((item, _)) = values.lets.get(name) {
                let node = values.eval(&item.value);
                if let Some(slot) = values.lets.get_mut(name) {
                    slot.1 = node;
                }
            }
        }
        values
    }

    /// The names that have a value.
    pub(super) fn names(&self) -> Vec<(String, Figure)> {
        let named = self.lets.iter().filter_map(|(name, (item, node))| {
            Some((
                (*name).to_owned(),
                Figure {
                    node: (*node)?,
                    span: item.value.span,
                },
            ))
        });
        named.collect()
    }

    /// Whether what is missing about a name was told with a mistake in its statement.
    pub(super) fn told(&self, name: &str) -> bool {
        self.plan.damages(name)
    }

    /// Warns about every `let` that nothing asked for, when all of the plan could be read.
    pub(super) fn warn_unused(&mut self) {
        if !self.plan.damaged.is_empty() {
            return;
        }
        for (name, (item, _)) in &self.lets {
            if !self.used.contains(*name) {
                let message = format!("`{name}` is defined but not used");
                let help = "remove the line, or use the name where its number is written out";
                self.diagnostics
                    .push(Diagnostic::new(Code::UnusedName, message, help).at(item.name.span, ""));
            }
        }
    }

    /// The `let` names in an order in which each follows what it depends on. Names in a circle,
    /// or behind one, are left out after the circle was reported.
    fn order(&mut self) -> Vec<&'p str> {
        let needs: BTreeMap<&'p str, Vec<&'p str>> = self
            .lets
            .iter()
            .map(|(name, (item, _))| {
                let known = names_in(&item.value)
                    .into_iter()
                    .filter_map(|used| self.lets.get_key_value(used));
                (*name, known.map(|(used, _)| *used).collect())
            })
            .collect();
        self.used
            .extend(needs.values().flatten().map(|used| (*used).to_owned()));
        let mut order = Vec::new();
        let mut done: BTreeSet<&str> = BTreeSet::new();
        for start in needs.keys().copied() {
            // Depth first with a stack of our own: a chain of names may be long.
            let mut path: Vec<(&'p str, usize)> = vec![(start, 0)];
            let mut on_path = BTreeSet::from([start]);
            while let Some((name, next)) = path.last_mut() {
                let (name, at) = (*name, *next);
                *next += 1;
                match needs.get(name).and_then(|uses| uses.get(at)).copied() {
                    Some(used) if done.contains(used) => {}
                    Some(used) if !on_path.insert(used) => {
                        self.report_circle(&path, used);
                        done.append(&mut on_path);
                        path.clear();
                    }
                    Some(used) => path.push((used, 0)),
                    None => {
                        if done.insert(name) {
                            order.push(name);
                        }
                        on_path.remove(name);
                        path.pop();
                    }
                }
            }
        }
        order
    }

    fn report_circle(&mut self, path: &[(&'p str, usize)], back_to: &'p str) {
        let circle: Vec<&str> = path
            .iter()
            .map(|(name, _)| *name)
            .skip_while(|name| *name != back_to)
            .collect();
        let shown: Vec<String> = circle
            .iter()
            .chain([&back_to])
            .map(|name| format!("`{name}`"))
            .collect();
        let message = format!(
            "these names are defined in a circle: {}",
            shown.join(" needs ")
        );
        let mut diagnostic = Diagnostic::new(
            Code::Circle,
            message,
            "give one of them a value that needs none of the others",
        );
        for name in circle {
            if let Some((item, _)) = self.lets.get(name) {
                diagnostic = diagnostic.at(item.value.span, "");
            }
        }
        self.diagnostics.push(diagnostic);
    }

    /// Evaluates an expression; `None` after its fault was reported.
    pub(super) fn eval(&mut self, expr: &Expr) -> Option<NodeId> {
        match &expr.node {
            ExprKind::Literal(quantity) => Some(self.tape.literal(*quantity, Some(expr.span))),
            ExprKind::Name(name) => self.name(name, expr.span),
            ExprKind::Negate(inner) => {
                let node = self.eval(inner)?;
                let negative = self.tape.apply(Function::Negate, node, Some(expr.span));
                self.checked(negative, expr.span)
            }
            ExprKind::Call(name, arguments) => self.call(name, arguments, expr.span),
            ExprKind::Binary(..) => self.chain(expr),
        }
    }

    /// A chain of operators is walked down its left side by a loop: sums may be long.
    fn chain(&mut self, expr: &Expr) -> Option<NodeId> {
        let mut steps = Vec::new();
        let mut at = expr;
        while let ExprKind::Binary(op, left, right) = &at.node {
            steps.push((*op, left.span, right, at.span));
            at = left;
        }
        let mut total = self.eval(at);
        for (op, left_span, right, span) in steps.into_iter().rev() {
            let right_node = self.eval(right);
            total = match (total, right_node) {
                (Some(left), Some(node)) => {
                    self.combine(op, (left, left_span), (node, right.span), span)
                }
                _ => None,
            };
        }
        total
    }

    fn combine(
        &mut self,
        op: BinaryOp,
        (left, left_span): (NodeId, Span),
        (right, right_span): (NodeId, Span),
        span: Span,
    ) -> Option<NodeId> {
        let operator = match op {
            BinaryOp::Add => Operator::Add,
            BinaryOp::Subtract => Operator::Subtract,
            BinaryOp::Multiply => Operator::Multiply,
            BinaryOp::Divide => Operator::Divide,
            BinaryOp::Power => Operator::Power,
        };
        let error = match self.tape.combine(operator, left, right, Some(span)) {
            Ok(node) => return Some(node),
            Err(error) => error,
        };
        let (left_dim, right_dim) = (self.tape.value(left).dim, self.tape.value(right).dim);
        let diagnostic = match error {
            QuantityError::Mismatch { .. } if left_dim.is_none() || right_dim.is_none() => {
                Diagnostic::new(
                    Code::MissingUnit,
                    error.to_string(),
                    "give both a unit: `2ft + 6in`",
                )
            }
            QuantityError::Mismatch { .. } => {
                let help = "only like adds to like: lengths to lengths, areas to areas";
                Diagnostic::new(Code::WrongKind, error.to_string(), help)
            }
            _ => return self.checked(Err(error), span),
        };
        let diagnostic = diagnostic
            .at(left_span, left_dim.words())
            .at(right_span, right_dim.words());
        self.diagnostics.push(diagnostic);
        None
    }

    fn name(&mut self, name: &str, span: Span) -> Option<NodeId> {
        if let Some((_, node)) = self.lets.get(name) {
            self.used.insert(name.to_owned());
            return *node;
        }
        if self.plan.damages(name) {
            return None;
        }
        let message = format!("`{name}` is not defined");
        let near = suggest::nearest(name, self.lets.keys().copied());
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("define it with a line such as `let {name} = 2ft 8in`"),
        };
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownName, message, help).at(span, ""));
        None
    }

    fn call(&mut self, name: &Name, arguments: &[Expr], span: Span) -> Option<NodeId> {
        const KNOWN: [&str; 5] = ["min", "max", "sum", "round", "sqrt"];
        let nodes: Vec<Option<NodeId>> = arguments
            .iter()
            .map(|argument| self.eval(argument))
            .collect();
        let fold = match name.node.as_str() {
            "min" => Some(Operator::Min),
            "max" => Some(Operator::Max),
            "sum" => Some(Operator::Add),
            "round" | "sqrt" => None,
            _ => {
                let message = format!("`{}` is no function", name.node);
                let help = suggest::help_for(&name.node, KNOWN);
                self.diagnostics
                    .push(Diagnostic::new(Code::UnknownName, message, help).at(name.span, ""));
                return None;
            }
        };
        let nodes: Vec<NodeId> = nodes.into_iter().collect::<Option<_>>()?;
        let result = match (fold, nodes.as_slice()) {
            (Some(operator), [first, rest @ ..]) => rest.iter().try_fold(*first, |sum, node| {
                self.tape.combine(operator, sum, *node, Some(span))
            }),
            (None, [only]) => {
                let function = if name.node == "sqrt" {
                    Function::Root
                } else {
                    Function::Round
                };
                self.tape.apply(function, *only, Some(span))
            }
            _ => {
                let message = format!(
                    "`{}` takes {}",
                    name.node,
                    if fold.is_some() {
                        "at least one value"
                    } else {
                        "one value"
                    }
                );
                let help = format!(
                    "write `{}(…)` with the values between the brackets, separated by commas",
                    name.node
                );
                self.diagnostics
                    .push(Diagnostic::new(Code::NoValue, message, help).at(span, ""));
                return None;
            }
        };
        self.checked(result, span)
    }

    fn checked(&mut self, result: Result<NodeId, QuantityError>, span: Span) -> Option<NodeId> {
        match result {
            Ok(node) => Some(node),
            Err(error) => {
                let code = match error {
                    QuantityError::Mismatch { .. } | QuantityError::NotPlain(_) => Code::WrongKind,
                    _ => Code::NoValue,
                };
                let help = "check the numbers and units of this expression";
                self.diagnostics
                    .push(Diagnostic::new(code, error.to_string(), help).at(span, ""));
                None
            }
        }
    }

    /// Evaluates what must be of one kind, such as the width of a face.
    pub(super) fn of_kind(&mut self, expr: &Expr, dim: Dim, what: &str) -> Option<Figure> {
        let node = self.eval(expr)?;
        let value = self.tape.value(node);
        if value.dim == dim {
            return Some(Figure {
                node,
                span: expr.span,
            });
        }
        let (code, help) = if value.dim.is_none() {
            (Code::MissingUnit, missing_unit_help(dim, value))
        } else {
            (
                Code::WrongKind,
                format!("write {}, such as `{}`", dim.words(), example(dim)),
            )
        };
        let message = format!("{what} must be {}, not {}", dim.words(), value.dim.words());
        self.diagnostics
            .push(Diagnostic::new(code, message, help).at(expr.span, value.dim.words()));
        None
    }

    /// A size: of one kind, and more than nothing.
    pub(super) fn size(&mut self, expr: &Expr, dim: Dim, what: &str) -> Option<Figure> {
        let figure = self.of_kind(expr, dim, what)?;
        let help = format!("write a size above zero, such as `{}`", example(dim));
        self.within(
            figure,
            what,
            |value| value > 0.0,
            "more than nothing",
            &help,
        )
    }

    /// A share between nothing and all: `60%`.
    pub(super) fn share(&mut self, expr: &Expr, what: &str) -> Option<Figure> {
        let figure = self.of_kind(expr, Dim::NONE, what)?;
        let help = "write a percentage, such as `60%`";
        self.within(
            figure,
            what,
            |value| (0.0..=1.0).contains(&value),
            "between 0% and 100%",
            help,
        )
    }

    /// A whole number from one to a hundred thousand.
    pub(super) fn count(&mut self, expr: &Expr, what: &str) -> Option<(Figure, u32)> {
        const MOST: f64 = 100_000.0;
        let figure = self.of_kind(expr, Dim::NONE, what)?;
        let whole = |value: f64| value.fract() == 0.0 && (1.0..=MOST).contains(&value);
        let help = "write a whole number, such as `2`";
        let figure = self.within(
            figure,
            what,
            whole,
            "a whole number from 1 to 100,000",
            help,
        )?;
        Some((figure, self.tape.value(figure.node).value as u32))
    }

    /// A figure whose value must pass a test.
    pub(super) fn within(
        &mut self,
        figure: Figure,
        what: &str,
        test: impl Fn(f64) -> bool,
        wanted: &str,
        help: &str,
    ) -> Option<Figure> {
        if test(self.tape.value(figure.node).value) {
            return Some(figure);
        }
        let message = format!("{what} must be {wanted}");
        self.diagnostics
            .push(Diagnostic::new(Code::OutOfRange, message, help).at(figure.span, ""));
        None
    }
}

/// The diagnostic for a name that is defined again.
pub(super) fn twice(kind: &str, name: &Name, first: Span) -> Diagnostic {
    let message = format!("{kind} `{}` is defined twice", name.node);
    Diagnostic::new(
        Code::DefinedTwice,
        message,
        "give one of the two another name, or remove it",
    )
    .at(name.span, "again here")
    .at(first, "first here")
}

fn missing_unit_help(dim: Dim, value: Quantity) -> String {
    let number = value.value;
    match dim {
        Dim::LENGTH => format!(
            "write the unit directly after the number: `{number}ft`, `{number}in` or `{number}m`"
        ),
        _ => format!(
            "write the unit directly after the number, as in `{}`",
            example(dim)
        ),
    }
}

fn example(dim: Dim) -> &'static str {
    match dim {
        Dim::LENGTH => "22ft 4in",
        Dim::AREA => "40ft2",
        Dim::TEMPERATURE => "84F",
        Dim::SPEED => "9mph",
        _ => "2",
    }
}

/// The names that an expression uses.
fn names_in(expr: &Expr) -> Vec<&str> {
    let mut names = Vec::new();
    let mut open = vec![expr];
    while let Some(expr) = open.pop() {
        match &expr.node {
            ExprKind::Literal(_) => {}
            ExprKind::Name(name) => names.push(name.as_str()),
            ExprKind::Negate(inner) => open.push(inner),
            ExprKind::Binary(_, left, right) => open.extend([&**left, &**right]),
            ExprKind::Call(_, arguments) => open.extend(arguments),
        }
    }
    names
}
