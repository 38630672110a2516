//! The sheet of actuals: what was used beside what was estimated, and why it differs. Estimated
//! figures are those of the sheets Materials and Labour and follow them; what was recorded and paid
//! stands in shaded cells, and every difference is a formula over both.

use super::page::{Column, Frame, HEAD_ROW, Page};
use super::style::{self, Look};
use super::{labour, materials};
use crate::shown;
use parge_base::Money;
use parge_calc::actuals::{Comparison, DaysLine, Line, Of, Remark, Scope, Totals, Unmatched};
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Actuals";

/// What stands in place of a difference that nobody can know.
const NOT_RECORDED: &str = "not recorded";

const PLACE: usize = 1;
const UNIT: usize = 2;
const ESTIMATED: usize = 3;
const AT_BUILT: usize = 4;
const USED: usize = 5;
const DIFFERENCE: usize = 6;
const PACKS: usize = 7;
const PRICE: usize = 8;
const PAID: usize = 9;
const COST: usize = 10;
const NOT_COUNTED: usize = 11;
const ACTUAL: usize = 12;
const WHOLE: usize = 13;
/// Quantity, yield or waste or rate, packs, price.
const PARTS: [usize; 4] = [14, 15, 16, 17];

/// Rows that the sheet takes beside its lines.
const OTHER_ROWS: usize = 12;

