//! The arithmetic of the pack's rules for one class of faces, walls of block that are stamped, once
//! replayed from its tape and once as a plain loop in Rust. Both give the same figures, or there is
//! no floor: so the loop cannot be less work than the rules are.

use parge_base::trace::Op;
use parge_base::trace::columns::Columns;
use parge_base::{Quantity, Tape};
use parge_calc::price::Estimate;
use parge_rules::{Pack, Run};
use std::collections::BTreeMap;

/// The structure of the made plan whose first face is of the class.
const BAY: &str = "Bay 5";
/// What the finish of that face says.
const THICKNESS: f64 = 0.75 * 0.0254;
const RELIEF: f64 = 1.10;
const SHARES: [f64; 2] = [0.6, 0.4];
const COATS: f64 = 2.0;
/// How far the figures of loop and tape may be apart, as a share: the order of the operations is
/// not the same.
const NOISE: f64 = 1e-12;

/// A wall as the loop sees it, in metres and square metres.
#[derive(Debug, Clone, Copy)]
struct Wall {
    area: f64,
    bottom: f64,
    worked_edges: f64,
    working_height: f64,
}

/// The walls of a class, for the tape and for the loop.
pub struct Class<'e> {
    run: &'e Run,
    columns: Columns,
    rows: Vec<usize>,
    walls: Vec<Wall>,
    factors: Factors,
}

impl<'e> Class<'e> {
    /// So many walls like the first face of a bay, each a little larger than the last; none where
    /// the plan has no bay.
    pub fn of(estimate: &'e Estimate, pack: &Pack, walls: usize) -> Option<Self> {
        let takeoff = &estimate.takeoff;
        let job = &takeoff.measured.job;
        let of_bay = |face: &usize| job.structure_name(job.faces[*face].structure) == BAY;
        let face = (0..takeoff.faces.len()).find(of_bay)?;
        let run = takeoff.runs.get(takeoff.faces.get(face)?.run)?;
        let founder = inputs(&run.tape);
        let mut columns = Columns::of_kinds(&quantities(&founder));
        let mut class = Vec::with_capacity(walls);
        for number in 0..walls {
            let larger = 1.0 + number as f64 * 1e-9;
            let mut wall = founder.clone();
            for name in ["face.area", "face.bottom", "face.top", "face.sides"] {
                wall.get_mut(name)?.1.value *= larger;
            }
            columns.push(&quantities(&wall))?;
            let value = |name: &str| Some(wall.get(name)?.1.value);
            class.push(Wall {
                area: value("face.area")?,
                bottom: value("face.bottom")?,
                worked_edges: value("face.top")?
                    + value("face.sides")?
                    + value("face.opening_edges")?,
                working_height: value("face.working_height")?,
            });
        }
        let class = Self {
            run,
            columns,
            rows: (0..walls).collect(),
            walls: class,
            factors: Factors::of(pack)?,
        };
        class.agrees().then_some(class)
    }

    /// Replays the tape for all walls; the rows that it holds for.
    pub fn replay(&self) -> usize {
        let nodes = self.run.line_nodes();
        let replayed = self
            .run
            .tape
            .replay_columns(&self.columns, &self.rows, &nodes);
        replayed.map_or(0, |replayed| replayed.rows().len())
    }

    /// The same figures by the loop, kept as the replay keeps them: a column each.
    pub fn looped(&self) -> Vec<Vec<f64>> {
        let mut columns: Vec<Vec<f64>> = (0..FIGURES)
            .map(|_| Vec::with_capacity(self.walls.len()))
            .collect();
        for wall in &self.walls {
            let Some(figures) = self.factors.figures(wall) else {
                continue;
            };
            for (column, figure) in columns.iter_mut().zip(figures) {
                column.push(figure);
            }
        }
        columns
    }

    /// Whether the loop and the tape say the same of the last wall.
    fn agrees(&self) -> bool {
        let nodes = self.run.line_nodes();
        let last = self.rows.last().copied().unwrap_or(0);
        let Ok(replayed) = self.run.tape.replay_columns(&self.columns, &[last], &nodes) else {
            return false;
        };
        let value = |node| {
            replayed
                .value(0, node)
                .map_or(f64::NAN, |found| found.value)
        };
        let mut sums: BTreeMap<&str, f64> = BTreeMap::new();
        for line in &self.run.needs {
            *sums.entry(&line.item).or_default() += value(line.amount);
        }
        for line in &self.run.hours {
            *sums.entry(&line.phase).or_default() += value(line.time);
        }
        let Some(figures) = self
            .walls
            .last()
            .and_then(|wall| self.factors.figures(wall))
        else {
            return false;
        };
        let mut looped: BTreeMap<&str, f64> = BTreeMap::new();
        for (name, figure) in NAMES.into_iter().zip(figures) {
            *looped.entry(name).or_default() += figure;
        }
        let same = |(name, sum): (&&str, &f64)| {
            let figure = looped.get(name).copied().unwrap_or(f64::NAN);
            (figure - sum).abs() <= NOISE * sum.abs()
        };
        sums.len() == looped.len() && sums.iter().all(same)
    }
}

/// The inputs of a tape by their names, with their slots.
fn inputs(tape: &Tape) -> BTreeMap<String, (u32, Quantity)> {
    let found = tape.nodes().filter_map(|(_, node)| match node.op {
        Op::Input(slot) => Some((tape.input_name(slot)?.to_owned(), (slot, node.value))),
        _ => None,
    });
    found.collect()
}

