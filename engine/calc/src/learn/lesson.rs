//! What past jobs teach: cells of the pack with the values that they propose.

use super::cells::{CellName, Cells, Load, apart, chosen};
use super::lines::Line;
use super::model::{Beliefs, Fit, Group, JobWeight, Kind, Observation, Shift, Variances, fit};
use super::past::{PastJob, Used};
use super::proposal::span;
use super::source;
use jiff::civil::Date;
use parge_base::{Factor, FactorSource, Quantity, Unit};
use parge_rules::Pack;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What past jobs teach.
#[derive(Debug, Clone)]
pub struct Learned {
    /// The cells that lines are put down to, those that move together as one.
    pub lessons: Vec<Lesson>,
    /// How far all strays.
    pub variances: Variances,
    /// The jobs in their order.
    pub jobs: Vec<JobSeen>,
    /// What was recorded and teaches nothing.
    pub silent: Vec<Silent>,
}

/// A job that was looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct JobSeen {
    /// Its name.
    pub name: String,
    /// Its first and last day on site.
    pub days: Option<(Date, Date)>,
    /// Its lines that teach something: of materials and of hours.
    pub lines: [usize; 2],
    /// How much it counts for what its materials and its hours rest on, from 1 down to 0; none
    /// without lines.
    pub weights: [Option<f64>; 2],
}

/// A recorded line that teaches nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Silent {
    /// The job by its number.
    pub job: usize,
    /// The line in words.
    pub words: String,
    /// Why.
    pub why: &'static str,
}

/// Cells that move together: mostly one.
#[derive(Debug, Clone)]
pub struct Lesson {
    /// The cells.
    pub cells: Vec<Proposed>,
    /// Of which kind they are.
    pub kind: Kind,
    /// How far they move.
    pub shift: Shift,
    /// The recorded lines that rest on them.
    pub points: Vec<Point>,
    /// Whether those lines are put down to nothing else, so that one ratio of actual over estimate
    /// says all.
    pub alone: bool,
    /// The first and last day on site of the jobs that count.
    pub days: Option<(Date, Date)>,
}

impl Lesson {
    /// The jobs with lines that rest on the cells.
    pub fn jobs(&self) -> usize {
        self.shift.jobs.len()
    }
}

/// A cell with the value that is proposed for it.
#[derive(Debug, Clone)]
pub struct Proposed {
    /// The cell.
    pub cell: CellName,
    /// As it is.
    pub factor: Arc<Factor>,
    /// What it was before the company's own jobs taught anything, in the unit of the row: what is
    /// pooled towards.
    pub before: f64,
    /// What is proposed, in the unit of the row, to three digits.
    pub value: f64,
    /// Between which values it lies, at [`super::model::LEVEL`].
    pub interval: [f64; 2],
    /// What becomes of it.
    pub verdict: Verdict,
}

/// What becomes of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It is to move.
    Moves,
    /// The jobs bear it out: it would move by a small share of its interval.
    Stays,
    /// The jobs say too little about it.
    TooLittle,
    /// The jobs used less than the estimate without any waste: the yield must be more.
    BelowNothing,
}

/// A recorded line.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// The job by its number.
    pub job: usize,
    /// The line in words.
    pub words: String,
    /// As estimated for what was built.
    pub expected: Quantity,
    /// As recorded.
    pub used: Quantity,
    /// The unit of both.
    pub unit: Unit,
    /// How much its job counts, from 1 down to 0.
    pub weight: f64,
}

/// The least weight of what the jobs say of a cell for it to move.
const LEAST_WEIGHT: f64 = 0.10;

/// The share of its interval, from end to end, by which a cell must move to move at all.
const NEAR: f64 = 0.15;

/// What past jobs teach about the cells of a pack, with which they were estimated. Lines that rest
/// on a cell in `wanted` are put down to that one.
pub fn learn(jobs: &[PastJob], pack: &Pack, wanted: &[CellName], beliefs: &Beliefs) -> Learned {
    let seen = Seen::of(jobs, pack, wanted);
    let kinds: Vec<Kind> = seen.cells.values().map(|load| load.kind).collect();
    let groups = apart(&kinds, &seen.observations);
    let lines = seen.pooled(&groups);
    let kind_of = |group: &Vec<usize>| group.first().and_then(|cell| kinds.get(*cell)).copied();
    let group_kinds: Vec<Kind> = groups.iter().filter_map(kind_of).collect();
    let Fit { shifts, variances } = fit(&group_kinds, &lines, beliefs);
    let lessons = groups.iter().zip(group_kinds).zip(shifts);
    let lessons: Vec<Lesson> = lessons
        .map(|((group, kind), shift)| seen.lesson(group, kind, shift))
        .collect();
    Learned {
        jobs: seen.jobs_seen(&lessons),
        lessons,
        variances,
        silent: seen.silent,
    }
}

