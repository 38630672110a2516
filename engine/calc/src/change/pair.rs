//! Matching two lists by name, and finding what was only renamed.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// What became of the members of a list; numbers are places in the lists.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Pairs {
    /// For each new member, the old one that it is, by name or renamed.
    pub(super) old_of: Vec<Option<usize>>,
    /// Old members that are gone, in their order.
    pub(super) removed: Vec<usize>,
}

/// Matches two lists by name; equal names are matched in their order. What then is left over is
/// matched where `looks` of both sides is the same and `same` says so.
pub(super) fn pair(
    old: &[impl AsRef<str>],
    new: &[impl AsRef<str>],
    looks: [&dyn Fn(usize) -> String; 2],
    same: impl Fn(usize, usize) -> bool,
) -> Pairs {
    let mut by_name: BTreeMap<&str, VecDeque<usize>> = BTreeMap::new();
    for (at, name) in old.iter().enumerate() {
        by_name.entry(name.as_ref()).or_default().push_back(at);
    }
    let mut old_of: Vec<Option<usize>> = new
        .iter()
        .map(|name| by_name.get_mut(name.as_ref())?.pop_front())
        .collect();
    let mut left: Vec<usize> = by_name.into_values().flatten().collect();
    left.sort_unstable();

    let [looks_old, looks_new] = looks;
    let mut by_looks: BTreeMap<String, VecDeque<usize>> = BTreeMap::new();
    if old_of.contains(&None) {
        for at in &left {
            by_looks.entry(looks_old(*at)).or_default().push_back(*at);
        }
    }
    for (at, found) in old_of.iter_mut().enumerate() {
        if found.is_none() && !by_looks.is_empty() {
            *found = by_looks
                .get_mut(&looks_new(at))
                .and_then(|alike| alike.pop_front_if(|old| same(*old, at)));
        }
    }
    let found: BTreeSet<usize> = old_of.iter().flatten().copied().collect();
    left.retain(|at| !found.contains(at));
    Pairs {
        old_of,
        removed: left,
    }
}

#[cfg(test)]
mod tests;
