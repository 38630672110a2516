//! Lines of what changed, and the comparison of two lists of named things.

use super::pair::{Pairs, pair};
use super::things::{Difference, Thing};
use super::{Change, Kind, Part, Value};
use crate::job::UnitSystem;

/// Differences of one part as lines.
pub(super) fn changed(part: &Part, differences: Vec<Difference>) -> Vec<Change> {
    let line = |Difference { what, old, new }| Change {
        part: part.clone(),
        kind: Kind::Changed,
        what,
        old,
        new,
    };
    differences.into_iter().map(line).collect()
}

/// A part that is new, with words that describe it.
pub(super) fn added(part: Part, words: String) -> Change {
    Change {
        part,
        kind: Kind::Added,
        what: String::new(),
        old: None,
        new: Some(Value::Text(words)),
    }
}

/// A part that is gone, with words that describe it.
pub(super) fn removed(part: Part, words: String) -> Change {
    Change {
        part,
        kind: Kind::Removed,
        what: String::new(),
        old: Some(Value::Text(words)),
        new: None,
    }
}

/// A part with another name.
pub(super) fn renamed(part: Part, old: &str, new: &str) -> Change {
    Change {
        part,
        kind: Kind::Renamed,
        what: "name".to_owned(),
        old: Some(Value::text(old)),
        new: Some(Value::text(new)),
    }
}

/// Compares two lists of things with names, and tells which became which.
pub(super) fn named(
    old: &[(&str, Thing)],
    new: &[(&str, Thing)],
    part: impl Fn(&str) -> Part,
    units: UnitSystem,
) -> (Vec<Change>, Pairs) {
    let names = |list: &[(&'_ str, Thing)]| -> Vec<String> {
        list.iter().map(|(name, _)| (*name).to_owned()).collect()
    };
    let words = |list: &[(&str, Thing)], at: usize| {
        list.get(at)
            .map_or(String::new(), |(_, thing)| thing.words(units))
    };
    let compared = |was: usize, is: usize| match (old.get(was), new.get(is)) {
        (Some((_, was)), Some((_, is))) => is.differences(was, units),
        _ => Vec::new(),
    };
    let pairs = pair(
        &names(old),
        &names(new),
        [&|at| words(old, at), &|at| words(new, at)],
        |was, is| compared(was, is).is_empty(),
    );
    let mut lines = Vec::new();
    for (at, ((name, _), was)) in new.iter().zip(&pairs.old_of).enumerate() {
        let part = part(name);
        let Some((was, (before, _))) = was.and_then(|was| Some((was, old.get(was)?))) else {
            lines.push(added(part, words(new, at)));
            continue;
        };
        let differences = changed(&part, compared(was, at));
        if before != name {
            lines.push(renamed(part, before, name));
        }
        lines.extend(differences);
    }
    for at in &pairs.removed {
        let name = old.get(*at).map_or("", |(name, _)| *name);
        lines.push(removed(part(name), words(old, *at)));
    }
    (lines, pairs)
}
