//! What a batch fills: yield by absolute volumes (ACI 211.1) and by density (ASTM C138), and the
//! dose of pigments (ASTM C979).

use super::working::Working;
use super::{Outcome, PhysicsError};
use parge_base::{NodeId, Span, Tape};

/// A solid of a batch.
#[derive(Debug, Clone, Copy)]
pub struct Constituent {
    /// Its mass; per bag where the yield is to be per bag.
    pub mass: NodeId,
    /// Its density over that of water.
    pub relative_density: NodeId,
}

/// A batch of solids, water and air.
#[derive(Debug, Clone, Copy)]
pub struct Batch<'b> {
    /// The solids.
    pub solids: &'b [Constituent],
    /// The mass of water, of the same batch.
    pub water: NodeId,
    /// The share of air in the fresh volume, from 0 to below 1.
    pub air: NodeId,
    /// The density of water.
    pub water_density: NodeId,
}

/// The volume that a mass without pores fills: `m / (SG ρw)`.
pub fn absolute_volume(
    tape: &mut Tape,
    of: Constituent,
    water_density: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let density = working.times(of.relative_density, water_density)?;
    working.over(of.mass, density)
}

/// The fresh volume of a batch: `(Σ m / (SG ρw) + mw / ρw) / (1 - air)`.
///
/// An error where the air leaves no room.
pub fn fresh_volume(tape: &mut Tape, batch: Batch<'_>, place: Option<Span>) -> Outcome<NodeId> {
    let mut parts = Vec::with_capacity(batch.solids.len() + 1);
    for solid in batch.solids {
        parts.push(absolute_volume(tape, *solid, batch.water_density, place)?);
    }
    let mut working = Working { tape, place };
    parts.push(working.over(batch.water, batch.water_density)?);
    let filled = working.sum(&parts)?;
    if !(0.0..1.0).contains(&working.value(batch.air)) {
        return Err(PhysicsError::OutOfRange(
            "the share of air",
            "from 0 % to below 100 %",
        ));
    }
    let one = working.number(1.0);
    let rest = working.minus(one, batch.air)?;
    working.over(filled, rest)
}

/// What a mass fills at a density. For a whole batch and the density of the fresh mix it is the
/// yield of ASTM C138; for a bag and the density of coarse premix it is the rule of thumb.
pub fn volume_at_density(
    tape: &mut Tape,
    mass: NodeId,
    density: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    Working { tape, place }.over(mass, density)
}

/// The yield over the one that was designed for (ASTM C138).
pub fn relative_yield(
    tape: &mut Tape,
    found: NodeId,
    designed: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    Working { tape, place }.over(found, designed)
}

/// The mass of cement in a unit of the fresh volume (ASTM C138).
pub fn cement_content(
    tape: &mut Tape,
    cement: NodeId,
    volume: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    Working { tape, place }.over(cement, volume)
}

/// A pigment for integral colour.
#[derive(Debug, Clone, Copy)]
pub struct Pigment {
    /// The dose, as a share of the cement's mass.
    pub dose: NodeId,
    /// The most of it that may be dosed, as a share of the cement's mass.
    pub cap: NodeId,
}

/// The pigments of a batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pigments {
    /// The mass of each.
    pub masses: Vec<NodeId>,
    /// Their mass together.
    pub mass: NodeId,
    /// Their dose together, as a share of the cement's mass.
    pub dose: NodeId,
    /// Which of them, by their number, are dosed over their own cap.
    pub over: Vec<usize>,
    /// Whether all together are over the cap of any of them.
    pub too_much: bool,
}

/// The masses of pigments by the mass of cement (ASTM C979, sec. 1.4: no more than 10 %, all
/// together as well as each). Exactly at a cap is allowed.
///
/// An error for no pigment at all.
pub fn pigments(
    tape: &mut Tape,
    cement: NodeId,
    of: &[Pigment],
    place: Option<Span>,
) -> Outcome<Pigments> {
    let mut working = Working { tape, place };
    let doses: Vec<NodeId> = of.iter().map(|pigment| pigment.dose).collect();
    let dose = working.sum(&doses)?;
    let mut masses = Vec::with_capacity(of.len());
    for pigment in of {
        masses.push(working.times(pigment.dose, cement)?);
    }
    let mass = working.times(dose, cement)?;
    let above = |dose: NodeId, pigment: &Pigment| {
        let (dose, cap) = (working.value(dose), working.value(pigment.cap));
        dose > cap * (1.0 + 1e-12)
    };
    let over = of.iter().enumerate();
    let over = over.filter(|(_, pigment)| above(pigment.dose, pigment));
    Ok(Pigments {
        over: over.map(|(number, _)| number).collect(),
        too_much: of.iter().any(|pigment| above(dose, pigment)),
        masses,
        mass,
        dose,
    })
}

#[cfg(test)]
mod tests;
