//! Estimate and actual line by line.

mod areas;
mod hours;
mod totals;

use super::held::{Held, Part};
use super::shares::{Ratios, Shares};
use super::split::{AmountSplit, Costs, Split, Uses, of_material};
use super::unmatched::{Unmatched, area_unit};
use crate::price::{Estimate, MaterialLine};
pub use areas::AreaLine;
use jiff::civil::Date;
use parge_base::actuals::{Actuals, MaterialUsed, Remark, Scope, Written};
use parge_base::money::MoneyOverflow;
use parge_base::number::whole_up;
use parge_base::{Code, Currency, Diagnostic, Money, Quantity, Unit, diagnostic};
pub use totals::Totals;

/// Which line of the estimate a line is of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Of {
    /// The material of that number in [`Estimate::materials`].
    Material(usize),
    /// The phase of that number in [`Estimate::labour`], and of what it is.
    Labour(usize, Scope),
}

/// What was estimated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimated {
    /// With waste.
    pub amount: Quantity,
    /// What the estimate reckons at the areas as built; the same where the record states none.
    pub at_built: Quantity,
    /// Whole packs; none of hours, and of what has no price.
    pub packs: Option<f64>,
    /// The price of a pack, or of an hour before burden.
    pub price: Option<Money>,
    /// What it costs.
    pub cost: Option<Money>,
}

/// What was recorded.
#[derive(Debug, Clone, PartialEq)]
pub struct Actual {
    /// How much.
    pub amount: Quantity,
    /// Whole packs that were opened; none of hours, and where no pack is known.
    pub packs: Option<f64>,
    /// The price of a pack or an hour, where the record states it; else the estimated one holds.
    pub paid: Option<Money>,
    /// What it cost; none where no price is known.
    pub cost: Option<Money>,
    /// Where in the record.
    pub place: Written,
}

/// A line of the estimate beside what was recorded of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Of what.
    pub of: Of,
    /// The item or phase, as the pack names it.
    pub name: String,
    /// The same in words.
    pub description: String,
    /// The unit of its amounts.
    pub unit: Unit,
    /// What was estimated.
    pub estimated: Estimated,
    /// What was recorded; none where the record says nothing of it, which is not nothing.
    pub actual: Option<Actual>,
    /// The difference, where there is an actual.
    pub split: Option<Split>,
}

impl Line {
    /// The difference in the unit of the line, actual less estimated.
    pub fn difference(&self) -> Option<Quantity> {
        let actual = self.actual.as_ref()?;
        actual.amount.minus(self.estimated.amount).ok()
    }
}

/// The days on site.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DaysLine {
    /// Days on which work was planned to go on.
    pub estimated: Option<usize>,
    /// The planned first and last of them, where the plan has dates.
    pub planned: Option<(Date, Date)>,
    /// Days on which work went on.
    pub actual: Option<f64>,
    /// The first day on site.
    pub first: Option<Date>,
    /// The last day on site.
    pub last: Option<Date>,
}

/// A record beside its estimate. Costs are direct: materials, and labour before burden.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The job.
    pub job: String,
    /// The currency.
    pub currency: Currency,
    /// What changed since the job was priced. With any, the differences hold what changed as well.
    pub changed: Vec<Part>,
    /// What the record does not say, so that it may have changed.
    pub unknown: Vec<Part>,
    /// Materials in the order of the estimate.
    pub materials: Vec<Line>,
    /// Hours in the order of the estimate; phases that are recorded by structure, by structure.
    pub labour: Vec<Line>,
    /// Areas that the record states.
    pub areas: Vec<AreaLine>,
    /// The unit that areas are shown in.
    pub area_unit: Unit,
    /// Days on site.
    pub days: DaysLine,
    /// What matches no line.
    pub unmatched: Vec<Unmatched>,
    /// The weather, in words.
    pub weather: Vec<Remark>,
    /// What else is said.
    pub remarks: Vec<Remark>,
    /// The sums of the materials.
    pub material_totals: Totals,
    /// The sums of the labour.
    pub labour_totals: Totals,
    /// The sums of both.
    pub totals: Totals,
}

/// Sets a record beside its estimate; `held` is what came of holding it against what priced the
/// job. `None` only when an amount outgrows what can be written. What matches no line is warned
/// about.
pub fn compare(
    estimate: &Estimate,
    actuals: &Actuals,
    held: &Held,
) -> (Option<Comparison>, Vec<Diagnostic>) {
    let mut said = Vec::new();
    let compared = Comparing::new(estimate, actuals).compared(held);
    let comparison = match compared {
        Ok(comparison) => {
            let unmatched = comparison.unmatched.iter();
            said.extend(unmatched.map(|unmatched| unmatched.said(estimate)));
            Some(comparison)
        }
        Err(overflow) => {
            let help = "check the amounts and prices of the record";
            said.push(Diagnostic::new(
                Code::MoneyTooLarge,
                overflow.to_string(),
                help,
            ));
            None
        }
    };
    diagnostic::tidy(&mut said);
    (comparison, said)
}

struct Comparing<'a> {
    estimate: &'a Estimate,
    actuals: &'a Actuals,
    shares: Shares<'a>,
    ratios: Ratios,
    areas: Vec<AreaLine>,
    unmatched: Vec<Unmatched>,
}

