//! What past jobs teach as JSON ([`PROPOSAL_SCHEMA`]). Its names are promised to other programs.

use parge_base::Money;
use parge_calc::learn::model::{Kind, LEVEL};
use parge_calc::learn::{Effect, Learned, Lesson, Proposed, Verdict, rows, spread_rows};
use serde::Serialize;

/// The JSON Schema (draft 2020-12) of what [`proposal_json`] writes.
pub const PROPOSAL_SCHEMA: &str = include_str!("../schema/proposal.schema.json");

/// What a proposal is made of.
#[derive(Debug)]
pub struct ProposalOf<'p> {
    /// The pack that is to learn.
    pub pack: &'p str,
    /// Its version, and the packs that it rests on with theirs.
    pub version: &'p str,
    /// What past jobs teach.
    pub learned: &'p Learned,
    /// The version of the pack that priced each job, in their order.
    pub priced_with: &'p [String],
    /// The folders that were left out, each with the reason.
    pub left_out: &'p [(String, String)],
    /// What it does to plans.
    pub effects: &'p [Effect],
}

#[derive(Debug, Serialize)]
struct ProposalWire<'a> {
    pack: &'a str,
    version: &'a str,
    level: f64,
    jobs: Vec<JobWire<'a>>,
    left_out: Vec<LeftOutWire<'a>>,
    proposal: Vec<RowWire<'a>>,
    spread: Vec<SpreadWire>,
    not_learned: Vec<SilentWire<'a>>,
    plans: Vec<PlanWire<'a>>,
}

#[derive(Debug, Serialize)]
struct JobWire<'a> {
    name: &'a str,
    first_day: Option<String>,
    last_day: Option<String>,
    priced_with: &'a str,
    materials: SeenWire,
    hours: SeenWire,
}

#[derive(Debug, Serialize)]
struct SeenWire {
    lines: usize,
    counts_for: Option<f64>,
}

#[derive(Debug, Serialize)]
struct LeftOutWire<'a> {
    folder: &'a str,
    reason: &'a str,
}

#[derive(Debug, Serialize)]
struct RowWire<'a> {
    row: String,
    table: &'a str,
    keys: &'a [String],
    kind: &'static str,
    verdict: &'static str,
    unit: &'a str,
    now: f64,
    before: f64,
    proposed: f64,
    low: f64,
    high: f64,
    jobs: usize,
    lines: usize,
    first_day: Option<String>,
    last_day: Option<String>,
    known: f64,
    together: Vec<String>,
    source: Option<String>,
}

#[derive(Debug, Serialize)]
struct SpreadWire {
    spread: String,
    of: String,
    value: String,
    unit: String,
    source: String,
}

#[derive(Debug, Serialize)]
struct SilentWire<'a> {
    job: &'a str,
    line: &'a str,
    reason: &'a str,
}

#[derive(Debug, Serialize)]
struct PlanWire<'a> {
    job: &'a str,
    currency: &'static str,
    now: String,
    then: String,
    difference: Option<String>,
    by_row: Vec<ByRowWire>,
}

#[derive(Debug, Serialize)]
struct ByRowWire {
    rows: Vec<String>,
    difference: String,
}

/// A proposal as JSON.
pub fn proposal_json(of: &ProposalOf<'_>) -> String {
    let learned = of.learned;
    let lessons = learned.lessons.iter();
    let wire = ProposalWire {
        pack: of.pack,
        version: of.version,
        level: LEVEL,
        jobs: jobs(of),
        left_out: of
            .left_out
            .iter()
            .map(|(folder, reason)| LeftOutWire { folder, reason })
            .collect(),
        proposal: lessons
            .flat_map(|lesson| proposed(lesson, learned))
            .collect(),
        spread: spread_rows(learned).into_iter().map(spread).collect(),
        not_learned: silent(learned),
        plans: of
            .effects
            .iter()
            .map(|effect| plan(effect, learned))
            .collect(),
    };
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    serde_json::to_string_pretty(&wire).unwrap_or_default()
}

