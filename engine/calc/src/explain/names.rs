//! What figures are called, in words of the trade.

use super::figures::{MEASURES, measure};
use crate::contract::HOOKS;
use crate::job::Job;
use crate::measure::Measured;
use crate::physics::{dew_point, evaporation};
use parge_base::{NodeId, Op, Sources, Span, Tape};
use parge_rules::Run;
use parge_rules::WASTE_HOOK;
use parge_rules::naming::{Naming, naming};
use std::collections::HashMap;

/// The names of the plan's figures: those that the plan gives, then what they are of a finish
/// or a face.
pub(crate) fn of_plan(measured: &Measured) -> HashMap<NodeId, String> {
    let job = &measured.job;
    let mut names = HashMap::new();
    let mut name = |node: NodeId, words: String| {
        names.entry(node).or_insert(words);
    };
    for (word, figure) in &job.names {
        name(figure.node, format!("`{word}`"));
    }
    for finish in &job.finishes {
        name(finish.thickness.node, "coat thickness".to_owned());
        name(finish.relief.node, "relief".to_owned());
        for (colour, share) in &finish.colours {
            name(share.node, format!("share of {colour}"));
        }
        if let Some(coats) = finish.sealer_coats {
            name(coats.node, "coats of sealer".to_owned());
        }
    }
    if let Some(crew) = job.crew {
        name(crew.node, "crew".to_owned());
    }
    let weather = &job.weather;
    for (figure, words) in [
        (weather.air, "air temperature"),
        (weather.humidity, "humidity"),
        (weather.wind, "wind"),
        (weather.mix, "temperature of the mix"),
    ] {
        if let Some(figure) = figure {
            name(figure.node, words.to_owned());
        }
    }
    if let Some(found) = weather.evaporation {
        name(found.rate, EVAPORATION.to_owned());
    }
    if let Some(node) = weather.dew_point {
        name(node, DEW_POINT.to_owned());
    }
    for face in &measured.faces {
        for (key, words) in MEASURES {
            if let Some(node) = measure(face, key) {
                name(node, words.to_owned());
            }
        }
        if let Some(radius) = face.shape.radius {
            name(radius, "radius".to_owned());
        }
    }
    for edge in &job.edges {
        name(edge.length.node, "length".to_owned());
    }
    names
}

/// What the water is called that evaporates from fresh mix.
pub(super) const EVAPORATION: &str = "evaporation";
/// What the dew point is called.
pub(super) const DEW_POINT: &str = "dew point";

/// What must be said of a figure of the physics wherever it is shown: whose formula it is, and
/// how sure.
pub(super) fn about(job: &Job, node: NodeId) -> Option<String> {
    let weather = &job.weather;
    if let Some(found) = weather.evaporation.filter(|found| found.rate == node) {
        let condenses = match found.condensation {
            true => "moisture condenses, so nothing is taken; ",
            false => "",
        };
        return Some(format!("{condenses}{}", evaporation::ABOUT));
    }
    (weather.dew_point == Some(node)).then(|| dew_point::ABOUT.to_owned())
}

/// A table's cell in words: `mixes finish-mix yield`.
pub(crate) fn factor_words(name: &str) -> String {
    words(&name.replace([':', ','], ""))
}

/// A name of a script in words: `mean finish` for `mean_finish`, `thickness` for
/// `thickness_of`.
pub(crate) fn words(name: &str) -> String {
    let words = name.replace('_', " ");
    words.strip_suffix(" of").unwrap_or(&words).to_owned()
}

/// The names that scripts give to the figures of a run.
pub(crate) fn of_rule(run: &Run, sources: &Sources) -> HashMap<NodeId, String> {
    RuleNames::new(sources).of(run)
}

/// The names that scripts give to the figures of runs. Runs of one pack stand on the same lines, each
/// of which is looked at once.
pub(crate) struct RuleNames<'a>(Places<'a>);

impl<'a> RuleNames<'a> {
    pub(crate) fn new(sources: &'a Sources) -> Self {
        Self(Places {
            sources,
            known: HashMap::new(),
        })
    }

    /// Those of one run.
    pub(crate) fn of(&mut self, run: &Run) -> HashMap<NodeId, String> {
        let uses = uses(run);
        let named = operations(&run.tape).filter_map(|(node, place)| {
            let uses = uses.get(&node).map_or(&[][..], Vec::as_slice);
            Some((node, self.0.name(place, uses)?))
        });
        named.collect()
    }
}

/// Where the figures of a run are used.
fn uses(run: &Run) -> HashMap<NodeId, Vec<Span>> {
    let mut uses: HashMap<NodeId, Vec<Span>> = HashMap::new();
    let mut used = |node: NodeId, place: Option<Span>| {
        uses.entry(node).or_default().extend(place);
    };
    for (_, node) in run.tape.nodes() {
        match node.op {
            Op::Apply(_, a) => used(a, node.place),
            Op::Combine(_, a, b) => {
                used(a, node.place);
                used(b, node.place);
            }
            Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => {}
        }
    }
    for line in &run.needs {
        used(line.amount, line.place);
        used(line.waste, line.place);
    }
    for line in &run.hours {
        used(line.time, line.place);
    }
    for line in &run.charges {
        used(line.value, line.place);
    }
    uses
}

fn operations(tape: &Tape) -> impl Iterator<Item = (NodeId, Span)> {
    tape.nodes().filter_map(|(id, node)| match node.op {
        Op::Apply(..) | Op::Combine(..) => Some((id, node.place?)),
        Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => None,
    })
}

/// What is known of the lines of scripts.
struct Places<'a> {
    sources: &'a Sources,
    known: HashMap<Span, Naming<'a>>,
}

impl<'a> Places<'a> {
    fn naming(&mut self, place: Span) -> Naming<'a> {
        let sources = self.sources;
        *self
            .known
            .entry(place)
            .or_insert_with(|| naming(sources.text(place.file), place.start as usize))
    }

    /// The name of what is made at a place: its function's, where it is used outside of it, or
    /// the variable's that its line sets, where that line does nothing more with it.
    fn name(&mut self, place: Span, uses: &[Span]) -> Option<String> {
        let here = self.naming(place);
        let function = here.function?;
        let handed_back = here.is_last
            // A hook's own figures are named by what they are for; only a waste is handed back.
            && (function == WASTE_HOOK || HOOKS.iter().all(|hook| hook.name != function))
            && uses
                .iter()
                .any(|place| self.naming(*place).function != Some(function));
        if handed_back {
            return Some(words(function));
        }
        let variable = here.variable?;
        let on_line = |place: Span| (place.file, self.sources.place(place.file, place.start).line);
        let line = on_line(place);
        uses.iter()
            .all(|place| on_line(*place) != line)
            .then(|| words(variable))
    }
}
