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
    /// The warnings that are said, each by its code or by words of it; none where the case does
    /// not look at them.
    pub warns: Option<Vec<Spanned<String>>>,
}

/// What the rules are asked about, with the figures that must come out.
#[derive(Debug, Clone)]
pub enum Asked {
    /// A plan without its job block.
    Plan {
        /// The plan.
        plan: Spanned<String>,
        /// The pack that says what faces need, where the tested one only measures.
        rules: Option<Spanned<String>>,
        /// The pack that measures, where it is not the tested one.
        measure: Option<Spanned<String>>,
        /// Areas to be coated, by face.
        areas: Vec<Wanted>,
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
    rules: Option<Written<String>>,
    measure: Option<Written<String>>,
    bid: Option<Figures>,
    #[serde(default)]
    areas: Figures,
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
    warns: Option<Vec<Written<String>>>,
}

impl CaseWire {
    /// Whether it has a word that only a plan can answer for.
    fn asks_of_a_plan(&self) -> bool {
        let figures = [&self.areas, &self.needs, &self.waste, &self.hours];
        figures.iter().any(|figures| !figures.is_empty())
            || !self.cautions.is_empty()
            || !self.no_cautions.is_empty()
            || self.rules.is_some()
            || self.measure.is_some()
    }

    /// Whether anything is said of what must come out.
    fn expects(&self) -> bool {
        let figures = [&self.areas, &self.needs, &self.waste, &self.hours];
        let words = [&self.cautions, &self.no_cautions];
        figures.iter().any(|figures| !figures.is_empty())
            || words.iter().any(|words| !words.is_empty())
            || !self.charges.is_empty()
            || self.warns.is_some()
    }
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
            let help = "a file of tests has blocks `[[case]]`, each with a `name`, a `plan` and what must come out; `cautions`, `warns` and `measure` stand before the first `[case.needs]`";
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
        self.holds_together(&wire);
        let asked = match wire.plan {
            Some(plan) => Asked::Plan {
                plan: self.placed(plan),
                rules: wire.rules.map(|word| self.placed(word)),
                measure: wire.measure.map(|word| self.placed(word)),
                areas: self.figures(wire.areas),
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
            warns: wire.warns.map(|all| words(all).collect()),
            name: self.placed(wire.name),
            asked,
        };
        (self.wrong.len() == before).then_some(case)
    }

    /// Says what a case asks for that does not go together, or that it asks for nothing.
    fn holds_together(&mut self, wire: &CaseWire) {
        let (message, help) = match (&wire.plan, &wire.bid) {
            (None, None) | (Some(_), Some(_)) => (
                "a case asks about a plan or about a bid",
                "write one of `plan = '''…'''` and `[case.bid]`; make two cases of it to ask about both",
            ),
            (Some(_), None) if !wire.charges.is_empty() => (
                "charges come of a bid, and this case has a plan",
                "make a case of its own with `[case.bid]`",
            ),
            (Some(_), None) if !wire.expects() => (
                "the case expects nothing",
                "say what must come out: `[case.areas]`, `[case.needs]`, `[case.waste]`, `[case.hours]`, `cautions`, `no_cautions`, `warns`",
            ),
            (None, Some(_)) if wire.asks_of_a_plan() => (
                "only charges and warnings come of a bid",
                "make a case of its own with a `plan`",
            ),
            (None, Some(_)) if !wire.expects() => (
                "the case expects nothing",
                "say what must be charged under `[case.charges]`; `0.00 USD` for nothing",
            ),
            _ => return self.warns_are_words(wire),
        };
        self.say(wire.name.span(), message.to_owned(), help);
    }

    /// An empty text stands in every warning: it would pass whatever is said.
    fn warns_are_words(&mut self, wire: &CaseWire) {
        for words in wire.warns.iter().flatten() {
            if words.get_ref().trim().is_empty() {
                let message = "an empty text is in every warning".to_owned();
                let help = "write words of the warning, or its code such as `W0409`; `warns = []` where none is said";
                self.say(words.span(), message, help);
            }
        }
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
