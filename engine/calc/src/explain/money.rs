//! From needs and hours to money: packs, costs, and the chain to the total.

use super::build::{Builder, Outcome};
use super::figures::{Fault, Part, PriceStep};
use super::tapes::On;
use super::{Id, Origin, Step, Value};
use crate::crew::class_item;
use crate::job::{Profit, Rounding, Taxable};
use crate::price::{Choice, LABOUR_ITEM, wage_of};
use parge_base::{Function, Money, Operator, Quantity, Span};
use rust_decimal::Decimal;

impl Builder<'_> {
    /// A part of a material's line.
    pub(super) fn material(&mut self, number: usize, part: Part) -> Outcome {
        let line = self.estimate.materials.get(number).ok_or(Fault::NoValue)?;
        let material = &line.material;
        self.unit = Some(material.unit.clone());
        let (item, dim) = (material.item.as_str(), material.need.dim);
        let id = match part {
            Part::Need => {
                let id = self.need(item, dim)?;
                self.name(id, "need")
            }
            Part::Waste => {
                let id = self.waste(item, dim)?;
                self.name(id, "waste")
            }
            Part::Packs => self.packs(number)?,
            Part::Cost => self.cost(number)?,
        };
        self.unit = None;
        Ok(id)
    }

    fn priced(&self, number: usize) -> Result<&Choice, Fault> {
        let line = self.estimate.materials.get(number).ok_or(Fault::NoValue)?;
        line.choice.as_ref().ok_or(Fault::NoPrice)
    }

    fn packs(&mut self, number: usize) -> Outcome {
        let offer = self.priced(number)?.offer.clone();
        let need = self.material(number, Part::Need)?;
        let waste = self.material(number, Part::Waste)?;
        let unit = self.estimate.materials.get(number);
        self.unit = unit.map(|line| line.material.unit.clone());
        let both = self.combine(Operator::Add, need, waste)?;
        let size = Value::Quantity(offer.pack.size);
        let size = self.given(Origin::PriceBook, size, Some(offer.span));
        self.name(size, format!("one {}", offer.pack.name));
        self.set_unit(size, &offer.pack.unit);
        let share = self.combine(Operator::Divide, both, size)?;
        let packs = self.step(Step::Apply(Function::WholeUp, share), None)?;
        self.note(packs, "whole packs, over the whole job");
        if offer.terms.from_packs == 1 {
            return Ok(self.name(packs, "packs"));
        }
        self.name(packs, "packs that are needed");
        let from = Quantity::plain(f64::from(offer.terms.from_packs));
        let from = Value::Quantity(from);
        let from = self.given(Origin::PriceBook, from, Some(offer.span));
        self.name(from, "packs that the price holds from");
        let packs = self.combine(Operator::Max, packs, from)?;
        Ok(self.name(packs, "packs"))
    }

    fn cost(&mut self, number: usize) -> Outcome {
        let packs = self.packs(number)?;
        let Choice { offer, reason, .. } = self.priced(number)?.clone();
        let line = self.estimate.materials.get(number).ok_or(Fault::NoValue)?;
        let price = Value::Money(offer.price);
        let price = self.given(Origin::PriceBook, price, Some(offer.span));
        self.name(price, format!("price of one {}", offer.pack.name));
        if !offer.supplier.is_empty() {
            self.note(price, format!("supplier: {}", offer.supplier));
        }
        let number = packs;
        let id = self.step(Step::Cost { price, number }, None)?;
        if !reason.is_empty() {
            self.note(id, reason);
        }
        Ok(self.name(id, format!("cost of {}", line.material.description)))
    }

    /// The hours of a phase, as they are printed and paid.
    pub(super) fn hours(&mut self, number: usize) -> Outcome {
        let line = self.estimate.labour.get(number).ok_or(Fault::NoValue)?;
        let time = self.time(&line.labour.phase)?;
        let time = self.name(time, "time of one person");
        let hours = self.step(Step::Hours(time), None)?;
        self.note(hours, "hours of one person, to the hundredth");
        Ok(self.name(hours, "hours"))
    }

    /// The cost of a phase.
    pub(super) fn labour_cost(&mut self, number: usize) -> Outcome {
        let line = self.estimate.labour.get(number).ok_or(Fault::NoValue)?;
        line.cost.ok_or(Fault::NoPrice)?;
        let hours = self.hours(number)?;
        let wage = self.wage()?;
        let id = self.step(
            Step::Cost {
                price: wage,
                number: hours,
            },
            None,
        )?;
        Ok(self.name(id, format!("cost of {}", line.labour.description)))
    }

    fn wage(&mut self) -> Outcome {
        if let Some(known) = self.named.get("wage") {
            return Ok(*known);
        }
        let id = match self.estimate.classes.is_empty() {
            true => self.wage_in(LABOUR_ITEM)?,
            false => self.mean_wage()?,
        };
        self.name(id, "wage of one hour");
        self.named.insert("wage", id);
        Ok(id)
    }

    fn wage_in(&mut self, item: &str) -> Outcome {
        let offer = wage_of(self.book, item, self.job.date).ok_or(Fault::NoPrice)?;
        let (price, place) = (Value::Money(offer.price), Some(offer.span));
        Ok(self.given(Origin::PriceBook, price, place))
    }

    /// The mean wage of a crew paid by classes.
    fn mean_wage(&mut self) -> Outcome {
        let mut of = Vec::new();
        for class in &self.job.crew_classes {
            let people = self.walk(On::Plan, class.people.node)?;
            let people = self.step(Step::Same(people), Some(class.span))?;
            self.name(people, format!("people of `{}`", class.name));
            let wage = self.wage_in(&class_item(&class.name))?;
            of.push([people, self.name(wage, format!("wage of `{}`", class.name))]);
        }
        let id = self.step(Step::MeanWage { of }, None)?;
        self.note(
            id,
            "the mean of the crew by people, to a hundredth of the minor unit",
        );
        Ok(id)
    }

    /// A step of the price. Each stands once, though several rest on it.
    pub(super) fn price_step(&mut self, step: PriceStep) -> Outcome {
        let key = word(step);
        if let Some(known) = self.named.get(key) {
            return Ok(*known);
        }
        let id = match step {
            PriceStep::Materials => self.materials()?,
            PriceStep::Freight => self.freight()?,
            PriceStep::Labour => self.labour()?,
            PriceStep::Burden => self.burden()?,
            PriceStep::Overhead => self.overhead()?,
            PriceStep::Contingency => self.contingency()?,
            PriceStep::Profit => self.profit()?,
            PriceStep::Allowances => self.allowances()?,
            PriceStep::Charges => self.charges()?,
            PriceStep::Minimum => self.minimum()?,
            PriceStep::Rounding => self.rounding()?,
            PriceStep::Tax => self.tax()?,
            PriceStep::Total => self.total()?,
        };
        self.named.insert(key, id);
        Ok(self.name(id, key))
    }

    fn materials(&mut self) -> Outcome {
        let (mut of, mut open) = (Vec::new(), 0);
        for number in 0..self.estimate.materials.len() {
            match self.material(number, Part::Cost) {
                Err(Fault::NoPrice) => open += 1,
                cost => of.push(cost?),
            }
        }
        let id = self.money_sum(of)?;
        self.note_open(id, open);
        Ok(id)
    }

    /// What suppliers ask for a delivery, each once.
    fn freight(&mut self) -> Outcome {
        let estimate = self.estimate;
        let mut of = Vec::new();
        for purchase in &estimate.purchases {
            if let Some(freight) = &purchase.freight {
                let value = Value::Money(freight.amount);
                let id = self.given(Origin::PriceBook, value, Some(freight.span));
                of.push(self.name(id, format!("freight of {}", freight.supplier)));
            }
        }
        self.money_sum(of)
    }

    /// The cost of the materials that a tax on materials is reckoned on.
    fn taxed(&mut self) -> Outcome {
        let estimate = self.estimate;
        if estimate.materials.iter().all(|line| line.is_taxed()) {
            return self.price_step(PriceStep::Materials);
        }
        let mut of = Vec::new();
        for (number, line) in estimate.materials.iter().enumerate() {
            if line.is_taxed() && line.cost.is_some() {
                of.push(self.material(number, Part::Cost)?);
            }
        }
        let id = self.money_sum(of)?;
        self.note(
            id,
            "the items that the price book does not take out of the tax",
        );
        Ok(self.name(id, "taxed materials"))
    }

    fn labour(&mut self) -> Outcome {
        let (mut of, mut open) = (Vec::new(), 0);
        for number in 0..self.estimate.labour.len() {
            match self.labour_cost(number) {
                Err(Fault::NoPrice) => open += 1,
                cost => of.push(cost?),
            }
        }
        let id = self.money_sum(of)?;
        self.note_open(id, open);
        Ok(id)
    }

    fn note_open(&mut self, id: Id, open: usize) {
        if open > 0 {
            let lines = if open == 1 { "line has" } else { "lines have" };
            self.note(
                id,
                format!("INCOMPLETE: {open} {lines} no price and stand outside of it"),
            );
        }
    }

    pub(super) fn money_sum(&mut self, of: Vec<Id>) -> Outcome {
        let nothing = Value::Money(Money::zero(self.estimate.currency));
        self.step(Step::Sum { nothing, of }, None)
    }

    /// A term of the bid; one that is not stated counts for nothing.
    fn rate(&mut self, name: &str, rate: Option<Decimal>, place: Option<Span>) -> Id {
        let value = Value::Rate(rate.unwrap_or(Decimal::ZERO));
        let id = self.given(Origin::Plan, value, place);
        if rate.is_none() {
            self.note(id, "not stated in the plan");
        }
        self.name(id, name)
    }

    fn burden(&mut self) -> Outcome {
        let labour = self.price_step(PriceStep::Labour)?;
        let rate = self.rate(
            "rate of burden",
            self.job.bid.burden,
            self.job.bid_places.burden,
        );
        self.step(Step::Share { of: labour, rate }, None)
    }

    /// Materials, freight where there is any, labour and burden.
    fn direct(&mut self) -> Outcome {
        const KEY: &str = "direct cost";
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let mut of = Vec::new();
        of.push(self.price_step(PriceStep::Materials)?);
        if !self.estimate.price.freight.amount().is_zero() {
            of.push(self.price_step(PriceStep::Freight)?);
        }
        of.push(self.price_step(PriceStep::Labour)?);
        of.push(self.price_step(PriceStep::Burden)?);
        let id = self.money_sum(of)?;
        self.named.insert(KEY, id);
        Ok(self.name(id, KEY))
    }

    fn overhead(&mut self) -> Outcome {
        let of = self.direct()?;
        let (stated, place) = (self.job.bid.overhead, self.job.bid_places.overhead);
        let rate = self.rate("rate of overhead", stated, place);
        self.step(Step::Share { of, rate }, None)
    }

    /// Direct cost and overhead.
    pub(super) fn whole_cost(&mut self) -> Outcome {
        const KEY: &str = "cost with overhead";
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let (direct, overhead) = (self.direct()?, self.price_step(PriceStep::Overhead)?);
        let id = self.money_sum(vec![direct, overhead])?;
        self.named.insert(KEY, id);
        Ok(self.name(id, KEY))
    }

    fn contingency(&mut self) -> Outcome {
        let of = self.whole_cost()?;
        let rate = match &self.estimate.contingency.by_class {
            None => {
                let (stated, place) = (self.job.bid.contingency, self.job.bid_places.contingency);
                self.rate("rate of contingency", stated, place)
            }
            Some(factor) => {
                let value = Value::Rate(self.estimate.contingency.rate);
                let id = self.given(Origin::Table, value, Some(factor.span));
                if let Some(node) = self.nodes.get_mut(id) {
                    node.source = Some(factor.source.clone());
                }
                self.name(id, "rate of contingency for the class")
            }
        };
        self.step(Step::Share { of, rate }, None)
    }

    /// Direct cost, overhead and, where there is any, contingency.
    pub(super) fn safe_cost(&mut self) -> Outcome {
        const KEY: &str = "cost with contingency";
        if self.estimate.price.contingency.amount().is_zero() {
            return self.whole_cost();
        }
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let cost = self.whole_cost()?;
        let contingency = self.price_step(PriceStep::Contingency)?;
        let id = self.money_sum(vec![cost, contingency])?;
        self.named.insert(KEY, id);
        Ok(self.name(id, KEY))
    }

    fn profit(&mut self) -> Outcome {
        let of = self.safe_cost()?;
        let place = self.job.bid_places.profit;
        match self.job.bid.profit {
            None => {
                let rate = self.rate("rate of profit", None, place);
                self.step(Step::Share { of, rate }, None)
            }
            Some(Profit::Markup(share)) => {
                let rate = self.rate("markup", Some(share), place);
                self.step(Step::Share { of, rate }, None)
            }
            Some(Profit::Margin(share)) => {
                let rate = self.rate("margin", Some(share), place);
                let id = self.step(Step::Margin { of, rate }, None)?;
                self.note(id, "a margin is a share of the price, not of the cost");
                Ok(id)
            }
        }
    }

    fn allowances(&mut self) -> Outcome {
        let mut of = Vec::new();
        for allowance in &self.job.content.allowances {
            let value = Value::Money(allowance.amount);
            let id = self.given(Origin::Plan, value, Some(allowance.span));
            of.push(self.name(id, allowance.name.clone()));
        }
        self.money_sum(of)
    }

    /// Cost, profit, allowances, and charges where there are any.
    fn reckoned(&mut self) -> Outcome {
        const KEY: &str = "price as reckoned";
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let cost = self.safe_cost()?;
        let profit = self.price_step(PriceStep::Profit)?;
        let allowances = self.price_step(PriceStep::Allowances)?;
        let mut terms = vec![cost, profit, allowances];
        if !self.estimate.charges.is_empty() {
            terms.push(self.price_step(PriceStep::Charges)?);
        }
        let id = self.money_sum(terms)?;
        self.named.insert(KEY, id);
        Ok(self.name(id, KEY))
    }

    fn minimum(&mut self) -> Outcome {
        match self.job.bid.minimum {
            None => self.money_sum(Vec::new()),
            Some(_) => {
                let (of, least) = (self.reckoned()?, self.least()?);
                self.step(Step::UpTo { of, least }, None)
            }
        }
    }

    /// The least price that the plan states.
    fn least(&mut self) -> Outcome {
        const KEY: &str = "least price";
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let least = self.job.bid.minimum.ok_or(Fault::NoValue)?;
        let place = self.job.bid_places.minimum;
        let id = self.given(Origin::Plan, Value::Money(least), place);
        self.named.insert(KEY, id);
        Ok(self.name(id, KEY))
    }

    /// The price with what was missing of the least one.
    fn at_least(&mut self) -> Outcome {
        const KEY: &str = "price with its minimum";
        if self.estimate.price.minimum.amount().is_zero() {
            return self.reckoned();
        }
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let of = vec![self.reckoned()?, self.price_step(PriceStep::Minimum)?];
        let id = self.money_sum(of)?;
        self.named.insert(KEY, id);
        Ok(self.name(id, KEY))
    }

    fn rounding(&mut self) -> Outcome {
        let Some(Rounding { up, multiple }) = self.job.bid.rounding else {
            return self.money_sum(Vec::new());
        };
        let of = self.at_least()?;
        let place = self.job.bid_places.rounding;
        let multiple = self.given(Origin::Plan, Value::Money(multiple), place);
        self.name(multiple, "a multiple");
        let least = match self.job.bid.minimum {
            None => None,
            Some(_) => Some(self.least()?),
        };
        let step = Step::Rounded {
            of,
            multiple,
            up,
            least,
        };
        self.step(step, None)
    }

    /// What tax on the total is reckoned on.
    fn net(&mut self) -> Outcome {
        const KEY: &str = "price before tax";
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let mut of = vec![self.at_least()?];
        if !self.estimate.price.rounding.amount().is_zero() {
            of.push(self.price_step(PriceStep::Rounding)?);
        }
        let id = self.money_sum(of)?;
        self.named.insert(KEY, id);
        Ok(self.name(id, KEY))
    }

    fn tax(&mut self) -> Outcome {
        let stated = self.job.bid.tax;
        let of = match stated {
            Some((_, Taxable::Total)) => self.net()?,
            Some((_, Taxable::Materials)) => self.taxed()?,
            None => self.price_step(PriceStep::Materials)?,
        };
        let rate = stated.map(|(rate, _)| rate);
        let rate = self.rate("rate of tax", rate, self.job.bid_places.tax);
        self.step(Step::Share { of, rate }, None)
    }

    fn total(&mut self) -> Outcome {
        let mut of = Vec::new();
        let price = &self.estimate.price;
        // Nothing is explained that most bids do not have.
        let seldom = [
            (PriceStep::Freight, price.freight),
            (PriceStep::Contingency, price.contingency),
            (PriceStep::Minimum, price.minimum),
            (PriceStep::Rounding, price.rounding),
        ];
        let is_empty = |wanted: PriceStep| {
            let mut all = seldom.iter();
            all.any(|(step, amount)| *step == wanted && amount.amount().is_zero())
        };
        for (_, step) in super::figures::PRICE_STEPS {
            if step != PriceStep::Total && !is_empty(step) {
                of.push(self.price_step(step)?);
            }
        }
        let id = self.money_sum(of)?;
        if self.estimate.status == crate::price::Status::Incomplete {
            self.note(id, "INCOMPLETE: lines without a price stand outside of it");
        }
        Ok(id)
    }
}

fn word(step: PriceStep) -> &'static str {
    let steps = super::figures::PRICE_STEPS.iter();
    steps
        .clone()
        .find(|(_, other)| *other == step)
        .map_or("", |(name, _)| name)
}
