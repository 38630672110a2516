//! A sheet for each alternate: the whole estimate once more with its changes made, so that its
//! difference follows the same sizes, factors and prices.

use super::addresses::Addresses;
use super::labour::{self, paid_hours};
use super::ladder::{Ladder, STEPS, Sums};
use super::materials::{self, NO_PACK, NO_PRICE, shown_sum};
use super::page::{Column, Frame, HEAD_ROW, Page, at, fixed};
use super::style::Look;
use super::{bid, purchases, summary, workings};
use crate::shown;
use parge_base::number::round_to;
use parge_calc::live::{Goes, Version};
use parge_calc::price::{Estimate, LabourLine, MaterialLine};
use rust_xlsxwriter::utility::row_col_to_cell;
use rust_xlsxwriter::{Worksheet, XlsxError};

const WHAT: usize = 1;
const NEED: usize = 3;
const WASTE: usize = 4;
const CONTENT: usize = 5;
const FROM: usize = 6;
const PACKS: usize = 7;
const PRICE: usize = 8;
const COST: usize = 9;
const TAXED: usize = 10;
/// A mark: the line has no price.
const OPEN: usize = 11;
/// A mark: the best of several offers was chosen for another need.
const CHOOSE: usize = 12;

/// The name of the sheet of a version.
fn name(version: usize) -> String {
    format!("Alternate {version}")
}

