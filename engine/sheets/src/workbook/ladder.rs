//! The way from cost to price as formulas over cells, wherever they stand: on the summary, and once
//! for every alternate.

use super::page::{at, fixed};
use parge_base::{Currency, Money};
use parge_calc::job::{Profit, Rounding, Taxable};
use parge_calc::live::BidFigure;
use parge_calc::price::{Estimate, MaterialLine};
use rust_decimal::Decimal;
use rust_xlsxwriter::utility::row_col_to_cell;

// The steps, each in the row below the one before.
pub(super) const MATERIALS: u32 = 0;
const FREIGHT: u32 = 1;
const LABOUR: u32 = 2;
const BURDEN: u32 = 3;
const OVERHEAD: u32 = 4;
const CONTINGENCY: u32 = 5;
const PROFIT: u32 = 6;
const ALLOWANCES: u32 = 7;
const CHARGES: u32 = 8;
const MINIMUM: u32 = 9;
const ROUNDING: u32 = 10;
pub(super) const TAX: u32 = 11;
/// How many steps there are; the total follows them.
pub(super) const STEPS: u32 = 12;

/// The steps with the names of their terms, as plans write them.
pub(super) const TERMS: [(u32, &str); 7] = [
    (BURDEN, "burden"),
    (OVERHEAD, "overhead"),
    (CONTINGENCY, "contingency"),
    (PROFIT, "profit"),
    (MINIMUM, "minimum"),
    (ROUNDING, "round"),
    (TAX, "tax"),
];

/// Where the steps stand.
#[derive(Debug, Clone)]
pub(super) struct Ladder {
    /// The sheet.
    pub(super) sheet: String,
    /// The row of the materials.
    pub(super) first: u32,
    /// The column of the amounts.
    pub(super) amounts: usize,
    /// The sheet on which the terms stand, with the row of that of the materials and their column.
    pub(super) terms: (String, u32, usize),
}

/// What the ladder begins with: words, and the formula.
pub(super) struct Sums {
    pub(super) materials: (String, String),
    pub(super) freight: (String, String),
    pub(super) labour: (String, String),
    pub(super) allowances: (String, String),
    pub(super) charges: (String, String),
    /// What a tax on materials is reckoned on, without the sign of a formula.
    pub(super) taxed: String,
}

impl Ladder {
    fn amount(&self, step: u32) -> String {
        row_col_to_cell(self.first + step, at(self.amounts))
    }

    fn down_to(&self, step: u32) -> String {
        format!("SUM({}:{})", self.amount(MATERIALS), self.amount(step))
    }

    /// The cell of a term.
    pub(super) fn term(&self, step: u32) -> String {
        let (sheet, first, column) = &self.terms;
        let cell = fixed(first + step, *column);
        match *sheet == self.sheet {
            true => cell,
            false => format!("{sheet}!{cell}"),
        }
    }

    /// All steps together, in the row below them.
    pub(super) fn total(&self) -> String {
        self.down_to(TAX)
    }

    /// The total, as another sheet refers to it.
    pub(super) fn total_cell(&self) -> String {
        format!("{}!{}", self.sheet, fixed(self.first + STEPS, self.amounts))
    }

    /// The tax, as another sheet refers to it.
    pub(super) fn tax_cell(&self) -> String {
        format!("{}!{}", self.sheet, fixed(self.first + TAX, self.amounts))
    }

    /// The rate of the tax, as another sheet refers to it.
    pub(super) fn tax_rate(&self) -> String {
        let (sheet, first, column) = &self.terms;
        format!("{sheet}!{}", fixed(first + TAX, *column))
    }

    /// A step as another sheet refers to it.
    pub(super) fn figure(&self, figure: BidFigure) -> String {
        let cell = |step: u32| fixed(self.first + step, self.amounts);
        let step = match figure {
            BidFigure::Materials => MATERIALS,
            BidFigure::Freight => FREIGHT,
            BidFigure::Labour => LABOUR,
            BidFigure::Burden => BURDEN,
            BidFigure::Overhead => OVERHEAD,
            BidFigure::Contingency => CONTINGENCY,
            BidFigure::Profit => PROFIT,
            BidFigure::Allowances => ALLOWANCES,
            BidFigure::Total | BidFigure::Hours => {
                let sheet = &self.sheet;
                return format!("SUM({sheet}!{}:{})", cell(MATERIALS), cell(ALLOWANCES));
            }
        };
        format!("{}!{}", self.sheet, cell(step))
    }

