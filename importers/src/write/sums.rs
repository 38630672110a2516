//! What is summed over a sheet and over the plan that is made of it.

use parge_base::Dim;

/// What is summed, in the order in which it is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    Faces,
    Equal,
    Levels,
    Uprights,
    Gross,
    Openings,
    Deducted,
    Reveals,
}

impl What {
    pub(super) const ALL: [Self; 8] = [
        Self::Faces,
        Self::Equal,
        Self::Levels,
        Self::Uprights,
        Self::Gross,
        Self::Openings,
        Self::Deducted,
        Self::Reveals,
    ];

    /// In words.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Faces => "faces",
            Self::Equal => "equal faces",
            Self::Levels => "level sizes of faces",
            Self::Uprights => "upright sizes of faces",
            Self::Gross => "area of all faces",
            Self::Openings => "openings",
            Self::Deducted => "area of all openings",
            Self::Reveals => "depths of reveals",
        }
    }

    /// Its kind; a plain number for counts.
    pub(super) fn dim(self) -> Dim {
        match self {
            Self::Faces | Self::Equal | Self::Openings => Dim::NONE,
            Self::Levels | Self::Uprights | Self::Reveals => Dim::LENGTH,
            Self::Gross | Self::Deducted => Dim::AREA,
        }
    }
}

/// Sums by what is summed, in base units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sums([f64; What::ALL.len()]);

impl Sums {
    pub(super) fn add(&mut self, what: What, value: f64) {
        if let Some(sum) = self.0.get_mut(what as usize) {
            *sum += value;
        }
    }

    pub(super) fn of(&self, what: What) -> f64 {
        self.0.get(what as usize).copied().unwrap_or_default()
    }

    /// These sums and those of what stands behind.
    #[must_use]
    pub fn and(mut self, behind: &Self) -> Self {
        for what in What::ALL {
            self.add(what, behind.of(what));
        }
        self
    }
}
