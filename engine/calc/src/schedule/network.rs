//! What waits for what, and an order that respects it.

use super::error::ScheduleError;
use super::model::Problem;

/// A neighbour with the minutes that lie between.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arc {
    pub other: usize,
    pub wait: i64,
}

/// The neighbours of all activities on one side, in one list: a large job has a hundred thousand
/// activities with one neighbour each.
#[derive(Debug, Clone)]
pub(super) struct Neighbours {
    /// Where those of each activity begin, and behind the last one their end.
    starts: Vec<usize>,
    all: Vec<Arc>,
}

impl Neighbours {
    /// Of so many activities, each of the pairs an activity with a neighbour of it. Those of one stand
    /// in the order of the pairs.
    fn of(count: usize, pairs: impl Iterator<Item = (usize, Arc)> + Clone) -> Self {
        let mut starts = vec![0; count + 1];
        for (activity, _) in pairs.clone() {
            starts[activity + 1] += 1;
        }
        for activity in 0..count {
            starts[activity + 1] += starts[activity];
        }
        let mut next = starts.clone();
        let mut all = vec![Arc { other: 0, wait: 0 }; starts[count]];
        for (activity, arc) in pairs {
            all[next[activity]] = arc;
            next[activity] += 1;
        }
        Self { starts, all }
    }

    /// Those of one activity.
    pub fn of_one(&self, activity: usize) -> &[Arc] {
        &self.all[self.starts[activity]..self.starts[activity + 1]]
    }

    /// How many each activity has.
    pub fn counts(&self) -> Vec<usize> {
        let ends = self.starts.iter().skip(1);
        ends.zip(&self.starts)
            .map(|(end, start)| end - start)
            .collect()
    }
}

/// The waits by activity. It has no circle.
#[derive(Debug, Clone)]
pub(super) struct Network {
    pub before: Neighbours,
    pub after: Neighbours,
    /// The place of each activity in an order in which none comes before what it waits for.
    pub rank: Vec<usize>,
    /// That order.
    pub order: Vec<usize>,
}

impl Network {
    pub fn of(problem: &Problem) -> Result<Self, ScheduleError> {
        let count = problem.activities.len();
        for wait in &problem.waits {
            let missing = [wait.before, wait.after]
                .into_iter()
                .find(|at| *at >= count);
            if let Some(missing) = missing {
                return Err(ScheduleError::NoSuchActivity(missing));
            }
        }
        let arc = |other, minutes: u32| Arc {
            other,
            wait: i64::from(minutes),
        };
        let waits = problem.waits.iter();
        let ahead = waits
            .clone()
            .map(|of| (of.before, arc(of.after, of.minutes)));
        let behind = waits.map(|of| (of.after, arc(of.before, of.minutes)));
        let after = Neighbours::of(count, ahead);
        let before = Neighbours::of(count, behind);
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
        // Those that follow an activity, as bits, until all that it waits for have asked for them.
        let mut sets: Vec<Vec<u64>> = vec![Vec::new(); count];
        let mut asking = self.before.counts();
        let mut counts = vec![0; count];
        for activity in self.order.iter().rev() {
            let mut set = vec![0_u64; words];
            for arc in self.after.of_one(*activity) {
                for (word, other) in set.iter_mut().zip(&sets[arc.other]) {
                    *word |= other;
                }
                set[arc.other / 64] |= 1 << (arc.other % 64);
                asking[arc.other] -= 1;
                if asking[arc.other] == 0 {
                    sets[arc.other] = Vec::new();
                }
            }
            counts[*activity] = set.iter().map(|word| word.count_ones() as usize).sum();
            if asking[*activity] > 0 {
                sets[*activity] = set;
            }
        }
        counts
    }
}

/// Kahn's order, the smallest index first; what stands in a circle or behind one is missing.
fn sorted(before: &Neighbours, after: &Neighbours) -> Vec<usize> {
    let mut open = before.counts();
    let free = (0..open.len()).filter(|activity| open[*activity] == 0);
    let mut ready: std::collections::BTreeSet<usize> = free.collect();
    let mut order = Vec::with_capacity(open.len());
    while let Some(activity) = ready.pop_first() {
        order.push(activity);
        for arc in after.of_one(activity) {
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
fn circle(problem: &Problem, before: &Neighbours, order: &[usize]) -> Vec<String> {
    let mut left = vec![true; problem.activities.len()];
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
        let back = before.of_one(activity).iter().map(|arc| arc.other);
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
