//! What of an estimate a record can fill in.

use super::shares::Shares;
use crate::price::Estimate;
use parge_base::Units;
use parge_base::actuals::{ItemLine, Lines, PhaseLine, StructureLine};

/// The lines of an estimate; `units` are those of its rule pack.
pub fn lines(estimate: &Estimate, units: &Units) -> Lines {
    let measured = &estimate.takeoff.measured;
    let shares = Shares::of(&estimate.takeoff);
    let items = estimate.materials.iter().map(|line| ItemLine {
        item: line.material.item.clone(),
        description: line.material.description.clone(),
        unit: line.material.unit.clone(),
        pack: line.pack.clone(),
    });
    let phases = estimate.labour.iter().map(|line| {
        let phase = &line.labour.phase;
        let numbers = shares.structures_of(phase);
        let names = numbers.map(|number| measured.job.structure_name(number).to_owned());
        PhaseLine {
            phase: phase.clone(),
            description: line.labour.description.clone(),
            structures: names.collect(),
            of_job: shares.is_of_job(phase),
        }
    });
    let structures = measured.job.structures.iter().enumerate();
    let structures = structures.map(|(number, structure)| {
        let faces = measured.faces.iter();
        let faces = faces.filter_map(|face| measured.job.faces.get(face.face));
        let own = faces.filter(|face| face.structure == number);
        StructureLine {
            name: structure.name.clone(),
            faces: own.map(|face| face.name.clone()).collect(),
        }
    });
    Lines {
        job: measured.job.name.clone(),
        currency: estimate.currency,
        units: units.clone(),
        items: items.collect(),
        phases: phases.collect(),
        structures: structures.collect(),
    }
}
