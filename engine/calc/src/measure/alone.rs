//! Measuring a plan whose finishes are not settled yet: what is coated, and with what, changes no
//! size. So a plan just made of a client's sheet can be held against that sheet.

use super::areas::{AreasOfAll, OneFace};
use super::measure;
use crate::contract::{Packs, SUBSTRATES, TECHNIQUES};
use crate::resolve::resolve_with;
use parge_base::{Diagnostic, Dim, Quantity, Span, Spanned};
use parge_grammar::ast::{
    BodySetting, ExprKind, FaceDetail, Finish, FinishSetting, Name, OpeningDetail, Plan, Statement,
    Structure,
};

/// The finish that stands in for all others.
const STAND_IN: &str = "stand-in";

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
    for statement in &mut plan.statements {
        if let Statement::Structure(structure) = statement {
            settle(structure, &substrate, end);
        }
    }
    plan.statements.push(stand_in(technique, end));
    let (faces, said) = faces(&plan, packs, end);
    (faces.map(|faces| AreasOfAll::of(&faces)), said)
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

#[cfg(test)]
mod tests;
