//! What the rule for the price adds: from an amount over the rule's tape to the bid that it saw,
//! and on to the lines of the estimate.

use super::build::{Builder, Outcome};
use super::figures::{Fault, PriceStep};
use super::tapes::On;
use super::{Id, Step, Value};
use parge_base::{Dim, Quantity, Units};

impl Builder<'_> {
    /// What the rules of the pack add.
    pub(super) fn charges(&mut self) -> Outcome {
        let estimate = self.estimate;
        let mut of = Vec::new();
        for charge in &estimate.charges {
            // The rule reckons with amounts as figures: they are read in the bid's currency.
            self.unit = Units::standard().parse(estimate.currency.code()).ok();
            let figure = self.walk(On::Charges, charge.value)?;
            self.unit = None;
            let amount = Step::Amount {
                of: figure,
                currency: charge.amount.currency(),
            };
            let id = self.step(amount, charge.place)?;
            of.push(self.name(id, charge.name.clone()));
        }
        self.money_sum(of)
    }

    /// What the rule was given of the bid; the names are those of [`crate::charges`].
    pub(super) fn bid_input(&mut self, name: &str) -> Outcome {
        // The lines of the bid are shown in units of their own.
        let unit = self.unit.take();
        let found = self.of_the_bid(name);
        self.unit = unit;
        found
    }

    fn of_the_bid(&mut self, name: &str) -> Outcome {
        let step = match name {
            "materials" => PriceStep::Materials,
            "labour" => PriceStep::Labour,
            "burden" => PriceStep::Burden,
            "overhead" => PriceStep::Overhead,
            "profit" => PriceStep::Profit,
            "allowances" => PriceStep::Allowances,
            "freight" => PriceStep::Freight,
            "contingency" => PriceStep::Contingency,
            "total" => {
                let before = self.before_charges()?;
                return self.step(Step::Seen(before), None);
            }
            "hours" => return self.paid_time(),
            _ => return self.job_input(name)?.ok_or(Fault::NoValue),
        };
        let amount = self.price_step(step)?;
        self.step(Step::Seen(amount), None)
    }

    /// Cost, profit and allowances: the rule cannot see what it adds itself.
    fn before_charges(&mut self) -> Outcome {
        let cost = self.safe_cost()?;
        let profit = self.price_step(PriceStep::Profit)?;
        let allowances = self.price_step(PriceStep::Allowances)?;
        let id = self.money_sum(vec![cost, profit, allowances])?;
        Ok(self.name(id, "price before charges and tax"))
    }

    /// The hours of all phases, as they are printed and paid.
    fn paid_time(&mut self) -> Outcome {
        let estimate = self.estimate;
        let mut of: Vec<Id> = Vec::new();
        for (number, line) in estimate.labour.iter().enumerate() {
            let hours = self.hours(number)?;
            let time = self.step(Step::Seen(hours), None)?;
            of.push(self.name(time, line.labour.description.clone()));
        }
        let nothing = Value::Quantity(Quantity::zero(Dim::TIME));
        let id = self.step(Step::Sum { nothing, of }, None)?;
        Ok(self.name(id, "hours of all phases"))
    }
}