    /// All steps, in their order.
    pub(super) fn steps<'e>(&self, estimate: &'e Estimate, sums: &Sums) -> Vec<Step<'e>> {
        let mut all = self.cost_steps(estimate, sums);
        all.extend(self.price_steps(estimate, sums));
        all
    }
}

/// A step from cost to price.
pub(super) struct Step<'a> {
    pub(super) item: &'a str,
    pub(super) basis: String,
    pub(super) input: Option<Input>,
    pub(super) formula: String,
    pub(super) result: Money,
    /// Whether the term is a margin.
    pub(super) is_share_of_price: bool,
}

/// What of a step is for the office to change.
pub(super) enum Input {
    Rate(Decimal),
    Amount(Money),
}

impl Input {
    /// An amount that may not be stated: nothing then.
    fn amount(stated: Option<Money>, currency: Currency) -> Option<Self> {
        Some(Self::Amount(stated.unwrap_or(Money::zero(currency))))
    }
}

/// What a step is reckoned on, with whether its term is stated.
fn basis(is_stated: bool, on: &str) -> String {
    match is_stated {
        true => on.to_owned(),
        false => format!("not stated; {on}"),
    }
}

impl Ladder {
    /// The steps of the cost, up to contingency.
    fn cost_steps<'e>(&self, estimate: &'e Estimate, sums: &Sums) -> Vec<Step<'e>> {
        let price = &estimate.price;
        let bid = &estimate.takeoff.measured.job.bid;
        let digits = estimate.currency.decimals();
        let share = |of: String, step| format!("=ROUND({of}*{},{digits})", self.term(step));
        let contingency = &estimate.contingency;
        let with_overhead = "on materials, freight, labour, burden and overhead";
        let contingency_basis = match (&contingency.by_class, bid.class) {
            (Some(_), Some(class)) => {
                format!(
                    "of class {}, by the rule pack; {with_overhead}",
                    class.number()
                )
            }
            _ => basis(bid.contingency.is_some(), with_overhead),
        };
        vec![
            Step {
                item: "Materials",
                basis: sums.materials.0.clone(),
                input: None,
                formula: sums.materials.1.clone(),
                result: price.materials,
                is_share_of_price: false,
            },
            Step {
                item: "Freight",
                basis: sums.freight.0.clone(),
                input: None,
                formula: sums.freight.1.clone(),
                result: price.freight,
                is_share_of_price: false,
            },
            Step {
                item: "Labour",
                basis: sums.labour.0.clone(),
                input: None,
                formula: sums.labour.1.clone(),
                result: price.labour,
                is_share_of_price: false,
            },
            Step {
                item: "Burden on wages",
                basis: basis(bid.burden.is_some(), "on the labour"),
                input: Some(Input::Rate(bid.burden.unwrap_or_default())),
                formula: share(self.amount(LABOUR), BURDEN),
                result: price.burden,
                is_share_of_price: false,
            },
            Step {
                item: "Overhead",
                basis: basis(
                    bid.overhead.is_some(),
                    "on materials, freight, labour and burden",
                ),
                input: Some(Input::Rate(bid.overhead.unwrap_or_default())),
                formula: share(self.down_to(BURDEN), OVERHEAD),
                result: price.overhead,
                is_share_of_price: false,
            },
            Step {
                item: "Contingency",
                basis: contingency_basis,
                input: Some(Input::Rate(contingency.rate)),
                formula: share(self.down_to(OVERHEAD), CONTINGENCY),
                result: price.contingency,
                is_share_of_price: false,
            },
        ]
    }

    /// The steps from the cost to the price.
    fn price_steps<'e>(&self, estimate: &'e Estimate, sums: &Sums) -> Vec<Step<'e>> {
        let price = &estimate.price;
        let bid = &estimate.takeoff.measured.job.bid;
        let digits = estimate.currency.decimals();
        let money = estimate.currency;
        let (profit_basis, rate, is_margin) = match bid.profit {
            None => ("not stated; as a markup on the cost", Decimal::ZERO, false),
            Some(Profit::Markup(rate)) => ("markup: a share of the cost", rate, false),
            Some(Profit::Margin(rate)) => {
                ("margin: a share of cost and profit together", rate, true)
            }
        };
        let (cost, share) = (self.down_to(CONTINGENCY), self.term(PROFIT));
        let profit = match is_margin {
            true => format!("=ROUND({cost}*{share}/(1-{share}),{digits})"),
            false => format!("=ROUND({cost}*{share},{digits})"),
        };
        let content = |item, (basis, formula): &(String, String), result| Step {
            item,
            basis: basis.clone(),
            input: None,
            formula: formula.clone(),
            result,
            is_share_of_price: false,
        };
        let (tax_basis, rate_of_tax, tax_on) = match bid.tax {
            None => (
                "not stated; on the price",
                Decimal::ZERO,
                self.down_to(ROUNDING),
            ),
            Some((rate, Taxable::Materials)) => {
                if estimate.materials.iter().all(MaterialLine::is_taxed) {
                    ("on the materials", rate, self.amount(MATERIALS))
                } else {
                    ("on the taxed materials", rate, sums.taxed.clone())
                }
            }
            Some((rate, Taxable::Total)) => (
                "on the price with all that stands above",
                rate,
                self.down_to(ROUNDING),
            ),
        };
        vec![
            Step {
                item: "Profit",
                basis: profit_basis.to_owned(),
                input: Some(Input::Rate(rate)),
                formula: profit,
                result: price.profit,
                is_share_of_price: is_margin,
            },
            content("Allowances", &sums.allowances, price.allowances),
            content("Charges", &sums.charges, price.charges),
            Step {
                item: "Up to the minimum",
                basis: basis(
                    bid.minimum.is_some(),
                    "what is missing of the least price before tax",
                ),
                input: Input::amount(bid.minimum, money),
                formula: self.minimum(digits),
                result: price.minimum,
                is_share_of_price: false,
            },
            Step {
                item: "Rounding",
                basis: rounding_basis(bid.rounding),
                input: Input::amount(bid.rounding.map(|rounding| rounding.multiple), money),
                formula: self.rounding(bid.rounding, digits),
                result: price.rounding,
                is_share_of_price: false,
            },
            Step {
                item: "Tax",
                basis: tax_basis.to_owned(),
                input: Some(Input::Rate(rate_of_tax)),
                formula: format!("=ROUND({tax_on}*{},{digits})", self.term(TAX)),
                result: price.tax,
                is_share_of_price: false,
            },
        ]
    }

    fn minimum(&self, digits: u32) -> String {
        let (least, price) = (self.term(MINIMUM), self.down_to(CHARGES));
        format!("=IF({least}>{price},ROUND({least}-{price},{digits}),0)")
    }

    /// The nearest multiple, or the one above; that one as well where the nearest lies under the least
    /// price. Without a multiple nothing is rounded.
    fn rounding(&self, rounding: Option<Rounding>, digits: u32) -> String {
        let (multiple, price) = (self.term(ROUNDING), self.down_to(MINIMUM));
        let parts = format!("ROUND({price}/{multiple},9)");
        let above = format!("ROUNDUP({parts},0)*{multiple}");
        let rounded = match rounding {
            Some(Rounding { up: true, .. }) => above,
            _ => {
                let nearest = format!("ROUND({parts},0)*{multiple}");
                let least = self.term(MINIMUM);
                format!("IF(ROUND({nearest},{digits})<{least},{above},{nearest})")
            }
        };
        format!("=IF({multiple}=0,0,ROUND({rounded}-{price},{digits}))")
    }
}

fn rounding_basis(rounding: Option<Rounding>) -> String {
    match rounding {
        Some(Rounding { up: true, .. }) => {
            "to the multiple above, before tax: a multiple of".to_owned()
        }
        rounding => basis(
            rounding.is_some(),
            "to the nearest multiple, before tax: a multiple of",
        ),
    }
}
