//! What rules see of faces, linear work and the job. The names are the pack author's contract;
//! see the pack's README.

use super::Taken;
use super::totals::{Names, Totals};
use crate::job::{Edge, Face, Figure, Finish, Job, Shape};
use crate::layout::Layout;
use crate::measure::{Measured, MeasuredFace};
use parge_base::{NodeId, Quantity, QuantityError};
use parge_rules::{Subject, Value};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What a rule sees of a face.
pub(crate) fn face_subject<'s>(
    job: &'s Job,
    face: &'s Face,
    finish: &'s Finish,
    measured: &MeasuredFace,
    layouts: &'s [Layout],
) -> Subject<'s> {
    let node = |node: NodeId| Value::Quantity(job.tape.value(node), Some(face.span));
    let figure = |figure: Figure| Value::Quantity(job.value(figure), Some(figure.span));
    let optional = |value: Option<Value<'s>>| value.unwrap_or(Value::Absent);
    let colours = finish.colours.iter().map(|(name, share)| {
        subject(
            "colour",
            [
                ("name", Value::Text(name.as_str().into())),
                ("share", figure(*share)),
            ],
        )
    });
    let shape = &measured.shape;
    let part = match face.shape.node {
        Shape::Reveal(_) => "reveal",
        _ => "face",
    };
    subject(
        "face",
        [
            ("substrate", Value::Text(face.substrate.as_str().into())),
            ("technique", Value::Text(finish.technique.as_str().into())),
            ("finish", Value::Text(finish.name.as_str().into())),
            (
                "sheen",
                optional(
                    finish
                        .sheen
                        .as_deref()
                        .map(|sheen| Value::Text(sheen.into())),
                ),
            ),
            ("sealer_coats", optional(finish.sealer_coats.map(figure))),
            ("colours", Value::List(colours.collect())),
            ("thickness", figure(finish.thickness)),
            ("relief", figure(finish.relief)),
            ("area", node(measured.net)),
            ("gross_area", node(shape.area)),
            ("deducted_area", node(measured.deducted)),
            ("reveal_area", node(measured.reveal)),
            ("width", node(shape.width)),
            ("height", node(shape.height)),
            ("perimeter", node(shape.perimeter)),
            ("top", node(shape.top)),
            ("bottom", node(shape.bottom)),
            ("sides", node(shape.sides)),
            ("opening_edges", node(measured.opening_edges)),
            ("working_height", node(measured.working_height)),
            ("radius", optional(shape.radius.map(node))),
            ("part", Value::Text(part.into())),
            ("layouts", laid(layouts, face)),
            ("conditions", conditions_at(job, face.structure)),
        ],
    )
}

/// Each with its `item`, and its `pieces` and the count `by_area` for one layer on one face.
fn laid<'s>(layouts: &'s [Layout], face: &Face) -> Value<'s> {
    let counted = |quantity| Value::Quantity(quantity, Some(face.span));
    let each = layouts.iter().map(|layout| {
        subject(
            "layout",
            [
                ("item", Value::Text((&*layout.sheet.item).into())),
                ("pieces", counted(layout.pieces)),
                ("by_area", counted(layout.by_area)),
            ],
        )
    });
    Value::List(each.collect())
}

/// What a rule sees of linear work, for one of its equal pieces.
pub(crate) fn edge_subject<'s>(job: &'s Job, edge: &'s Edge) -> Subject<'s> {
    let figure = |figure: Figure| Value::Quantity(job.value(figure), Some(figure.span));
    let text = |text: &'s str| Value::Text(text.into());
    let optional = |value: Option<Value<'s>>| value.unwrap_or(Value::Absent);
    let finish = edge.finish.and_then(|finish| job.finishes.get(finish));
    subject(
        "edge",
        [
            ("kind", text(&edge.kind)),
            ("length", figure(edge.length)),
            ("substrate", optional(edge.substrate.as_deref().map(text))),
            (
                "technique",
                optional(finish.map(|finish| text(&finish.technique))),
            ),
            (
                "thickness",
                optional(finish.map(|finish| figure(finish.thickness))),
            ),
            ("working_height", optional(edge.working_height.map(figure))),
            ("conditions", conditions_at(job, edge.structure)),
        ],
    )
}

