//! The statistics: how far the factors of a pack are from what past jobs used.
//!
//! For a line of a job, `y` is the logarithm of what was used over what was estimated. It is put
//! down to the factors that the estimate rests on, to the job, and to the line itself:
//!
//! ```text
//! y = sum of (load of the factor x shift of the factor) + shift of the job + the rest
//! ```
//!
//! - The load is the elasticity: by how much of 1 % the line grows with 1 % of the factor.
//! - The shift of a factor is normal around nothing, the present value: *partial pooling*. How far
//!   factors of a kind stray ([`Variances::factor`]) is estimated from all of that kind together.
//! - A job shifts all its lines of a group: a slow crew, a hard site. Lines of one job are therefore
//!   no independent witnesses. Both this shift and the rest of a line follow Student's t with
//!   [`TAILS`] degrees of freedom, so that a spoiled job or line loses its weight instead of moving
//!   the factors.
//!
//! It is fitted by variational EM: the shifts have their normal distribution under the present
//! weights, the weights of t their expectation under that distribution (the iteratively reweighted
//! least squares of Lange, Little and Taylor, Robust Statistical Modeling Using the t Distribution,
//! JASA 84 (1989); from memory), and each variance is the mean of what is expected of it together
//! with what is believed beforehand ([`Belief`]). Without t, beliefs and job this is the textbook
//! shrinkage of partial pooling, and with a factor that strays without bound it is REML; the tests
//! hold it to published and to computed examples of both.

use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ContinuousCDF, StudentsT};
use std::collections::BTreeMap;

/// Degrees of freedom of the tails: as robust as is common practice for t.
pub const TAILS: f64 = 4.0;
/// The share of an interval.
pub const LEVEL: f64 = 0.90;

/// What kind of factor strays together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A share wasted; its shift is that of `1 + share`.
    Waste,
    /// What a pack yields or covers.
    Cover,
    /// Hours by area, length, volume or piece, and what makes them more.
    Rate,
}

/// What kind of line errs together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// Materials.
    Materials,
    /// Hours.
    Hours,
}

/// A line of a past job.
#[derive(Debug, Clone, PartialEq)]
pub struct Observation {
    /// The job by its number.
    pub job: usize,
    /// Of which group.
    pub group: Group,
    /// The logarithm of used over estimated.
    pub y: f64,
    /// How coarsely the use was written down: the standard deviation of that in `y`. Three bags may
    /// have been two and a half.
    pub coarse: f64,
    /// The factors by their numbers, each with its load.
    pub loads: Vec<(usize, f64)>,
}

/// A standard deviation that is believed before anything is seen, and as how many observations
/// that belief counts; without end, it is not estimated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    /// The standard deviation, of logarithms.
    pub sd: f64,
    /// As how many observations it counts.
    pub counts: f64,
}

impl Belief {
    /// One that nothing changes.
    pub fn fixed(sd: f64) -> Self {
        let counts = f64::INFINITY;
        Self { sd, counts }
    }

    /// With the sum of squares of so many observations.
    fn with(self, squares: f64, count: f64) -> f64 {
        if self.counts.is_infinite() || self.counts + count <= 0.0 {
            return self.sd;
        }
        ((self.counts * self.sd * self.sd + squares) / (self.counts + count)).sqrt()
    }
}

/// One value for each kind of factor.
pub type OfKind<T> = [T; 3];
/// One value for each group of lines.
pub type OfGroup<T> = [T; 2];

/// What is believed before anything is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beliefs {
    /// How far factors stray from their present values.
    pub factor: OfKind<Belief>,
    /// How far a job shifts all its lines.
    pub job: OfGroup<Belief>,
    /// How far a line is off by itself.
    pub line: OfGroup<Belief>,
    /// Degrees of freedom of the tails; none for normal ones.
    pub tails: Option<f64>,
}

/// *Common practice*, to begin with: jobs soon outweigh it. A waste is known to some 5 % of the
/// material, a coverage to 12 %, a rate of hours to 15 %; a line of materials comes out within 10 %,
/// one of hours within 20 %, with the job as a whole 5 and 15 % off.
impl Default for Beliefs {
    fn default() -> Self {
        let belief = |sd| Belief { sd, counts: 4.0 };
        Self {
            factor: [0.05, 0.12, 0.15].map(belief),
            job: [0.05, 0.15].map(belief),
            line: [0.10, 0.20].map(belief),
            tails: Some(TAILS),
        }
    }
}

