//! Numbers by chance that are the same everywhere.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use statrs::distribution::{ContinuousCDF, Normal};

pub(crate) struct Chance(Pcg64Mcg);

impl Chance {
    pub(crate) fn of(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    /// Between nothing and one, neither of them.
    pub(crate) fn share(&mut self) -> f64 {
        let digits = (self.0.next_u64() >> 11) as f64;
        (digits + 0.5) / (1u64 << 53) as f64
    }

    /// With this standard deviation.
    pub(crate) fn normal(&mut self, sd: f64) -> f64 {
        sd * Normal::standard().inverse_cdf(self.share())
    }
}
