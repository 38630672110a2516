//! Rules that were run for all that there is, to be asked the same again.

use super::rules::{mixes, taken_of};
use super::{SeenFaces, Taken};
use parge_base::trace::columns::{Columns, Replayed};
use parge_rules::{Pack, Run};
use std::collections::{BTreeMap, BTreeSet};

/// The runs that the rules of a pack came to.
pub(crate) struct Known<'r> {
    runs: &'r [Run],
    mixes: BTreeSet<&'r str>,
}

/// The faces that one run holds for.
struct Of<'r> {
    run: &'r Run,
    number: usize,
    inputs: Columns,
    rows: Vec<usize>,
}

impl<'r> Known<'r> {
    /// All runs of a take-off.
    pub(crate) fn of(pack: &'r Pack, runs: &'r [Run]) -> Self {
        Self {
            runs,
            mixes: mixes(pack),
        }
    }

    /// What faces take, each by the run that held for it. `None` where one of them is not what that
    /// run was told to hold for.
    pub(super) fn take_all(&self, faces: &SeenFaces<'_>, held: &[u32]) -> Option<Vec<Taken>> {
        let mut groups: BTreeMap<u32, Of<'_>> = BTreeMap::new();
        let mut rows = Vec::with_capacity(held.len());
        for (at, number) in held.iter().enumerate() {
            let inputs = faces.subject(at)?.inputs();
            let run = self.runs.get(*number as usize)?;
            let group = groups.entry(*number).or_insert_with(|| Of {
                run,
                number: *number as usize,
                inputs: Columns::of_kinds(&inputs),
                rows: Vec::new(),
            });
            let row = group.inputs.push(&inputs)?;
            group.rows.push(row);
            rows.push(row);
        }
        let replayed = groups
            .iter()
            .map(|(number, of)| Some((*number, of.replay()?)));
        let replayed: BTreeMap<u32, Replayed> = replayed.collect::<Option<_>>()?;
        let taken = faces.places().zip(held).zip(rows);
        let taken = taken.map(|((place, number), row)| {
            let (of, replayed) = (groups.get(number)?, replayed.get(number)?);
            let value = |_: &Run, node| replayed.value(row, node);
            let (taken, too_large) = taken_of(of.run, of.number, &self.mixes, value, place.count);
            (!too_large).then_some(taken)
        });
        taken.collect()
    }
}

impl Of<'_> {
    /// The figures of all of them; none where the run does not hold for all.
    fn replay(&self) -> Option<Replayed> {
        let lines = self.run.line_nodes();
        let replayed = self
            .run
            .tape
            .replay_columns(&self.inputs, &self.rows, &lines);
        replayed
            .ok()
            .filter(|replayed| replayed.rows() == self.rows)
    }
}