/// The standard deviations, of logarithms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Variances {
    /// Of the factors of a kind.
    pub factor: OfKind<f64>,
    /// Of the shift that all lines of a group have in common in a job.
    pub job: OfGroup<f64>,
    /// Of a line by itself.
    pub line: OfGroup<f64>,
}

/// What the jobs say of one factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// The logarithm of proposed over present value; of a waste, of `1 + share`.
    pub mean: f64,
    /// Its standard deviation.
    pub sd: f64,
    /// How far the interval goes to either side.
    pub reach: f64,
    /// How much of what could be known the jobs say: 0, the present value stays; 1, the jobs alone
    /// count.
    pub weight: f64,
    /// The jobs with lines that rest on it.
    pub jobs: Vec<JobWeight>,
}

/// How much a job counts for a factor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JobWeight {
    /// The job by its number.
    pub job: usize,
    /// Its lines that rest on the factor.
    pub lines: usize,
    /// From 1, as any other, down to 0, left out as spoiled.
    pub weight: f64,
}

/// A fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The factors, in their order.
    pub shifts: Vec<Shift>,
    /// How far all strays.
    pub variances: Variances,
}

/// Fits the shifts of factors of the given kinds.
pub fn fit(kinds: &[Kind], lines: &[Observation], beliefs: &Beliefs) -> Fit {
    let mut state = State::new(kinds, lines, beliefs);
    const MOST_STEPS: usize = 400;
    /// The largest change of a step that is none: of a shift, and of a variance as a share of it.
    const STILL: f64 = 1e-6;
    for _ in 0..MOST_STEPS {
        let before = (state.variances, state.mean.clone());
        state.step();
        let moved = (&state.mean - before.1).amax();
        if moved.max(state.variances.moved(&before.0)) < STILL {
            break;
        }
    }
    state.finish()
}

impl Variances {
    /// The largest change of any, as a share.
    fn moved(&self, before: &Self) -> f64 {
        let all = |of: &Self| [&of.factor[..], &of.job, &of.line].concat();
        let pairs = all(self).into_iter().zip(all(before));
        pairs
            .filter(|(new, _)| new.is_finite())
            .map(|(new, old)| (new - old).abs() / old.max(f64::MIN_POSITIVE))
            .fold(0.0, f64::max)
    }
}

/// A fit on its way.
struct State<'f> {
    kinds: &'f [Kind],
    lines: &'f [Observation],
    beliefs: &'f Beliefs,
    /// The jobs with lines of a group.
    blocks: Vec<(usize, Group)>,
    variances: Variances,
    /// The weights by which a line and a block count: of t.
    line_weights: Vec<f64>,
    block_weights: Vec<f64>,
    /// The shifts of the factors, then those of the blocks, and their covariances.
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
}

impl<'f> State<'f> {
    fn new(kinds: &'f [Kind], lines: &'f [Observation], beliefs: &'f Beliefs) -> Self {
        let mut blocks: Vec<(usize, Group)> = lines
            .iter()
            .map(|line| (line.job, line.group))
            .filter(|(_, group)| beliefs.job[*group as usize].sd > 0.0)
            .collect();
        blocks.sort_unstable();
        blocks.dedup();
        let size = kinds.len() + blocks.len();
        Self {
            kinds,
            lines,
            beliefs,
            variances: Variances {
                factor: beliefs.factor.map(|belief| belief.sd),
                job: beliefs.job.map(|belief| belief.sd),
                line: beliefs.line.map(|belief| belief.sd),
            },
            line_weights: vec![1.0; lines.len()],
            block_weights: vec![1.0; blocks.len()],
            blocks,
            mean: DVector::zeros(size),
            covariance: DMatrix::zeros(size, size),
        }
    }

    /// The loads of a line, those of its block among them.
    fn loads(&self, line: &Observation) -> Vec<(usize, f64)> {
        let block = self.blocks.binary_search(&(line.job, line.group));
        let of_block = block.ok().map(|at| (self.kinds.len() + at, 1.0));
        let factors = line.loads.iter().copied();
        factors.chain(of_block).collect()
    }

    /// How much of a line's precision its coarse figure leaves.
    fn fineness(&self, line: &Observation) -> f64 {
        let own = self.variances.line[line.group as usize].powi(2);
        own / (own + line.coarse * line.coarse)
    }

