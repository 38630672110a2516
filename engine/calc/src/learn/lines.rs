//! What the lines of a take-off rest on: for each material and phase the amount as estimated, and by
//! how much it grows with each cell of the pack's tables. Read off the tapes of the rules, face by
//! face.

use crate::takeoff::subjects::{edge_subject, face_subject, job_subject};
use crate::takeoff::{Taken, Takeoff};
use parge_base::actuals::Scope;
use parge_base::{Factor, NodeId, Op, Quantity, Tape};
use parge_rules::{Run, Subject};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A line of an estimate that a record can be held against.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Line {
    /// An item with its waste.
    Material(String),
    /// The hours of a phase.
    Hours(String, Scope),
}

/// How a line makes use of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// In what is needed, or the hours.
    Amount,
    /// In the share that is wasted, and nowhere else.
    Waste,
}

/// A cell that a line rests on.
#[derive(Debug, Clone)]
pub struct RestsOn {
    /// The cell.
    pub factor: Arc<Factor>,
    /// How.
    pub role: Role,
    /// By how much the line grows, in its base units, when the cell is greater by one base unit.
    pub slope: f64,
}

impl RestsOn {
    /// By how much of 1 % a line of so much grows with 1 % of the cell; of a waste, with 1 % of
    /// `1 + share`.
    pub fn load(&self, amount: f64) -> f64 {
        let value = self.factor.quantity.value;
        let of = match self.role {
            Role::Amount => value,
            Role::Waste => 1.0 + value,
        };
        self.slope * of / amount
    }
}

/// A line as it is estimated.
#[derive(Debug, Clone, Default)]
pub struct Estimated {
    /// With its waste, in base units; hours in seconds.
    pub amount: f64,
    /// What it rests on, in the order of the names.
    pub rests_on: Vec<RestsOn>,
}

/// The lines of a take-off.
pub fn lines(takeoff: &Takeoff) -> BTreeMap<Line, Estimated> {
    let mut sums = Sums::default();
    let job = &takeoff.measured.job;
    for (at, taken) in takeoff.faces.iter().enumerate() {
        let found = takeoff.measured.faces.get(at).and_then(|measured| {
            let face = job.faces.get(measured.face)?;
            let finish = job.finishes.get(face.finish)?;
            let subject = face_subject(job, face, finish, measured, takeoff.layouts.get(at)?);
            Some((subject, face.structure, face.count))
        });
        if let Some((subject, structure, count)) = found {
            let of = Scope::Structure(job.structure_name(structure).to_owned());
            sums.take(takeoff, taken, &subject, of, f64::from(count));
        }
    }
    for (edge, taken) in job.edges.iter().zip(&takeoff.edges) {
        let of = Scope::Structure(job.structure_name(edge.structure).to_owned());
        let subject = edge_subject(job, edge);
        sums.take(takeoff, taken, &subject, of, f64::from(edge.count));
    }
    let on_the_wall = [&takeoff.faces[..], &takeoff.edges];
    let whole = job_subject(&takeoff.measured, &takeoff.passed.totals, on_the_wall).ok();
    if let (Some(taken), Some(subject)) = (&takeoff.whole, whole) {
        sums.hours = sums.all_hours();
        sums.take(takeoff, taken, &subject, Scope::Job, 1.0);
    }
    let asked = takeoff.days.iter().flat_map(|plan| &plan.asked);
    let asked: BTreeMap<usize, &Subject> = asked.map(|of| (of.run, &of.subject)).collect();
    for taken in &takeoff.daily {
        if let Some(subject) = asked.get(&taken.run) {
            sums.take(takeoff, taken, subject, Scope::Job, 1.0);
        }
    }
    sums.finish()
}

/// By how much a figure grows with each cell, by the cell's name.
type Slopes = BTreeMap<String, (Arc<Factor>, f64)>;

#[derive(Default)]
struct Sum {
    amount: f64,
    /// In the amount, and in the waste.
    slopes: [Slopes; 2],
}

#[derive(Default)]
struct Sums {
    lines: BTreeMap<Line, Sum>,
    /// The slopes of the hours on the wall, which the rules for the job are given as one figure.
    hours: Slopes,
}

/// The figure of the hours on the wall, as the rules for the job see it.
const JOB_HOURS: &str = "job.hours";

