//! A part of a plan as a list of named values, so that all parts are compared by one function.

use super::value::Value;
use crate::job::UnitSystem;

/// A named value of a part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Property {
    name: String,
    value: Option<Value>,
    /// Whether it holds only because the plan says nothing else.
    assumed: bool,
}

impl Property {
    /// What a plan states, or leaves open.
    pub(super) fn of(name: impl Into<String>, value: Option<Value>) -> Self {
        Self {
            name: name.into(),
            value,
            assumed: false,
        }
    }

    /// What holds where a plan says nothing. It is no change while neither plan says anything,
    /// and is left out of descriptions.
    pub(super) fn assumed(name: impl Into<String>, value: Value) -> Self {
        Self {
            assumed: true,
            ..Self::of(name, Some(value))
        }
    }

    fn same(&self, other: &Self) -> bool {
        match (&self.value, &other.value) {
            _ if self.assumed && other.assumed => true,
            (Some(old), Some(new)) => old.same(new),
            (old, new) => old.is_none() && new.is_none(),
        }
    }
}

/// A value that is another than before.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Difference {
    /// Which value.
    pub(super) what: String,
    /// Before.
    pub(super) old: Option<Value>,
    /// After.
    pub(super) new: Option<Value>,
}

/// A part of a plan: a shape, where it has one, and what else is said of it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Thing {
    /// The kind of its shape, and the sizes.
    pub(super) shape: Option<(&'static str, Vec<Property>)>,
    /// The rest.
    pub(super) rest: Vec<Property>,
}

impl Thing {
    /// Something without a shape.
    pub(super) fn plain(rest: Vec<Property>) -> Self {
        Self { shape: None, rest }
    }

    /// What differs from an older one. Shapes of two kinds, or with unlike lists of sizes, differ
    /// as a whole.
    pub(super) fn differences(&self, old: &Self, units: UnitSystem) -> Vec<Difference> {
        let mut found = match (&old.shape, &self.shape) {
            (Some((a, old)), Some((b, new))) if a == b && old.len() == new.len() => {
                differences(old, new)
            }
            (None, None) => Vec::new(),
            (old, new) => {
                let words = |shape: &Option<(&str, Vec<Property>)>| {
                    let (kind, sizes) = shape.as_ref()?;
                    Some(Value::Text(words(Some(kind), sizes, units)))
                };
                vec![Difference {
                    what: "shape".to_owned(),
                    old: words(old),
                    new: words(new),
                }]
            }
        };
        found.append(&mut differences(&old.rest, &self.rest));
        found
    }

    /// All that is stated, in one line: `rect, width 10ft, height 8ft, count 2`.
    pub(super) fn words(&self, units: UnitSystem) -> String {
        let (kind, sizes) = match &self.shape {
            Some((kind, sizes)) => (Some(*kind), sizes.as_slice()),
            None => (None, &[][..]),
        };
        words(kind, sizes.iter().chain(&self.rest), units)
    }
}

/// The differences of two lists of named values, in the order of the new one.
pub(super) fn differences(old: &[Property], new: &[Property]) -> Vec<Difference> {
    let difference = |old: Option<&Property>, new: Option<&Property>| {
        let value = |property: Option<&Property>| property.and_then(|known| known.value.clone());
        let what = new.or(old).map(|known| known.name.clone())?;
        let same = match (old, new) {
            (Some(old), Some(new)) => old.same(new),
            // A value that is not stated is the same as none.
            (old, new) => value(old).is_none() && value(new).is_none(),
        };
        let (old, new) = (value(old), value(new));
        (!same).then_some(Difference { what, old, new })
    };
    let of_new = new.iter().enumerate().filter_map(|(at, new)| {
        // Two plans nearly always say the same things in the same order.
        let beside = old.get(at).filter(|old| old.name == new.name);
        let found = beside.or_else(|| old.iter().find(|old| old.name == new.name));
        difference(found, Some(new))
    });
    let gone = old.iter().enumerate().filter_map(|(at, old)| {
        let beside = new.get(at).is_some_and(|new| new.name == old.name);
        let there = beside || new.iter().any(|new| new.name == old.name);
        if there {
            None
        } else {
            difference(Some(old), None)
        }
    });
    of_new.chain(gone).collect()
}

fn words<'a>(
    kind: Option<&str>,
    properties: impl IntoIterator<Item = &'a Property>,
    units: UnitSystem,
) -> String {
    let stated = properties.into_iter().filter(|property| !property.assumed);
    let stated = stated.filter_map(|property| {
        let value = property.value.as_ref()?;
        Some(format!("{} {}", property.name, value.words(units)))
    });
    let kind = kind.map(str::to_owned);
    kind.into_iter()
        .chain(stated)
        .collect::<Vec<_>>()
        .join(", ")
}

#[cfg(test)]
mod tests;
