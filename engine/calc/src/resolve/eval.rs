//! Evaluates expressions on the job's tape, checking dimensions as it goes.
//!
//! What has been reported once comes back as `None` and is not reported again by what depends
//! on it.

use super::site::Target;
use super::values::Values;
use parge_base::{Code, Diagnostic, Function, NodeId, Operator, QuantityError, Span, suggest};
use parge_grammar::ast::{BinaryOp, Expr, ExprKind, Name};

/// The functions of the language.
const FUNCTIONS: [&str; 5] = ["min", "max", "sum", "round", "sqrt"];

impl Values<'_> {
    /// Evaluates an expression; `None` after its fault was reported.
    pub(super) fn eval(&mut self, expr: &Expr) -> Option<NodeId> {
        match &expr.node {
            ExprKind::Literal(quantity) => Some(self.tape.literal(*quantity, Some(expr.span))),
            ExprKind::Name(name) => self.name(name, expr.span),
            ExprKind::Measure(path, property) => self.measure(path, property, expr.span),
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
        if let Some((standing, parameter)) = self.parameter(name, self.here) {
            let template = self.site.standings.get(standing)?.template?;
            self.used_parameters
                .insert(template.parameters.get(parameter)?.span);
            return *self.arguments.get(standing)?.get(parameter)?;
        }
        if let Some(number) = self.let_numbers.get(name) {
            return self.lets.get(*number)?.node;
        }
        if self.told(name) {
            return None;
        }
        let message = format!("`{name}` is not defined");
        let parameters = self.parameters_here();
        let lets = self.let_numbers.keys().copied();
        let near = suggest::nearest(name, lets.chain(parameters.keys().copied()));
        self.used.extend(near);
        self.used_parameters
            .extend(near.and_then(|near| parameters.get(near)));
        let path = [Name::new(name.to_owned(), span)];
        let help = match (near, self.site.find(&path, self.here)) {
            (Some(near), _) => format!("did you mean `{near}`?"),
            (None, Ok(Target::Face(_))) => {
                format!("a face has several measures: write `{name}.area` or `{name}.width`")
            }
            (None, Ok(Target::Structure(_))) => {
                format!("a structure has several faces: write `sum({name}.area)`")
            }
            (None, Err(_)) => format!("define it with a line such as `let {name} = 2ft 8in`"),
        };
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownName, message, help).at(span, ""));
        None
    }

    fn call(&mut self, name: &Name, arguments: &[Expr], span: Span) -> Option<NodeId> {
        let nodes: Vec<Option<Vec<NodeId>>> = arguments
            .iter()
            .map(|argument| self.argument(&name.node, argument))
            .collect();
        let fold = match name.node.as_str() {
            "min" => Some(Operator::Min),
            "max" => Some(Operator::Max),
            "sum" => Some(Operator::Add),
            "round" | "sqrt" => None,
            _ => {
                let message = format!("`{}` is no function", name.node);
                let help = suggest::help_for(&name.node, FUNCTIONS);
                self.diagnostics
                    .push(Diagnostic::new(Code::UnknownName, message, help).at(name.span, ""));
                return None;
            }
        };
        let nodes: Vec<Vec<NodeId>> = nodes.into_iter().collect::<Option<_>>()?;
        let nodes = nodes.concat();
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

    /// The values of an argument: several where a function that takes any number of them gets
    /// the measures of all equal faces, or of all faces of a structure.
    fn argument(&mut self, function: &str, argument: &Expr) -> Option<Vec<NodeId>> {
        match (function, &argument.node) {
            ("sum" | "min" | "max", ExprKind::Measure(path, property)) => {
                let by_count = function == "sum";
                self.measures(path, property, argument.span, by_count)
            }
            _ => self.eval(argument).map(|node| vec![node]),
        }
    }

    pub(super) fn checked(
        &mut self,
        result: Result<NodeId, QuantityError>,
        span: Span,
    ) -> Option<NodeId> {
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
}
