//! What can be explained, and by which names.
//!
//! A name is a path of words joined by points; a word with anything but letters, digits, `_`,
//! `-` and `/` stands in double quotes: `"Entry planter".street.area`. The first word that tells
//! a figure apart is enough: `street.area`, `finish-mix`, `place`, `total`.

use crate::job::Job;
use crate::measure::MeasuredFace;
use crate::price::Estimate;
use crate::takeoff::Takeoff;
use parge_base::{NodeId, suggest};
use std::collections::BTreeSet;
use std::sync::Arc;

/// The steps from cost to price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum PriceStep {
    Materials,
    Freight,
    Labour,
    Burden,
    Overhead,
    Contingency,
    Profit,
    Allowances,
    Charges,
    Minimum,
    Rounding,
    Tax,
    Total,
}

pub(super) const PRICE_STEPS: [(&str, PriceStep); 13] = [
    ("materials", PriceStep::Materials),
    ("freight", PriceStep::Freight),
    ("labour", PriceStep::Labour),
    ("burden", PriceStep::Burden),
    ("overhead", PriceStep::Overhead),
    ("contingency", PriceStep::Contingency),
    ("profit", PriceStep::Profit),
    ("allowances", PriceStep::Allowances),
    ("charges", PriceStep::Charges),
    ("minimum", PriceStep::Minimum),
    ("rounding", PriceStep::Rounding),
    ("tax", PriceStep::Tax),
    ("total", PriceStep::Total),
];

/// The parts of a material's line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    Need,
    Waste,
    Packs,
    Cost,
}

const PARTS: [(&str, Part); 4] = [
    ("need", Part::Need),
    ("waste", Part::Waste),
    ("packs", Part::Packs),
    ("cost", Part::Cost),
];

/// A figure of an estimate; faces, materials and phases by their numbers in it.
#[derive(Debug, Clone)]
pub(super) enum Figure {
    Price(PriceStep),
    Material(usize, Part),
    Hours(usize),
    LabourCost(usize),
    Name(NodeId),
    Measure(NodeId),
    FaceNeed(usize, Arc<str>),
    FaceHours(usize, Arc<str>),
    /// The largest batch of a card, by its number.
    Batch(usize),
}

/// Why a figure is not explained.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unfound {
    /// No figure has the name; the nearest that one has.
    Unknown {
        /// As asked for.
        name: String,
        /// The nearest name, where one is near.
        nearest: Option<String>,
    },
    /// Several figures have the name.
    Ambiguous {
        /// As asked for.
        name: String,
        /// Their longer names.
        longer: Vec<String>,
    },
    /// The figure has no value because something has no price.
    NoPrice {
        /// The figure.
        name: String,
    },
    /// A step has no value; the estimate itself would have said so.
    NoValue {
        /// The figure.
        name: String,
    },
}

/// Why a builder stops.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fault {
    NoPrice,
    NoValue,
}

impl Unfound {
    pub(super) fn of(fault: Fault, name: &str) -> Self {
        let name = name.to_owned();
        match fault {
            Fault::NoPrice => Self::NoPrice { name },
            Fault::NoValue => Self::NoValue { name },
        }
    }
}

/// What can be asked of a face, with its name in words.
pub(crate) const MEASURES: [(&str, &str); 12] = [
    ("area", "coated area"),
    ("gross_area", "gross area"),
    ("deducted_area", "area deducted for openings"),
    ("reveal_area", "area of reveals"),
    ("width", "width"),
    ("height", "height"),
    ("perimeter", "perimeter"),
    ("top", "top edge"),
    ("bottom", "bottom edge"),
    ("sides", "side edges"),
    ("opening_edges", "edges of openings"),
    ("working_height", "working height"),
];

/// The node of a measure on the plan's tape.
pub(crate) fn measure(face: &MeasuredFace, name: &str) -> Option<NodeId> {
    Some(match name {
        "area" => face.net,
        "gross_area" => face.shape.area,
        "deducted_area" => face.deducted,
        "reveal_area" => face.reveal,
        "width" => face.shape.width,
        "height" => face.shape.height,
        "perimeter" => face.shape.perimeter,
        "top" => face.shape.top,
        "bottom" => face.shape.bottom,
        "sides" => face.shape.sides,
        "opening_edges" => face.opening_edges,
        "working_height" => face.working_height,
        "radius" => face.shape.radius?,
        _ => return None,
    })
}

