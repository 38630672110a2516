//! The sums of the sheet's columns beside those of the plan that was written. The plan's are read
//! off its text again, and the sheet's are taken from the figures of its rows (`sheet_sums`): neither
//! side sees the faces from which the plan is written, so that nothing in between can lose, double or
//! change a figure.

use super::sheet_sums::{of_rejected, of_sheet};
use crate::faces::Import;
use crate::profile::Answers;
use parge_base::{Dim, FileId};
use parge_grammar::ast::{
    BinaryOp, Expr, ExprKind, FaceDetail, Form, OpeningDetail, Plan, Statement,
};
use std::collections::BTreeMap;

/// How far two sums may differ for the order in which they were added, as a share of them.
const NOISE: f64 = 1e-9;

/// The sum of a column in the sheet and in the plan, in base units.
#[derive(Debug, Clone, PartialEq)]
pub struct Sum {
    /// What is summed.
    pub what: &'static str,
    /// Its kind; a plain number for counts.
    pub dim: Dim,
    /// In the rows of the sheet that are faces or openings.
    pub sheet: f64,
    /// In the plan.
    pub plan: f64,
    /// In rows of the sheet that are not taken over.
    pub rejected: f64,
}

impl Sum {
    /// What the program measures of the same, once the plan is resolved.
    pub(crate) fn measured(&self, of: &MeasuredPlan) -> Option<f64> {
        match self.what {
            FACES => Some(of.faces),
            COUNTS => Some(of.equal),
            GROSS => Some(of.gross),
            DEDUCTED => Some(of.deducted),
            _ => None,
        }
    }

    /// Whether both say the same.
    pub fn agrees(&self) -> bool {
        (self.sheet - self.plan).abs() <= self.sheet.abs().max(self.plan.abs()) * NOISE
    }
}

/// What the program makes of a plan that it has resolved and measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredPlan {
    /// How many faces there are.
    pub faces: f64,
    /// The same, equal ones counted.
    pub equal: f64,
    /// Of all faces, openings not taken off, in square metres.
    pub gross: f64,
    /// What openings take, in square metres.
    pub deducted: f64,
}

/// Sums by what is summed, in base units.
pub(super) type Sums = BTreeMap<&'static str, f64>;

pub(super) const FACES: &str = "faces";
pub(super) const COUNTS: &str = "equal faces";
pub(super) const LEVELS: &str = "level sizes of faces";
pub(super) const UPRIGHTS: &str = "upright sizes of faces";
pub(super) const GROSS: &str = "area of all faces";
pub(super) const OPENINGS: &str = "openings";
pub(super) const DEDUCTED: &str = "area of all openings";
pub(super) const REVEALS: &str = "depths of reveals";

/// Every sum, in the order in which they are told.
const WHAT: [(&str, Dim); 8] = [
    (FACES, Dim::NONE),
    (COUNTS, Dim::NONE),
    (LEVELS, Dim::LENGTH),
    (UPRIGHTS, Dim::LENGTH),
    (GROSS, Dim::AREA),
    (OPENINGS, Dim::NONE),
    (DEDUCTED, Dim::AREA),
    (REVEALS, Dim::LENGTH),
];

/// Reads the text of a plan again. An error is words for what cannot be read, which is a fault of
/// this program.
pub fn read_again(file: FileId, text: &str) -> Result<Plan, String> {
    let parsed = parge_grammar::parse(file, text);
    match parsed.diagnostics.first() {
        Some(first) => Err(first.message.clone()),
        None => Ok(parsed.plan),
    }
}

/// Puts the sums of a plan that was read again beside those of the sheet, whose rows are read under
/// `answers`. An error is words for what in the plan cannot be summed, which is a fault of this
/// program.
pub fn reconcile(import: &Import, answers: &Answers, plan: &Plan) -> Result<Vec<Sum>, String> {
    let of_rows = || (of_sheet(&import.rows, answers), of_rejected(&import.rows));
    let (plan, (sheet, rejected)) = rayon::join(|| of_plan(plan), of_rows);
    let plan = plan?;
    let at = |sums: &Sums, what: &str| sums.get(what).copied().unwrap_or(0.0);
    let sums = WHAT.into_iter().map(|(what, dim)| Sum {
        what,
        dim,
        sheet: at(&sheet, what),
        plan: at(&plan, what),
        rejected: at(&rejected, what),
    });
    Ok(sums.collect())
}

fn of_plan(plan: &Plan) -> Result<Sums, String> {
    let mut sums = Sums::new();
    let mut add = |what: &'static str, value: f64| *sums.entry(what).or_default() += value;
    for statement in &plan.statements {
        let Statement::Structure(structure) = statement else {
            continue;
        };
        for face in &structure.body.faces {
            let count = face.details.iter().find_map(|detail| match &detail.node {
                FaceDetail::Count(count) => Some(value(count)),
                _ => None,
            });
            let count = count.transpose()?.unwrap_or(1.0);
            let area = area(&face.shape.node)?;
            add(FACES, 1.0);
            add(COUNTS, count);
            if let Form::Rect {
                width,
                height: Some(height),
            } = &face.shape.node
            {
                add(LEVELS, value(width)?);
                add(UPRIGHTS, value(height)?);
            }
            add(GROSS, area * count);
            for opening in &face.openings {
                let of_one = opening
                    .details
                    .iter()
                    .find_map(|detail| match &detail.node {
                        OpeningDetail::Count(count) => Some(value(count)),
                        _ => None,
                    });
                let of_one = of_one.transpose()?.unwrap_or(1.0);
                let depth = opening
                    .details
                    .iter()
                    .find_map(|detail| match &detail.node {
                        OpeningDetail::Reveal(depth, _) => Some(value(depth)),
                        _ => None,
                    });
                add(REVEALS, depth.transpose()?.unwrap_or(0.0));
                add(OPENINGS, 1.0);
                add(DEDUCTED, self::area(&opening.shape.node)? * of_one * count);
            }
        }
    }
    Ok(sums)
}

fn area(form: &Form) -> Result<f64, String> {
    match form {
        Form::Rect {
            width,
            height: Some(height),
        } => Ok(value(width)? * value(height)?),
        Form::Measured { area, .. } => value(area),
        _ => Err("the plan has a shape that no import writes".to_owned()),
    }
}

/// The value of what an import writes: figures, and a figure over a count.
fn value(expr: &Expr) -> Result<f64, String> {
    match &expr.node {
        ExprKind::Literal(quantity) => Ok(quantity.value),
        ExprKind::Binary(BinaryOp::Divide, a, b) => Ok(value(a)? / value(b)?),
        _ => Err("the plan has an expression that no import writes".to_owned()),
    }
}
