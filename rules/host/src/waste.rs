//! The waste of what a rule needs, where the line of the need does not state it: the hook `waste`
//! is asked for it.
//!
//! It is asked once for an item of a run, after the other hooks and on their tape, so that its
//! guards part classes and its steps are replayed and explained as all others.

use crate::bounds::MAX_ASKED;
use crate::clock::Watch;
use crate::context::Handle;
use crate::errors::type_words;
use crate::functions::{check_kind_of_waste, check_size_of_waste};
use crate::operators::Traced;
use crate::pack::Pack;
use crate::run::NeedLine;
use crate::subject::Seen;
use parge_base::{Code, Diagnostic, NodeId, Span};
use rhai::ImmutableString;
use std::collections::HashMap;
use std::sync::Arc;

/// The hook that hands back the share that is wasted of an item.
pub const WASTE_HOOK: &str = "waste";

/// The item without what tells its kinds apart: `colour` of `colour/granite`. Each kind is
/// pooled and bought by itself.
pub fn general_item(item: &str) -> &str {
    item.split('/').next().unwrap_or(item)
}

/// A need as a script says it.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) item: Arc<str>,
    pub(crate) amount: NodeId,
    /// None where the hook is to be asked.
    pub(crate) waste: Option<NodeId>,
    pub(crate) place: Option<Span>,
}

impl Pack {
    /// The needs of a run with their wastes. One whose waste cannot be had is left out, with an
    /// error.
    pub(crate) fn with_wastes(
        &self,
        seen: &Seen,
        handle: &Handle,
        watch: &Watch,
        errors: &mut Vec<Diagnostic>,
    ) -> Vec<NeedLine> {
        let asked = std::mem::take(&mut handle.record().needs);
        let mut known: HashMap<Arc<str>, Option<NodeId>> = HashMap::new();
        let mut lines = Vec::with_capacity(asked.len());
        let mut left = MAX_ASKED;
        for need in asked {
            let waste = need.waste.or_else(|| {
                *known.entry(Arc::clone(&need.item)).or_insert_with(|| {
                    let waste = match left {
                        0 => Err(too_many(need.place)),
                        _ => self.waste(&need, seen, handle, watch),
                    };
                    left = left.saturating_sub(1);
                    match waste {
                        Ok(waste) => Some(waste.0),
                        Err(error) => {
                            // What hinders all needs alike is told at the first.
                            if errors.iter().all(|said| said.message != error.message) {
                                errors.push(error);
                            }
                            None
                        }
                    }
                })
            });
            lines.extend(waste.map(|waste| NeedLine {
                item: need.item,
                amount: need.amount,
                waste,
                place: need.place,
            }));
        }
        lines
    }

    /// Asks the hook for the waste of one item.
    fn waste(
        &self,
        need: &Asked,
        seen: &Seen,
        handle: &Handle,
        watch: &Watch,
    ) -> Result<Traced, Diagnostic> {
        let Asked { item, place, .. } = need;
        let hook = self.waste_hook(seen, *place)?;
        if let Some(said) = self.given_up() {
            return Err(said);
        }
        let lines = handle.record().lines();
        let arguments = (seen.clone(), ImmutableString::from(&**item));
        let answer = self.call(handle, hook, arguments, watch).map_err(|error| {
            place
                .iter()
                .fold(error, |error, at| error.at(*at, "asked for this need"))
        })?;
        let mut record = handle.record();
        if record.lines() != lines {
            let message = format!("rule `{WASTE_HOOK}` says more than the share that is wasted");
            let help = "let it hand back a share only; needs, hours and warnings belong into the rules of the face";
            return Err(Diagnostic::new(Code::RuleFailed, message, help).at(hook.1, ""));
        }
        let what = type_words(answer.type_name());
        let Some(waste) = answer.try_cast::<Traced>() else {
            let message = format!(
                "rule `{WASTE_HOOK}` hands back {what} for `{item}`, and must hand back a share"
            );
            let help = "let its last line be a share of a table, such as `factor(\"waste\", item, \"any\")`; nothing is `quantity(0, \"%\")`";
            return Err(at_need(message, help, *place).at(hook.1, "this rule"));
        };
        let checked = check_kind_of_waste(&record, item, waste)
            .and_then(|()| check_size_of_waste(&mut record, item, waste, *place));
        match checked {
            Ok(()) => Ok(waste),
            Err(message) => {
                let help = "mend the rule or the rows that it reads";
                Err(at_need(message, help, *place).at(hook.1, "this rule"))
            }
        }
    }

    /// The hook, where the pack has one that is asked about such a subject.
    fn waste_hook(&self, seen: &Seen, place: Option<Span>) -> Result<(&str, Span), Diagnostic> {
        let parameters = self.parameters_of(WASTE_HOOK);
        let head = || format!("{WASTE_HOOK}({})", parameters.join(", "));
        let kind = seen.kind();
        if let Some(other) = parameters.first().filter(|first| **first != kind) {
            let message = format!(
                "rule `{}` is asked for a {other}, and this need is one of a rule `({kind})`: it must state its waste",
                head()
            );
            let help = "write `need(item, amount, waste)`";
            return Err(at_need(message, help, place));
        }
        self.hook(WASTE_HOOK).ok_or_else(|| {
            let message =
                format!("this need states no waste, and the pack has no rule `{WASTE_HOOK}`");
            let help = format!(
                "write `need(item, amount, waste)`, or add a rule `fn {}` that hands back a share",
                head()
            );
            at_need(message, help, place)
        })
    }
}

fn too_many(place: Option<Span>) -> Diagnostic {
    let message = format!("the waste of more than {MAX_ASKED} items is asked for one subject");
    let help = "name fewer items, or state the waste: `need(item, amount, waste)`";
    let mut diagnostic = at_need(message, help, place);
    diagnostic.code = Code::RuleLimit;
    diagnostic
}

fn at_need(message: String, help: impl Into<String>, place: Option<Span>) -> Diagnostic {
    let diagnostic = Diagnostic::new(Code::RuleFailed, message, help);
    match place {
        Some(place) => diagnostic.at(place, ""),
        None => diagnostic,
    }
}

#[cfg(test)]
mod tests;