fn quantities(inputs: &BTreeMap<String, (u32, Quantity)>) -> Vec<Quantity> {
    let mut by_slot: Vec<_> = inputs.values().copied().collect();
    by_slot.sort_by_key(|(slot, _)| *slot);
    by_slot.into_iter().map(|(_, quantity)| quantity).collect()
}

const FIGURES: usize = 25;

/// What the figures of a wall are, in their order.
const NAMES: [&str; FIGURES] = [
    "masonry-cleaner",
    "bonding-primer",
    "scratch-mix",
    "water",
    "bonding-primer",
    "finish-mix",
    "water",
    "release",
    "colour/granite",
    "colour/moss",
    "sealer/matte",
    "sheeting",
    "masking",
    "curing-cover",
    "protect",
    "prepare",
    "prepare",
    "scratch",
    "prime",
    "place",
    "stamp",
    "carve",
    "colour",
    "seal",
    "clean",
];

/// The factors of the class, as the tables have them, in base units.
struct Factors {
    small: f64,
    high: f64,
    scratch: f64,
    relief_to_thickness: f64,
    lift: f64,
    cleaner: f64,
    wall_primer: f64,
    coat_primer: f64,
    scratch_yield: f64,
    scratch_water: f64,
    finish_yield: f64,
    finish_water: f64,
    release: f64,
    colour: f64,
    sealer: f64,
    strip: f64,
    rates: [f64; 16],
}

/// The rates of labour that the class asks for.
const RATES: [[&str; 2]; 16] = [
    ["protect", "sheeting"],
    ["protect", "masking"],
    ["protect", "curing-cover"],
    ["prepare", "masonry-cleaner"],
    ["prepare", "bonding-primer"],
    ["scratch", "coat"],
    ["prime", "bonding-primer"],
    ["place", "surface"],
    ["place", "volume"],
    ["place", "extra-lift"],
    ["place", "edge"],
    ["stamp", "stamp"],
    ["carve", "stamp"],
    ["colour", "surface"],
    ["seal", "coat"],
    ["clean", "surface"],
];

impl Factors {
    fn of(pack: &Pack) -> Option<Self> {
        let factor = |table: &str, keys: &[&str]| {
            let found = pack.tables().factor(table, keys);
            found.map(|factor| factor.quantity.value)
        };
        let mut rates = [0.0; RATES.len()];
        for (rate, keys) in rates.iter_mut().zip(&RATES) {
            *rate = factor("labour", keys)?;
        }
        Some(Self {
            small: factor("conditions", &["small-face", "up_to"])?,
            high: factor("conditions", &["high", "above"])?,
            scratch: factor("coats", &["scratch", "thickness"])?,
            relief_to_thickness: factor("techniques", &["stamp", "relief_to_thickness"])?,
            lift: factor("coats", &["finish", "lift"])?,
            cleaner: factor("coverage", &["masonry-cleaner", "block"])?,
            wall_primer: factor("coverage", &["bonding-primer", "block"])?,
            coat_primer: factor("coverage", &["bonding-primer", "scratch-coat"])?,
            scratch_yield: factor("mixes", &["scratch-mix", "yield"])?,
            scratch_water: factor("mixes", &["scratch-mix", "water_high"])?,
            finish_yield: factor("mixes", &["finish-mix", "yield"])?,
            finish_water: factor("mixes", &["finish-mix", "water_high"])?,
            release: factor("coverage", &["release", "stamp"])?,
            colour: factor("coverage", &["colour", "surface"])?,
            sealer: factor("coverage", &["sealer", "surface"])?,
            strip: factor("protection", &["sheeting", "ground_strip"])?
                + factor("protection", &["sheeting", "neighbour_strip"])?,
            rates,
        })
    }

    /// What a wall takes; none for one of another class.
    fn figures(&self, wall: &Wall) -> Option<[f64; FIGURES]> {
        let Wall {
            area,
            bottom,
            worked_edges,
            working_height,
        } = *wall;
        if area <= self.small || working_height > self.high {
            return None;
        }
        let surface = area * RELIEF;
        let mean_finish = THICKNESS * (1.0 + (RELIEF - 1.0) * self.relief_to_thickness);
        let scratch_bags = area * self.scratch / self.scratch_yield;
        let finish_bags = area * mean_finish / self.finish_yield;
        let lifts = (THICKNESS / self.lift).ceil();
        let [
            sheeting,
            masking,
            cover,
            cleaner,
            primer,
            scratch,
            prime,
            place,
            volume,
            lift,
            edge,
            stamp,
            carve,
            colour,
            seal,
            clean,
        ] = self.rates;
        Some([
            area / self.cleaner,
            area / self.wall_primer,
            scratch_bags,
            scratch_bags * self.scratch_water,
            area / self.coat_primer,
            finish_bags,
            finish_bags * self.finish_water,
            surface / self.release,
            surface * SHARES[0] / self.colour,
            surface * SHARES[1] / self.colour,
            surface * COATS / self.sealer,
            bottom * self.strip,
            worked_edges,
            area,
            bottom * sheeting + worked_edges * masking + area * cover,
            area * cleaner,
            area * primer,
            area * scratch,
            area * prime,
            area * place
                + area * mean_finish * volume
                + area * (lifts - 1.0) * lift
                + worked_edges * edge,
            surface * stamp,
            surface * carve,
            surface * (SHARES[0] + SHARES[1]) * colour,
            surface * COATS * seal,
            area * clean,
        ])
    }
}
