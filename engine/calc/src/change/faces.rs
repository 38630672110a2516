//! What structures, faces and openings say otherwise, and what area that is.

use super::lines::{added, changed, named, removed, renamed};
use super::pair::{Pairs, pair};
use super::shape::sizes;
use super::structure::properties;
use super::things::{Difference, Property, Thing, differences};
use super::value::same_figure;
use super::{Both, Change, FaceArea, Part, Value};
use crate::job::{EdgeSide, Face, Job, Opening, UnitSystem};
use crate::measure::{Measured, MeasuredFace};
use parge_base::{Dim, Quantity};

/// One of the two plans, with what is looked up in it.
pub(super) struct View<'a> {
    job: &'a Job,
    /// The name of each finish in the new plan, or its own where it is gone.
    finishes: Vec<String>,
    /// The measures of each face; none for one that could not be measured.
    measures: Vec<Option<&'a MeasuredFace>>,
    /// The faces of each structure.
    faces: Vec<Vec<usize>>,
}

impl<'a> View<'a> {
    pub(super) fn new(measured: &'a Measured, finishes: Vec<String>) -> Self {
        let job = &measured.job;
        let mut measures = vec![None; job.faces.len()];
        for found in &measured.faces {
            if let Some(slot) = measures.get_mut(found.face) {
                *slot = Some(found);
            }
        }
        let mut faces = vec![Vec::new(); job.structures.len()];
        for (number, face) in job.faces.iter().enumerate() {
            if let Some(list) = faces.get_mut(face.structure) {
                list.push(number);
            }
        }
        Self {
            job,
            finishes,
            measures,
            faces,
        }
    }

    fn structure_names(&self) -> Vec<&'a str> {
        let structures = self.job.structures.iter();
        structures
            .map(|structure| structure.name.as_str())
            .collect()
    }

    fn structure(&self, number: usize) -> &'a str {
        self.job.structure_name(number)
    }

    fn faces_of(&self, structure: usize) -> &[usize] {
        self.faces.get(structure).map_or(&[], Vec::as_slice)
    }

    fn face_names(&self, faces: &[usize]) -> Vec<&'a str> {
        let name = |number: &usize| self.face(*number).map_or("", |face| face.name.as_str());
        faces.iter().map(name).collect()
    }

    fn face(&self, number: usize) -> Option<&'a Face> {
        self.job.faces.get(number)
    }

    /// The coated area of all equal faces.
    fn area(&self, number: usize) -> Option<Quantity> {
        let measures = (*self.measures.get(number)?)?;
        let net = self.job.tape.value(measures.net);
        net.times(Quantity::plain(f64::from(self.face(number)?.count)))
            .ok()
    }

    fn thing(&self, number: usize) -> Option<Thing> {
        let face = self.face(number)?;
        let count = Value::Quantity(Quantity::plain(f64::from(face.count)));
        let mut rest = vec![
            match face.count {
                1 => Property::assumed("count", count),
                _ => Property::of("count", Some(count)),
            },
            Property::of("substrate", Some(Value::text(&face.substrate))),
            Property::of("finish", self.finishes.get(face.finish).map(Value::text)),
        ];
        // Where nothing is stated the work goes up to the face's own height.
        if let Some(Some(measures)) = self.measures.get(number) {
            let height = Value::Quantity(self.job.tape.value(measures.working_height));
            rest.push(match face.working_height {
                None => Property::assumed("working height", height),
                Some(_) => Property::of("working height", Some(height)),
            });
        }
        Some(Thing {
            shape: Some(sizes(self.job, &face.shape.node)),
            rest,
        })
    }

    fn opening(&self, opening: &Opening) -> Thing {
        let value = |figure| Value::Quantity(self.job.value(figure));
        let once = Value::Quantity(Quantity::plain(1.0));
        let count = opening.count.map(value).filter(|count| !count.same(&once));
        Thing {
            shape: Some(sizes(self.job, &opening.shape.node)),
            rest: vec![
                Property::of("reveal", opening.reveal.map(value)),
                Property::of("reveal on", edges_with_reveal(opening)),
                Property::of(
                    "finish",
                    opening
                        .finish
                        .and_then(|finish| self.finishes.get(finish))
                        .map(Value::text),
                ),
                match count {
                    None => Property::assumed("count", once),
                    count => Property::of("count", count),
                },
            ],
        }
    }

    fn openings<'f>(&self, face: &'f Face) -> Vec<(&'f str, Thing)> {
        let openings = face.openings.iter();
        openings
            .map(|opening| (opening.name.as_str(), self.opening(opening)))
            .collect()
    }

    /// All that is said of a face, in one line.
    fn words(&self, number: usize, units: UnitSystem) -> String {
        let (Some(face), Some(thing)) = (self.face(number), self.thing(number)) else {
            return String::new();
        };
        let openings = self.openings(face).into_iter();
        let openings =
            openings.map(|(name, opening)| format!("; opening {name}: {}", opening.words(units)));
        let words: String = openings.collect();
        thing.words(units) + words.as_str()
    }

    /// All that is said of a structure's faces.
    fn all_words(&self, structure: usize, units: UnitSystem) -> String {
        let faces = self.faces_of(structure);
        let named = self.face_names(faces).into_iter().zip(faces);
        let line =
            |(name, number): (&str, &usize)| format!("{name}: {}\n", self.words(*number, units));
        named.map(line).collect()
    }
}

