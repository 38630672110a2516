//! Tests of a pack: what a case expects beside what its rules say.

use crate::charges::{BID, bid, charged};
use crate::contract::{CAUTIONS, MATERIALS, PHASES, PRICE_HOOK};
use crate::pool::{HOUR, Pooled, general_item};
use crate::takeoff::Takeoff;
use parge_base::{
    Code, Currency, Diagnostic, Dim, NodeId, Quantity, Severity, Span, Spanned, suggest,
};
use parge_rules::{Case, Pack, Wanted};

/// A figure that came out otherwise than wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Miss {
    /// Of what.
    pub what: String,
    /// What the case wants, as it is written there.
    pub wanted: String,
    /// What came out, in the same unit and with as many digits.
    pub got: String,
}

/// What became of a case.
#[derive(Debug, Default)]
pub struct Outcome {
    /// What came out otherwise, in the order of the case.
    pub misses: Vec<Miss>,
    /// What is wrong with the case itself: then nothing is said of the rules.
    pub wrong: Vec<Diagnostic>,
}

/// The figures of a plan that a case expects.
#[derive(Debug, Clone, Copy)]
pub struct OfPlan<'c> {
    /// What is coated of a face, for one of equal ones; by `face` or `structure.face`.
    pub areas: &'c [Wanted],
    /// Items before waste.
    pub needs: &'c [Wanted],
    /// Their waste.
    pub waste: &'c [Wanted],
    /// Hours by phase.
    pub hours: &'c [Wanted],
}

/// Holds a plan's take-off against what a case expects of it.
pub fn of_plan(
    case: &Case,
    wanted: OfPlan<'_>,
    takeoff: &Takeoff,
    pooled: &Pooled,
    pack: &Pack,
) -> Outcome {
    let mut outcome = Outcome::default();
    for one in wanted.areas {
        if let Some(area) = outcome.area_of(one, takeoff) {
            let got = takeoff.measured.job.tape.value(area);
            outcome.compare("area of ", one, got);
        }
    }
    for (all, waste) in [(wanted.needs, false), (wanted.waste, true)] {
        for one in all {
            let Some(dim) = outcome.kind_of_item(one, pack) else {
                continue;
            };
            let found = pooled
                .materials
                .iter()
                .find(|material| material.item == one.name.node);
            let got = found.map_or(Quantity::zero(dim), |material| match waste {
                true => material.waste,
                false => material.need,
            });
            let lead = if waste { "waste of " } else { "" };
            outcome.compare(lead, one, got);
        }
    }
    for one in wanted.hours {
        if !outcome.is_known(&one.name, PHASES, "phase", pack) {
            continue;
        }
        let found = pooled
            .labour
            .iter()
            .find(|labour| labour.phase == one.name.node);
        let hours = found.map_or(0.0, |labour| labour.hours);
        let got = Quantity {
            value: hours * HOUR,
            dim: Dim::TIME,
        };
        outcome.compare("hours of ", one, got);
    }
    for (all, must) in [(&case.cautions, true), (&case.no_cautions, false)] {
        for key in all {
            let known = outcome.is_known(key, CAUTIONS, "caution", pack);
            let said = takeoff.cautions.iter().any(|one| one.key == key.node);
            if known && said != must {
                let words = |said: bool| if said { "said" } else { "not said" }.to_owned();
                outcome.misses.push(Miss {
                    what: format!("caution {}", key.node),
                    wanted: words(must),
                    got: words(said),
                });
            }
        }
    }
    outcome
}

/// Holds the warnings that were said against those that a case expects: each of them is one of
/// the case, and each of the case is said. None is looked at where the case names none.
pub fn warned(case: &Case, said: &[Diagnostic]) -> Vec<Miss> {
    let Some(wanted) = &case.warns else {
        return Vec::new();
    };
    let is_of = |warning: &Diagnostic, words: &str| {
        warning.code.id() == words || warning.message.contains(words)
    };
    let warnings = said.iter();
    let warnings: Vec<&Diagnostic> = warnings
        .filter(|one| one.severity() == Severity::Warning)
        .collect();
    let unsaid = wanted
        .iter()
        .map(|words| words.node.trim())
        .filter(|words| !warnings.iter().any(|warning| is_of(warning, words)))
        .map(|words| Miss {
            what: format!("warning `{words}`"),
            wanted: "said".to_owned(),
            got: "not said".to_owned(),
        });
    let unwanted = warnings
        .iter()
        .filter(|warning| !wanted.iter().any(|words| is_of(warning, words.node.trim())))
        .map(|warning| Miss {
            what: format!("warning {}", warning.code.id()),
            wanted: "not said".to_owned(),
            got: warning.message.clone(),
        });
    unsaid.chain(unwanted).collect()
}

