//! Finding a face by its name on the command line.

use crate::measure::Measured;
use parge_base::suggest;

/// The number in [`Measured::faces`] of the face `STRUCTURE/FACE`; or else the nearest of such
/// names, where there is one.
pub fn find(measured: &Measured, name: &str) -> Result<usize, Option<String>> {
    let job = &measured.job;
    let full = |number: usize| {
        let face = job.faces.get(number);
        face.map(|face| format!("{}/{}", job.structure_name(face.structure), face.name))
    };
    let names = measured
        .faces
        .iter()
        .map(|of| full(of.face).unwrap_or_default());
    let names: Vec<String> = names.collect();
    if let Some(found) = names.iter().position(|of| of == name) {
        return Ok(found);
    }
    let nearest = suggest::nearest(name, names.iter().map(String::as_str));
    Err(nearest.map(str::to_owned))
}