/// The two plans.
pub(super) struct Plans<'a> {
    pub(super) old: View<'a>,
    pub(super) new: View<'a>,
    pub(super) units: UnitSystem,
}

/// Lines of all structures and faces, in the order of the new plan, and the areas that changed.
pub(super) fn compare(plans: &Plans<'_>) -> (Vec<Change>, Vec<FaceArea>) {
    let mut found = Found::default();
    let pairs = plans.structures();
    for (new, old) in pairs.old_of.iter().enumerate() {
        plans.structure(*old, Some(new), &mut found);
    }
    for old in pairs.removed {
        plans.structure(Some(old), None, &mut found);
    }
    (found.lines, found.areas)
}

#[derive(Default)]
struct Found {
    lines: Vec<Change>,
    areas: Vec<FaceArea>,
}

impl Plans<'_> {
    fn structures(&self) -> Pairs {
        pair(
            &self.old.structure_names(),
            &self.new.structure_names(),
            [&|at| self.old.all_words(at, self.units), &|at| {
                self.new.all_words(at, self.units)
            }],
            |old, new| {
                let mut pairs = self.faces(Some(old), Some(new)).into_iter();
                let same = pairs.all(|pair| match pair {
                    (Some(old), Some(new)) => self.face("", old, new).is_empty(),
                    _ => false,
                });
                same && self.differences_of_structure(old, new).is_empty()
            },
        )
    }

    /// The faces of a structure in both plans: those of the new one in its order, then those
    /// that are gone.
    fn faces(&self, old: Option<usize>, new: Option<usize>) -> Vec<(Option<usize>, Option<usize>)> {
        let were = old.map_or(&[][..], |old| self.old.faces_of(old));
        let are = new.map_or(&[][..], |new| self.new.faces_of(new));
        let number = |list: &[usize], at: usize| list.get(at).copied().unwrap_or(usize::MAX);
        let pairs = pair(
            &self.old.face_names(were),
            &self.new.face_names(are),
            [&|at| self.old.words(number(were, at), self.units), &|at| {
                self.new.words(number(are, at), self.units)
            }],
            |old, new| {
                let (old, new) = (number(were, old), number(are, new));
                self.face("", old, new).is_empty()
            },
        );
        let there = are.iter().zip(&pairs.old_of).map(|(new, old)| {
            let old = old.map(|at| number(were, at));
            (old, Some(*new))
        });
        let gone = pairs
            .removed
            .iter()
            .map(|at| (Some(number(were, *at)), None));
        there.chain(gone).collect()
    }

    fn structure(&self, old: Option<usize>, new: Option<usize>, found: &mut Found) {
        let was = old.map(|old| self.old.structure(old));
        let is = new.map(|new| self.new.structure(new));
        let name = is.or(was).unwrap_or_default();
        let part = Part::Structure(name.to_owned());
        let only = |view: &View<'_>, number: usize| count_words(view.faces_of(number).len());
        match (old, new) {
            (Some(old), Some(new)) => {
                if was != is {
                    let was = was.unwrap_or_default();
                    found.lines.push(renamed(part.clone(), was, name));
                }
                let differences = self.differences_of_structure(old, new);
                found.lines.append(&mut changed(&part, differences));
            }
            (Some(old), None) => found.lines.push(removed(part, only(&self.old, old))),
            (None, Some(new)) => found.lines.push(added(part, only(&self.new, new))),
            (None, None) => {}
        }
        for (old, new) in self.faces(old, new) {
            self.face_found(name, old, new, found);
        }
    }

    /// What is said otherwise of a structure itself: its conditions and linear work.
    fn differences_of_structure(&self, old: usize, new: usize) -> Vec<Difference> {
        let said = |view: &View<'_>, number| properties(view.job, number, self.units);
        differences(&said(&self.old, old), &said(&self.new, new))
    }

    fn face_found(
        &self,
        structure: &str,
        old: Option<usize>,
        new: Option<usize>,
        found: &mut Found,
    ) {
        let name = |face: &Face| face.name.clone();
        let was = old.and_then(|old| self.old.face(old)).map(name);
        let is = new.and_then(|new| self.new.face(new)).map(name);
        let face = is.clone().or(was.clone()).unwrap_or_default();
        let part = Part::Face {
            structure: structure.to_owned(),
            face: face.clone(),
        };
        match (old, new) {
            (Some(old), Some(new)) => {
                let mut lines = self.face(structure, old, new);
                if was != is {
                    let was = was.unwrap_or_default();
                    found.lines.push(renamed(part, &was, &face));
                }
                found.lines.append(&mut lines);
            }
            (Some(old), None) => {
                let words = self.old.words(old, self.units);
                found.lines.push(removed(part, words));
            }
            (None, Some(new)) => {
                let words = self.new.words(new, self.units);
                found.lines.push(added(part, words));
            }
            (None, None) => {}
        }
        let area = Both {
            old: old.and_then(|old| self.old.area(old)),
            new: new.and_then(|new| self.new.area(new)),
        };
        let same = match (area.old, area.new) {
            (Some(old), Some(new)) => same_figure(old.value, new.value),
            (old, new) => old == new,
        };
        if !same {
            found.areas.push(FaceArea {
                structure: structure.to_owned(),
                face,
                area,
            });
        }
    }

    /// What a face and its openings say otherwise.
    fn face(&self, structure: &str, old: usize, new: usize) -> Vec<Change> {
        let (Some(was), Some(is)) = (self.old.face(old), self.new.face(new)) else {
            return Vec::new();
        };
        let part = Part::Face {
            structure: structure.to_owned(),
            face: is.name.clone(),
        };
        let found = match (self.old.thing(old), self.new.thing(new)) {
            (Some(old), Some(new)) => new.differences(&old, self.units),
            _ => Vec::new(),
        };
        let mut lines = changed(&part, found);
        let (before, after) = (self.old.openings(was), self.new.openings(is));
        let part = |opening: &str| Part::Opening {
            structure: structure.to_owned(),
            face: is.name.clone(),
            opening: opening.to_owned(),
        };
        lines.append(&mut named(&before, &after, part, self.units).0);
        lines
    }
}

fn count_words(faces: usize) -> String {
    match faces {
        0 => "no face".to_owned(),
        1 => "1 face".to_owned(),
        more => format!("{more} faces"),
    }
}

/// The coated area of all faces of a job.
pub(super) fn total_area(measured: &Measured) -> Quantity {
    let view = View::new(measured, Vec::new());
    let areas = (0..measured.job.faces.len()).filter_map(|number| view.area(number));
    areas.fold(Quantity::zero(Dim::AREA), |sum, area| {
        sum.plus(area).unwrap_or(sum)
    })
}

/// The edges that have the reveal, in words; none where it runs all around. Their order means
/// nothing.
fn edges_with_reveal(opening: &Opening) -> Option<Value> {
    let sides = [
        (EdgeSide::Top, "top"),
        (EdgeSide::Bottom, "bottom"),
        (EdgeSide::Sides, "sides"),
    ];
    let named = sides
        .into_iter()
        .filter(|(side, _)| opening.sides.contains(side));
    let words: Vec<&str> = named.map(|(_, word)| word).collect();
    (!words.is_empty()).then(|| Value::Text(words.join(", ")))
}
