//! Numbers for names that the lines of the same runs bring again and again.

use std::collections::BTreeMap;
use std::sync::Arc;

/// Names numbered in the order in which they come. All faces of one run have the same lines, so a
/// name is looked for once a line of a run, and not once a face.
#[derive(Debug, Clone, Default)]
pub(crate) struct Names {
    by_name: BTreeMap<Arc<str>, usize>,
    /// By run and line, the name that was last seen there.
    seen: Vec<Vec<(Arc<str>, usize)>>,
}

impl Names {
    /// The numbers of the names that a run brings by its lines, where these are the same again.
    pub(crate) fn known<'n, T: 'n>(
        &self,
        run: usize,
        lines: &'n [T],
        name: impl Fn(&'n T) -> &'n Arc<str>,
    ) -> Option<&[(Arc<str>, usize)]> {
        let seen = self.seen.get(run)?;
        let mut pairs = seen.iter().zip(lines);
        let same = seen.len() == lines.len()
            && pairs.all(|((known, _), line)| Arc::ptr_eq(known, name(line)));
        same.then_some(seen)
    }

    /// The number of a name that a line of a run brings.
    pub(crate) fn number(&mut self, run: usize, line: usize, name: &Arc<str>) -> usize {
        let next = self.by_name.len();
        let number = *self.by_name.entry(Arc::clone(name)).or_insert(next);
        self.remember(run, line, name, number);
        number
    }

    fn remember(&mut self, run: usize, line: usize, name: &Arc<str>, number: usize) {
        // Runs are numbered without gaps, but for what stands for none at all.
        if run >= self.seen.len() && run != usize::MAX {
            self.seen.resize_with(run + 1, Vec::new);
        }
        let Some(lines) = self.seen.get_mut(run) else {
            return;
        };
        let seen = (Arc::clone(name), number);
        if line == lines.len() {
            lines.push(seen);
        } else if let Some(other) = lines.get_mut(line) {
            *other = seen;
        }
    }

    /// The number of a name, where it has come.
    pub(crate) fn number_of(&self, name: &str) -> Option<usize> {
        self.by_name.get(name).copied()
    }

    /// All names in their own order, with their numbers.
    pub(crate) fn by_name(&self) -> impl Iterator<Item = (&Arc<str>, usize)> {
        self.by_name.iter().map(|(name, number)| (name, *number))
    }
}

#[cfg(test)]
mod tests;
