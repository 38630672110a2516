//! The range in which the total of a job is likely to lie, and what causes most of it.
//!
//! The job is priced many times over. Each time every cell that table `spread` knows is moved by
//! chance as far as cells stray, and so is the job as a whole, and each of its lines. A line then
//! takes `exp(sum of load x move)` times what was estimated; packs are rounded and the price is
//! reckoned as ever. Cells and lines are taken as independent of each other, but for those that
//! stray together; where jobs could not tell two rates apart and both were learned, the range is
//! rather too wide than too narrow.
//!
//! A share of the variance is the squared correlation of the moves of a cause with the total: the
//! first-order index of what is near enough a sum.

use super::cells::Cells;
use super::lines::{Line, lines};
use super::model::Group;
use super::spread::Spreads;
use crate::actuals::Scope;
use crate::pool::{Pooled, pool};
use crate::price::{Estimate, price_alone};
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::prices::PriceBook;
use parge_base::{Currency, Money};
use parge_rules::Pack;
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use rayon::prelude::*;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;
use statrs::distribution::{ContinuousCDF, Normal};

/// How often the job is priced.
pub const DRAWS: usize = 2000;
/// Where chance begins, so that the same job always has the same range.
const SEED: u64 = 20_260_101;

/// The range of a total.
#[derive(Debug, Clone, PartialEq)]
pub struct Likely {
    /// One time in ten the total is less.
    pub low: Money,
    /// Half of the times it is less.
    pub middle: Money,
    /// One time in ten it is more.
    pub high: Money,
    /// What causes the range, the largest share first.
    pub causes: Vec<Cause>,
    /// How many cells the total rests on that are taken as certain, since table `spread` says
    /// nothing of them.
    pub certain: usize,
}

/// A cause of the range.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// The cells, or the lines, in words.
    pub name: String,
    /// How far it strays, as a share.
    pub spread: f64,
    /// Its share of the variance of the total.
    pub share: f64,
}

/// The range of the total of an estimate; `None` where an amount outgrows what can be written.
pub fn likely(
    estimate: &Estimate,
    spreads: &Spreads,
    pack: &Pack,
    book: &PriceBook,
) -> Option<Likely> {
    let (pooled, _) = pool(&estimate.takeoff, pack);
    let job = Simulated::of(estimate, spreads, pack, &pooled);
    let mut chance = Chance(Pcg64Mcg::seed_from_u64(SEED));
    let moves: Vec<Vec<f64>> = (0..DRAWS).map(|_| job.drawn(&mut chance)).collect();
    let total = |moves: &Vec<f64>| {
        let moved = job.moved(&pooled, moves);
        price_alone(&estimate.takeoff, moved, book, pack).map(|price| price.total.to_f64())
    };
    let totals: Vec<f64> = moves.par_iter().map(total).collect::<Option<_>>()?;
    let mut sorted = totals.clone();
    sorted.sort_by(f64::total_cmp);
    let at = |share: f64| money(quantile(&sorted, share), estimate.currency);
    Some(Likely {
        low: at(0.1)?,
        middle: at(0.5)?,
        high: at(0.9)?,
        causes: job.causes(&moves, &totals),
        certain: job.certain,
    })
}

fn money(amount: f64, currency: Currency) -> Option<Money> {
    let amount = Decimal::from_f64(amount)?.round_dp(currency.decimals());
    Some(Money::new(amount, currency))
}

/// A quantile of sorted values, between its neighbours on a straight line.
fn quantile(sorted: &[f64], share: f64) -> f64 {
    let place = share * sorted.len().saturating_sub(1) as f64;
    let value = |at: f64| sorted.get(at as usize).copied().unwrap_or(f64::NAN);
    let (below, above) = (value(place.floor()), value(place.ceil()));
    below + (above - below) * place.fract()
}

/// Something that strays.
struct Stray {
    /// The cause that it belongs to.
    cause: usize,
    /// How far.
    spread: f64,
    /// With long tails, as jobs and lines do.
    tailed: bool,
    /// By how much of 1 % each line grows with 1 % of it: materials, then hours.
    loads: Vec<f64>,
}

/// A job with all that strays in it.
struct Simulated {
    causes: Vec<(String, f64)>,
    strays: Vec<Stray>,
    certain: usize,
}

impl Simulated {
    fn of(estimate: &Estimate, spreads: &Spreads, pack: &Pack, pooled: &Pooled) -> Self {
        let all = lines(&estimate.takeoff);
        let materials = pooled.materials.iter();
        let materials = materials.map(|of| Line::Material(of.item.clone()));
        let labour = pooled.labour.iter();
        let labour = labour.map(|of| Line::Hours(of.phase.clone(), Scope::Whole));
        let shown: Vec<Line> = materials.chain(labour).collect();
        let mut job = Self {
            causes: Vec::new(),
            strays: Vec::new(),
            certain: 0,
        };
        let cells = Cells::of(pack);
        let mut used = std::collections::BTreeSet::new();
        for (members, spread) in &spreads.factors {
            let load = |line: &Line| {
                let estimated = all.get(line)?;
                let own = estimated.rests_on.iter().filter(|on| {
                    let name = cells.name(&on.factor);
                    name.is_some_and(|name| members.contains(name))
                });
                Some(own.map(|on| on.load(estimated.amount)).sum())
            };
            let loads: Vec<f64> = shown.iter().map(|line| load(line).unwrap_or(0.0)).collect();
            if loads.iter().any(|load| *load != 0.0) {
                let names: Vec<String> = members.iter().map(ToString::to_string).collect();
                job.add(names.join(", "), *spread, false, vec![loads]);
                used.extend(members.iter().cloned());
            }
        }
        let rests = all.values().flat_map(|line| &line.rests_on);
        let names = rests.filter_map(|on| cells.name(&on.factor).cloned());
        let names: std::collections::BTreeSet<_> = names.collect();
        job.certain = names.difference(&used).count();
        job.add_lines(spreads, pooled.materials.len(), pooled.labour.len());
        job
    }

