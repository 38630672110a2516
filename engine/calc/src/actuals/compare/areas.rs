//! Areas as built beside the estimated ones.

use super::super::shares::Ratios;
use super::super::unmatched::{Unmatched, area_unit};
use crate::takeoff::Takeoff;
use parge_base::actuals::{AreaBuilt, Written};
use parge_base::{Dim, Quantity};

/// An area that a record states.
#[derive(Debug, Clone, PartialEq)]
pub struct AreaLine {
    /// The structure.
    pub structure: String,
    /// The face, where it is of one.
    pub face: Option<String>,
    /// The area that the estimate rests on: net, of all equal faces together.
    pub estimated: Quantity,
    /// The area as built.
    pub built: Quantity,
    /// Where in the record.
    pub place: Written,
}

/// What the areas of a record come to.
#[derive(Default)]
pub(super) struct Built {
    pub(super) ratios: Ratios,
    pub(super) lines: Vec<AreaLine>,
    pub(super) unmatched: Vec<Unmatched>,
}

/// Holds the areas of a record against the measured faces. One of a structure is spread over its
/// faces by their estimated areas.
pub(super) fn built(takeoff: &Takeoff, areas: &[AreaBuilt]) -> Built {
    let mut built = Built::default();
    let measured = &takeoff.measured;
    let job = &measured.job;
    for area in areas {
        let faces = measured.faces.iter().enumerate();
        let own = faces.filter_map(|(number, of)| {
            let face = job.faces.get(of.face)?;
            let named = area.face.as_ref().is_none_or(|name| *name == face.name);
            let here = named && job.structure_name(face.structure) == area.structure;
            let net = job.tape.value(of.net).value * f64::from(face.count);
            here.then_some((number, net))
        });
        let own: Vec<(usize, f64)> = own.collect();
        let estimated: f64 = own.iter().map(|(_, net)| net).sum();
        if estimated <= 0.0 {
            let unit = area_unit(job.units);
            built.unmatched.push(Unmatched::area(area, unit));
            continue;
        }
        let ratio = area.area.value / estimated;
        let ratios = own.iter().map(|(number, _)| (*number, ratio));
        built.ratios.extend(ratios);
        built.lines.push(AreaLine {
            structure: area.structure.clone(),
            face: area.face.clone(),
            estimated: Quantity {
                value: estimated,
                dim: Dim::AREA,
            },
            built: area.area,
            place: area.place.clone(),
        });
    }
    built
}
