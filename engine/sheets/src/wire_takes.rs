//! The form of what faces, edges, days and the job take within the JSON of an estimate; see
//! [`crate::wire`].

use crate::wire::Measure;
use serde::Serialize;

/// What a face, linear work, a day or the job as a whole takes.
#[derive(Debug, Serialize)]
pub struct TakesWire<'a> {
    /// Materials.
    pub needs: Vec<NeedWire<'a>>,
    /// Labour.
    pub hours: Vec<PhaseWire<'a>>,
}

/// So much of an item.
#[derive(Debug, Serialize)]
pub struct NeedWire<'a> {
    /// The item.
    pub item: &'a str,
    /// Without waste.
    pub need: Measure<'a>,
    /// As an amount.
    pub waste: Measure<'a>,
}

/// So much labour.
#[derive(Debug, Serialize)]
pub struct PhaseWire<'a> {
    /// The phase.
    pub phase: &'a str,
    /// Of one person, before the hours of the phase are added up and rounded.
    pub hours: f64,
}

/// How a surface is made.
#[derive(Debug, Serialize)]
pub struct FinishWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// The technique.
    pub technique: &'a str,
    /// Of the finish coat.
    pub thickness: Measure<'static>,
    /// Surface over flat area.
    pub relief: f64,
    /// With their shares of the area.
    pub colours: Vec<ColourWire<'a>>,
    /// Of the sealer.
    pub sheen: Option<&'a str>,
    /// Of sealer.
    pub sealer_coats: Option<f64>,
}

/// A colour.
#[derive(Debug, Serialize)]
pub struct ColourWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// Of the area, from 0 to 1.
    pub share: f64,
}
