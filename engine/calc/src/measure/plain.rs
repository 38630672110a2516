//! What plain faces measure, by arithmetic alone: rectangles and areas that were measured on the wall,
//! with sizes that name nothing, under the rule `net`. That is all that is made of a client's sheet.
//!
//! [`super::measure`] measures the same, and explains every figure. Here nothing is kept but areas, and
//! whatever is not plain, or wrong in any way, is left to it: where this module says what a plan
//! measures, properties hold it to the same bits.

use super::areas::{AreasOfAll, OneFace};
use parge_base::{Dim, Operator, Quantity};
use parge_grammar::ast::{
    BinaryOp, BodySetting, Expr, ExprKind, Face, FaceDetail, Form, Job, JobSetting, Opening,
    OpeningDetail, Plan, Statement, Structure,
};
use std::collections::HashSet;
use std::f64::consts::PI;
use std::mem::{Discriminant, discriminant};

/// Sizes in metres, and areas in square metres, with which no formula of a face leaves the numbers that
/// there are.
const USUAL: std::ops::RangeInclusive<f64> = 1e-6..=1e9;
/// The most equal faces, and the most equal openings in one face.
const MOST: f64 = 100_000.0;

/// How many operators may stand within each other: a sum of thousands is no plain size.
const DEEPEST: usize = 16;

/// What the faces of a plan, or of a part of one, measure.
#[derive(Debug, Clone, Default)]
pub struct PlainAreas {
    faces: Vec<OneFace>,
    structures: Vec<String>,
    jobs: usize,
}

/// Measures the faces of a plan, or of a part of one, whatever they are coated with and built of.
/// `None` where any of them is not plain, or has a mistake.
pub fn plain_areas(plan: &Plan) -> Option<PlainAreas> {
    let mut areas = PlainAreas::default();
    if !plan.damaged.is_empty() {
        return None;
    }
    for statement in &plan.statements {
        match statement {
            Statement::Job(job) => {
                areas.jobs += 1;
                is_plain_job(job).then_some(())?;
            }
            Statement::Structure(structure) => areas.structure(structure)?,
            // What a face can be coated with changes no size, and plain sizes name nothing.
            _ => {}
        }
    }
    Some(areas)
}

/// What all parts of a plan measure, in their order. `None` where they say together what none of them
/// says alone: a structure is in two of them, or there is no face, or not one job.
pub fn areas_of_parts(parts: Vec<PlainAreas>) -> Option<AreasOfAll> {
    let names = parts.iter().flat_map(|part| &part.structures);
    let jobs: usize = parts.iter().map(|part| part.jobs).sum();
    if jobs != 1 || !all_differ(names.map(String::as_str)) {
        return None;
    }
    let faces = parts.iter().flat_map(|part| &part.faces);
    let areas = AreasOfAll::of(faces);
    (areas.faces > 0.0).then_some(areas)
}

/// A job that says nothing but where its rules and prices are, each once.
fn is_plain_job(job: &Job) -> bool {
    let is_plain = |setting: &JobSetting| match setting {
        JobSetting::Units(word) => matches!(word.node.as_str(), "us" | "metric"),
        JobSetting::Rules(_) | JobSetting::Measure(_) | JobSetting::Prices(_) => true,
        _ => false,
    };
    let settings = job.settings.iter().map(|setting| &setting.node);
    settings.clone().all(is_plain) && each_once(settings)
}

/// Whether no kind of a setting is there twice.
fn each_once<'a, T: 'a>(settings: impl Iterator<Item = &'a T> + Clone) -> bool {
    let kinds: fn(&T) -> Discriminant<T> = discriminant;
    let mut behind = settings.clone();
    settings.map(kinds).all(|kind| {
        behind.next();
        behind.clone().all(|other| kinds(other) != kind)
    })
}

fn all_differ<'a>(mut names: impl Iterator<Item = &'a str>) -> bool {
    let mut known = HashSet::with_capacity(names.size_hint().0);
    names.all(|name| known.insert(name))
}

impl PlainAreas {
    fn structure(&mut self, structure: &Structure) -> Option<()> {
        let body = &structure.body;
        let settings = &body.settings;
        let has_faces_alone = structure.from.is_none() && body.edges.is_empty();
        let is_finish = |setting| matches!(setting, &BodySetting::Finish(_));
        let names = body.faces.iter().map(|face| face.name.node.as_str());
        let is_plain = has_faces_alone
            && settings.iter().all(|setting| is_finish(&setting.node))
            && all_differ(names);
        if !is_plain {
            return None;
        }
        self.structures.push(structure.name.node.clone());
        for face in &body.faces {
            self.faces.push(one_face(face)?);
        }
        Some(())
    }
}

