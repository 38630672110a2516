//! What waits for what, and an order that respects it.

use super::error::ScheduleError;
use super::model::Problem;

/// A neighbour with the minutes that lie between.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arc {
    pub other: usize,
    pub wait: i64,
}

/// The waits by activity. It has no circle.
#[derive(Debug, Clone)]
pub(super) struct Network {
    pub before: Vec<Vec<Arc>>,
    pub after: Vec<Vec<Arc>>,
    /// The place of each activity in an order in which none comes before what it waits for.
    pub rank: Vec<usize>,
    /// That order.
    pub order: Vec<usize>,
}

impl Network {
    pub fn of(problem: &Problem) -> Result<Self, ScheduleError> {
        let count = problem.activities.len();
        let mut before = vec![Vec::new(); count];
        let mut after = vec![Vec::new(); count];
        for wait in &problem.waits {
            let minutes = i64::from(wait.minutes);
            let missing = |index| ScheduleError::NoSuchActivity(index);
            let ahead = after.get_mut(wait.before);
            ahead.ok_or(missing(wait.before))?.push(Arc {
                other: wait.after,
                wait: minutes,
            });
            let behind = before.get_mut(wait.after);
            behind.ok_or(missing(wait.after))?.push(Arc {
                other: wait.before,
                wait: minutes,
            });
        }
        let order = sorted(&before, &after);
        if order.len() < count {
            return Err(ScheduleError::Circle(circle(problem, &before, &order)));
        }
        let mut rank = vec![0; count];
        for (place, activity) in order.iter().enumerate() {
            rank[*activity] = place;
        }
        Ok(Self {
            before,
            after,
            rank,
            order,
        })
    }

    /// The same with time running backwards.
    pub fn mirrored(&self) -> Self {
        let last = self.order.len().saturating_sub(1);
        Self {
            before: self.after.clone(),
            after: self.before.clone(),
            rank: self.rank.iter().map(|rank| last - rank).collect(),
            order: self.order.iter().rev().copied().collect(),
        }
    }

    /// How many activities follow each, directly or not.
    pub fn followers(&self) -> Vec<usize> {
        let count = self.order.len();
        let words = count.div_ceil(64);
        let mut sets = vec![vec![0_u64; words]; count];
        for activity in self.order.iter().rev() {
            let mut set = vec![0_u64; words];
            for arc in &self.after[*activity] {
                for (word, other) in set.iter_mut().zip(&sets[arc.other]) {
                    *word |= other;
                }
                set[arc.other / 64] |= 1 << (arc.other % 64);
            }
            sets[*activity] = set;
        }
        let ones = |set: &Vec<u64>| set.iter().map(|word| word.count_ones() as usize).sum();
        sets.iter().map(ones).collect()
    }
}

/// Kahn's order, the smallest index first; what stands in a circle or behind one is missing.
fn sorted(before: &[Vec<Arc>], after: &[Vec<Arc>]) -> Vec<usize> {
    let mut open: Vec<usize> = before.iter().map(Vec::len).collect();
    let free = (0..open.len()).filter(|activity| open[*activity] == 0);
    let mut ready: std::collections::BTreeSet<usize> = free.collect();
    let mut order = Vec::with_capacity(open.len());
    while let Some(activity) = ready.pop_first() {
        order.push(activity);
        for arc in &after[activity] {
            open[arc.other] -= 1;
            if open[arc.other] == 0 {
                ready.insert(arc.other);
            }
        }
    }
    order
}

/// The labels of a circle: every activity that is left waits for another one that is left, so
/// that walking back must come to one for the second time.
fn circle(problem: &Problem, before: &[Vec<Arc>], order: &[usize]) -> Vec<String> {
    let mut left = vec![true; before.len()];
    for activity in order {
        left[*activity] = false;
    }
    let mut path: Vec<usize> = Vec::new();
    let mut here = left.iter().position(|left| *left);
    while let Some(activity) = here {
        if let Some(first) = path.iter().position(|seen| *seen == activity) {
            path.drain(..first);
            break;
        }
        path.push(activity);
        let back = before[activity].iter().map(|arc| arc.other);
        here = back.into_iter().find(|other| left[*other]);
    }
    // The walk went back in time; the circle is told forwards, from its smallest index on.
    path.reverse();
    let least = path
        .iter()
        .enumerate()
        .min_by_key(|(_, activity)| **activity);
    let turn = least.map_or(0, |(place, _)| place);
    path.rotate_left(turn);
    let label = |activity: &usize| problem.activities[*activity].label.clone();
    path.iter().map(label).collect()
}
