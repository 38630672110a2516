//! The sums of the sheet's columns beside those of the plan that was written. The plan's are read
//! off its text again, so that nothing in between can lose or double a figure.

use crate::columns::Role;
use crate::faces::{Import, Sizes, Verdict};
use crate::profile::Are;
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
    /// Whether it is of what the program measures itself: the area of faces, or that of openings.
    pub(crate) fn is_gross(&self) -> Option<bool> {
        match self.what {
            GROSS => Some(true),
            DEDUCTED => Some(false),
            _ => None,
        }
    }

    /// Whether both say the same.
    pub fn agrees(&self) -> bool {
        (self.sheet - self.plan).abs() <= self.sheet.abs().max(self.plan.abs()) * NOISE
    }
}

type Sums = BTreeMap<&'static str, f64>;

const FACES: &str = "faces";
const COUNTS: &str = "equal faces";
const LEVELS: &str = "level sizes of faces";
const UPRIGHTS: &str = "upright sizes of faces";
const GROSS: &str = "area of all faces";
const OPENINGS: &str = "openings";
const DEDUCTED: &str = "area of all openings";

/// Every sum, in the order in which they are told.
const WHAT: [(&str, Dim); 7] = [
    (FACES, Dim::NONE),
    (COUNTS, Dim::NONE),
    (LEVELS, Dim::LENGTH),
    (UPRIGHTS, Dim::LENGTH),
    (GROSS, Dim::AREA),
    (OPENINGS, Dim::NONE),
    (DEDUCTED, Dim::AREA),
];

/// Reads the text of a plan again and puts its sums beside those of the sheet. An error is words
/// for what in the plan cannot be summed, which is a fault of this program.
pub fn reconcile(import: &Import, file: FileId, text: &str) -> Result<Vec<Sum>, String> {
    let parsed = parge_grammar::parse(file, text);
    if let Some(first) = parsed.diagnostics.first() {
        return Err(first.message.clone());
    }
    let plan = of_plan(&parsed.plan)?;
    let (sheet, rejected) = (of_sheet(import), of_rejected(import));
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

/// The sums over the rows of the sheet, from the figures as their cells were read.
fn of_sheet(import: &Import) -> Sums {
    let mut sums = Sums::new();
    let mut add = |what: &'static str, value: f64| *sums.entry(what).or_default() += value;
    for row in &import.rows {
        let figures = |roles: &[Role]| -> f64 {
            let of = row.figures.iter().filter(|(role, _)| roles.contains(role));
            of.map(|(_, value)| value.abs()).sum()
        };
        let Verdict::Face(number) = row.verdict else {
            continue;
        };
        let Some(face) = import.faces.get(number) else {
            continue;
        };
        add(FACES, 1.0);
        add(COUNTS, f64::from(face.count));
        if let Sizes::Rect(level, upright) = &face.sizes {
            // Where both stand in cells of their own, the cells are summed and not the face.
            let lone = figures(&[Role::Length, Role::Width, Role::Height, Role::Size]);
            let is_whole = (lone - level.size() - upright.size()).abs() <= lone * NOISE;
            let (level_sum, upright_sum) = match is_whole {
                true => (lone - upright.size(), lone - level.size()),
                false => (level.size(), upright.size()),
            };
            add(LEVELS, level_sum);
            add(UPRIGHTS, upright_sum);
        }
        let equal = f64::from(face.count);
        // A row may state the net area beside the one that is taken.
        let lone = match figures(&[Role::Area]) {
            0.0 => figures(&[Role::NetArea]),
            area => area,
        };
        add(
            GROSS,
            match &face.sizes {
                Sizes::Rect(level, upright) => level.size() * upright.size() * equal,
                Sizes::Area { of: Are::Each, .. } => lone * equal,
                Sizes::Area { .. } => lone,
            },
        );
        for opening in &face.openings {
            add(OPENINGS, 1.0);
            add(DEDUCTED, opening.area() * equal);
        }
    }
    sums
}

/// What stands in rows that are not taken over, as far as it could be read.
fn of_rejected(import: &Import) -> Sums {
    let mut sums = Sums::new();
    for row in &import.rows {
        if !matches!(row.verdict, Verdict::Rejected(_)) {
            continue;
        }
        for (role, value) in &row.figures {
            let what = match role {
                Role::Length | Role::Width => LEVELS,
                Role::Height => UPRIGHTS,
                Role::Area => GROSS,
                _ => continue,
            };
            *sums.entry(what).or_default() += value.abs();
        }
    }
    sums
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
