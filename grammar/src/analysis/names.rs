//! What each use of a name stands for.

use super::sketch::{Sketch, Sought, Thing, ThingKind, Use};
use std::collections::BTreeMap;
use std::ops::Range;

/// The uses of a sketch, looked up.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    /// The thing of each use, by its number.
    meant: Vec<Option<usize>>,
}

impl Names {
    pub(super) fn of(sketch: &Sketch) -> Self {
        let index = Index::of(&sketch.things);
        let mut meant: Vec<Option<usize>> = Vec::with_capacity(sketch.uses.len());
        for used in &sketch.uses {
            let found = match used.sought {
                Sought::FaceOf(place) => meant
                    .get(place)
                    .copied()
                    .flatten()
                    .and_then(|structure| index.face_of(structure, &used.name)),
                _ => index.find(used),
            };
            meant.push(found);
        }
        Self { meant }
    }

    /// What a use stands for.
    pub(super) fn meant(&self, used: usize) -> Option<usize> {
        self.meant.get(used).copied().flatten()
    }

    /// What is named at an offset.
    pub(super) fn at(&self, sketch: &Sketch, offset: usize) -> Option<usize> {
        self.named_at(sketch, offset)?.1
    }

    /// The name at an offset with what it stands for. Directly behind a name counts as at it,
    /// unless another one begins there.
    pub(super) fn named_at(
        &self,
        sketch: &Sketch,
        offset: usize,
    ) -> Option<(Range<usize>, Option<usize>)> {
        let things = sketch.things.iter().enumerate();
        let things = things.map(|(number, thing)| (&thing.at, Some(number)));
        let uses = sketch.uses.iter().zip(&self.meant);
        let uses = uses.map(|(used, meant)| (&used.at, *meant));
        let here = things.chain(uses).filter(|(at, _)| touches(at, offset));
        let (at, meant) = here.max_by_key(|(at, _)| at.start)?;
        Some((at.clone(), meant))
    }

    /// All places that name a thing.
    pub(super) fn places(
        &self,
        sketch: &Sketch,
        thing: usize,
        include_definition: bool,
    ) -> Vec<Range<usize>> {
        let uses = sketch.uses.iter().zip(&self.meant);
        let uses = uses.filter(|(_, meant)| **meant == Some(thing));
        let mut places: Vec<_> = uses.map(|(used, _)| used.at.clone()).collect();
        let defined = sketch.things.get(thing).filter(|_| include_definition);
        places.extend(defined.map(|thing| thing.at.clone()));
        places.sort_by_key(|place| place.start);
        places
    }
}

/// Whether an offset lies in a name or directly behind it.
pub(super) fn touches(name: &Range<usize>, offset: usize) -> bool {
    name.start <= offset && offset <= name.end
}

/// The things by what they can be looked up by.
pub(super) struct Index<'s> {
    things: &'s [Thing],
    /// The first one of each kind and name.
    first: BTreeMap<(ThingKind, &'s str), usize>,
    /// Parameters and faces by what they stand in.
    within: BTreeMap<(usize, ThingKind, &'s str), usize>,
    /// The only face of a name in the whole plan; none where there are several.
    only_face: BTreeMap<&'s str, Option<usize>>,
}

impl<'s> Index<'s> {
    pub(super) fn of(things: &'s [Thing]) -> Self {
        let mut index = Self {
            things,
            first: BTreeMap::new(),
            within: BTreeMap::new(),
            only_face: BTreeMap::new(),
        };
        for (number, thing) in things.iter().enumerate() {
            let name = thing.name.as_str();
            index.first.entry((thing.kind, name)).or_insert(number);
            if let Some(parent) = thing.parent {
                let place = (parent, thing.kind, name);
                index.within.entry(place).or_insert(number);
            }
            if thing.kind == ThingKind::Face {
                let only = index.only_face.entry(name);
                only.and_modify(|only| *only = None).or_insert(Some(number));
            }
        }
        index
    }

    /// What a use stands for, where its own place is enough to tell.
    fn find(&self, used: &Use) -> Option<usize> {
        let name = used.name.as_str();
        match used.sought {
            Sought::Value => self.value(used.body, name),
            Sought::Finish => self.first(ThingKind::Finish, name),
            Sought::Template => self.first(ThingKind::Template, name),
            Sought::Structure => self.first(ThingKind::Structure, name),
            Sought::Place => self.place(used.body, name),
            Sought::FaceOf(_) => None,
        }
    }

    fn first(&self, kind: ThingKind, name: &str) -> Option<usize> {
        self.first.get(&(kind, name)).copied()
    }

    fn within(&self, parent: usize, kind: ThingKind, name: &str) -> Option<usize> {
        self.within.get(&(parent, kind, name)).copied()
    }

    /// A parameter of the template around hides a `let` of the same name.
    fn value(&self, body: Option<usize>, name: &str) -> Option<usize> {
        let parameter = body.and_then(|body| self.within(body, ThingKind::Parameter, name));
        parameter.or_else(|| self.first(ThingKind::Let, name))
    }

    /// A face of the own structure, else a structure, else the one face of that name.
    pub(super) fn place(&self, body: Option<usize>, name: &str) -> Option<usize> {
        body.and_then(|body| self.face_of(body, name))
            .or_else(|| self.first(ThingKind::Structure, name))
            .or_else(|| self.only_face.get(name).copied().flatten())
    }

    /// The faces of a structure, and of the template that it is made from.
    pub(super) fn faces_of(&self, structure: usize) -> impl Iterator<Item = usize> + '_ {
        let from = self
            .things
            .get(structure)
            .and_then(|thing| thing.from.as_deref());
        let template = from.and_then(|from| self.first(ThingKind::Template, from));
        let things = self.things.iter().enumerate();
        let faces = things.filter(move |(_, thing)| {
            let owned = thing.parent == Some(structure) || thing.parent == template;
            thing.kind == ThingKind::Face && thing.parent.is_some() && owned
        });
        faces.map(|(number, _)| number)
    }

    /// A face of a structure, which may be one of the template that it is made from.
    fn face_of(&self, structure: usize, name: &str) -> Option<usize> {
        self.within(structure, ThingKind::Face, name).or_else(|| {
            let from = self.things.get(structure)?.from.as_deref()?;
            let template = self.first(ThingKind::Template, from)?;
            self.within(template, ThingKind::Face, name)
        })
    }
}
