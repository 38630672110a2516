//! Measuring a plan whose finishes are not settled yet: what is coated, and with what, changes no
//! size. So a plan just made of a client's sheet can be held against that sheet.

use super::measure;
use crate::contract::{Packs, SUBSTRATES, TECHNIQUES};
use crate::resolve::resolve_with;
use parge_base::{Diagnostic, Dim, Quantity, Span, Spanned, diagnostic};
use parge_grammar::ast::{
    Body, BodySetting, Expr, ExprKind, Face, FaceDetail, Finish, FinishSetting, Form, Name,
    OpeningDetail, Plan, Statement, Structure,
};
use rayon::prelude::*;
use std::collections::HashSet;

/// The finish that stands in for all others.
const STAND_IN: &str = "stand-in";

/// How many faces there are, and their areas in square metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AreasOfAll {
    /// How many faces.
    pub faces: f64,
    /// The same, equal ones counted.
    pub equal: f64,
    /// Openings not taken off.
    pub gross: f64,
    /// What openings take.
    pub deducted: f64,
}

/// So many faces at least are measured by themselves, on one core: what stands around them is looked
/// at each time.
const FACES_OF_PART: usize = 250;

/// Measures the faces of a plan with one finish and one substrate of a pack in place of its own.
/// What is told are faults of the sizes. `end` is where the plan ends.
pub fn measure_alone(
    mut plan: Plan,
    packs: Packs<'_>,
    end: Span,
) -> (Option<AreasOfAll>, Vec<Diagnostic>) {
    let tables = packs.rules.tables();
    let first = |table: &str| {
        let keys = tables.keys(table, &[]).unwrap_or_default();
        keys.first().map(|word| (*word).to_owned())
    };
    let (Some(substrate), Some(technique)) = (first(SUBSTRATES), first(TECHNIQUES)) else {
        return (None, Vec::new());
    };
    plan.statements
        .retain(|statement| matches!(statement, Statement::Job(_) | Statement::Structure(_)));
    plan.statements.par_iter_mut().for_each(|statement| {
        if let Statement::Structure(structure) = statement {
            settle(structure, &substrate, end);
        }
    });
    let stand_in = stand_in(technique, end);
    if can_be_parted(&plan) {
        let parts = parts(plan, &stand_in);
        if let Some((faces, said)) = measured_in_parts(&parts, packs, end) {
            // There are many of them, and each takes some freeing.
            parts.into_par_iter().for_each(drop);
            return (Some(of_all(faces)), said);
        }
        plan = joined(parts);
    }
    plan.statements.push(stand_in);
    let (faces, said) = faces(&plan, packs, end);
    (faces.map(of_all), said)
}

/// Puts the stand-ins in place of what a structure is built of and coated with.
fn settle(structure: &mut Structure, substrate: &str, end: Span) {
    structure.substrate = Some(Name::new(substrate.to_owned(), end));
    let own = &mut structure.body.settings;
    own.retain(|setting| !matches!(setting.node, BodySetting::Finish(_)));
    let finish = BodySetting::Finish(Name::new(STAND_IN.to_owned(), end));
    own.push(Spanned::new(finish, end));
    for face in &mut structure.body.faces {
        face.details.retain(|detail| {
            !matches!(
                detail.node,
                FaceDetail::Finish(_) | FaceDetail::Substrate(_)
            )
        });
        for opening in &mut face.openings {
            let own = &mut opening.details;
            own.retain(|detail| !matches!(detail.node, OpeningDetail::Finish(_)));
        }
    }
}

/// Whether the faces of a plan say the same apart as together: each structure has a name of its own,
/// each of its faces as well, and none speaks of another, or could.
fn can_be_parted(plan: &Plan) -> bool {
    let mut names = HashSet::new();
    plan.damaged.is_empty()
        && plan.statements.iter().all(|statement| match statement {
            Statement::Structure(structure) => names.insert(structure.name.node.as_str()),
            _ => true,
        })
        && plan.statements.par_iter().all(|statement| match statement {
            Statement::Structure(structure) => is_closed(structure),
            _ => true,
        })
}

/// Whether a structure holds nothing but faces and openings with plain sizes.
fn is_closed(structure: &Structure) -> bool {
    let is_finish = |setting: &Spanned<BodySetting>| matches!(setting.node, BodySetting::Finish(_));
    let body = &structure.body;
    let mut names = HashSet::with_capacity(body.faces.len());
    structure.from.is_none()
        && body.edges.is_empty()
        && body.settings.iter().all(is_finish)
        && body
            .faces
            .iter()
            .all(|face| names.insert(face.name.node.as_str()) && is_closed_face(face))
}

fn is_closed_face(face: &Face) -> bool {
    let of_face = |detail: &Spanned<FaceDetail>| match &detail.node {
        FaceDetail::Count(count) => is_plain(count),
        FaceDetail::From(_) => true,
        _ => false,
    };
    let of_opening = |detail: &Spanned<OpeningDetail>| match &detail.node {
        OpeningDetail::Count(size) | OpeningDetail::Reveal(size, _) => is_plain(size),
        OpeningDetail::From(_) => true,
        OpeningDetail::Finish(_) => false,
    };
    has_plain_sizes(&face.shape.node)
        && face.details.iter().all(of_face)
        && face.edges.is_empty()
        && face.openings.iter().all(|opening| {
            has_plain_sizes(&opening.shape.node) && opening.details.iter().all(of_opening)
        })
}

