//! What many take of each thing, added up in the order in which they take it.

use super::names::Names;
use crate::takeoff::{Hours, Need, Taken};
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
        let mut sums = Self::default();
        let said = sums.add(taken);
        (sums, said)
    }

    /// Adds what more is taken, and says which of its lines do not add up.
    pub(crate) fn add<'t>(
        &mut self,
        taken: impl IntoIterator<Item = &'t Taken>,
    ) -> Vec<Diagnostic> {
        let mut said = Vec::new();
        for taken in taken {
            self.add_needs(taken, &mut said);
            self.add_hours(taken, &mut said);
        }
        said
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
        let lines = &taken.needs;
        if let Some(known) = self.items.known(taken.run, lines, |need| &need.item) {
            for ((_, number), need) in known.iter().zip(lines) {
                add_need(&mut self.needs, *number, need, said);
            }
            return;
        }
        for (line, need) in lines.iter().enumerate() {
            let number = self.items.number(taken.run, line, &need.item);
            add_need(&mut self.needs, number, need, said);
        }
    }

    fn add_hours(&mut self, taken: &Taken, said: &mut Vec<Diagnostic>) {
        let lines = &taken.hours;
        if let Some(known) = self.phases.known(taken.run, lines, |hours| &hours.phase) {
            for ((_, number), hours) in known.iter().zip(lines) {
                add_time(&mut self.times, *number, hours, said);
            }
            return;
        }
        for (line, hours) in lines.iter().enumerate() {
            let number = self.phases.number(taken.run, line, &hours.phase);
            add_time(&mut self.times, number, hours, said);
        }
    }
}

fn add_need(
    sums: &mut Vec<(Quantity, Quantity)>,
    number: usize,
    need: &Need,
    said: &mut Vec<Diagnostic>,
) {
    let zero = Quantity::zero(need.amount.dim);
    let Some((amount, waste)) = at(sums, number, (zero, zero)) else {
        return;
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

fn add_time(sums: &mut Vec<Quantity>, number: usize, hours: &Hours, said: &mut Vec<Diagnostic>) {
    let Some(sum) = at(sums, number, Quantity::zero(Dim::TIME)) else {
        return;
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

/// The sum with a number, which begins with nothing.
fn at<T>(sums: &mut Vec<T>, number: usize, nothing: T) -> Option<&mut T> {
    if number == sums.len() {
        sums.push(nothing);
    }
    sums.get_mut(number)
}
