//! What a row adds to the sums of areas.

use super::Verdict;
use super::reader::TableReader;
use crate::columns::Role;

/// The columns of areas: with what openings take, and without.
const AREAS: [Role; 2] = [Role::Area, Role::NetArea];

/// How far an area of a row may be off what its sizes make, and still be the same.
const SAME: f64 = 1e-6;

impl TableReader<'_> {
    /// Adds the figures of a row to the sums of the sheet: an area is there as often as the block that
    /// it stands in. Behind them go the areas that its sizes make, where none is stated.
    pub(super) fn add_up(&mut self, figures: &[(Role, f64)], verdict: &Verdict) {
        let is_stated = |role: Role| figures.iter().any(|(stated, _)| *stated == role);
        let is_summed = |role: &Role| self.roles.has(*role) || is_stated(*role);
        let made = match AREAS.iter().any(is_summed) {
            true => self.made(verdict),
            false => None,
        };
        let times = self.under.times;
        for (role, value) in figures {
            let value = match made {
                Some((area, _)) if is_area(*role) => self.of_block(*value, area, verdict),
                _ => *value,
            };
            self.running.add((*role, value), true, verdict, times);
        }
        let Some((area, net)) = made else {
            return;
        };
        for (role, value) in AREAS.into_iter().zip([area, net]) {
            if self.roles.has(role) && !is_stated(role) {
                self.running.add((role, value), false, verdict, times);
            }
        }
    }

    /// A stated area of all blocks; a face may state that already.
    fn of_block(&self, stated: f64, area: f64, verdict: &Verdict) -> f64 {
        let is_face = matches!(verdict, Verdict::Face(_));
        match !is_face || (stated - area).abs() > area * SAME {
            true => stated * f64::from(self.under.times.max(1)),
            false => stated,
        }
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
    AREAS.contains(&role)
}
