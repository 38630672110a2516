//! The sums of the sheet's columns beside those of the plan that was written. The plan's are read
//! off its text again, and the sheet's are taken from the figures of its rows (`sheet_sums`): neither
//! side sees the faces from which the plan is written, so that nothing in between can lose, double or
//! change a figure.

use super::sheet_sums::SheetSums;
use super::sums::{Addends, Sums, What};
use super::text::PlanText;
use parge_base::{Dim, FileId, Sources};
use parge_grammar::ast::{
    BinaryOp, Expr, ExprKind, FaceDetail, Form, OpeningDetail, Plan, Statement,
};
use rayon::prelude::*;
use std::ops::Range;

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
    /// What the program measures of the same.
    pub(crate) fn measured(&self, of: &MeasuredPlan) -> Option<f64> {
        let of = [
            (What::Faces, of.faces),
            (What::Equal, of.equal),
            (What::Gross, of.gross),
            (What::Deducted, of.deducted),
        ];
        let own = of.into_iter().find(|(what, _)| what.words() == self.what);
        own.map(|(_, value)| value)
    }

    /// Whether both say the same.
    pub fn agrees(&self) -> bool {
        (self.sheet - self.plan).abs() <= self.sheet.abs().max(self.plan.abs()) * NOISE
    }
}

/// What the program measures of a plan.
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

/// Reads the text of a plan again. An error is words for what cannot be read, which is a fault of
/// this program.
pub fn read_again(file: FileId, text: &str) -> Result<Plan, String> {
    let parsed = parge_grammar::parse(file, text);
    match parsed.diagnostics.first() {
        Some(first) => Err(first.message.clone()),
        None => Ok(parsed.plan),
    }
}

/// Reads the parts of a plan again, each by itself and on all cores, and gives what `look` makes of
/// each in their order: of no part more is held than its reader needs. `None` where a part cannot be
/// read, or `look` makes nothing of it.
pub fn read_in_parts<T: Send>(
    file: FileId,
    plan: &PlanText,
    look: impl Fn(&Plan) -> Option<T> + Sync,
) -> Option<Vec<T>> {
    if plan.text.len() > Sources::MAX_BYTES {
        return None;
    }
    let parts = plan.parts.par_iter();
    let read =
        |part: &Range<usize>| look(&parge_grammar::parse_part(file, &plan.text, part.clone())?);
    parts.map(read).collect()
}

/// Puts the sums of a plan that was read again beside those of the sheet.
pub fn reconcile(sheet: &SheetSums, plan: &Sums) -> Vec<Sum> {
    let sums = What::ALL.into_iter().map(|what| Sum {
        what: what.words(),
        dim: what.dim(),
        sheet: sheet.taken.of(what),
        plan: plan.of(what),
        rejected: sheet.rejected.of(what),
    });
    sums.collect()
}

/// What a plan, or a part of one, adds to the sums. An error is words for what in it cannot be summed,
/// which is a fault of this program.
pub fn addends_of_plan(plan: &Plan) -> Result<Addends, String> {
    let mut sums = Addends::default();
    let mut add = |what: What, value: f64| sums.add(what, value);
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
            add(What::Faces, 1.0);
            add(What::Equal, count);
            if let Form::Rect {
                width,
                height: Some(height),
            } = &face.shape.node
            {
                add(What::Levels, value(width)?);
                add(What::Uprights, value(height)?);
            }
            add(What::Gross, area * count);
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
                add(What::Reveals, depth.transpose()?.unwrap_or(0.0));
                add(What::Openings, 1.0);
                add(
                    What::Deducted,
                    self::area(&opening.shape.node)? * of_one * count,
                );
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
