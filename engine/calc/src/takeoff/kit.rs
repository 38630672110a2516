//! The kit: tools and equipment that the job takes.

use crate::contract::KIT;
use parge_base::number::whole_up;
use parge_base::{Code, Diagnostic, suggest};
use parge_rules::{Pack, Run, ToolLine};

/// A tool or a piece of equipment to take to the job.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Its key in the pack.
    pub key: String,
    /// What it is, in words.
    pub description: String,
    /// How many, in whole pieces: the most that one reason asks for.
    pub count: f64,
    /// Whether it is to be hired.
    pub hire: bool,
    /// Why it is taken, each reason once.
    pub reasons: Vec<String>,
}

/// The tools that a run asks for, in the order of the pack's table. One that is asked for several
/// times is taken once, as many as the largest count of them; one of which none are taken is left
/// out.
pub(super) fn kit(run: &Run, pack: &Pack) -> (Vec<Tool>, Vec<Diagnostic>) {
    let (mut kit, mut diagnostics) = (Vec::new(), Vec::new());
    // A tool without any row is reported where the rule names it.
    for key in pack.tables().keys(KIT, &[]).unwrap_or_default() {
        let lines = run.tools.iter().filter(|line| *line.tool == *key);
        let lines: Vec<(&ToolLine, f64)> = lines
            .map(|line| (line, whole_up(run.tape.value(line.count).value)))
            .filter(|(_, count)| *count > 0.0)
            .collect();
        let Some((first, _)) = lines.first() else {
            continue;
        };
        let mut reasons: Vec<String> = Vec::new();
        for (line, _) in &lines {
            if !reasons.iter().any(|known| **known == *line.reason) {
                reasons.push(line.reason.to_string());
            }
        }
        let hire = is_hired(key, pack).unwrap_or_else(|diagnostic| {
            diagnostics.push(match first.place {
                Some(span) => diagnostic.at(span, "taken here"),
                None => diagnostic,
            });
            false
        });
        let description = pack.tables().text(KIT, &[key, "description"]);
        kit.push(Tool {
            key: key.to_owned(),
            description: description.unwrap_or(key).to_owned(),
            count: lines.iter().fold(0.0, |most, (_, count)| count.max(most)),
            hire,
            reasons,
        });
    }
    (kit, diagnostics)
}

/// Whether a tool is the company's own or hired. What the table does not say is not guessed: hired
/// equipment that passes for one's own costs money.
fn is_hired(key: &str, pack: &Pack) -> Result<bool, Diagnostic> {
    match pack.tables().text(KIT, &[key, "from"]) {
        Some("own") => Ok(false),
        Some("hire") => Ok(true),
        other => {
            let word = other.unwrap_or("");
            let message = match other {
                Some(word) => {
                    format!("`{key}` comes from `{word}`, which is no place to have it from")
                }
                None => {
                    format!("table `{KIT}` of the rule pack does not say where `{key}` comes from")
                }
            };
            let help = match other {
                Some(_) => suggest::help_for(word, ["own", "hire"]),
                None => {
                    format!("add a row `{key},from,own,text,...` or `{key},from,hire,text,...`")
                }
            };
            Err(Diagnostic::new(Code::RuleFailed, message, help))
        }
    }
}

#[cfg(test)]
mod tests;