fn one_face(face: &Face) -> Option<OneFace> {
    let details = face.details.iter().map(|detail| &detail.node);
    let details = details
        .filter(|detail| !matches!(detail, FaceDetail::Finish(_) | FaceDetail::Substrate(_)));
    if !face.edges.is_empty() || !each_once(details.clone()) {
        return None;
    }
    let mut equal = Quantity::plain(1.0);
    for detail in details {
        match detail {
            FaceDetail::Count(expr) => equal = count(expr)?,
            FaceDetail::From(_) => {}
            _ => return None,
        }
    }
    let shape = sizes(&face.shape.node)?;
    let deducted = deducted(&face.openings, &shape)?;
    (deducted.value <= shape.area.value).then_some(OneFace {
        count: equal.value,
        gross: shape.area.value,
        deducted: deducted.value,
    })
}

/// The area of all openings of one face: with the rule `net`, what they take of it.
fn deducted(openings: &[Opening], of: &Sizes) -> Option<Quantity> {
    let mut sum = Quantity::zero(Dim::AREA);
    for (number, opening) in openings.iter().enumerate() {
        let mut above = openings.iter().take(number);
        if above.any(|other| other.name.node == opening.name.node) {
            return None;
        }
        let shape = sizes(&opening.shape.node)?;
        if shape.width.value > of.width.value || shape.height.value > of.height.value {
            return None;
        }
        let all = Operator::Multiply.of(count_of(opening)?, shape.area).ok()?;
        sum = Operator::Add.of(sum, all).ok()?;
    }
    Some(sum)
}

/// How many there are of an opening in one face.
fn count_of(opening: &Opening) -> Option<Quantity> {
    let details = opening.details.iter().map(|detail| &detail.node);
    let details = details.filter(|detail| !matches!(detail, OpeningDetail::Finish(_)));
    if !each_once(details.clone()) {
        return None;
    }
    let mut count = Quantity::plain(1.0);
    for detail in details {
        match detail {
            OpeningDetail::Count(expr) => count = self::count(expr)?,
            OpeningDetail::Reveal(depth, sides) if sides.is_empty() => {
                size(depth, Dim::LENGTH)?;
            }
            OpeningDetail::From(_) => {}
            _ => return None,
        }
    }
    Some(count)
}

/// What of a shape decides on areas.
struct Sizes {
    area: Quantity,
    width: Quantity,
    height: Quantity,
}

/// As `Geometry::rect` and `Geometry::measured` have them.
fn sizes(form: &Form) -> Option<Sizes> {
    match form {
        Form::Rect {
            width,
            height: Some(height),
        } => {
            let (width, height) = (size(width, Dim::LENGTH)?, size(height, Dim::LENGTH)?);
            let area = Operator::Multiply.of(width, height).ok()?;
            Some(Sizes {
                area,
                width,
                height,
            })
        }
        Form::Measured {
            area, around, high, ..
        } => {
            let (area, around) = (size(area, Dim::AREA)?, size(around, Dim::LENGTH)?);
            let height = size(high, Dim::LENGTH)?;
            let width = Operator::Divide.of(area, height).ok()?;
            // Near the edge of a circle around the same area the other way decides.
            let goes_around = around.value * around.value > 4.0 * PI * area.value;
            goes_around.then_some(Sizes {
                area,
                width,
                height,
            })
        }
        _ => None,
    }
}

/// A size of a kind.
fn size(expr: &Expr, dim: Dim) -> Option<Quantity> {
    value(expr).filter(|size| size.dim == dim && USUAL.contains(&size.value))
}

/// A whole number of equal ones.
fn count(expr: &Expr) -> Option<Quantity> {
    let is_count = |count: &Quantity| {
        count.dim == Dim::NONE && count.value.fract() == 0.0 && (1.0..=MOST).contains(&count.value)
    };
    value(expr).filter(is_count)
}

/// The value of an expression of the four kinds of arithmetic that names nothing.
fn value(expr: &Expr) -> Option<Quantity> {
    value_within(expr, DEEPEST)
}

fn value_within(expr: &Expr, deepest: usize) -> Option<Quantity> {
    let within = |expr| value_within(expr, deepest.checked_sub(1)?);
    match &expr.node {
        ExprKind::Literal(quantity) => Some(*quantity),
        ExprKind::Binary(op, left, right) => {
            let operator = match op {
                BinaryOp::Add => Operator::Add,
                BinaryOp::Subtract => Operator::Subtract,
                BinaryOp::Multiply => Operator::Multiply,
                BinaryOp::Divide => Operator::Divide,
                BinaryOp::Power => return None,
            };
            operator.of(within(left)?, within(right)?).ok()
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