/// Whether bytes are what [`proposal_json`] writes, which nobody works in and which may be replaced.
pub fn is_proposal_json(bytes: &[u8]) -> bool {
    let Ok(value) = serde_json::from_slice::<serde_json::Value>(bytes) else {
        return false;
    };
    let keys = ["pack", "level", "jobs", "proposal", "spread", "not_learned"];
    keys.iter().all(|key| value.get(key).is_some())
}

fn jobs<'a>(of: &ProposalOf<'a>) -> Vec<JobWire<'a>> {
    let jobs = of.learned.jobs.iter().zip(of.priced_with);
    let seen = |lines, counts_for: Option<f64>| SeenWire {
        lines,
        counts_for: counts_for.map(rounded),
    };
    jobs.map(|(job, priced_with)| {
        let ([of_materials, of_hours], [materials, hours]) = (job.lines, job.weights);
        JobWire {
            name: &job.name,
            first_day: job.days.map(|(first, _)| first.to_string()),
            last_day: job.days.map(|(_, last)| last.to_string()),
            priced_with,
            materials: seen(of_materials, materials),
            hours: seen(of_hours, hours),
        }
    })
    .collect()
}

/// A share to a thousandth: no more of it is known.
fn rounded(share: f64) -> f64 {
    (share * 1000.0).round() / 1000.0
}

fn proposed<'a>(lesson: &'a Lesson, learned: &Learned) -> Vec<RowWire<'a>> {
    let names: Vec<String> = lesson
        .cells
        .iter()
        .map(|cell| cell.cell.to_string())
        .collect();
    let sources = rows(learned);
    let row = |proposed: &'a Proposed| {
        let row = proposed.cell.to_string();
        let own = sources.iter().find(|source| {
            source.table == proposed.cell.table && source.keys == proposed.cell.keys
        });
        let [low, high] = proposed.interval;
        RowWire {
            together: names.iter().filter(|name| **name != row).cloned().collect(),
            row,
            table: &proposed.cell.table,
            keys: &proposed.cell.keys,
            kind: match lesson.kind {
                Kind::Waste => "waste",
                Kind::Cover => "yield_or_coverage",
                Kind::Rate => "rate",
            },
            verdict: match proposed.verdict {
                Verdict::Moves => "moves",
                Verdict::Stays => "stays",
                Verdict::TooLittle => "too_little",
                Verdict::BelowNothing => "below_nothing",
            },
            unit: proposed.factor.unit.text(),
            now: proposed.factor.written,
            before: proposed.before,
            proposed: proposed.value,
            low,
            high,
            jobs: lesson.jobs(),
            lines: lesson.points.len(),
            first_day: lesson.days.map(|(first, _)| first.to_string()),
            last_day: lesson.days.map(|(_, last)| last.to_string()),
            known: rounded(lesson.shift.weight),
            source: own.map(|own| own.source.clone()),
        }
    };
    lesson.cells.iter().map(row).collect()
}

fn spread(row: parge_calc::learn::NewRow) -> SpreadWire {
    let mut keys = row.keys.into_iter();
    SpreadWire {
        spread: keys.next().unwrap_or_default(),
        of: keys.next().unwrap_or_default(),
        value: row.value,
        unit: row.unit,
        source: row.source,
    }
}

fn silent(learned: &Learned) -> Vec<SilentWire<'_>> {
    let silent = learned.silent.iter();
    silent
        .map(|silent| SilentWire {
            job: learned.jobs.get(silent.job).map_or("", |job| &job.name),
            line: &silent.words,
            reason: silent.why,
        })
        .collect()
}

fn plan<'a>(effect: &'a Effect, learned: &Learned) -> PlanWire<'a> {
    let by = learned.lessons.iter().zip(&effect.by);
    let by_row = by.filter_map(|(lesson, by)| {
        let rows = lesson.moving().map(|cell| cell.cell.to_string());
        by.map(|by: Money| ByRowWire {
            rows: rows.collect(),
            difference: by.to_text(),
        })
    });
    PlanWire {
        job: &effect.job,
        currency: effect.now.currency().code(),
        now: effect.now.to_text(),
        then: effect.then.to_text(),
        difference: effect.then.minus(effect.now).ok().map(Money::to_text),
        by_row: by_row.collect(),
    }
}
