//! From needs and hours to money: packs, costs, and the chain to the total.

use super::build::{Builder, Outcome};
use super::figures::{Fault, Part, PriceStep};
use super::tapes::On;
use super::{Id, Origin, Step, Value};
use crate::crew::class_item;
use crate::job::{Profit, Taxable};
use crate::price::{LABOUR_ITEM, offer_of};
use parge_base::prices::Offer;
use parge_base::{Function, Money, Operator, Span};
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

    fn priced(&self, number: usize) -> Result<&Offer, Fault> {
        let line = self.estimate.materials.get(number).ok_or(Fault::NoValue)?;
        line.cost.ok_or(Fault::NoPrice)?;
        offer_of(self.book, &line.material.item).ok_or(Fault::NoPrice)
    }

    fn packs(&mut self, number: usize) -> Outcome {
        let offer = self.priced(number)?.clone();
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
        Ok(self.name(packs, "packs"))
    }

    fn cost(&mut self, number: usize) -> Outcome {
        let packs = self.packs(number)?;
        let offer = self.priced(number)?.clone();
        let line = self.estimate.materials.get(number).ok_or(Fault::NoValue)?;
        let price = Value::Money(offer.price);
        let price = self.given(Origin::PriceBook, price, Some(offer.span));
        self.name(price, format!("price of one {}", offer.pack.name));
        if !offer.supplier.is_empty() {
            self.note(price, format!("supplier: {}", offer.supplier));
        }
        let number = packs;
        let id = self.step(Step::Cost { price, number }, None)?;
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
        let offer = self.book.offer(item).ok_or(Fault::NoPrice)?;
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
            PriceStep::Labour => self.labour()?,
            PriceStep::Burden => self.burden()?,
            PriceStep::Overhead => self.overhead()?,
            PriceStep::Profit => self.profit()?,
            PriceStep::Allowances => self.allowances()?,
            PriceStep::Charges => self.charges()?,
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

    /// Materials, labour and burden.
    fn direct(&mut self) -> Outcome {
        const KEY: &str = "direct cost";
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let mut of = Vec::new();
        for step in [PriceStep::Materials, PriceStep::Labour, PriceStep::Burden] {
            of.push(self.price_step(step)?);
        }
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

    fn profit(&mut self) -> Outcome {
        let of = self.whole_cost()?;
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
    fn net(&mut self) -> Outcome {
        const KEY: &str = "price before tax";
        if let Some(known) = self.named.get(KEY) {
            return Ok(*known);
        }
        let cost = self.whole_cost()?;
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

    fn tax(&mut self) -> Outcome {
        let stated = self.job.bid.tax;
        let of = match stated {
            Some((_, Taxable::Total)) => self.net()?,
            Some((_, Taxable::Materials)) | None => self.price_step(PriceStep::Materials)?,
        };
        let rate = stated.map(|(rate, _)| rate);
        let rate = self.rate("rate of tax", rate, self.job.bid_places.tax);
        self.step(Step::Share { of, rate }, None)
    }

    fn total(&mut self) -> Outcome {
        let mut of = Vec::new();
        for (_, step) in super::figures::PRICE_STEPS {
            if step != PriceStep::Total {
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