impl<'a> Comparing<'a> {
    fn new(estimate: &'a Estimate, actuals: &'a Actuals) -> Self {
        let built = areas::built(&estimate.takeoff, &actuals.areas);
        Self {
            estimate,
            actuals,
            shares: Shares::of(&estimate.takeoff),
            ratios: built.ratios,
            areas: built.lines,
            unmatched: built.unmatched,
        }
    }

    fn compared(mut self, held: &Held) -> Result<Comparison, MoneyOverflow> {
        let materials = self.materials()?;
        let labour = self.labour()?;
        let currency = self.estimate.currency;
        let material_totals = Totals::of(&materials, currency)?;
        let labour_totals = Totals::of(&labour, currency)?;
        Ok(Comparison {
            job: self.estimate.takeoff.measured.job.name.clone(),
            currency,
            changed: held.changed.clone(),
            unknown: held.unknown.clone(),
            totals: material_totals.plus(&labour_totals)?,
            materials,
            labour,
            areas: self.areas,
            area_unit: area_unit(self.estimate.takeoff.measured.job.units),
            days: days(self.estimate, self.actuals),
            unmatched: self.unmatched,
            weather: self.actuals.weather.clone(),
            remarks: self.actuals.remarks.clone(),
            material_totals,
            labour_totals,
        })
    }

    fn materials(&mut self) -> Result<Vec<Line>, MoneyOverflow> {
        let estimate = self.estimate;
        let lines = &estimate.materials;
        for used in &self.actuals.materials {
            if !lines.iter().any(|line| is_of(line, used)) {
                self.unmatched.push(Unmatched::material(used)?);
            }
        }
        let lines = lines.iter().enumerate();
        lines
            .map(|(number, line)| self.material(number, line))
            .collect()
    }

    fn material(&self, number: usize, line: &MaterialLine) -> Result<Line, MoneyOverflow> {
        let material = &line.material;
        let dim = material.need.dim;
        let amount = |value| Quantity { value, dim };
        let with_waste = material.need.value + material.waste.value;
        let more = self.shares.more_of_item(&material.item, &self.ratios);
        let estimated = Estimated {
            amount: amount(with_waste),
            at_built: amount(with_waste + more),
            packs: line.packs,
            price: line.unit_price,
            cost: line.cost,
        };
        let mut records = self.actuals.materials.iter();
        let record = records.find(|used| is_of(line, used));
        let (mut actual, mut split) = (None, None);
        if let Some(used) = record {
            let uses = Uses {
                estimated: estimated.amount.value,
                at_built: estimated.at_built.value,
                recorded: used.amount.value,
            };
            let money = money_of(line, used, uses)?;
            split = Some(Split {
                amount: amounts(uses, amount),
                money,
            });
            actual = Some(actual_material(line, used)?);
        }
        Ok(Line {
            of: Of::Material(number),
            name: material.item.clone(),
            description: material.description.clone(),
            unit: material.unit.clone(),
            estimated,
            actual,
            split,
        })
    }
}

/// Whether a record is of a line: of its item, in its kind of unit.
fn is_of(line: &MaterialLine, used: &MaterialUsed) -> bool {
    line.material.item == used.item && line.material.need.dim == used.amount.dim
}

fn money_of(
    line: &MaterialLine,
    used: &MaterialUsed,
    uses: Uses,
) -> Result<Option<super::MoneySplit>, MoneyOverflow> {
    let (Some(cost), Some(price), Some(pack)) = (line.cost, line.unit_price, &line.pack) else {
        return Ok(None);
    };
    let costs = Costs {
        estimated: cost,
        price,
        paid: used.paid.as_ref().map_or(price, |paid| paid.price),
    };
    of_material(uses, pack.size.value, costs).map(Some)
}

fn actual_material(line: &MaterialLine, used: &MaterialUsed) -> Result<Actual, MoneyOverflow> {
    let paid = used.paid.as_ref();
    let pack = line.pack.as_ref().or(paid.map(|paid| &paid.pack));
    let packs = pack.map(|pack| whole_up(used.amount.value / pack.size.value));
    let price = paid.map(|paid| paid.price).or(line.unit_price);
    let cost = price.zip(packs).map(|(price, packs)| price.times(packs));
    Ok(Actual {
        amount: used.amount,
        packs,
        paid: paid.map(|paid| paid.price),
        cost: cost.transpose()?,
        place: used.place.clone(),
    })
}

fn amounts(uses: Uses, amount: impl Fn(f64) -> Quantity) -> AmountSplit {
    AmountSplit {
        quantity: amount(uses.at_built - uses.estimated),
        usage: amount(uses.recorded - uses.at_built),
    }
}

fn days(estimate: &Estimate, actuals: &Actuals) -> DaysLine {
    let plan = estimate.takeoff.days.as_ref();
    let dated = plan.filter(|plan| plan.is_dated);
    let ends = dated.and_then(|plan| plan.days.first().zip(plan.days.last()));
    DaysLine {
        estimated: plan.map(|plan| plan.days.len()),
        planned: ends.map(|(first, last)| (first.date, last.date)),
        actual: actuals.days,
        first: actuals.first_day,
        last: actuals.last_day,
    }
}

#[cfg(test)]
mod tests;