impl Sums {
    fn take(&mut self, takeoff: &Takeoff, taken: &Taken, subject: &Subject, of: Scope, count: f64) {
        let Some(run) = takeoff.runs.get(taken.run) else {
            return;
        };
        // A tape holds for whoever it was replayed for.
        let Ok(replay) = run.tape.replay(&subject.inputs()) else {
            return;
        };
        let cells = Cells {
            run,
            value: |node| replay.value(node),
            hours: &self.hours,
        };
        let mut found: Vec<(Line, f64, [Slopes; 2])> = Vec::new();
        for line in &run.needs {
            let (amount, waste) = (
                replay.value(line.amount).value,
                replay.value(line.waste).value,
            );
            let slopes = [
                cells.slopes(line.amount, count * (1.0 + waste)),
                cells.slopes(line.waste, count * amount),
            ];
            let line = Line::Material(line.item.to_string());
            found.push((line, count * amount * (1.0 + waste), slopes));
        }
        for line in &run.hours {
            let amount = count * replay.value(line.time).value;
            let slopes = || [cells.slopes(line.time, count), Slopes::new()];
            let hours = |of| Line::Hours(line.phase.to_string(), of);
            found.push((hours(Scope::Whole), amount, slopes()));
            found.push((hours(of.clone()), amount, slopes()));
        }
        for (line, amount, slopes) in found {
            let sum = self.lines.entry(line).or_default();
            sum.amount += amount;
            for (sum, slopes) in sum.slopes.iter_mut().zip(slopes) {
                add(sum, slopes);
            }
        }
    }

    fn all_hours(&self) -> Slopes {
        let mut all = Slopes::new();
        for (line, sum) in &self.lines {
            if matches!(line, Line::Hours(_, Scope::Whole)) {
                add(&mut all, sum.slopes[0].clone());
            }
        }
        all
    }

    fn finish(self) -> BTreeMap<Line, Estimated> {
        let worth = |(_, sum): &(Line, Sum)| sum.amount > 0.0;
        let lines = self.lines.into_iter().filter(worth);
        lines.map(|(line, sum)| (line, sum.finish())).collect()
    }
}

impl Sum {
    /// A cell in the amount as well as in the waste has the slope of both.
    fn finish(self) -> Estimated {
        let [mut amount, mut waste] = self.slopes;
        for (name, (factor, slope)) in amount.iter_mut() {
            if let Some((_, more)) = waste.remove(name) {
                *slope += more;
            }
            debug_assert_eq!(*name, factor.name);
        }
        let of = |role| {
            move |(factor, slope)| RestsOn {
                factor,
                role,
                slope,
            }
        };
        let amount = amount.into_values().map(of(Role::Amount));
        let rests_on = amount.chain(waste.into_values().map(of(Role::Waste)));
        Estimated {
            amount: self.amount,
            rests_on: rests_on.filter(|on| on.slope != 0.0).collect(),
        }
    }
}

fn add(sum: &mut Slopes, more: Slopes) {
    for (name, (factor, slope)) in more {
        sum.entry(name).or_insert((factor, 0.0)).1 += slope;
    }
}

/// The cells on the tape of a run.
struct Cells<'c, V> {
    run: &'c Run,
    value: V,
    hours: &'c Slopes,
}

impl<V: Fn(NodeId) -> Quantity> Cells<'_, V> {
    /// By how much so many times a figure grows with each cell.
    fn slopes(&self, of: NodeId, times: f64) -> Slopes {
        let tape: &Tape = &self.run.tape;
        let slopes = tape.slopes(of, |node| (self.value)(node).value);
        let mut found = Slopes::new();
        for ((_, node), slope) in tape.nodes().zip(slopes) {
            let slope = slope * times;
            match node.op {
                _ if slope == 0.0 => {}
                Op::Factor(number) => {
                    if let Some(factor) = tape.factor(number) {
                        let own = (Arc::clone(factor), slope);
                        add(&mut found, Slopes::from([(factor.name.clone(), own)]));
                    }
                }
                Op::Input(slot) if tape.input_name(slot) == Some(JOB_HOURS) => {
                    let by_hours = self.hours.iter();
                    let by_hours = by_hours.map(|(name, (factor, of_hours))| {
                        (name.clone(), (Arc::clone(factor), of_hours * slope))
                    });
                    add(&mut found, by_hours.collect());
                }
                _ => {}
            }
        }
        found
    }
}

#[cfg(test)]
mod tests;
