//! One plan through the stages, each by itself, as the program strings them together.

use crate::{PRICES, plan};
use parge_base::actuals::Fingerprint;
use parge_base::prices::PriceBook;
use parge_base::{Diagnostic, FileId, Sources, Span, diagnostic};
use parge_calc::contract::{HOOKS, Packs};
use parge_calc::draft::{Draft, RestsOn};
use parge_calc::measure::{Measured, measure};
use parge_calc::pool::pool;
use parge_calc::price::{Estimate, price};
use parge_calc::resolve::resolve_with;
use parge_calc::takeoff::{Takeoff, take_off};
use parge_grammar::ast::Plan;
use parge_rules::{Pack, with_stack};
use parge_sheets::write_json;
use std::io;

/// The pack of every made plan.
const PACK: &str = "vertical-concrete";

/// All that a made plan rests on.
#[derive(Debug)]
pub struct Site {
    /// The texts.
    pub sources: Sources,
    /// The plan.
    pub file: FileId,
    /// Its pack.
    pub pack: Pack,
    /// Its price book.
    pub book: PriceBook,
}

/// Why a stage gave nothing.
pub type Fault = String;

impl Site {
    /// A plan with so many faces, and what it names.
    pub fn of(faces: usize) -> Result<Self, Fault> {
        let mut sources = Sources::new();
        let file = sources.add("job.parge", plan(faces));
        let files = parge_standard_packs::find(PACK).ok_or("the pack is missing")?;
        let pack = parge_rules::load(&[files], HOOKS, &mut sources).map_err(|said| told(&said))?;
        let prices = sources.add("prices.csv", PRICES.to_owned());
        let (book, said) = parge_importers::price_book(&sources, prices, pack.units());
        let book = fine(book, said)?.ok_or("no price book")?;
        Ok(Self {
            sources,
            file,
            pack,
            book,
        })
    }

    /// The text of the plan.
    pub fn text(&self) -> &str {
        self.sources.text(self.file)
    }

    /// From text to syntax.
    pub fn parse(&self) -> Result<Plan, Fault> {
        let parsed = parge_grammar::parse(self.file, self.text());
        fine(parsed.plan, parsed.diagnostics)
    }

    /// From syntax to measured faces.
    pub fn measure(&self, plan: &Plan) -> Result<Measured, Fault> {
        let packs = Packs {
            rules: &self.pack,
            measuring: None,
        };
        let length = self.text().len();
        let end = Span::new(self.file, length, length);
        let (job, said) = resolve_with(plan, packs, None, end);
        let job = fine(job, said)?.ok_or("no job")?;
        let (measured, said) = measure(job, packs);
        fine(measured, said)
    }

    /// From measured faces to what they need.
    pub fn take_off(&self, measured: Measured) -> Result<Takeoff, Fault> {
        let (takeoff, said) = with_stack(|| take_off(measured, &self.pack));
        fine(takeoff, said)
    }

    /// From needs to a price.
    pub fn price(&self, takeoff: Takeoff) -> Result<Estimate, Fault> {
        let (pooled, said) = pool(&takeoff, &self.pack);
        let pooled = fine(pooled, said)?;
        let (estimate, said) = price(takeoff, pooled, &self.book, &self.pack);
        fine(estimate, said)?.ok_or_else(|| "no estimate".to_owned())
    }

    /// The plan as it stands in an editor.
    pub fn draft(&self) -> Result<Draft<'_>, Fault> {
        let on = RestsOn {
            packs: Packs {
                rules: &self.pack,
                measuring: None,
            },
            book: &self.book,
            forecast: None,
            joined: &|plan| plan,
        };
        let text = self.text().to_owned();
        let draft = Draft::new(&mut Sources::new(), "job.parge", text, on);
        match draft.mistakes() {
            [] => Ok(draft),
            mistakes => Err(told(mistakes)),
        }
    }

    /// The estimate as JSON.
    pub fn json(&self, estimate: &Estimate) -> Result<(), Fault> {
        let [plan, rules, prices] = [const { String::new() }; 3];
        let unnamed = Fingerprint {
            plan,
            rules,
            prices,
        };
        let written = write_json(estimate, &unnamed, &self.sources, &[], io::sink());
        written.map_err(|error| error.to_string())
    }

    /// The estimate as a workbook.
    pub fn workbook(&self, estimate: &Estimate) -> Result<Vec<u8>, Fault> {
        let made = parge_sheets::workbook(estimate, &self.sources, &[]);
        made.map_err(|error| error.to_string())
    }
}

/// What a stage made, where nothing was wrong.
fn fine<T>(made: T, said: Vec<Diagnostic>) -> Result<T, Fault> {
    match diagnostic::any_error(&said) {
        false => Ok(made),
        true => Err(told(&said)),
    }
}

fn told(said: &[Diagnostic]) -> Fault {
    let messages = said.iter().map(|said| said.message.as_str());
    messages.collect::<Vec<_>>().join("; ")
}