/// The recorded lines with what they are put down to.
struct Seen<'s> {
    jobs: &'s [PastJob],
    /// The cells in the order of their names: their numbers.
    cells: BTreeMap<CellName, Load>,
    observations: Vec<Observation>,
    /// The record of each observation.
    used: Vec<&'s Used>,
    silent: Vec<Silent>,
}

impl<'s> Seen<'s> {
    fn of(jobs: &'s [PastJob], pack: &Pack, wanted: &[CellName]) -> Self {
        let cells = Cells::of(pack);
        let loads: Vec<BTreeMap<Line, Vec<Load>>> = jobs
            .iter()
            .map(|job| chosen(&job.lines, &cells, wanted))
            .collect();
        let mut seen = Self {
            jobs,
            cells: BTreeMap::new(),
            observations: Vec::new(),
            used: Vec::new(),
            silent: Vec::new(),
        };
        let mut told: Vec<(usize, &Used, f64, &[Load])> = Vec::new();
        for (number, (job, loads)) in jobs.iter().zip(&loads).enumerate() {
            for used in &job.used {
                match witness(used, loads) {
                    Ok((off, loads)) => told.push((number, used, off, loads)),
                    Err(why) => seen.silent.push(Silent {
                        job: number,
                        words: used.words.clone(),
                        why,
                    }),
                }
            }
        }
        for load in told.iter().flat_map(|(.., loads)| *loads) {
            seen.cells.insert(load.cell.clone(), load.clone());
        }
        let numbers: BTreeMap<&CellName, usize> = seen.cells.keys().zip(0..).collect();
        let observed = told.iter().map(|(job, used, off, loads)| {
            let number = |load: &Load| Some((*numbers.get(&load.cell)?, load.load));
            // From what the cells were before own jobs taught them anything.
            let moved: f64 = loads
                .iter()
                .map(|load| load.load * moved_before(load))
                .sum();
            Observation {
                job: *job,
                group: group_of(&used.line),
                y: off + moved,
                coarse: used.coarse(),
                loads: loads.iter().filter_map(number).collect(),
            }
        });
        seen.observations = observed.collect();
        seen.used = told.iter().map(|(_, used, ..)| *used).collect();
        seen
    }

    /// The observations with groups of cells in the place of cells.
    fn pooled(&self, groups: &[Vec<usize>]) -> Vec<Observation> {
        let of = |loads: &[(usize, f64)]| {
            let groups = groups.iter().enumerate();
            let summed = groups.map(|(number, group)| {
                let own = loads.iter().filter(|(cell, _)| group.contains(cell));
                (number, own.map(|(_, load)| load).sum::<f64>())
            });
            summed.filter(|(_, load)| *load != 0.0).collect()
        };
        let lines = self.observations.iter();
        lines
            .map(|line| Observation {
                loads: of(&line.loads),
                ..line.clone()
            })
            .collect()
    }

    fn lesson(&self, group: &[usize], kind: Kind, shift: Shift) -> Lesson {
        let weight = |job: usize| {
            let found = shift.jobs.iter().find(|of| of.job == job);
            found.map_or(0.0, |of| of.weight)
        };
        let rests = |line: &Observation| line.loads.iter().any(|(cell, _)| group.contains(cell));
        let records = self.observations.iter().zip(&self.used);
        let points = records.filter(|(line, _)| rests(line));
        let points: Vec<Point> = points
            .map(|(line, used)| Point {
                job: line.job,
                words: used.words.clone(),
                expected: used.expected,
                used: used.used,
                unit: used.unit.clone(),
                weight: weight(line.job),
            })
            .collect();
        let cells = self.cells.values().enumerate();
        let own = cells.filter(|(number, _)| group.contains(number));
        let cells = own.map(|(_, load)| proposed(load, &shift)).collect();
        let jobs = shift.jobs.iter().filter_map(|of| self.jobs.get(of.job));
        Lesson {
            cells,
            kind,
            days: span(jobs.filter_map(|job| job.days)),
            points,
            alone: own_lines(&self.observations, group),
            shift,
        }
    }

