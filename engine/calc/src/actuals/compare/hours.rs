//! Hours as worked beside the estimated ones.

use super::super::shares::Place;
use super::super::split::{Costs, Split, Uses, of_hours};
use super::super::unmatched::{Unmatched, hour};
use super::{Actual, Comparing, Estimated, Line, Of, amounts};
use crate::pool::{HOUR, paid_hours};
use crate::price::LabourLine;
use parge_base::actuals::{HoursWorked, Scope};
use parge_base::money::MoneyOverflow;
use parge_base::{Dim, Money, Quantity};

/// The part of a phase that a line is of.
struct Part {
    scope: Scope,
    /// None for the whole phase.
    place: Option<Place>,
    hours: f64,
    cost: Option<Money>,
}

impl Comparing<'_> {
    pub(super) fn labour(&mut self) -> Result<Vec<Line>, MoneyOverflow> {
        let mut lines = Vec::new();
        let mut matched: Vec<&HoursWorked> = Vec::new();
        for (number, line) in self.estimate.labour.iter().enumerate() {
            let records = self.actuals.hours.iter();
            let own: Vec<&HoursWorked> = records
                .filter(|worked| worked.phase == line.labour.phase)
                .collect();
            let parts = match own.iter().any(|worked| worked.scope != Scope::Whole) {
                true => self.parts(line)?,
                false => vec![whole(line)],
            };
            for part in parts {
                let record = own
                    .iter()
                    .find(|worked| worked.scope == part.scope)
                    .copied();
                matched.extend(record);
                lines.push(self.part(number, line, part, record)?);
            }
        }
        for worked in &self.actuals.hours {
            if !matched.iter().any(|known| std::ptr::eq(*known, worked)) {
                self.unmatched.push(Unmatched::hours(worked)?);
            }
        }
        Ok(lines)
    }

    /// A phase by structure, and what belongs to none. Hours and cost are rounded as running sums,
    /// so that the parts add up to the line.
    fn parts(&self, line: &LabourLine) -> Result<Vec<Part>, MoneyOverflow> {
        let places = self.shares.places(&line.labour.phase);
        let last = places.len().saturating_sub(1);
        let (mut parts, mut seconds) = (Vec::new(), 0.0);
        let mut before = (0.0, line.cost.map(|cost| Money::zero(cost.currency())));
        for (number, (place, more)) in places.into_iter().enumerate() {
            seconds += more;
            let now = match number == last {
                true => (line.labour.hours, line.cost),
                false => {
                    let hours = paid_hours(time(seconds));
                    let wage = self.estimate.price.wage.filter(|_| line.cost.is_some());
                    (hours, wage.map(|wage| wage.times(hours)).transpose()?)
                }
            };
            let cost = now.1.zip(before.1).map(|(now, before)| now.minus(before));
            parts.push(Part {
                scope: match place {
                    None => Scope::Job,
                    Some(number) => {
                        let job = &self.estimate.takeoff.measured.job;
                        Scope::Structure(job.structure_name(number).to_owned())
                    }
                },
                place: Some(place),
                // Both are hundredths, and so is their difference but for binary noise.
                hours: parge_base::number::round_to(now.0 - before.0, 2),
                cost: cost.transpose()?,
            });
            before = now;
        }
        Ok(parts)
    }

    fn part(
        &self,
        number: usize,
        line: &LabourLine,
        part: Part,
        record: Option<&HoursWorked>,
    ) -> Result<Line, MoneyOverflow> {
        let phase = &line.labour.phase;
        let wage = self.estimate.price.wage.filter(|_| part.cost.is_some());
        let more = self.shares.more_of_phase(phase, part.place, &self.ratios);
        let (mut actual, mut split) = (None, None);
        if let Some(worked) = record {
            let uses = Uses {
                estimated: part.hours,
                at_built: part.hours + more / HOUR,
                recorded: worked.time.value / HOUR,
            };
            let paid = worked.wage.or(wage);
            let money = match (part.cost, wage, paid) {
                (Some(estimated), Some(price), Some(paid)) => {
                    let costs = Costs {
                        estimated,
                        price,
                        paid,
                    };
                    Some(of_hours(uses, costs)?)
                }
                _ => None,
            };
            split = Some(Split {
                amount: amounts(uses, |hours| time(hours * HOUR)),
                money,
            });
            actual = Some(Actual {
                amount: worked.time,
                packs: None,
                paid: worked.wage,
                cost: paid.map(|paid| paid.times(uses.recorded)).transpose()?,
                place: worked.place.clone(),
            });
        }
        Ok(Line {
            of: Of::Labour(number, part.scope),
            name: phase.clone(),
            description: line.labour.description.clone(),
            unit: hour(),
            estimated: Estimated {
                amount: time(part.hours * HOUR),
                at_built: time(part.hours * HOUR + more),
                packs: None,
                price: wage,
                cost: part.cost,
            },
            actual,
            split,
        })
    }
}

fn whole(line: &LabourLine) -> Part {
    Part {
        scope: Scope::Whole,
        place: None,
        hours: line.labour.hours,
        cost: line.cost,
    }
}

fn time(seconds: f64) -> Quantity {
    Quantity {
        value: seconds,
        dim: Dim::TIME,
    }
}