/// A word of a path, quoted where it must be.
fn word(text: &str) -> String {
    let plain = |letter: char| letter.is_alphanumeric() || matches!(letter, '_' | '-' | '/');
    if !text.is_empty() && text.chars().all(plain) {
        text.to_owned()
    } else {
        format!("\"{text}\"")
    }
}

fn path(words: &[&str]) -> String {
    let words: Vec<String> = words.iter().map(|text| word(text)).collect();
    words.join(".")
}

/// A name as it was typed, in the one spelling that [`path`] gives it.
fn normal(name: &str) -> String {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in name.trim().chars() {
        match (letter, words.last_mut()) {
            ('"', _) => quoted = !quoted,
            ('.', _) if !quoted => words.push(String::new()),
            (letter, Some(last)) => last.push(letter),
            (_, None) => {}
        }
    }
    let words: Vec<&str> = words.iter().map(|word| word.trim()).collect();
    path(&words)
}

/// Hands every figure to `found` with its names, the longest first.
pub(super) fn each(estimate: &Estimate, found: &mut dyn FnMut(Figure, &[String])) {
    let job = &estimate.takeoff.measured.job;
    for (name, step) in PRICE_STEPS {
        found(
            Figure::Price(step),
            &[path(&["price", name]), path(&[name])],
        );
    }
    for (number, line) in estimate.materials.iter().enumerate() {
        let item = line.material.item.as_str();
        // The line by itself is its cost: that has all the rest beneath it.
        let whole = [path(&["material", item]), path(&[item])];
        found(Figure::Material(number, Part::Cost), &whole);
        for (name, part) in PARTS {
            let names = [path(&["material", item, name]), path(&[item, name])];
            found(Figure::Material(number, part), &names);
        }
    }
    for (number, line) in estimate.labour.iter().enumerate() {
        let phase = line.labour.phase.as_str();
        found(
            Figure::Hours(number),
            &[path(&["hours", phase]), path(&[phase])],
        );
        let cost = [path(&["hours", phase, "cost"]), path(&[phase, "cost"])];
        found(Figure::LabourCost(number), &cost);
    }
    for (name, figure) in &job.names {
        found(
            Figure::Name(figure.node),
            &[path(&["let", name]), path(&[name])],
        );
    }
    for (name, node) in weather(job) {
        found(
            Figure::Name(node),
            &[path(&["weather", name]), path(&[name])],
        );
    }
    faces(&estimate.takeoff, found);
    batches(&estimate.takeoff, found);
}

fn batches(takeoff: &Takeoff, found: &mut dyn FnMut(Figure, &[String])) {
    let finishes = &takeoff.measured.job.finishes;
    let Some(plan) = &takeoff.days else {
        return;
    };
    for (number, card) in plan.cards.iter().enumerate() {
        let finish = finishes.get(card.finish);
        if let (Some(day), Some(finish)) = (plan.days.get(card.day), finish) {
            let long = ["batch", &day.label, &card.mix, &finish.name];
            found(Figure::Batch(number), &[path(&long)]);
        }
    }
}

/// What is reckoned from the weather.
fn weather(job: &Job) -> impl Iterator<Item = (&'static str, NodeId)> {
    let evaporation = job.weather.evaporation.map(|found| found.rate);
    let known = [
        ("evaporation", evaporation),
        ("dew_point", job.weather.dew_point),
    ];
    known
        .into_iter()
        .filter_map(|(name, node)| Some((name, node?)))
}

fn faces(takeoff: &Takeoff, found: &mut dyn FnMut(Figure, &[String])) {
    let job = &takeoff.measured.job;
    for (number, measured) in takeoff.measured.faces.iter().enumerate() {
        let Some((structure, face)) = face_name(job, measured) else {
            continue;
        };
        let both = |rest: &[&str]| {
            let long = [&[structure, face], rest].concat();
            [path(&long), path(long.get(1..).unwrap_or(&[]))]
        };
        for (name, _) in MEASURES {
            if let Some(node) = measure(measured, name) {
                found(Figure::Measure(node), &both(&[name]));
            }
        }
        let Some(taken) = takeoff.faces.get(number) else {
            continue;
        };
        let items: BTreeSet<&Arc<str>> = taken.needs.iter().map(|need| &need.item).collect();
        for item in items {
            found(Figure::FaceNeed(number, Arc::clone(item)), &both(&[item]));
        }
        let phases: BTreeSet<&Arc<str>> = taken.hours.iter().map(|hours| &hours.phase).collect();
        for phase in phases {
            let [long, short] = both(&["hours", phase]);
            let [longer, shorter] = both(&[phase]);
            let names = [long, short, longer, shorter];
            found(Figure::FaceHours(number, Arc::clone(phase)), &names);
        }
    }
}

