//! Cases: what a pack's own tests expect. A file `tests/*.toml` of a pack holds them; reading
//! one needs no run.

use parge_base::{Code, Diagnostic, FileId, Sources, Span, Spanned, Unit, Units};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use toml::Spanned as Written;

/// The most decimals that a figure is compared to.
const MAX_DECIMALS: usize = 9;

/// What a test of a pack asks and expects.
#[derive(Debug, Clone)]
pub struct Case {
    /// What it is about.
    pub name: Spanned<String>,
    /// What the rules are asked about.
    pub asked: Asked,
    /// Cautions that must be said.
    pub cautions: Vec<Spanned<String>>,
    /// Cautions that must not be said.
    pub no_cautions: Vec<Spanned<String>>,
}

/// What the rules are asked about, with the figures that must come out.
#[derive(Debug, Clone)]
pub enum Asked {
    /// A plan without its job block.
    Plan {
        /// The plan.
        plan: Spanned<String>,
        /// Items before waste.
        needs: Vec<Wanted>,
        /// The waste on top of them.
        waste: Vec<Wanted>,
        /// Hours by phase.
        hours: Vec<Wanted>,
    },
    /// A bid, for the rule that adds to a price.
    Bid {
        /// What is known of the bid; what is left out is nothing.
        bid: Vec<Wanted>,
        /// Charges by their names.
        charges: Vec<Wanted>,
    },
}

/// A figure by the name of what it is of.
#[derive(Debug, Clone)]
pub struct Wanted {
    /// An item, a phase, a charge.
    pub name: Spanned<String>,
    /// The number.
    pub value: f64,
    /// How many digits are written behind its point: it is compared to these.
    pub decimals: usize,
    /// Its unit.
    pub unit: Unit,
    /// Number and unit as written.
    pub text: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileWire {
    #[serde(default)]
    case: Vec<CaseWire>,
}

type Figures = BTreeMap<Written<String>, Written<String>>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseWire {
    name: Written<String>,
    plan: Option<Written<String>>,
    bid: Option<Figures>,
    #[serde(default)]
    needs: Figures,
    #[serde(default)]
    waste: Figures,
    #[serde(default)]
    hours: Figures,
    #[serde(default)]
    charges: Figures,
    #[serde(default)]
    cautions: Vec<Written<String>>,
    #[serde(default)]
    no_cautions: Vec<Written<String>>,
}

/// Reads the cases of a file; a case with anything wrong in it is left out and told.
pub fn cases(sources: &Sources, file: FileId, units: &Units) -> (Vec<Case>, Vec<Diagnostic>) {
    let mut reader = Reader {
        file,
        units,
        wrong: Vec::new(),
    };
    let wire: FileWire = match toml::from_str(sources.text(file)) {
        Ok(wire) => wire,
        Err(error) => {
            let range = error.span().unwrap_or(0..0);
            let message = error.message().replace('\n', " ");
            let help = "a file of tests has blocks `[[case]]`, each with a `name`, a `plan` and what must come out; `cautions` stand before the first `[case.needs]`";
            reader.say(range, message, help);
            return (Vec::new(), reader.wrong);
        }
    };
    let mut names = BTreeSet::new();
    let mut cases = Vec::new();
    for one in wire.case {
        if !names.insert(one.name.get_ref().clone()) {
            let message = format!("two cases are named `{}`", one.name.get_ref());
            let help = "give each case of a file a name of its own";
            reader.say(one.name.span(), message, help);
        }
        cases.extend(reader.case(one));
    }
    (cases, reader.wrong)
}

struct Reader<'u> {
    file: FileId,
    units: &'u Units,
    wrong: Vec<Diagnostic>,
}

