//! Why a line of a rule is there at all: the comparison of the weather in whose block it stands.
//!
//! Read off the script's text as names are. A comparison counts only where the line stands inside
//! of the block that it opens, so that nothing is called a reason for what would be there anyway.

use super::build::Builder;
use super::names;
use super::tapes::{On, Subject};
use crate::job::UnitSystem;
use parge_base::number::round_to;
use parge_base::trace::{Comparison, Guard};
use parge_base::{Dim, NodeId, Op, Quantity, Span, Tape, Unit, Units};
use parge_rules::naming::encloses;

/// What of a job, a day or a weather is a matter of the weather.
const WEATHER: [(&str, &str); 6] = [
    ("evaporation", names::EVAPORATION),
    ("dew_point", names::DEW_POINT),
    ("air", "air temperature"),
    ("mix", "temperature of the mix"),
    ("humidity", "humidity"),
    ("wind", "wind"),
];

/// Whose weather that is.
const OF: [&str; 3] = ["job", "day", "weather"];

impl Builder<'_> {
    /// The reason for a line of the rule for the job or for a day; none where the weather is none.
    pub(super) fn reason(&mut self, subject: Subject, line: Option<Span>) -> Option<String> {
        if !matches!(subject, Subject::Whole | Subject::Asked(_)) {
            return None;
        }
        let line = line?;
        let run = self.estimate.takeoff.runs.get(self.taken(subject)?.run)?;
        let names = std::rc::Rc::clone(&self.view(On::Rule(subject)).ok()?.names);
        let sources = self.sources;
        let opens = |guard: &Guard| {
            guard.place.is_some_and(|place| {
                let text = sources.text(place.file);
                place.file == line.file && encloses(text, place.start as usize, line.start as usize)
            })
        };
        let system = self.job.units;
        let called = |node: NodeId| {
            weather(&run.tape, node).map_or_else(
                || match run.tape.node(node)?.op {
                    Op::Factor(number) => Some(names::factor_words(&run.tape.factor(number)?.name)),
                    _ => names.get(&node).cloned(),
                },
                |words| Some(words.to_owned()),
            )
        };
        let side = |node: NodeId| {
            let value = shown(&run.tape, node, system)?;
            Some(match called(node) {
                Some(name) => format!("{name} {value}"),
                None => value,
            })
        };
        let of_weather = |guard: &&Guard| {
            let one = |node| weather(&run.tape, node).is_some();
            guard.held && (one(guard.left) || one(guard.right)) && opens(guard)
        };
        let reasons = run.tape.guards().iter().filter(of_weather);
        let reasons: Vec<String> = reasons
            .filter_map(|guard| {
                let (left, right) = (side(guard.left)?, side(guard.right)?);
                Some(format!("{left} {} {right}", sign(guard.comparison)))
            })
            .collect();
        (!reasons.is_empty()).then(|| format!("because {}", reasons.join(" and ")))
    }
}

/// The words for an input of the weather.
fn weather(tape: &Tape, node: NodeId) -> Option<&'static str> {
    let Op::Input(slot) = tape.node(node)?.op else {
        return None;
    };
    let (of, reading) = tape.input_name(slot)?.split_once('.')?;
    let mut all = WEATHER.iter().filter(|_| OF.contains(&of));
    let found = all.find(|(known, _)| *known == reading);
    found.map(|(_, words)| *words)
}

/// A figure in the unit that a table writes it in, or in the usual one of its kind.
fn shown(tape: &Tape, node: NodeId, system: UnitSystem) -> Option<String> {
    let quantity = tape.value(node);
    let unit = match tape.node(node)?.op {
        Op::Factor(number) => tape.factor(number)?.unit.clone(),
        _ => usual(quantity, system)?,
    };
    let number = round_to(unit.show(quantity)?, 3);
    Some(match unit.text() {
        "1" => number.to_string(),
        text => format!("{number} {text}"),
    })
}

/// The unit in which a reading of the weather is usually given.
fn usual(quantity: Quantity, system: UnitSystem) -> Option<Unit> {
    let metric = system == UnitSystem::Metric;
    let units = match quantity.dim {
        Dim::TEMPERATURE => ["F", "C"],
        Dim::SPEED => ["mph", "m/s"],
        Dim::NONE => ["%", "%"],
        _ => ["lb/ft2/h", "kg/m2/h"],
    };
    let [us, si] = units.map(|unit| Units::standard().parse(unit).ok());
    if metric { si } else { us }
}

fn sign(comparison: Comparison) -> &'static str {
    match comparison {
        Comparison::Less => "<",
        Comparison::LessOrEqual => "<=",
        Comparison::Greater => ">",
        Comparison::GreaterOrEqual => ">=",
        Comparison::Equal => "=",
        Comparison::NotEqual => "is not",
    }
}
