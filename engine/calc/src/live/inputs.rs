//! What the inputs of the rules are: figures of the plan, sums over faces, figures of the price,
//! or figures that were counted.

use super::Rows;
use super::expr::Expr;
use super::plan::Plan;
use crate::explain::MEASURES;
use crate::origins::{edge_origin, face_origin};
use crate::price::Estimate;
use crate::takeoff::Takeoff;
use parge_base::{NodeId, Op, Quantity, Tape};
use std::collections::BTreeSet;

/// A figure's name without the kind of thing that it is of: `area` for `face.area`.
pub(super) fn bare(name: &str) -> &str {
    name.split_once('.').map_or(name, |(_, name)| name)
}

/// The inputs that operations and comparisons of a tape make use of, or that are a line by
/// themselves.
pub(super) fn used(tape: &Tape, lines: &[NodeId]) -> BTreeSet<u32> {
    let sides = tape
        .guards()
        .iter()
        .flat_map(|guard| [guard.left, guard.right]);
    let operands = tape
        .nodes()
        .flat_map(|(_, node)| super::cuts::operands(node.op));
    let all = operands.chain(sides).chain(lines.iter().copied());
    let inputs = all.filter_map(|node| match tape.node(node)?.op {
        Op::Input(slot) => Some(slot),
        _ => None,
    });
    inputs.collect()
}

/// The node of an input by its name without its kind.
pub(super) fn input_node(tape: &Tape, wanted: &str) -> Option<NodeId> {
    let found = tape.nodes().find(|(_, node)| match node.op {
        Op::Input(slot) => tape.input_name(slot).map(bare) == Some(wanted),
        _ => false,
    });
    found.map(|(id, _)| id)
}

/// Whether a figure of a face is measured: it may differ from face to face, though it does not
/// now.
fn is_measure(name: &str) -> bool {
    name == "radius" || MEASURES.iter().any(|(known, _)| *known == name)
}

/// The node of the plan behind an input of a row.
fn origin(estimate: &Estimate, rows: &Rows, row: usize, name: &str) -> Option<NodeId> {
    let measured = &estimate.takeoff.measured;
    match rows {
        Rows::Faces(faces) => {
            let [_, number] = faces.get(row)?;
            face_origin(&measured.job, measured.faces.get(*number)?, name)
        }
        Rows::Edges(edges) => {
            let [_, number] = edges.get(row)?;
            edge_origin(&measured.job, *number, name)
        }
    }
}

/// The nodes of the plan that the inputs of a class rest on.
pub(super) fn origins(
    estimate: &Estimate,
    rows: &Rows,
    tape: &Tape,
    used: &BTreeSet<u32>,
) -> Vec<NodeId> {
    let names: Vec<&str> = used
        .iter()
        .filter_map(|slot| tape.input_name(*slot))
        .collect();
    let rows_of = |name| (0..rows.len()).filter_map(move |row| origin(estimate, rows, row, name));
    names
        .into_iter()
        .flat_map(|name| rows_of(bare(name)))
        .collect()
}

/// Whether an input is the same for all rows of a class, and what it is there.
pub(super) fn same_for_all(
    plan: &Plan<'_>,
    estimate: &Estimate,
    rows: &Rows,
    name: &str,
) -> Option<Expr> {
    let name = bare(name);
    let measures = match rows {
        Rows::Faces(_) => is_measure(name),
        Rows::Edges(_) => name == "length" || name == "working_height",
    };
    if measures {
        return None;
    }
    let first = origin(estimate, rows, 0, name)?;
    let all = (1..rows.len()).all(|row| origin(estimate, rows, row, name) == Some(first));
    all.then(|| plan.expr(first))
}

/// An input of a row: a figure of the plan, or what was laid out.
pub(super) fn in_row(
    plan: &Plan<'_>,
    estimate: &Estimate,
    rows: &Rows,
    row: usize,
    name: &str,
) -> Expr {
    let name = bare(name);
    if let Some(node) = origin(estimate, rows, row, name) {
        return plan.expr(node);
    }
    let laid = match rows {
        Rows::Faces(faces) => faces
            .get(row)
            .and_then(|[_, number]| laid_out(&estimate.takeoff, *number, name)),
        Rows::Edges(_) => None,
    };
    laid.map_or(Expr::Number(f64::NAN), |laid| {
        Expr::number(laid, plan.system)
    })
}

/// What was laid out on a face, by its name for rules: `layouts[1].pieces`.
fn laid_out(takeoff: &Takeoff, face: usize, name: &str) -> Option<Quantity> {
    let (number, figure) = name.strip_prefix(LAID_OUT)?.split_once("].")?;
    let number = number.parse::<usize>().ok()?.checked_sub(1)?;
    let layout = takeoff.layouts.get(face)?.get(number)?;
    match figure {
        "pieces" => Some(layout.pieces),
        "by_area" => Some(layout.by_area),
        _ => None,
    }
}

/// What the names of laid out figures begin with.
pub(super) const LAID_OUT: &str = "layouts[";

/// The name of an input in words.
pub(super) fn input_words(name: &str) -> String {
    let name = bare(name);
    let measured = MEASURES.iter().find(|(known, _)| *known == name);
    measured.map_or_else(
        || crate::explain::names::words(name),
        |(_, words)| (*words).to_owned(),
    )
}

/// How often a face is there.
pub(super) fn face_count(plan: &Plan<'_>, row: usize) -> Option<f64> {
    let measured = plan.measured.faces.get(row)?;
    Some(f64::from(plan.job().faces.get(measured.face)?.count))
}
