//! A past job as what it teaches is reckoned from it.

use super::lines::{Estimated, Line, lines};
use crate::actuals::{Comparison, Of};
use crate::price::Estimate;
use jiff::civil::Date;
use parge_base::{Quantity, Unit};
use std::collections::BTreeMap;

/// A past job, estimated with the pack that is to learn from it.
#[derive(Debug, Clone)]
pub struct PastJob {
    /// Its name.
    pub name: String,
    /// The first and the last day on site, where they are recorded.
    pub days: Option<(Date, Date)>,
    /// Its lines, with what they rest on.
    pub lines: BTreeMap<Line, Estimated>,
    /// What was recorded of them.
    pub used: Vec<Used>,
}

/// What was used of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// The line.
    pub line: Line,
    /// The same in words.
    pub words: String,
    /// The unit of its amounts.
    pub unit: Unit,
    /// As estimated for what was built.
    pub expected: Quantity,
    /// As recorded.
    pub used: Quantity,
    /// What a pack holds, where the record is of whole ones.
    pub pack: Option<Quantity>,
}

impl PastJob {
    /// A job from its estimate and from what was recorded of it.
    pub fn of(estimate: &Estimate, compared: &Comparison) -> Self {
        let all = compared.materials.iter().chain(&compared.labour);
        let used = all.filter_map(|line| {
            let (recorded, split) = (line.actual.as_ref()?, line.split.as_ref()?);
            let (at, pack) = match &line.of {
                Of::Material(number) => {
                    let priced = estimate.materials.get(*number);
                    let pack = priced.and_then(|line| line.pack.as_ref());
                    let size = pack.map(|pack| pack.size);
                    let whole = size.filter(|size| are_whole(recorded.amount, *size));
                    (Line::Material(line.name.clone()), whole)
                }
                Of::Labour(_, scope) => (Line::Hours(line.name.clone(), scope.clone()), None),
            };
            Some(Used {
                line: at,
                words: line.description.clone(),
                unit: line.unit.clone(),
                expected: line.estimated.amount.plus(split.amount.quantity).ok()?,
                used: recorded.amount,
                pack,
            })
        });
        let first = compared.days.first.or(compared.days.last);
        let last = compared.days.last.or(compared.days.first);
        Self {
            name: compared.job.clone(),
            days: first.zip(last),
            lines: lines(&estimate.takeoff),
            used: used.collect(),
        }
    }
}

/// Whether an amount is a whole number of packs, and at least one.
fn are_whole(amount: Quantity, pack: Quantity) -> bool {
    let packs = amount.value / pack.value;
    let whole = packs.round();
    amount.dim == pack.dim && whole >= 1.0 && (packs - whole).abs() < 1e-6
}

impl Used {
    /// What was used as near as the record tells: of packs that were opened, the last one is half
    /// used on the average.
    fn near(&self) -> f64 {
        let half = self.pack.map_or(0.0, |pack| pack.value / 2.0);
        self.used.value - half
    }

    /// The logarithm of used over expected; none where either is nothing.
    pub fn off(&self) -> Option<f64> {
        let off = (self.near() / self.expected.value).ln();
        off.is_finite().then_some(off)
    }

    /// How coarsely it was written down: the standard deviation, as a share of it, of what lies
    /// anywhere within a pack, or within a step of its unit.
    pub fn coarse(&self) -> f64 {
        const STEPS: [f64; 4] = [1.0, 0.5, 0.25, 0.1];
        let written = self.unit.show(self.used).unwrap_or_default();
        let whole = |step: &&f64| {
            let steps = written / **step;
            (steps - steps.round()).abs() < 1e-6
        };
        let step = || STEPS.iter().find(whole).copied().unwrap_or(0.0) / written;
        let step = match self.pack {
            Some(pack) => pack.value / self.near(),
            None if written > 0.0 => step(),
            None => 0.0,
        };
        step / 12f64.sqrt()
    }
}

#[cfg(test)]
mod tests;
