//! Figures in what a rule says. A script cannot turn a figure into text; a caution or a warning
//! names one of the job with its unit instead: `{evaporation lb/ft2/h}`.

use parge_base::Units;
use parge_base::number::round_to;
use parge_rules::{Subject, Value};

/// Why a figure cannot be put in.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Fault {
    pub(super) message: String,
    pub(super) help: String,
}

/// The text with every `{name unit}` replaced by that figure of the job.
pub(super) fn filled(text: &str, job: Option<&Subject>) -> Result<String, Fault> {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, named)) = rest.split_once('{') {
        let Some((named, after)) = named.split_once('}') else {
            break;
        };
        out.push_str(before);
        out.push_str(&figure(named, job)?);
        rest = after;
    }
    out.push_str(rest);
    Ok(out)
}

fn figure(named: &str, job: Option<&Subject>) -> Result<String, Fault> {
    let (name, unit) = named.trim().split_once(' ').unwrap_or((named, "1"));
    let values = job.map_or(&[][..], |job| &job.values);
    let found = values.iter().find(|(known, _)| **known == *name);
    let Some((_, Value::Quantity(quantity, _))) = found else {
        return Err(Fault {
            message: format!("what the pack says names `{{{named}}}`, and this job has no figure `{name}`"),
            help: "name a figure of the job with its unit, as `{evaporation lb/ft2/h}`, and say it only where the job has it".to_owned(),
        });
    };
    let unit = unit.trim();
    let shown = Units::standard().parse(unit).ok();
    match shown.and_then(|unit| unit.show(*quantity)) {
        Some(number) => Ok(match unit {
            "1" => rounded(number),
            unit => format!("{} {unit}", rounded(number)),
        }),
        None => Err(Fault {
            message: format!(
                "what the pack says names `{{{named}}}`, and `{name}` is not measured in `{unit}`"
            ),
            help: format!("write a unit of {}", quantity.dim.words()),
        }),
    }
}

/// Two digits that count, and whole numbers from ten up: what is said of the weather is no surer.
fn rounded(number: f64) -> String {
    let decimals = match number.abs() {
        size if size >= 10.0 => 0,
        size if size >= 1.0 => 1,
        _ => 2,
    };
    round_to(number, decimals).to_string()
}

#[cfg(test)]
mod tests;
