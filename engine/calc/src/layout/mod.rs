//! Sheets and rolls laid out on a face: how many are taken to cover it, course by course.
//!
//! Courses run along the width from the foot up, each lapping over the one below, the long side
//! of a sheet across the supports; end joints of courses next to each other are staggered (ASTM
//! C1063; NAVEDTRA 14044, ch. 7). Sizes, laps and habits stand in table `sheets` of a rule pack.
//!
//! A layout never takes fewer than the area demands: where the count by area, `area / ((width -
//! side lap) x (length - end lap))`, is the larger one, it is taken. Faces whose outline is not
//! known are counted by area, with an allowance for cutting.

mod courses;
mod openings;
pub(crate) mod outline;
mod polygon;
mod sheets;

pub use sheets::Sheet;

use crate::job::{Face, Job, Shape};
use crate::measure::MeasuredFace;
use courses::Laid;
use openings::Hole;
use outline::Outline;
use parge_base::{Diagnostic, Quantity};
use parge_rules::Pack;
use std::collections::HashMap;
use std::sync::Arc;

/// What one layer of an item takes on ONE of a face's equal copies.
#[derive(Debug, Clone)]
pub struct Layout {
    /// The item, with its sizes and laps.
    pub sheet: Arc<Sheet>,
    /// How many are taken, counted in the item's unit. Whole for sheets, but for what reveals
    /// take and where the count by area is larger; rolls are taken off by length.
    pub pieces: Quantity,
    /// The count by the area that each covers with its laps, without anything for cutting.
    pub by_area: Quantity,
    /// How `pieces` came about, in words.
    pub note: Arc<str>,
}

/// Lays out every item of a pack's table `sheets` on one face after the other.
pub(crate) struct Layouts {
    sheets: Vec<Arc<Sheet>>,
    /// What was laid out before, by the number of the item and all sizes that matter.
    known: HashMap<(usize, Vec<u64>), Found>,
}

/// What a face asks for, free of its tape.
struct Asked {
    /// Where it is known.
    outline: Option<Outline>,
    holes: Vec<Hole>,
    area: f64,
    reveal: f64,
    count: u32,
}

/// The result in plain numbers.
#[derive(Clone)]
struct Found {
    pieces: f64,
    by_area: f64,
    note: Arc<str>,
}

impl Layouts {
    /// Reads the table `sheets`; says what is wrong with it. A pack without one has no layouts.
    pub(crate) fn of(pack: &Pack) -> (Self, Vec<Diagnostic>) {
        let (sheets, said) = sheets::read(pack);
        let sheets = sheets.into_iter().map(Arc::new).collect();
        let known = HashMap::new();
        (Self { sheets, known }, said)
    }

    /// The layouts of a face, one for each item, in the order of the table.
    pub(crate) fn face(&mut self, job: &Job, face: &Face, measured: &MeasuredFace) -> Vec<Layout> {
        if self.sheets.is_empty() {
            return Vec::new();
        }
        let asked = Asked::of(job, face, measured);
        let key = asked.key();
        let sheets = self.sheets.iter().enumerate();
        let layouts = sheets.map(|(number, sheet)| {
            let known = self.known.entry((number, key.clone()));
            let found = known.or_insert_with(|| asked.lay(sheet));
            let counted = |value| Quantity {
                value,
                dim: sheet.unit.dim(),
            };
            Layout {
                sheet: Arc::clone(sheet),
                pieces: counted(found.pieces),
                by_area: counted(found.by_area),
                note: Arc::clone(&found.note),
            }
        });
        layouts.collect()
    }
}

impl Asked {
    fn of(job: &Job, face: &Face, measured: &MeasuredFace) -> Self {
        let size = |node| job.tape.value(node).value;
        let shape = [
            measured.shape.width,
            measured.shape.height,
            measured.shape.area,
        ];
        Self {
            outline: Outline::of(job, &face.shape.node, shape.map(size)),
            holes: face
                .openings
                .iter()
                .filter_map(|opening| Hole::of(job, opening))
                .collect(),
            area: size(measured.net),
            reveal: match face.shape.node {
                Shape::Reveal(_) => 0.0,
                _ => size(measured.reveal),
            },
            count: face.count,
        }
    }

    /// All sizes that a layout depends on.
    fn key(&self) -> Vec<u64> {
        let mut key = vec![
            u64::from(self.count),
            self.area.to_bits(),
            self.reveal.to_bits(),
            self.holes.len() as u64,
        ];
        for hole in &self.holes {
            key.extend([hole.width, hole.height, hole.count].map(f64::to_bits));
        }
        match &self.outline {
            Some(outline) => outline.key(&mut key),
            None => key.push(u64::MAX),
        }
        key
    }

    /// The larger of what the layout takes and what the area demands. Reveals are strips as
    /// wide as they are deep, cut as they come, so they are counted by area in both.
    fn lay(&self, sheet: &Sheet) -> Found {
        let by_area = self.area / sheet.covers();
        let cut = 1.0 + sheet.cutting;
        let laid = self.outline.as_ref().and_then(|outline| {
            let laid = Laid::out(outline, sheet)?;
            Some(self.less_openings(sheet, outline, laid))
        });
        let Some((laid, words)) = laid else {
            let note = format!(
                "counted by area, since the outline is not known or has too many pieces: {by_area:.2}, and {:.1} % for cutting",
                sheet.cutting * 100.0
            );
            return Found {
                pieces: by_area * cut,
                by_area,
                note: note.into(),
            };
        };
        let reveals = self.reveal / sheet.covers() * cut;
        let pieces = laid + reveals;
        let mut note = format!("laid out: {words}; {}; {by_area:.2} by area", sheet.laps());
        if reveals > 0.0 {
            note += &format!(", {reveals:.2} of them for reveals");
        }
        if by_area > pieces {
            note += ", which is more and counts";
        }
        Found {
            pieces: pieces.max(by_area),
            by_area,
            note: note.into(),
        }
    }

    /// What a layout takes of one face, with what its openings surely save, and how it came about
    /// in words.
    fn less_openings(&self, sheet: &Sheet, outline: &Outline, laid: Laid) -> (f64, String) {
        let around = openings::taken(&laid, sheet, &self.holes);
        match around {
            Some(less) if less < laid.pieces() => {
                let words = format!(
                    "{}, {} with what openings save wherever they are",
                    laid.words(sheet),
                    Laid::amount(less)
                );
                (less, words)
            }
            _ => match laid.shared(sheet, outline, self.count) {
                Some((share, from_one)) => {
                    let words = format!("{from_one} of such faces out of one sheet");
                    (share, words)
                }
                None => (laid.pieces(), laid.words(sheet)),
            },
        }
    }
}

#[cfg(test)]
mod tests;
