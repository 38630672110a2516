//! A formula in words.

use super::Live;
use super::expr::{BidFigure, Cell, Expr, FaceFigure, Held};
use crate::explain::names::factor_words;
use parge_base::{Function, Operator};
use std::f64::consts::PI;

/// How closely an operation binds what it works on.
const SUM: u8 = 1;
const PRODUCT: u8 = 2;
const POWER: u8 = 3;
const WHOLE: u8 = 4;

/// A formula with the names of its cells: `area of all × mean finish ÷ mixes finish-mix yield`.
pub fn words(of: &Expr, live: &Live<'_>) -> String {
    say(of, live).0
}

impl Held {
    /// The comparison in words, and how it turned out.
    pub fn words(&self, live: &Live<'_>) -> String {
        use parge_base::trace::Comparison;
        let how = match (self.comparison, self.held) {
            (Comparison::Less, true) | (Comparison::GreaterOrEqual, false) => "is less than",
            (Comparison::LessOrEqual, true) | (Comparison::Greater, false) => "is at most",
            (Comparison::Greater, true) | (Comparison::LessOrEqual, false) => "is more than",
            (Comparison::GreaterOrEqual, true) | (Comparison::Less, false) => "is at least",
            (Comparison::Equal, true) | (Comparison::NotEqual, false) => "is",
            (Comparison::NotEqual, true) | (Comparison::Equal, false) => "is not",
        };
        format!(
            "{} {how} {}",
            words(&self.left, live),
            words(&self.right, live)
        )
    }
}

/// The text, and how closely its outermost operation binds.
fn say(of: &Expr, live: &Live<'_>) -> (String, u8) {
    let part = |expr: &Expr, least: u8| {
        let (text, binds) = say(expr, live);
        match binds < least {
            true => format!("({text})"),
            false => text,
        }
    };
    match of {
        Expr::Number(number) => (number_words(*number), WHOLE),
        Expr::At(cell) => (label(*cell, live), WHOLE),
        Expr::Apply(Function::Negate, a) => (format!("-{}", part(a, POWER)), PRODUCT),
        Expr::Apply(function, a) => {
            let name = match function {
                Function::Negate => "negative of",
                Function::Abs => "size of",
                Function::Root => "root of",
                Function::ArcSine => "angle whose sine is",
                Function::Exp => "e to the power of",
                Function::Ln => "natural logarithm of",
                Function::WholeUp => "rounded up:",
                Function::Round => "rounded:",
            };
            (format!("{name} ({})", say(a, live).0), WHOLE)
        }
        Expr::Combine(operator, sides) => {
            let [a, b] = sides.as_ref();
            match operator {
                Operator::Add => (format!("{} + {}", part(a, SUM), part(b, SUM)), SUM),
                Operator::Subtract => (format!("{} - {}", part(a, SUM), part(b, PRODUCT)), SUM),
                Operator::Multiply => (
                    format!("{} × {}", part(a, PRODUCT), part(b, PRODUCT)),
                    PRODUCT,
                ),
                Operator::Divide => (
                    format!("{} ÷ {}", part(a, PRODUCT), part(b, POWER)),
                    PRODUCT,
                ),
                Operator::Power => (format!("{} ^ {}", part(a, WHOLE), part(b, WHOLE)), POWER),
                Operator::Min => (listed("the smaller of", [a, b], live), WHOLE),
                Operator::Max => (listed("the larger of", [a, b], live), WHOLE),
            }
        }
        Expr::Sum(of) => {
            let parts: Vec<String> = of.iter().map(|expr| part(expr, SUM)).collect();
            match parts.is_empty() {
                true => ("nothing".to_owned(), WHOLE),
                false => (parts.join(" + "), SUM),
            }
        }
        Expr::Largest(of) => (listed("the largest of", of, live), WHOLE),
    }
}

fn listed<'e>(how: &str, of: impl IntoIterator<Item = &'e Expr>, live: &Live<'_>) -> String {
    let parts: Vec<String> = of.into_iter().map(|expr| say(expr, live).0).collect();
    format!("{how} ({})", parts.join(", "))
}

/// A number as a person would write it.
pub(super) fn number_words(number: f64) -> String {
    if number == PI {
        return "π".to_owned();
    }
    if number == 2.0 * PI {
        return "2 π".to_owned();
    }
    let rounded = parge_base::number::round_to(number, 9);
    match rounded == 0.0 && number != 0.0 {
        true => format!("{number:e}"),
        false => rounded.to_string(),
    }
}

fn label(cell: Cell, live: &Live<'_>) -> String {
    let term = |class: usize, term: usize| {
        let class = live.classes.get(class);
        let term = class.and_then(|class| class.terms.get(term));
        term.map_or("", |term| term.what.as_str())
    };
    match cell {
        Cell::Size(number) => {
            live.sizes()
                .get(number)
                .map_or(String::new(), |size| match size.what.as_str() {
                    "size" => size.written.clone(),
                    what => what.to_owned(),
                })
        }
        Cell::Worked(number) => {
            let worked = live.worked().get(number);
            worked.map_or(String::new(), |worked| worked.what.clone())
        }
        Cell::Factor(number) => {
            let factor = live.factors().get(number);
            factor.map_or(String::new(), |factor| factor_words(&factor.name))
        }
        Cell::Face(_, figure) => figure_words(figure).to_owned(),
        Cell::FaceCount(_) => "equal faces".to_owned(),
        Cell::EdgeCount(_) => "equal edges".to_owned(),
        Cell::Term {
            class, term: of, ..
        } => term(class, of).to_owned(),
        Cell::TermTotal { class, term: of } => format!("{} of all", term(class, of)),
        Cell::TermColumn { class, term: of } => format!("{} of each", term(class, of)),
        Cell::ClassCount(_) => "number of all".to_owned(),
        Cell::Working(number) => {
            let line = live.workings.get(number);
            line.map_or(String::new(), |line| line.what.clone())
        }
        Cell::Bid(_, figure) => match figure {
            BidFigure::Materials => "materials",
            BidFigure::Labour => "labour",
            BidFigure::Burden => "burden",
            BidFigure::Overhead => "overhead",
            BidFigure::Profit => "profit",
            BidFigure::Allowances => "allowances",
            BidFigure::Freight => "freight",
            BidFigure::Contingency => "contingency",
            BidFigure::Total => "price before charges and tax",
            BidFigure::Hours => "hours that are paid",
        }
        .to_owned(),
    }
}

/// A figure of a face in words.
pub fn figure_words(figure: FaceFigure) -> &'static str {
    match figure {
        FaceFigure::Width => "width",
        FaceFigure::Height => "height",
        FaceFigure::Gross => "gross area",
        FaceFigure::Deducted => "deducted area",
        FaceFigure::Reveal => "area of reveals",
        FaceFigure::Net => "coated area",
        FaceFigure::Foot => "length along the ground",
        FaceFigure::Top => "working height",
    }
}