/// The conditions that hold at a structure, each with its `condition` and its `word`.
fn conditions_at(job: &Job, structure: usize) -> Value<'_> {
    let found = job.structures.get(structure);
    conditions(found.map_or(&[][..], |structure| &structure.conditions))
}

/// Conditions, each with its `condition` and its `word`.
pub(crate) fn conditions<'s>(all: impl IntoIterator<Item = &'s (String, String)>) -> Value<'s> {
    let text = |text: &'s str| Value::Text(text.into());
    let each = all.into_iter().map(|(kind, word)| {
        subject(
            "condition",
            [("condition", text(kind)), ("word", text(word))],
        )
    });
    Value::List(each.collect())
}

/// What a rule sees of the whole job: of the faces that went by before, those measured, and what these
/// and the linear work take.
pub(crate) fn job_subject<'t>(
    measured: &'t Measured,
    passed: &Totals,
    [faces, edges]: [&[Taken]; 2],
) -> Result<Subject<'t>, QuantityError> {
    let job = &measured.job;
    let mut totals = passed.clone();
    totals.add_faces(measured, 0)?;
    totals.add_edges(job);
    totals.add_taken(faces.iter().chain(edges))?;
    let known = |quantity: Quantity| Value::Quantity(quantity, None);
    let stated = |figure: Option<Figure>| {
        figure.map_or(Value::Absent, |figure| {
            Value::Quantity(job.value(figure), Some(figure.span))
        })
    };
    Ok(subject(
        "job",
        [
            ("area", known(totals.area)),
            ("ground_run", known(totals.run)),
            ("faces", known(Quantity::plain(totals.faces))),
            (
                "structures",
                known(Quantity::plain(totals.structures.len() as f64)),
            ),
            ("crew", stated(job.crew)),
            ("hours", known(totals.hours)),
            ("working_height", known(totals.highest)),
            ("air", stated(job.weather.air)),
            ("mix", stated(job.weather.mix)),
            ("humidity", stated(job.weather.humidity)),
            ("wind", stated(job.weather.wind)),
            (
                "evaporation",
                reckoned(job, job.weather.evaporation.map(|found| found.rate)),
            ),
            ("dew_point", reckoned(job, job.weather.dew_point)),
            ("techniques", named("technique", &totals.techniques)),
            ("substrates", named("substrate", &totals.substrates)),
            ("phases", named("phase", &totals.phases)),
            ("items", named("item", &totals.items)),
            (
                "conditions",
                conditions(conditions_of(job, &totals.structures)),
            ),
        ],
    ))
}

/// What the program reckons from the weather.
fn reckoned(job: &Job, node: Option<NodeId>) -> Value<'static> {
    node.map_or(Value::Absent, |node| {
        let place = job.tape.node(node).and_then(|node| node.place);
        Value::Quantity(job.tape.value(node), place)
    })
}

/// Things of a kind, each with its `name`.
fn named<'s>(kind: &'static str, names: &Names) -> Value<'s> {
    let text = |name: &Arc<str>| Value::Text(name.to_string().into());
    let each = names
        .iter()
        .map(|name| subject(kind, [("name", text(name))]));
    Value::List(each.collect())
}

/// The conditions that hold at a structure on which there is work, each once.
fn conditions_of<'s>(job: &'s Job, structures: &BTreeSet<usize>) -> Vec<&'s (String, String)> {
    let of_edges = job.edges.iter().map(|edge| edge.structure);
    let worked: BTreeSet<usize> = structures.iter().copied().chain(of_edges).collect();
    let mut found: Vec<&(String, String)> = Vec::new();
    for structure in worked.into_iter().filter_map(|at| job.structures.get(at)) {
        for state in &structure.conditions {
            if !found.contains(&state) {
                found.push(state);
            }
        }
    }
    found
}

fn subject<'s, const N: usize>(
    kind: &'static str,
    values: [(&'static str, Value<'s>); N],
) -> Subject<'s> {
    let values = values
        .into_iter()
        .map(|(name, value)| (name.into(), value))
        .collect();
    Subject {
        kind: kind.into(),
        values,
    }
}