/// The names of a face's structure and of the face.
pub(super) fn face_name<'a>(job: &'a Job, measured: &MeasuredFace) -> Option<(&'a str, &'a str)> {
    let face = job.faces.get(measured.face)?;
    Some((job.structure_name(face.structure), &face.name))
}

/// The figure of a name, and its longest name.
pub(super) fn find(estimate: &Estimate, name: &str) -> Result<(Figure, String), Unfound> {
    let wanted = normal(name);
    let mut hits: Vec<(Figure, String)> = Vec::new();
    each(estimate, &mut |figure, names| {
        if names.contains(&wanted) {
            hits.push((figure, names.first().cloned().unwrap_or_default()));
        }
    });
    if hits.len() > 1 {
        return Err(Unfound::Ambiguous {
            name: name.to_owned(),
            longer: hits.into_iter().map(|(_, name)| name).collect(),
        });
    }
    hits.pop().ok_or_else(|| Unfound::Unknown {
        name: name.to_owned(),
        nearest: nearest(estimate, &wanted),
    })
}

fn nearest(estimate: &Estimate, wanted: &str) -> Option<String> {
    let mut known = BTreeSet::new();
    each(estimate, &mut |_, names| {
        known.extend(names.iter().cloned())
    });
    suggest::nearest(wanted, known.iter().map(String::as_str)).map(str::to_owned)
}

/// Names of figures, kind by kind.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Listing {
    /// Steps of the price.
    pub price: Vec<String>,
    /// Materials.
    pub materials: Vec<String>,
    /// Phases of labour.
    pub phases: Vec<String>,
    /// Names that the plan gives with `let`.
    pub names: Vec<String>,
    /// What is reckoned from the weather.
    pub weather: Vec<String>,
    /// Faces, each with its structure.
    pub faces: Vec<String>,
    /// What can be asked of a face, beside what it takes of a material or a phase.
    pub measures: Vec<String>,
    /// What can be asked of a material.
    pub parts: Vec<String>,
    /// Batches, each by its day, mix and finish.
    pub batches: Vec<String>,
}

/// The names of all figures of an estimate.
pub fn listing(estimate: &Estimate) -> Listing {
    let measured = &estimate.takeoff.measured;
    let materials = estimate.materials.iter();
    let phases = estimate.labour.iter();
    let faces = measured.faces.iter();
    Listing {
        price: PRICE_STEPS.map(|(name, _)| name.to_owned()).to_vec(),
        materials: materials.map(|line| word(&line.material.item)).collect(),
        phases: phases.map(|line| word(&line.labour.phase)).collect(),
        names: measured
            .job
            .names
            .iter()
            .map(|(name, _)| word(name))
            .collect(),
        weather: weather(&measured.job)
            .map(|(name, _)| name.to_owned())
            .collect(),
        faces: faces
            .filter_map(|face| face_name(&measured.job, face))
            .map(|(structure, face)| path(&[structure, face]))
            .collect(),
        measures: MEASURES.map(|(name, _)| name.to_owned()).to_vec(),
        parts: PARTS.map(|(name, _)| name.to_owned()).to_vec(),
        batches: batch_names(&estimate.takeoff),
    }
}

fn batch_names(takeoff: &Takeoff) -> Vec<String> {
    let mut all = Vec::new();
    batches(takeoff, &mut |_, names| all.extend(names.first().cloned()));
    all
}

/// The name of every figure, the longest of each.
#[cfg(test)]
pub(super) fn all(estimate: &Estimate) -> Vec<String> {
    let mut all = Vec::new();
    each(estimate, &mut |_, names| all.extend(names.first().cloned()));
    all
}