/// Holds what the pack adds to a bid against what a case expects.
pub fn of_bid(case: &Case, given: &[Wanted], wanted: &[Wanted], pack: &Pack) -> Outcome {
    let mut outcome = Outcome::default();
    if !pack.has_hook(PRICE_HOOK) {
        let message = "the pack has no rule `price` to ask about a bid";
        let help = "write `fn price(bid)` in a script of the pack, or take the case out";
        outcome.say(case.name.span, message.to_owned(), help);
        return outcome;
    }
    let Some(currency) = outcome.currency(case, given, wanted) else {
        return outcome;
    };
    let names = BID.iter().map(|(name, _)| *name);
    for one in given {
        let name = &one.name.node;
        match BID.iter().find(|(known, _)| known == name) {
            None => {
                let message = format!("a bid has no `{name}`");
                let help = suggest::help_for(name, names.clone());
                outcome.say(one.name.span, message, &help);
            }
            Some((_, dim)) if *dim != one.unit.dim() => {
                outcome.other_kind(one, *dim);
            }
            Some(_) => {}
        }
    }
    let value = |(name, dim): (&str, Dim)| {
        let given = given.iter().find(|one| one.name.node == name);
        let quantity = given.and_then(|one| one.unit.quantity(one.value).ok());
        quantity.unwrap_or(Quantity::zero(dim))
    };
    if !outcome.wrong.is_empty() {
        return outcome;
    }
    let mut said = Vec::new();
    let (charges, _) = charged(&bid(BID.map(value)), currency, pack, &mut said);
    outcome.wrong.append(&mut said);
    for one in wanted {
        if one.unit.dim() != Dim::MONEY {
            outcome.other_kind(one, Dim::MONEY);
            continue;
        }
        // Two lines of one name are one charge to whoever reads the bid.
        let of_name = charges.iter().filter(|charge| charge.name == one.name.node);
        let got = of_name.fold(0.0, |sum, charge| sum + charge.amount.to_f64());
        let got = Quantity {
            value: got,
            dim: Dim::MONEY,
        };
        outcome.compare("charge ", one, got);
    }
    outcome
}

impl Outcome {
    fn say(&mut self, span: Span, message: String, help: &str) {
        self.wrong
            .push(Diagnostic::new(Code::BadPackTest, message, help).at(span, ""));
    }

    fn other_kind(&mut self, one: &Wanted, dim: Dim) {
        let message = format!(
            "`{}` is {}, and is compared to {}",
            one.name.node,
            dim.words(),
            one.unit.dim().words()
        );
        let help = "write the figure in a unit of its kind";
        self.say(one.text.span, message, help);
    }

    /// What is coated of a face by its name, or by its structure's and its own.
    fn area_of(&mut self, one: &Wanted, takeoff: &Takeoff) -> Option<NodeId> {
        let job = &takeoff.measured.job;
        let named = takeoff.measured.faces.iter().filter_map(|measured| {
            let face = job.faces.get(measured.face)?;
            let long = format!("{}.{}", job.structure_name(face.structure), face.name);
            Some((face.name.as_str(), long, measured.net))
        });
        let named: Vec<(&str, String, NodeId)> = named.collect();
        let wanted = one.name.node.as_str();
        let found: Vec<_> = named
            .iter()
            .filter(|(short, long, _)| *short == wanted || long == wanted)
            .collect();
        if let [(.., area)] = found.as_slice() {
            return Some(*area);
        }
        let (message, help) = match found.first() {
            None => (
                format!("the plan has no face `{wanted}`"),
                suggest::help_for(wanted, named.iter().map(|(short, ..)| *short)),
            ),
            Some((_, long, _)) => (
                format!("more than one face is called `{wanted}`"),
                format!("name its structure as well, such as `\"{long}\"`"),
            ),
        };
        self.say(one.name.span, message, &help);
        None
    }

    /// Whether a table of the pack has the key. A slip must not pass for "none of it".
    fn is_known(&mut self, key: &Spanned<String>, table: &str, what: &str, pack: &Pack) -> bool {
        let known = pack.tables().keys(table, &[]).unwrap_or_default();
        let is_known = known.contains(&general_item(&key.node));
        if !is_known {
            let message = format!("the pack has no {what} `{}` in table `{table}`", key.node);
            let help = suggest::help_for(&key.node, known);
            self.say(key.span, message, &help);
        }
        is_known
    }

    /// The kind of an item by the unit that table `materials` shows it in.
    fn kind_of_item(&mut self, one: &Wanted, pack: &Pack) -> Option<Dim> {
        if !self.is_known(&one.name, MATERIALS, "item", pack) {
            return None;
        }
        let general = general_item(&one.name.node);
        let unit = pack.tables().text(MATERIALS, &[general, "unit"])?;
        Some(pack.units().parse(unit).ok()?.dim())
    }

    /// The one currency of a bid and its charges.
    fn currency(&mut self, case: &Case, given: &[Wanted], wanted: &[Wanted]) -> Option<Currency> {
        let mut found = None;
        for one in given.iter().chain(wanted) {
            let Some(currency) = Currency::from_code(one.unit.text()) else {
                continue;
            };
            if *found.get_or_insert(currency) != currency {
                let message = "the amounts of a bid are in one currency".to_owned();
                self.say(one.text.span, message, "write them all in the same");
                return None;
            }
        }
        if found.is_none() {
            let message = "the bid has no amount of money".to_owned();
            let help = "say what it comes to: `total = \"800.00 USD\"`";
            self.say(case.name.span, message, help);
        }
        found
    }

    /// Compares to the digits that are written: half a step of the last one is within.
    fn compare(&mut self, lead: &str, one: &Wanted, got: Quantity) {
        let Some(value) = one.unit.show(got) else {
            self.other_kind(one, got.dim);
            return;
        };
        let decimals = one.decimals;
        let step = 0.1_f64.powi(i32::try_from(decimals).unwrap_or(0));
        // A figure in the very middle passes as both of its neighbours.
        let slack = 1e-9 * value.abs().max(1.0);
        if (value - one.value).abs() > step / 2.0 + slack.min(step / 4.0) {
            self.misses.push(Miss {
                what: format!("{lead}{}", one.name.node),
                wanted: one.text.node.trim().to_owned(),
                got: format!("{value:.decimals$} {}", one.unit.text()),
            });
        }
    }
}

#[cfg(test)]
mod tests;