fn has_plain_sizes(form: &Form) -> bool {
    match form {
        Form::Rect {
            width,
            height: Some(height),
        } => is_plain(width) && is_plain(height),
        Form::Measured {
            area, around, high, ..
        } => [area, around, high].into_iter().all(is_plain),
        _ => false,
    }
}

/// Whether an expression names nothing.
fn is_plain(expr: &Expr) -> bool {
    match &expr.node {
        ExprKind::Literal(_) => true,
        ExprKind::Negate(inner) => is_plain(inner),
        ExprKind::Binary(_, left, right) => is_plain(left) && is_plain(right),
        _ => false,
    }
}

/// The plan in parts of some faces each, every part with the job and the finish. A structure with
/// many faces stands in several.
fn parts(plan: Plan, stand_in: &Statement) -> Vec<Plan> {
    let (around, structures): (Vec<Statement>, Vec<Statement>) = plan
        .statements
        .into_iter()
        .partition(|statement| matches!(statement, Statement::Job(_)));
    let mut parts: Vec<Plan> = Vec::new();
    let mut room = 0;
    for statement in structures {
        let Statement::Structure(mut rest) = statement else {
            continue;
        };
        loop {
            if room == 0 {
                parts.push(Plan {
                    statements: around.iter().chain([stand_in]).cloned().collect(),
                    ..Plan::default()
                });
                room = FACES_OF_PART;
            }
            let behind = rest.body.faces.split_off(room.min(rest.body.faces.len()));
            room -= rest.body.faces.len();
            let next = (!behind.is_empty()).then(|| with_faces(&rest, behind));
            if let Some(part) = parts.last_mut() {
                part.statements.push(Statement::Structure(rest));
            }
            match next {
                Some(next) => rest = next,
                None => break,
            }
        }
    }
    parts
}

/// A structure with other faces.
fn with_faces(structure: &Structure, faces: Vec<Face>) -> Structure {
    Structure {
        name: structure.name.clone(),
        from: None,
        substrate: structure.substrate.clone(),
        body: Body {
            settings: structure.body.settings.clone(),
            edges: Vec::new(),
            faces,
        },
    }
}

/// The plan that was parted, without its finish.
fn joined(parts: Vec<Plan>) -> Plan {
    let mut plan = Plan::default();
    for (number, part) in parts.into_iter().enumerate() {
        for statement in part.statements {
            match (statement, plan.statements.last_mut()) {
                (Statement::Structure(more), Some(Statement::Structure(last)))
                    if more.name.node == last.name.node =>
                {
                    last.body.faces.extend(more.body.faces);
                }
                (structure @ Statement::Structure(_), _) => plan.statements.push(structure),
                (job @ Statement::Job(_), _) if number == 0 => plan.statements.push(job),
                _ => {}
            }
        }
    }
    plan
}

/// The faces of all parts in their order, and what was said; `None` where anything is wrong.
fn measured_in_parts(
    parts: &[Plan],
    packs: Packs<'_>,
    end: Span,
) -> Option<(Vec<OneFace>, Vec<Diagnostic>)> {
    let measured = parts.par_iter().map(|part| faces(part, packs, end));
    let measured: Vec<(Option<Vec<OneFace>>, Vec<Diagnostic>)> = measured.collect();
    let (mut all, mut said) = (Vec::new(), Vec::new());
    for (faces, mut more) in measured {
        all.append(&mut faces?);
        said.append(&mut more);
    }
    diagnostic::tidy(&mut said);
    (!diagnostic::any_error(&said)).then_some((all, said))
}

/// What a face measures.
struct OneFace {
    /// How many equal ones there are.
    count: f64,
    gross: f64,
    deducted: f64,
}

/// The faces of a plan.
fn faces(plan: &Plan, packs: Packs<'_>, end: Span) -> (Option<Vec<OneFace>>, Vec<Diagnostic>) {
    let (job, mut diagnostics) = resolve_with(plan, packs, None, end);
    let Some(job) = job else {
        return (None, diagnostics);
    };
    let (measured, mut said) = measure(job, packs);
    diagnostics.append(&mut said);
    let job = &measured.job;
    let faces = measured.faces.iter().map(|face| OneFace {
        count: job
            .faces
            .get(face.face)
            .map_or(0.0, |face| f64::from(face.count)),
        gross: job.tape.value(face.shape.area).value,
        deducted: job.tape.value(face.deducted).value,
    });
    (Some(faces.collect()), diagnostics)
}

fn stand_in(technique: String, end: Span) -> Statement {
    let thickness = Quantity {
        value: 0.025,
        dim: Dim::LENGTH,
    };
    let settings = [
        FinishSetting::Technique(Name::new(technique, end)),
        FinishSetting::Thickness(Spanned::new(ExprKind::Literal(thickness), end)),
    ];
    Statement::Finish(Finish {
        name: Name::new(STAND_IN.to_owned(), end),
        settings: settings.map(|setting| Spanned::new(setting, end)).into(),
    })
}

/// The sums over all equal faces, added in the order of the plan.
fn of_all(faces: Vec<OneFace>) -> AreasOfAll {
    let mut sums = AreasOfAll {
        faces: 0.0,
        equal: 0.0,
        gross: 0.0,
        deducted: 0.0,
    };
    for face in faces {
        sums.faces += 1.0;
        sums.equal += face.count;
        sums.gross += face.gross * face.count;
        sums.deducted += face.deducted * face.count;
    }
    sums
}

#[cfg(test)]
mod tests;