    fn jobs_seen(&self, lessons: &[Lesson]) -> Vec<JobSeen> {
        let jobs = self.jobs.iter().enumerate();
        jobs.map(|(number, job)| {
            let of = |group: Group| {
                let lines = self.observations.iter();
                let own = lines.filter(|line| (line.job, line.group) == (number, group));
                own.count()
            };
            JobSeen {
                name: job.name.clone(),
                days: job.days,
                lines: [of(Group::Materials), of(Group::Hours)],
                weights: [Group::Materials, Group::Hours].map(|group| {
                    let own = lessons
                        .iter()
                        .filter(|lesson| group_of_kind(lesson.kind) == group);
                    let weights = own.flat_map(|lesson| &lesson.shift.jobs);
                    mean(weights.filter(|of| of.job == number))
                }),
            }
        })
        .collect()
    }
}

/// Whether the lines that rest on some cells rest on no others.
fn own_lines(lines: &[Observation], group: &[usize]) -> bool {
    let own = |(cell, _): &(usize, f64)| group.contains(cell);
    let mut resting = lines.iter().filter(|line| line.loads.iter().any(own));
    resting.all(|line| line.loads.iter().all(own))
}

/// The mean weight of a job over what its lines rest on.
fn mean<'w>(weights: impl Iterator<Item = &'w JobWeight>) -> Option<f64> {
    let (sum, count) = weights.fold((0.0, 0), |(sum, count), of| (sum + of.weight, count + 1));
    (count > 0).then(|| sum / f64::from(count))
}

fn group_of(line: &Line) -> Group {
    match line {
        Line::Material(_) => Group::Materials,
        Line::Hours(..) => Group::Hours,
    }
}

fn group_of_kind(kind: Kind) -> Group {
    match kind {
        Kind::Waste | Kind::Cover => Group::Materials,
        Kind::Rate => Group::Hours,
    }
}

/// What a record says, and of which cells; or why it says nothing.
fn witness<'l>(
    used: &Used,
    loads: &'l BTreeMap<Line, Vec<Load>>,
) -> Result<(f64, &'l [Load]), &'static str> {
    let off = used
        .off()
        .ok_or("none of it was used, and nothing has no share")?;
    match loads.get(&used.line).map(Vec::as_slice) {
        None | Some([]) => Err("no cell of the pack is to say it alone"),
        Some(loads) => Ok((off, loads)),
    }
}

/// Where a value lies on the scale on which it moves, and back.
fn on_scale(kind: Kind, value: f64) -> f64 {
    match kind {
        Kind::Waste => value.ln_1p(),
        Kind::Cover | Kind::Rate => value.ln(),
    }
}

fn off_scale(kind: Kind, moved: f64) -> f64 {
    match kind {
        Kind::Waste => moved.exp_m1(),
        Kind::Cover | Kind::Rate => moved.exp(),
    }
}

/// How far own jobs have moved a cell so far.
fn moved_before(load: &Load) -> f64 {
    let now = load.factor.quantity.value;
    let before = before(&load.factor);
    on_scale(load.kind, now) - on_scale(load.kind, before)
}

/// The value before own jobs taught anything, in base units.
fn before(factor: &Factor) -> f64 {
    let stated = match &factor.source {
        FactorSource::OwnJobs(jobs) => source::before(jobs),
        _ => None,
    };
    let stated = stated.and_then(|value| factor.unit.quantity(value).ok());
    stated.map_or(factor.quantity.value, |before| before.value)
}

/// The value that is proposed for a cell.
fn proposed(load: &Load, shift: &Shift) -> Proposed {
    let factor = &load.factor;
    let before = before(factor);
    let written = |by: f64| {
        let moved = off_scale(load.kind, on_scale(load.kind, before) + by);
        let value = moved.max(0.0);
        let shown = factor.unit.show(Quantity {
            value,
            dim: factor.quantity.dim,
        });
        shown.unwrap_or(factor.written)
    };
    let below = off_scale(load.kind, on_scale(load.kind, before) + shift.mean) < 0.0;
    let value = three_digits(written(shift.mean));
    let interval = [-1.0, 1.0].map(|side| three_digits(written(shift.mean + side * shift.reach)));
    let [low, high] = interval;
    let is_near = (value - factor.written).abs() <= NEAR * (high - low);
    let verdict = if shift.weight < LEAST_WEIGHT {
        Verdict::TooLittle
    } else if below {
        Verdict::BelowNothing
    } else if is_near {
        Verdict::Stays
    } else {
        Verdict::Moves
    };
    let was = factor.unit.show(Quantity {
        value: before,
        dim: factor.quantity.dim,
    });
    Proposed {
        cell: load.cell.clone(),
        factor: Arc::clone(factor),
        before: was.unwrap_or(factor.written),
        value,
        interval,
        verdict,
    }
}

/// A value to three digits: no table of factors is known better.
fn three_digits(value: f64) -> f64 {
    format!("{value:.2e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests;