/// The rows that the sheet takes.
pub(super) fn rows(of: &Comparison) -> usize {
    let lines = of.materials.len() + of.labour.len() + of.unmatched.len() + of.areas.len();
    lines + of.weather.len() + of.remarks.len() + OTHER_ROWS
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    of: &Comparison,
) -> Result<(), XlsxError> {
    let code = of.currency.code();
    let money = Look::money(of.currency);
    let amount = |head: &str| Column::number(format!("{head}, {code}"), money);
    let prices = Look::Decimals(price_digits(estimate, of));
    let columns = vec![
        Column::text("What", 38.0),
        Column::text("Where", 22.0),
        Column::text("Unit", 10.0),
        Column::number("Estimated", Look::Decimals(2)),
        Column::number("Estimated at areas built", Look::Decimals(2)),
        Column::number("Recorded", Look::Figure).input(),
        Column::number("Difference", Look::Decimals(2)),
        Column::number("Packs opened", Look::Count),
        Column::number(format!("Price estimated, {code}"), prices),
        Column::number(format!("Price paid, {code}"), prices).input(),
        amount("Estimated cost"),
        amount("Estimated, not recorded"),
        amount("Actual cost"),
        amount("Difference"),
        amount("by quantity"),
        amount("by yield, waste or rate"),
        amount("by packs"),
        amount("by price"),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    note(&mut page, of)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let digits = of.currency.decimals();
    let mut sheet = Sheet {
        page: &mut page,
        estimate,
        digits,
    };
    let first = sheet.page.row();
    for line in &of.materials {
        sheet.line(line, None)?;
    }
    let material_rows = [first, sheet.page.row()];
    sheet.total("Materials", &of.material_totals, &[material_rows])?;
    let first = sheet.page.row();
    let mut parts = Parts::default();
    for line in &of.labour {
        let part = parts.of(line);
        sheet.line(line, part)?;
    }
    let labour_rows = [first, sheet.page.row()];
    sheet.total("Labour before burden", &of.labour_totals, &[labour_rows])?;
    sheet.total("Both", &of.totals, &[material_rows, labour_rows])?;
    for one in &of.unmatched {
        sheet.unmatched(one)?;
    }
    noted(&mut page, of)?;
    page.end()
}

/// Says what stands against the figures, or how to read them.
fn note(page: &mut Page<'_>, of: &Comparison) -> Result<(), XlsxError> {
    let words = |parts: &[parge_calc::actuals::Part]| {
        let words: Vec<&str> = parts.iter().map(|part| part.word()).collect();
        words.join(", ")
    };
    if !of.changed.is_empty() {
        let changed = words(&of.changed);
        page.note(&format!(
            "CHANGED SINCE PRICED: {changed}. The differences hold what changed as well."
        ))?;
        return page.alarm([HEAD_ROW - 1; 2], 0, "CHANGED");
    }
    let unknown = match of.unknown.is_empty() {
        true => String::new(),
        false => format!(
            " The record does not say what priced the job: {} may have changed since.",
            words(&of.unknown)
        ),
    };
    page.note(&format!(
        "What is not recorded counts on neither side. A price paid that is left blank is the estimated one.{unknown}"
    ))
}

fn price_digits(estimate: &Estimate, of: &Comparison) -> u32 {
    let lines = || of.materials.iter().chain(&of.labour);
    let estimated = lines().filter_map(|line| line.estimated.price);
    let paid = lines().filter_map(|line| line.actual.as_ref()?.paid);
    let digits = estimated.chain(paid).map(shown::price_decimals);
    digits.max().unwrap_or(estimate.currency.decimals())
}

/// The part of a phase that a line is of: the hours before it and with it.
#[derive(Debug, Clone, Copy)]
struct Part {
    before: f64,
    with: f64,
}

/// Running sums of the parts of a phase, by which their costs are rounded.
#[derive(Default)]
struct Parts {
    number: Option<usize>,
    sum: f64,
}

impl Parts {
    /// The part that a line of labour is; none of a whole phase.
    fn of(&mut self, line: &Line) -> Option<Part> {
        let Of::Labour(number, scope) = &line.of else {
            return None;
        };
        if self.number != Some(*number) {
            *self = Self {
                number: Some(*number),
                sum: 0.0,
            };
        }
        let hours = line.unit.show(line.estimated.amount).unwrap_or_default();
        let before = self.sum;
        self.sum = parge_base::number::round_to(before + hours, 2);
        (*scope != Scope::Whole).then_some(Part {
            before,
            with: self.sum,
        })
    }
}

struct Sheet<'s, 'w> {
    page: &'s mut Page<'w>,
    estimate: &'s Estimate,
    digits: u32,
}

impl Sheet<'_, '_> {
    fn line(&mut self, line: &Line, part: Option<Part>) -> Result<(), XlsxError> {
        let show = |quantity| line.unit.show(quantity).unwrap_or_default();
        let estimated = show(line.estimated.amount);
        let page = &mut *self.page;
        page.blank()?;
        page.text(0, &line.description)?;
        page.text(UNIT, &shown::print_unit(line.unit.text()))?;
        match &line.of {
            Of::Labour(_, Scope::Structure(name)) => page.text(PLACE, name)?,
            Of::Labour(_, Scope::Job) => page.text(PLACE, "the job")?,
            _ => {}
        }
        match (&line.of, part) {
            (Of::Material(number), _) => {
                let cell = materials::with_waste_of(*number);
                page.formula(ESTIMATED, &format!("={cell}"), estimated)?;
            }
            (Of::Labour(number, _), None) => {
                let cell = labour::hours_of(self.estimate, *number);
                page.formula(ESTIMATED, &format!("={cell}"), estimated)?;
            }
            (Of::Labour(..), Some(_)) => page.number(ESTIMATED, estimated)?,
        }
        let more = show(line.estimated.at_built) - estimated;
        let here = page.here(ESTIMATED);
        let at_built = format!("={here}{}", added(more));
        page.formula(AT_BUILT, &at_built, estimated + more)?;
        if let Some(actual) = &line.actual {
            page.number(USED, shown_number(show(actual.amount)))?;
        }
        let used = page.here(USED);
        let differs = format!("=IF({used}=\"\",\"{NOT_RECORDED}\",{used}-{here})");
        match line.difference() {
            Some(difference) => page.formula(DIFFERENCE, &differs, show(difference))?,
            None => page.formula_saying(DIFFERENCE, &differs, NOT_RECORDED)?,
        }
        self.money(line, part)?;
        self.page.next()
    }

    /// Costs and their differences; what has no price says so, and counts in no sum.
    fn money(&mut self, line: &Line, part: Option<Part>) -> Result<(), XlsxError> {
        let (Some(cost), Some(price)) = (line.estimated.cost, line.estimated.price) else {
            return self.page.text(COST, materials::NO_PRICE);
        };
        let actual = line.actual.as_ref();
        let split = line.split.and_then(|split| split.money);
        let of = self.formulas(line, part);
        let page = &mut *self.page;
        page.formula(PRICE, &format!("={}", of.price), price.to_f64())?;
        if let Some(paid) = actual.and_then(|actual| actual.paid) {
            page.number(PAID, paid.to_f64())?;
        }
        let used = page.here(USED);
        let recorded = |what: &str| format!("=IF({used}=\"\",\"\",{what})");
        let unrecorded = format!("=IF({used}=\"\",{},\"\")", of.cost);
        let is_recorded = actual.is_some();
        let amount =
            |page: &mut Page<'_>, column, formula: &str, result: Option<Money>| match result {
                Some(result) => page.formula(column, formula, result.to_f64()),
                None => page.formula_saying(column, formula, ""),
            };
        let packs = actual.and_then(|actual| actual.packs);
        if let Some(formula) = &of.packs {
            match packs {
                Some(packs) => page.formula(PACKS, &recorded(formula), packs)?,
                None => page.formula_saying(PACKS, &recorded(formula), "")?,
            }
        }
        amount(page, COST, &recorded(&of.cost), is_recorded.then_some(cost))?;
        amount(
            page,
            NOT_COUNTED,
            &unrecorded,
            (!is_recorded).then_some(cost),
        )?;
        let paid = actual.and_then(|actual| actual.cost);
        amount(page, ACTUAL, &recorded(&of.steps[4]), paid)?;
        let [cost_cell, actual_cell] = [COST, ACTUAL].map(|column| page.here(column));
        let whole = split.and_then(|split| split.whole().ok());
        amount(
            page,
            WHOLE,
            &recorded(&format!("{actual_cell}-{cost_cell}")),
            whole,
        )?;
        let results = split.map(|split| [split.quantity, split.usage, split.packs, split.price]);
        for (number, column) in PARTS.into_iter().enumerate() {
            let [Some(before), Some(after)] = [number, number + 1].map(|at| of.steps.get(at))
            else {
                continue;
            };
            let formula = recorded(&format!("({after})-({before})"));
            let result = results.and_then(|results| results.get(number).copied());
            amount(page, column, &formula, result)?;
        }
        Ok(())
    }

    /// The formulas of a line; see [`parge_calc::actuals::Split`] for what they reckon.
    fn formulas(&self, line: &Line, part: Option<Part>) -> Formulas {
        let page = &*self.page;
        let digits = self.digits;
        let [estimated, at_built, used, price, paid, packs, cost_here] =
            [ESTIMATED, AT_BUILT, USED, PRICE, PAID, PACKS, COST].map(|column| page.here(column));
        let paid = format!("IF({paid}=\"\",{price},{paid})");
        match &line.of {
            Of::Material(number) => {
                let size = materials::input_of(*number, materials::CONTENT);
                let more = |of: &str| {
                    format!(
                        "{cost_here}+ROUND({price}*ROUND(({of}-{estimated})/{size},9),{digits})"
                    )
                };
                Formulas {
                    price: materials::input_of(*number, materials::PRICE),
                    cost: materials::cost_of(*number),
                    packs: Some(format!("ROUNDUP(ROUND({used}/{size},9),0)")),
                    steps: [
                        cost_here.clone(),
                        more(&at_built),
                        more(&used),
                        format!("ROUND({price}*{packs},{digits})"),
                        format!("ROUND({paid}*{packs},{digits})"),
                    ],
                }
            }
            Of::Labour(number, _) => {
                let wage = labour::wage_cell();
                let cost = match part {
                    None => labour::cost_of(self.estimate, *number),
                    Some(Part { before, with }) => {
                        format!("(ROUND({wage}*{with},{digits})-ROUND({wage}*{before},{digits}))")
                    }
                };
                let at_wage = format!("ROUND({price}*ROUND({used},9),{digits})");
                Formulas {
                    price: wage,
                    cost,
                    packs: None,
                    steps: [
                        cost_here.clone(),
                        format!(
                            "{cost_here}+ROUND({price}*ROUND({at_built}-{estimated},9),{digits})"
                        ),
                        at_wage.clone(),
                        at_wage,
                        format!("ROUND({paid}*ROUND({used},9),{digits})"),
                    ],
                }
            }
        }
    }

    /// Sums over the recorded lines of stretches of rows.
    fn total(&mut self, name: &str, of: &Totals, rows: &[[u32; 2]]) -> Result<(), XlsxError> {
        let page = &mut *self.page;
        page.total(&format!("{name}, recorded"))?;
        let whole = of.split.whole().unwrap_or(of.actual);
        let split = of.split;
        let sums = [
            (COST, of.estimated),
            (NOT_COUNTED, of.not_recorded),
            (ACTUAL, of.actual),
            (WHOLE, whole),
        ];
        let parts = [split.quantity, split.usage, split.packs, split.price];
        for (column, sum) in sums.into_iter().chain(PARTS.into_iter().zip(parts)) {
            page.sum_of(column, rows, sum.to_f64())?;
        }
        page.next()
    }

    fn unmatched(&mut self, one: &Unmatched) -> Result<(), XlsxError> {
        let page = &mut *self.page;
        page.blank()?;
        page.text(0, &format!("Matches no line: {}", one.name))?;
        match &one.scope {
            Some(Scope::Structure(name)) => page.text(PLACE, name)?,
            Some(Scope::Job) => page.text(PLACE, "the job")?,
            _ => {}
        }
        page.text(UNIT, &shown::print_unit(one.unit.text()))?;
        let amount = one.unit.show(one.amount).unwrap_or_default();
        page.number(USED, shown_number(amount))?;
        page.text(PAID, "")?;
        match one.cost {
            Some(cost) => page.number(ACTUAL, cost.to_f64())?,
            None => page.text(ACTUAL, materials::NO_PRICE)?,
        }
        page.next()
    }
}