    /// The precision of a line, weight 1.
    fn precision(&self, line: &Observation) -> f64 {
        self.fineness(line) / self.variances.line[line.group as usize].powi(2)
    }

    /// The shifts under the present weights and variances; `share` lessens what the weights say.
    fn solve(&mut self, share: f64) {
        let size = self.mean.len();
        let mut precision = DMatrix::<f64>::zeros(size, size);
        let mut pull = DVector::<f64>::zeros(size);
        for (at, kind) in self.kinds.iter().enumerate() {
            precision[(at, at)] = self.variances.factor[*kind as usize].powi(-2);
        }
        for (at, (block, weight)) in self.blocks.iter().zip(&self.block_weights).enumerate() {
            let sd = self.variances.job[block.1 as usize];
            let at = self.kinds.len() + at;
            precision[(at, at)] = share * weight * sd.powi(-2);
        }
        for (line, weight) in self.lines.iter().zip(&self.line_weights) {
            let loads = self.loads(line);
            let counts = share * weight * self.precision(line);
            for (a, of_a) in &loads {
                pull[*a] += counts * of_a * line.y;
                for (b, of_b) in &loads {
                    precision[(*a, *b)] += counts * of_a * of_b;
                }
            }
        }
        // Positive definite but for a factor that strays without bound and no line rests on.
        if let Some(factored) = precision.cholesky() {
            self.mean = factored.solve(&pull);
            self.covariance = factored.inverse();
        }
    }

    /// What is left of a line, squared: as expected under the distribution of the shifts.
    fn squared_rest(&self, line: &Observation) -> f64 {
        let loads = self.loads(line);
        let explained: f64 = loads.iter().map(|(at, load)| self.mean[*at] * load).sum();
        let spread: f64 = loads
            .iter()
            .flat_map(|(a, of_a)| {
                let of = move |(b, of_b): &(usize, f64)| self.covariance[(*a, *b)] * of_a * of_b;
                loads.iter().map(of)
            })
            .sum();
        (line.y - explained).powi(2) + spread
    }

    /// The weight of t for something that is so many times its standard deviation off, squared.
    fn weight(&self, squared: f64) -> f64 {
        let weight = |tails: f64| (tails + 1.0) / (tails + squared);
        self.beliefs.tails.map_or(1.0, weight)
    }

    fn step(&mut self) {
        self.solve(1.0);
        let (mut of_lines, mut of_jobs, mut of_factors) =
            ([(0.0, 0.0); 2], [(0.0, 0.0); 2], [(0.0, 0.0); 3]);
        let mut weights = Vec::with_capacity(self.lines.len());
        for line in self.lines {
            let own = self.variances.line[line.group as usize].powi(2);
            let squares = self.squared_rest(line) * self.fineness(line);
            let weight = self.weight(squares / own);
            weights.push(weight);
            add(&mut of_lines[line.group as usize], weight * squares);
        }
        self.line_weights = weights;
        let mut weights = Vec::with_capacity(self.blocks.len());
        for (at, (_, group)) in self.blocks.iter().enumerate() {
            let squares = self.squared_shift(self.kinds.len() + at);
            let weight = self.weight(squares / self.variances.job[*group as usize].powi(2));
            weights.push(weight);
            add(&mut of_jobs[*group as usize], weight * squares);
        }
        self.block_weights = weights;
        for (at, kind) in self.kinds.iter().enumerate() {
            add(&mut of_factors[*kind as usize], self.squared_shift(at));
        }
        self.variances = Variances {
            factor: updated(&self.beliefs.factor, &of_factors),
            job: updated(&self.beliefs.job, &of_jobs),
            line: updated(&self.beliefs.line, &of_lines),
        };
    }

    fn squared_shift(&self, at: usize) -> f64 {
        self.mean[at].powi(2) + self.covariance[(at, at)]
    }