/// How many rows the largest of the sheets takes.
pub(super) fn rows(versions: &[Version<'_>]) -> usize {
    let lines = versions.iter().skip(1).map(|version| {
        let estimate = version.estimate;
        estimate.materials.len() + estimate.labour.len() + STEPS as usize
    });
    lines.max().unwrap_or(0)
}

/// Where the steps of the price of a version stand.
pub(super) fn ladder(version: usize, estimate: &Estimate) -> Ladder {
    let lines = estimate.materials.len().max(1) + estimate.labour.len().max(1);
    Ladder {
        sheet: format!("'{}'", name(version)),
        first: HEAD_ROW + 1 + u32::try_from(lines).unwrap_or(u32::MAX / 2),
        amounts: COST,
        terms: summary::ladder().terms,
    }
}

/// The cell of the hours that are paid in a version.
pub(super) fn hours(version: usize, estimate: &Estimate) -> String {
    let first = first_labour(estimate);
    let lines = u32::try_from(estimate.labour.len().max(1)).unwrap_or(1);
    let cells = format!("{}:{}", fixed(first, NEED), fixed(first + lines - 1, NEED));
    format!("SUM('{}'!{cells})", name(version))
}

/// The marks of a version: lines without a price, and offers to be chosen anew.
pub(super) fn marks(version: usize, estimate: &Estimate) -> [String; 2] {
    let last = ladder(version, estimate).first - 1;
    [OPEN, CHOOSE].map(|column| {
        let cells = format!("{}:{}", fixed(HEAD_ROW + 1, column), fixed(last, column));
        format!("SUM('{}'!{cells})", name(version))
    })
}

/// The cell of the difference of a version.
pub(super) fn difference(version: usize, estimate: &Estimate) -> String {
    let ladder = ladder(version, estimate);
    format!("{}!{}", ladder.sheet, fixed(ladder.first + STEPS + 2, COST))
}

fn first_labour(estimate: &Estimate) -> u32 {
    let lines = estimate.materials.len().max(1);
    HEAD_ROW + 1 + u32::try_from(lines).unwrap_or(u32::MAX / 2)
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    of: &Addresses<'_>,
    number: usize,
) -> Result<(), XlsxError> {
    let versions = &of.live.versions;
    let (Some(base), Some(version)) = (versions.first(), versions.get(number)) else {
        return Ok(());
    };
    let estimate = version.estimate;
    let money = estimate.currency.code();
    let amount = Look::money(estimate.currency);
    let columns = vec![
        Column::text("Line", 12.0),
        Column::text("What", 44.0),
        Column::text("Unit", 10.0),
        Column::number("Need, hours", Look::Decimals(2)),
        Column::number("Waste", Look::Decimals(2)),
        Column::number("Content of a pack", Look::Written),
        Column::number("Price holds from packs", Look::Count),
        Column::number("Packs", Look::Count),
        Column::number(format!("Price of a pack or an hour, {money}"), amount),
        Column::number(format!("Cost, {money}"), amount),
        Column::text("Taxed", 8.0),
        Column::number("No price", Look::Mark),
        Column::number("Choose anew", Look::Mark),
    ];
    let mut page = Page::begin(sheet, frame, &name(number), columns)?;
    let title = version.name.unwrap_or("");
    page.note(&format!(
        "Alternate “{title}”: the whole estimate once more with its changes."
    ))?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let writing = Writing {
        of,
        number,
        estimate,
        base: base.estimate,
    };
    writing.lines(&mut page)?;
    writing.steps(&mut page)?;
    page.end()
}

/// The sheet of one alternate.
struct Writing<'w, 'a> {
    of: &'w Addresses<'a>,
    number: usize,
    estimate: &'a Estimate,
    base: &'a Estimate,
}

impl Writing<'_, '_> {
    fn lines(&self, page: &mut Page<'_>) -> Result<(), XlsxError> {
        for (number, line) in self.estimate.materials.iter().enumerate() {
            self.material(page, number, line)?;
        }
        if self.estimate.materials.is_empty() {
            page.nothing("no material")?;
        }
        for (number, line) in self.estimate.labour.iter().enumerate() {
            self.labour(page, number, line)?;
        }
        if self.estimate.labour.is_empty() {
            page.nothing("no labour")?;
        }
        Ok(())
    }

    /// The line of the estimate that is bought by the same offer.
    fn same_offer(&self, line: &MaterialLine) -> Option<usize> {
        let same = |other: &MaterialLine| {
            let of = |line: &MaterialLine| {
                let offer = line.choice.as_ref().map(|choice| choice.offer.span);
                (line.material.item.clone(), offer)
            };
            other.choice.is_some() && of(other) == of(line)
        };
        self.base.materials.iter().position(same)
    }

    fn material(
        &self,
        page: &mut Page<'_>,
        number: usize,
        line: &MaterialLine,
    ) -> Result<(), XlsxError> {
        let figures = shown::need(line);
        page.blank()?;
        page.text(0, &workings::line_of(self.number, Goes::Need(number)))?;
        page.text(WHAT, &line.material.description)?;
        page.text(2, &shown::print_unit(figures.unit))?;
        for (column, goes, value) in [
            (NEED, Goes::Need(number), figures.need),
            (WASTE, Goes::Waste(number), figures.waste),
        ] {
            let sum = shown_sum(self.of, self.number, goes, &line.material);
            page.formula(column, &format!("={sum}"), value)?;
        }
        self.offer(page, line, figures.pack)?;
        let [need, waste, content, from, packs, price] =
            [NEED, WASTE, CONTENT, FROM, PACKS, PRICE].map(|column| page.here(column));
        let packs_of = format!("ROUNDUP(ROUND(({need}+{waste})/{content},9),0)");
        let whole = format!("IF({need}+{waste}>0,MAX({packs_of},{from}),0)");
        let counted = format!("=IF({content}=\"\",\"{NO_PACK}\",{whole})");
        match line.packs {
            Some(packs) => page.formula(PACKS, &counted, packs)?,
            None => page.formula_saying(PACKS, &counted, NO_PACK)?,
        }
        let digits = self.estimate.currency.decimals();
        let priced = format!(
            "=IF({packs}=\"{NO_PACK}\",\"{NO_PRICE}\",IF({price}=\"\",\"{NO_PRICE}\",ROUND({packs}*{price},{digits})))"
        );
        match line.cost {
            Some(cost) => page.formula(COST, &priced, cost.to_f64())?,
            None => page.formula_saying(COST, &priced, NO_PRICE)?,
        }
        page.text(TAXED, if line.is_taxed() { "yes" } else { "no" })?;
        self.marks(page, line.cost.is_none())?;
        if let Some(mark) = self.choose_anew(page, line) {
            page.formula(CHOOSE, &format!("={mark}"), 0.0)?;
        }
        page.next()
    }

    /// Whether the line has no price.
    fn marks(&self, page: &mut Page<'_>, is_open: bool) -> Result<(), XlsxError> {
        let mark = format!("=IF({}=\"{NO_PRICE}\",1,0)", page.here(COST));
        page.formula(OPEN, &mark, if is_open { 1.0 } else { 0.0 })
    }

    /// The sheet has no column of need and waste together, so that each stands for itself.
    fn choose_anew(&self, page: &Page<'_>, line: &MaterialLine) -> Option<String> {
        let of = |column| materials::choose_anew(page, line, [column, CONTENT, PRICE, FROM]);
        let mark = of(NEED)?;
        let (need, waste) = (page.here(NEED), page.here(WASTE));
        Some(mark.replace(&format!("ABS({need}-"), &format!("ABS({need}+{waste}-")))
    }

    /// Content and price of a pack: those of sheet Materials where the same is bought there.
    fn offer(
        &self,
        page: &mut Page<'_>,
        line: &MaterialLine,
        content: Option<f64>,
    ) -> Result<(), XlsxError> {
        let price = line.unit_price.map(|price| price.to_f64());
        let base = self.same_offer(line);
        for (column, there, value) in [
            (CONTENT, materials::CONTENT, content),
            (PRICE, materials::PRICE, price),
        ] {
            let Some(value) = value else { continue };
            match base {
                Some(row) => {
                    let cell = materials::input_of(row, there);
                    // An emptied cell is no nought here either.
                    let formula = format!("=IF({cell}=\"\",\"\",{cell})");
                    page.formula(column, &formula, value)?;
                }
                None => page.input_number(column, value)?,
            }
        }
        let from = line
            .choice
            .as_ref()
            .map_or(0, |choice| choice.offer.terms.from_packs);
        let there = base.and_then(|row| materials::least_packs_of(self.base, row));
        match there {
            Some(cell) => page.formula(FROM, &format!("={cell}"), f64::from(from)),
            None => page.number(FROM, f64::from(from)),
        }
    }

    fn labour(
        &self,
        page: &mut Page<'_>,
        number: usize,
        line: &LabourLine,
    ) -> Result<(), XlsxError> {
        page.blank()?;
        page.text(0, &workings::line_of(self.number, Goes::Hours(number)))?;
        page.text(WHAT, &line.labour.description)?;
        page.text(2, "h")?;
        let hours = format!("={}", paid_hours(self.of, self.number, number));
        page.formula(NEED, &hours, line.labour.hours)?;
        let (hours, wage) = (page.here(NEED), page.here(PRICE));
        let paid = format!("=IF({0}=\"\",\"\",{0})", labour::wage_cell());
        match self.estimate.price.wage {
            Some(amount) => page.formula(PRICE, &paid, amount.to_f64())?,
            None => page.formula_saying(PRICE, &paid, "")?,
        }
        let digits = self.estimate.currency.decimals();
        let priced = format!("=IF({wage}=\"\",\"{NO_PRICE}\",ROUND({hours}*{wage},{digits}))");
        match line.cost {
            Some(cost) => page.formula(COST, &priced, cost.to_f64())?,
            None => page.formula_saying(COST, &priced, NO_PRICE)?,
        }
        self.marks(page, line.cost.is_none())?;
        page.next()
    }

    fn steps(&self, page: &mut Page<'_>) -> Result<(), XlsxError> {
        let ladder = ladder(self.number, self.estimate);
        debug_assert_eq!(page.row(), ladder.first);
        let price = &self.estimate.price;
        for step in ladder.steps(self.estimate, &self.sums()) {
            page.blank()?;
            page.text(WHAT, step.item)?;
            page.formula(COST, &step.formula, step.result.to_f64())?;
            page.next()?;
        }
        page.total("Total")?;
        page.formula(COST, &format!("={}", ladder.total()), price.total.to_f64())?;
        page.next()?;
        let base = self.base.price.total.to_f64();
        page.total("Total of the estimate")?;
        page.formula(COST, &format!("={}", summary::ladder().total_cell()), base)?;
        page.next()?;
        page.total("Difference")?;
        let row = page.row();
        let cell = |row: u32| row_col_to_cell(row, at(COST));
        let digits = self.estimate.currency.decimals();
        let formula = format!("=ROUND({}-{},{digits})", cell(row - 2), cell(row - 1));
        let difference = round_to(price.total.to_f64() - base, digits);
        page.formula(COST, &formula, difference)
    }

    fn sums(&self) -> Sums {
        let range = |first: u32, lines: usize, column: usize| {
            let last = first + u32::try_from(lines.max(1)).unwrap_or(1) - 1;
            format!("{}:{}", fixed(first, column), fixed(last, column))
        };
        let sum = |cells: String| (String::new(), format!("=SUM({cells})"));
        let materials = self.estimate.materials.len();
        let costs = range(HEAD_ROW + 1, materials, COST);
        let taxed = range(HEAD_ROW + 1, materials, TAXED);
        let labour = range(
            first_labour(self.estimate),
            self.estimate.labour.len(),
            COST,
        );
        let or_nothing = |formula: Option<String>| {
            let formula = formula.unwrap_or_else(|| "0".to_owned());
            (String::new(), format!("={formula}"))
        };
        let allowances = bid::allowances(self.base).map(|cells| format!("SUM({cells})"));
        Sums {
            taxed: format!("(SUM({costs})-SUMIF({taxed},\"no\",{costs}))"),
            materials: sum(costs),
            labour: sum(labour),
            freight: or_nothing(self.freight()),
            allowances: or_nothing(allowances),
            charges: or_nothing(self.charges()),
        }
    }

    /// The deliveries of the suppliers that are bought from, at the prices of sheet Purchases.
    fn freight(&self) -> Option<String> {
        let of = self.estimate.purchases.iter().filter_map(|purchase| {
            let amount = purchase.freight.as_ref()?.amount.to_f64();
            let there = purchases::delivery_of(self.base, &purchase.supplier);
            let delivery = there.unwrap_or_else(|| super::addresses::number(amount));
            let packs = purchase.lines.iter().map(|line| {
                let row = HEAD_ROW + 1 + u32::try_from(line.material).unwrap_or(u32::MAX / 2);
                fixed(row, PACKS)
            });
            let packs: Vec<String> = packs.collect();
            Some(format!("IF(SUM({})>0,{delivery},0)", packs.join(",")))
        });
        let parts: Vec<String> = of.collect();
        (!parts.is_empty()).then(|| parts.join("+"))
    }

    fn charges(&self) -> Option<String> {
        let digits = self.estimate.currency.decimals();
        let lines = (0..self.estimate.charges.len()).map(|line| {
            let sum = workings::sum_of(self.of, self.number, Goes::Charge(line));
            format!("ROUND({sum},{digits})")
        });
        let parts: Vec<String> = lines.collect();
        (!parts.is_empty()).then(|| parts.join("+"))
    }
}