/// The formulas of a line.
struct Formulas {
    price: String,
    /// The estimated cost.
    cost: String,
    packs: Option<String>,
    /// The five amounts that lead from the estimated cost to the actual one.
    steps: [String; 5],
}

/// `+1.5`, `-1.5`, or nothing.
fn added(more: f64) -> String {
    match more {
        0.0 => String::new(),
        more if more > 0.0 => format!("+{}", super::addresses::number(more)),
        more => format!("-{}", super::addresses::number(-more)),
    }
}

/// A number as it was recorded, free of binary noise.
fn shown_number(value: f64) -> f64 {
    parge_base::number::round_to(value, parge_base::number::NOISE_DECIMALS)
}

/// Areas, days, weather and remarks, in words under the table.
fn noted(page: &mut Page<'_>, of: &Comparison) -> Result<(), XlsxError> {
    let mut lines: Vec<String> = Vec::new();
    let unit = shown::print_unit(of.area_unit.text());
    for area in &of.areas {
        let [estimated, built] =
            [area.estimated, area.built].map(|area| of.area_unit.show(area).unwrap_or_default());
        let name = match &area.face {
            Some(face) => format!("{}/{face}", area.structure),
            None => area.structure.clone(),
        };
        lines.push(format!(
            "Area of {name}: {built:.2} {unit} built, {estimated:.2} {unit} estimated"
        ));
    }
    lines.extend(days(&of.days));
    let remark = |kind: &str, remark: &Remark| match remark.day {
        Some(day) => format!("{kind}, {day}: {}", remark.text),
        None => format!("{kind}: {}", remark.text),
    };
    lines.extend(of.weather.iter().map(|one| remark("Weather", one)));
    lines.extend(of.remarks.iter().map(|one| remark("Remark", one)));
    if lines.is_empty() {
        return Ok(());
    }
    page.next()?;
    for line in lines {
        page.across(&line, &style::wrapped_note())?;
    }
    Ok(())
}

fn days(days: &DaysLine) -> Option<String> {
    let actual = days.actual.map(|days| format!("{days} days of work"));
    let ends = days.first.zip(days.last);
    let ends = ends.map(|(first, last)| format!("{first} to {last}"));
    let said: Vec<String> = actual.into_iter().chain(ends).collect();
    let planned = match days.estimated {
        Some(planned) => format!("{planned} planned"),
        None => "none planned".to_owned(),
    };
    (!said.is_empty()).then(|| format!("On site: {}; {planned}", said.join(", ")))
}
