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

    /// The sums of all parts, added in their order: to the same bits, however many parts they are.
    pub fn of_parts<'a>(parts: impl IntoIterator<Item = &'a Addends>) -> Self {
        let mut sums = Self::default();
        for (what, value) in parts.into_iter().flat_map(|part| &part.0) {
            sums.add(*what, *value);
        }
        sums
    }
}

/// What a part of a plan adds to its sums, one after the other.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Addends(Vec<(What, f64)>);

impl Addends {
    pub(super) fn add(&mut self, what: What, value: f64) {
        self.0.push((what, value));
    }
}