    /// The job as a whole, and each line by itself.
    fn add_lines(&mut self, spreads: &Spreads, materials: usize, labour: usize) {
        let size = materials + labour;
        let groups = [
            (Group::Materials, 0..materials, "materials"),
            (Group::Hours, materials..size, "hours"),
        ];
        for (group, own, words) in groups {
            let on = |is: &dyn Fn(usize) -> bool| -> Vec<f64> {
                (0..size).map(|at| if is(at) { 1.0 } else { 0.0 }).collect()
            };
            let whole = on(&|at| own.contains(&at));
            let each = own.clone().map(|line| on(&|at| at == line)).collect();
            let name = format!("the job as a whole, {words}");
            self.add(name, spreads.job[group as usize], true, vec![whole]);
            let name = format!("each line by itself, {words}");
            self.add(name, spreads.line[group as usize], true, each);
        }
    }

    fn add(&mut self, name: String, spread: f64, tailed: bool, all: Vec<Vec<f64>>) {
        let cause = self.causes.len();
        self.causes.push((name, spread));
        self.strays.extend(all.into_iter().map(|loads| Stray {
            cause,
            spread,
            tailed,
            loads,
        }));
    }

    /// How far each thing strays, once.
    fn drawn(&self, chance: &mut Chance) -> Vec<f64> {
        let strays = self.strays.iter();
        strays
            .map(|stray| stray.spread * chance.next(stray.tailed))
            .collect()
    }

    /// What the job takes once.
    fn moved(&self, pooled: &Pooled, moves: &[f64]) -> Pooled {
        let times = |line: usize| {
            let strays = self.strays.iter().zip(moves);
            let load = |stray: &Stray| stray.loads.get(line).copied().unwrap_or(0.0);
            strays
                .map(|(stray, by)| load(stray) * by)
                .sum::<f64>()
                .exp()
        };
        let mut moved = pooled.clone();
        for (line, material) in moved.materials.iter_mut().enumerate() {
            material.need.value *= times(line);
            material.waste.value *= times(line);
        }
        for (line, labour) in moved.labour.iter_mut().enumerate() {
            let hours = labour.hours * times(pooled.materials.len() + line);
            labour.hours = round_to(round_to(hours, NOISE_DECIMALS), 2);
        }
        moved
    }

    fn causes(&self, moves: &[Vec<f64>], totals: &[f64]) -> Vec<Cause> {
        let mut shares = vec![0.0; self.causes.len()];
        for (at, stray) in self.strays.iter().enumerate() {
            let column: Vec<f64> = moves
                .iter()
                .filter_map(|moves| moves.get(at))
                .copied()
                .collect();
            if let Some(share) = shares.get_mut(stray.cause) {
                *share += explained(&column, totals);
            }
        }
        let named = self.causes.iter().zip(shares);
        let mut causes: Vec<Cause> = named
            .map(|((name, spread), share)| Cause {
                name: name.clone(),
                spread: *spread,
                share,
            })
            .collect();
        causes.sort_by(|a, b| b.share.total_cmp(&a.share));
        causes
    }
}

/// The squared correlation of two columns, less what chance alone gives it.
fn explained(a: &[f64], b: &[f64]) -> f64 {
    let count = a.len() as f64;
    let mean = |of: &[f64]| of.iter().sum::<f64>() / count;
    let (mean_a, mean_b) = (mean(a), mean(b));
    let (mut both, mut of_a, mut of_b) = (0.0, 0.0, 0.0);
    for (a, b) in a.iter().zip(b) {
        both += (a - mean_a) * (b - mean_b);
        of_a += (a - mean_a).powi(2);
        of_b += (b - mean_b).powi(2);
    }
    let squared = both * both / (of_a * of_b);
    match squared.is_finite() {
        true => (squared - 1.0 / count).max(0.0),
        false => 0.0,
    }
}

/// Numbers by chance, the same everywhere.
struct Chance(Pcg64Mcg);

impl Chance {
    /// Between nothing and one, neither of them.
    fn share(&mut self) -> f64 {
        /// The digits of a floating number.
        const BITS: u32 = 53;
        let whole = (self.0.next_u64() >> (u64::BITS - BITS)) as f64;
        (whole + 0.5) / (1u64 << BITS) as f64
    }

    /// Standard normal, or Student's t of four degrees of freedom.
    fn next(&mut self, tailed: bool) -> f64 {
        let share = self.share();
        match tailed {
            true => t_of_four(share),
            false => Normal::standard().inverse_cdf(share),
        }
    }
}

/// The quantile of Student's t of four degrees of freedom, of which it has a closed form (Shaw,
/// Sampling Student's T distribution, 2006; from memory). [`super::model::TAILS`] are these.
fn t_of_four(share: f64) -> f64 {
    let root = (4.0 * share * (1.0 - share)).sqrt();
    let q = (root.acos() / 3.0).cos() / root;
    (share - 0.5).signum() * 2.0 * (q - 1.0).max(0.0).sqrt()
}

#[cfg(test)]
mod tests;
