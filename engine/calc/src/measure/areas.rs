//! What all faces of a plan measure together.

/// How many faces there are, and their areas in square metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AreasOfAll {
    /// How many faces.
    pub faces: f64,
    /// The same, equal ones counted.
    pub equal: f64,
    /// Openings not taken off.
    pub gross: f64,
    /// What openings take.
    pub deducted: f64,
}

/// What a face measures.
#[derive(Debug, Clone, Copy)]
pub(super) struct OneFace {
    /// How many equal ones there are.
    pub(super) count: f64,
    /// Its area in square metres, openings not taken off.
    pub(super) gross: f64,
    /// What openings take of it.
    pub(super) deducted: f64,
}

impl AreasOfAll {
    /// The sums over all equal faces, added in the order of the plan.
    pub(super) fn of<'f>(faces: impl IntoIterator<Item = &'f OneFace>) -> Self {
        let mut sums = Self {
            faces: 0.0,
            equal: 0.0,
            gross: 0.0,
            deducted: 0.0,
        };
        for face in faces {
            sums.faces += 1.0;
            sums.equal += face.count;
            sums.gross += face.gross * face.count;
            sums.deducted += face.deducted * face.count;
        }
        sums
    }
}
