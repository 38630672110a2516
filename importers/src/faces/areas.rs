//! What a row adds to the sums of areas.

use super::Verdict;
use super::reader::TableReader;
use crate::columns::Role;

/// Figures with their columns.
type Figures = Vec<(Role, f64)>;

/// How far an area of a row may be off what its sizes make, and still be the same.
const SAME: f64 = 1e-6;

impl TableReader<'_> {
    /// The figures of a row as they stand in the sums of the sheet: an area is there as often as the
    /// block that it stands in. Behind them the areas that its sizes make, where none is stated.
    pub(super) fn with_area(
        &self,
        figures: &[(Role, f64)],
        verdict: &Verdict,
    ) -> (Figures, Figures) {
        let mut figures = figures.to_vec();
        let Some((area, net)) = self.made(verdict) else {
            return (figures, Vec::new());
        };
        let times = f64::from(self.under.times.max(1));
        let is_face = matches!(verdict, Verdict::Face(_));
        for (_, value) in figures.iter_mut().filter(|(role, _)| is_area(*role)) {
            // A face may state the area of all blocks already.
            if !is_face || (*value - area).abs() > area * SAME {
                *value *= times;
            }
        }
        let stated: Vec<Role> = figures.iter().map(|(role, _)| *role).collect();
        let has_column = |role: Role| self.columns.iter().any(|column| column.role == role);
        let missing = [(Role::Area, area), (Role::NetArea, net)]
            .into_iter()
            .filter(|(role, _)| has_column(*role) && !stated.contains(role));
        (figures, missing.collect())
    }

    /// The areas that the sizes of all equal faces or openings of a row make, in square metres: with
    /// what openings take, and without.
    fn made(&self, verdict: &Verdict) -> Option<(f64, f64)> {
        match verdict {
            Verdict::Face(face) => {
                let face = self.out.faces.get(*face)?;
                let count = f64::from(face.count);
                let net = (face.gross() - face.deducted()) * count;
                Some((face.gross() * count, net))
            }
            Verdict::Opening(face, opening) => {
                let face = self.out.faces.get(*face)?;
                let one = face.openings.get(*opening).map_or(0.0, |own| own.area());
                let area = one * f64::from(face.count);
                Some((area, area))
            }
            _ => None,
        }
    }
}

/// Whether a column is of areas.
pub(super) fn is_area(role: Role) -> bool {
    matches!(role, Role::Area | Role::NetArea)
}