impl Reader<'_> {
    fn say(&mut self, range: std::ops::Range<usize>, message: String, help: &str) {
        let span = Span::new(self.file, range.start, range.end);
        self.wrong
            .push(Diagnostic::new(Code::BadPackTest, message, help).at(span, ""));
    }

    fn placed(&self, written: Written<String>) -> Spanned<String> {
        let range = written.span();
        let span = Span::new(self.file, range.start, range.end);
        Spanned::new(written.into_inner(), span)
    }

    fn case(&mut self, wire: CaseWire) -> Option<Case> {
        let before = self.wrong.len();
        let place = wire.name.span();
        let of_plan = [&wire.needs, &wire.waste, &wire.hours];
        let of_plan = of_plan.iter().any(|figures| !figures.is_empty());
        let words = !wire.cautions.is_empty() || !wire.no_cautions.is_empty();
        let charges = !wire.charges.is_empty();
        match (&wire.plan, &wire.bid) {
            (None, None) | (Some(_), Some(_)) => {
                let message = "a case asks about a plan or about a bid".to_owned();
                let help = "write one of `plan = '''…'''` and `[case.bid]`; make two cases of it to ask about both";
                self.say(place, message, help);
            }
            (Some(_), None) if charges => {
                let message = "charges come of a bid, and this case has a plan".to_owned();
                self.say(place, message, "make a case of its own with `[case.bid]`");
            }
            (Some(_), None) if !(of_plan || words) => {
                let message = "the case expects nothing".to_owned();
                let help = "say what must come out: `[case.needs]`, `[case.waste]`, `[case.hours]`, `cautions`, `no_cautions`";
                self.say(place, message, help);
            }
            (None, Some(_)) if of_plan || words => {
                let message = "only charges come of a bid".to_owned();
                self.say(place, message, "make a case of its own with a `plan`");
            }
            (None, Some(_)) if !charges => {
                let message = "the case expects nothing".to_owned();
                let help =
                    "say what must be charged under `[case.charges]`; `0.00 USD` for nothing";
                self.say(place, message, help);
            }
            _ => {}
        }
        let asked = match wire.plan {
            Some(plan) => Asked::Plan {
                plan: self.placed(plan),
                needs: self.figures(wire.needs),
                waste: self.figures(wire.waste),
                hours: self.figures(wire.hours),
            },
            None => Asked::Bid {
                bid: self.figures(wire.bid.unwrap_or_default()),
                charges: self.figures(wire.charges),
            },
        };
        let words = |all: Vec<Written<String>>| all.into_iter().map(|one| self.placed(one));
        let case = Case {
            cautions: words(wire.cautions).collect(),
            no_cautions: words(wire.no_cautions).collect(),
            name: self.placed(wire.name),
            asked,
        };
        (self.wrong.len() == before).then_some(case)
    }

    fn figures(&mut self, figures: Figures) -> Vec<Wanted> {
        let figures = figures.into_iter();
        figures
            .filter_map(|(name, text)| self.figure(name, text))
            .collect()
    }

    fn figure(&mut self, name: Written<String>, text: Written<String>) -> Option<Wanted> {
        let written = text.get_ref().trim();
        let (number, unit) = written.split_once(' ').unwrap_or((written, ""));
        let Some((value, decimals)) = decimal(number) else {
            let message = format!("`{written}` is no figure to compare with");
            let help = "write a number with as many digits as are to be compared, a blank and a unit, such as `13.89 bag`";
            self.say(text.span(), message, help);
            return None;
        };
        match self.units.parse(unit.trim()) {
            Ok(unit) => Some(Wanted {
                name: self.placed(name),
                value,
                decimals,
                unit,
                text: self.placed(text),
            }),
            Err(error) => {
                let help = "write the number with its unit, such as `13.89 bag`";
                self.say(text.span(), error.to_string(), help);
                None
            }
        }
    }
}

/// A number as it is compared: digits, perhaps with a point and more digits. `1/2` and `1e3` say
/// nothing of how many digits are meant.
fn decimal(text: &str) -> Option<(f64, usize)> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    let plain = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let decimals = digits.split_once('.').map_or(0, |(_, part)| part.len());
    let value: f64 = text.parse().ok()?;
    let fits = plain(whole) && plain(part) && decimals <= MAX_DECIMALS && value.is_finite();
    fits.then_some((value, decimals))
}

#[cfg(test)]
mod tests;
