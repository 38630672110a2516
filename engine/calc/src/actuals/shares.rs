//! Which face, structure or job takes what of an estimate, and what it takes at areas as built.
//!
//! What a face takes is reckoned to go with its area; what edges, the job and its days take does not
//! change. That is exact where a rule is linear in the area, and near it elsewhere.

use crate::measure::MeasuredFace;
use crate::takeoff::{Taken, Takeoff};
use std::collections::BTreeMap;

/// A structure by its number; none for what belongs to none.
pub(super) type Place = Option<usize>;

/// What the parts of a take-off take.
pub(super) struct Shares<'t> {
    takeoff: &'t Takeoff,
    /// Seconds by phase and place.
    times: BTreeMap<(&'t str, Place), f64>,
}

/// The area as built over the estimated one, by the number of the face in
/// [`crate::measure::Measured::faces`]; what is not among them is as estimated.
pub(super) type Ratios = BTreeMap<usize, f64>;

impl<'t> Shares<'t> {
    pub(super) fn of(takeoff: &'t Takeoff) -> Self {
        let mut times = BTreeMap::new();
        let job = &takeoff.measured.job;
        let faces = takeoff
            .measured
            .faces
            .iter()
            .map(|face| structure(takeoff, face));
        let faces = takeoff.faces.iter().zip(faces);
        let edges = job.edges.iter().map(|edge| Some(edge.structure));
        let edges = takeoff.edges.iter().zip(edges);
        let rest = takeoff.whole.iter().chain(&takeoff.daily);
        let rest = rest.map(|taken| (taken, None));
        for (taken, place) in faces.chain(edges).chain(rest) {
            for hours in taken.hours.iter().filter(|hours| hours.time.value > 0.0) {
                *times.entry((&*hours.phase, place)).or_insert(0.0) += hours.time.value;
            }
        }
        Self { takeoff, times }
    }

    /// Seconds of a phase by place: structures in their order, then what belongs to none.
    pub(super) fn places(&self, phase: &str) -> Vec<(Place, f64)> {
        let own = self.times.iter().filter(|((of, _), _)| *of == phase);
        let (job, structures): (Vec<_>, Vec<_>) = own
            .map(|((_, place), seconds)| (*place, *seconds))
            .partition(|(place, _)| place.is_none());
        structures.into_iter().chain(job).collect()
    }

    /// The structures that a phase is worked on.
    pub(super) fn structures_of(&self, phase: &str) -> impl Iterator<Item = usize> {
        self.places(phase)
            .into_iter()
            .filter_map(|(place, _)| place)
    }

    /// Whether some of a phase belongs to no structure.
    pub(super) fn is_of_job(&self, phase: &str) -> bool {
        self.times.contains_key(&(phase, None))
    }

    /// How much more of an item the faces take at the areas as built, with waste, in base units.
    pub(super) fn more_of_item(&self, item: &str, ratios: &Ratios) -> f64 {
        let of_face = |taken: &Taken| -> f64 {
            let needs = taken.needs.iter().filter(|need| &*need.item == item);
            needs.map(|need| need.amount.value + need.waste.value).sum()
        };
        self.more(ratios, |_, taken| of_face(taken))
    }

    /// How much longer a phase takes at the areas as built, in seconds: everywhere, or in a place.
    pub(super) fn more_of_phase(&self, phase: &str, place: Option<Place>, ratios: &Ratios) -> f64 {
        let of_face = |taken: &Taken| -> f64 {
            let hours = taken.hours.iter().filter(|hours| &*hours.phase == phase);
            hours.map(|hours| hours.time.value).sum()
        };
        self.more(ratios, |face, taken| {
            let own = structure(self.takeoff, face);
            match place.is_none_or(|place| place == own) {
                true => of_face(taken),
                false => 0.0,
            }
        })
    }

    fn more(&self, ratios: &Ratios, of: impl Fn(&MeasuredFace, &Taken) -> f64) -> f64 {
        let faces = self.takeoff.measured.faces.iter().zip(&self.takeoff.faces);
        let more = faces.enumerate().filter_map(|(number, (face, taken))| {
            let ratio = ratios.get(&number)?;
            Some(of(face, taken) * (ratio - 1.0))
        });
        more.sum()
    }
}

fn structure(takeoff: &Takeoff, face: &MeasuredFace) -> Place {
    let face = takeoff.measured.job.faces.get(face.face);
    face.map(|face| face.structure)
}
