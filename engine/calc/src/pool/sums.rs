//! What many take of each thing, added up in the order in which they take it.

use super::names::Names;
use crate::takeoff::Taken;
use parge_base::{Code, Diagnostic, Dim, Quantity};
use std::sync::Arc;

/// The needs of many by item, and their labour by phase.
#[derive(Debug, Clone, Default)]
pub struct Sums {
    items: Names,
    /// Without waste, and the waste as an amount, for each of the items.
    needs: Vec<(Quantity, Quantity)>,
    phases: Names,
    /// The time of one person, for each of the phases.
    times: Vec<Quantity>,
}

impl Sums {
    /// Adds up what is taken. Says which lines do not add up; they are left out.
    pub fn of<'t>(taken: impl IntoIterator<Item = &'t Taken>) -> (Self, Vec<Diagnostic>) {
        let (mut sums, mut said) = (Self::default(), Vec::new());
        for taken in taken {
            sums.add_needs(taken, &mut said);
            sums.add_hours(taken, &mut said);
        }
        (sums, said)
    }

    /// The items by name, each with its need without waste and its waste as an amount.
    pub fn items(&self) -> impl Iterator<Item = (&Arc<str>, Quantity, Quantity)> {
        let each = self.items.by_name();
        each.filter_map(|(item, number)| {
            let (need, waste) = self.needs.get(number)?;
            Some((item, *need, *waste))
        })
    }

    /// The phases by name, each with the time of one person.
    pub fn phases(&self) -> impl Iterator<Item = (&Arc<str>, Quantity)> {
        let each = self.phases.by_name();
        each.filter_map(|(phase, number)| Some((phase, *self.times.get(number)?)))
    }

    /// The time of one phase.
    pub(super) fn time(&self, phase: &str) -> Option<Quantity> {
        self.times.get(self.phases.number_of(phase)?).copied()
    }

    fn add_needs(&mut self, taken: &Taken, said: &mut Vec<Diagnostic>) {
        for (line, need) in taken.needs.iter().enumerate() {
            let number = self.items.number(taken.run, line, &need.item);
            let zero = Quantity::zero(need.amount.dim);
            let Some((amount, waste)) = at(&mut self.needs, number, (zero, zero)) else {
                continue;
            };
            let more = amount.plus(need.amount);
            match more.and_then(|more| Ok((more, waste.plus(need.waste)?))) {
                Ok(more) => (*amount, *waste) = more,
                Err(error) => {
                    let message = format!("the needs of `{}` do not add up: {error}", need.item);
                    let help = "let every rule state this item in the same kind of unit";
                    said.push(Diagnostic::new(Code::WrongKind, message, help));
                }
            }
        }
    }

    fn add_hours(&mut self, taken: &Taken, said: &mut Vec<Diagnostic>) {
        for (line, hours) in taken.hours.iter().enumerate() {
            let number = self.phases.number(taken.run, line, &hours.phase);
            let Some(sum) = at(&mut self.times, number, Quantity::zero(Dim::TIME)) else {
                continue;
            };
            match sum.plus(hours.time) {
                Ok(more) => *sum = more,
                Err(error) => {
                    let message = format!("the hours of `{}` do not add up: {error}", hours.phase);
                    let help = "check the sizes and counts of the faces";
                    said.push(Diagnostic::new(Code::NoValue, message, help));
                }
            }
        }
    }
}

/// The sum with a number, which begins with nothing.
fn at<T>(sums: &mut Vec<T>, number: usize, nothing: T) -> Option<&mut T> {
    if number == sums.len() {
        sums.push(nothing);
    }
    sums.get_mut(number)
}