    fn finish(mut self) -> Fit {
        self.solve(1.0);
        let means = self.mean.clone();
        // The weights are estimated too, so a line of t says less than its weight: its information
        // is (tails + 1) / (tails + 3) of it (Lange, Little and Taylor, 1989; from memory).
        let told = self
            .beliefs
            .tails
            .map_or(1.0, |tails| (tails + 1.0) / (tails + 3.0));
        self.solve(told);
        let shifts = self.kinds.iter().enumerate().map(|(at, kind)| {
            let variance = self.covariance[(at, at)].max(0.0);
            let before = self.variances.factor[*kind as usize].powi(2);
            let jobs = self.jobs_of(at);
            let weight = (1.0 - variance / before).clamp(0.0, 1.0);
            Shift {
                mean: means[at],
                sd: variance.sqrt(),
                reach: self.quantile(*kind, weight, &jobs) * variance.sqrt(),
                weight,
                jobs,
            }
        });
        Fit {
            shifts: shifts.collect(),
            variances: self.variances,
        }
    }

    /// How many standard deviations an interval reaches: of t, since the variances themselves come
    /// from few jobs and few factors. What the jobs say is as free as there are jobs, what was
    /// believed as there are factors of the kind, and both count by their share.
    fn quantile(&self, kind: Kind, weight: f64, jobs: &[JobWeight]) -> f64 {
        let counts = |beliefs: &[Belief]| {
            let counts = beliefs.iter().map(|belief| belief.counts);
            counts.fold(f64::INFINITY, f64::min)
        };
        let seen: f64 = jobs.iter().map(|job| job.weight).sum();
        let alike = self.kinds.iter().filter(|other| **other == kind).count();
        let of_jobs = counts(&self.beliefs.line) + (seen - 1.0).max(0.0);
        let of_kind = counts(&self.beliefs.factor) + alike as f64;
        let freedom = 1.0 / (weight / of_jobs + (1.0 - weight) / of_kind);
        // Beyond this t is normal to the digits shown.
        const MANY: f64 = 1e6;
        let t = StudentsT::new(0.0, 1.0, freedom.clamp(1.0, MANY));
        t.map_or(f64::NAN, |t| t.inverse_cdf((1.0 + LEVEL) / 2.0))
    }

    /// The jobs whose lines rest on a factor, each with the lesser of two weights: that of its lines
    /// on the factor, and that of its level, the shift that all its lines have in common. A job that
    /// is off as a whole still tells how its lines stand to each other.
    fn jobs_of(&self, factor: usize) -> Vec<JobWeight> {
        let mut jobs: BTreeMap<(usize, Group), (usize, [f64; 2])> = BTreeMap::new();
        for (line, weight) in self.lines.iter().zip(&self.line_weights) {
            let load = line.loads.iter().find(|(at, _)| *at == factor);
            let Some((_, load)) = load else { continue };
            let counts = self.precision(line) * load * load;
            let (count, sums) = jobs.entry((line.job, line.group)).or_default();
            *count += 1;
            sums[0] += weight * counts;
            sums[1] += counts;
        }
        let weighted = jobs
            .into_iter()
            .map(|((job, group), (lines, [told, plain]))| {
                let of_lines = (told / plain).min(1.0);
                JobWeight {
                    job,
                    lines,
                    weight: of_lines.min(self.level(job, group)),
                }
            });
        weighted.collect()
    }

    /// How much the level of a job counts, over that of an ordinary one.
    fn level(&self, job: usize, group: Group) -> f64 {
        let block = self.blocks.binary_search(&(job, group)).ok();
        let Some(weight) = block.and_then(|at| self.block_weights.get(at)) else {
            return 1.0;
        };
        let lines = self.lines.iter().zip(&self.line_weights);
        let own = lines.filter(|(line, _)| (line.job, line.group) == (job, group));
        let (told, plain) = own.fold((0.0, 0.0), |(told, plain), (line, weight)| {
            let counts = self.precision(line);
            (told + weight * counts, plain + counts)
        });
        let shift = self.variances.job[group as usize].powi(2);
        let variance = |precision: f64, weight: f64| 1.0 / precision + shift / weight;
        (variance(plain, 1.0) / variance(told, *weight)).min(1.0)
    }
}

/// The standard deviations by what is believed and by what was seen: sums of squares, and counts.
fn updated<const N: usize>(beliefs: &[Belief; N], seen: &[(f64, f64); N]) -> [f64; N] {
    std::array::from_fn(|at| {
        let (squares, count) = seen[at];
        beliefs[at].with(squares, count)
    })
}

fn add((sum, count): &mut (f64, f64), squares: f64) {
    *sum += squares;
    *count += 1.0;
}

#[cfg(test)]
mod tests;
