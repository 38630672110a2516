//! Openings: in rows of their own, and in the columns of a face's row.

use super::row::{Cells, Trouble};
use super::sizes::{Stated, is_blank};
use super::{FaceRead, OpeningRead, OpeningSizes, Sizes, stated};
use crate::cells::{self, Figure};
use crate::columns::Role;
use crate::grid::At;
use crate::profile::{Answers, Are};

/// How far a sum of openings may be over the face for binary noise.
const NOISE: f64 = 1e-9;

/// An opening before it is in a face: sizes of one, and how many as the sheet says.
pub(super) struct Loose {
    pub(super) name: String,
    pub(super) sizes: LooseSizes,
    pub(super) count: u32,
    pub(super) reveal: Option<Figure>,
    /// The areas that its row states beside sizes.
    pub(super) stated: Vec<(Role, Figure)>,
    pub(super) at: At,
}

/// Its sizes.
pub(super) enum LooseSizes {
    Rect(Figure, Figure),
    Area(Figure),
}

impl Cells<'_> {
    /// The opening in the own columns of a face's row, if there is one.
    pub(super) fn own_opening(&mut self) -> Result<Option<Loose>, Trouble> {
        if !self.has_openings() {
            return Ok(None);
        }
        let count = self.count_of(Role::OpeningCount)?;
        let pair = self.pair(Role::OpeningSize)?;
        let width = self.length(Role::OpeningWidth)?;
        let height = self.length(Role::OpeningHeight)?;
        let sizes = match (pair, width, height) {
            (Some((level, Some(upright))), ..) => Some(LooseSizes::Rect(level, upright)),
            (Some(_), ..) => {
                let text = "the size of its opening is one length".to_owned();
                return Err(Trouble::Reject(text));
            }
            (None, Some(width), Some(height)) => Some(LooseSizes::Rect(width, height)),
            (None, None, None) => None,
            _ => {
                let text = "its opening has a width or a height alone".to_owned();
                return Err(Trouble::Reject(text));
            }
        };
        let deducted = self.deduction()?;
        let stated = match (&sizes, &deducted) {
            (Some(sizes), Some(deducted)) => self.beside(sizes, deducted)?,
            _ => Vec::new(),
        };
        let Some(sizes) = sizes.or(deducted) else {
            return match count {
                Some(_) => Err(Trouble::Reject(
                    "it counts openings without a size".to_owned(),
                )),
                None => Ok(None),
            };
        };
        let place = match &sizes {
            LooseSizes::Rect(level, _) => level.at(),
            LooseSizes::Area(area) => area.at(),
        };
        Ok(Some(Loose {
            name: "opening".to_owned(),
            sizes,
            count: count.unwrap_or(1),
            reveal: self.length(Role::Reveal)?,
            stated,
            at: place,
        }))
    }

    /// A deduction that stands beside the sizes of the opening: an area is held against them where
    /// the opening has its face, and sizes have to be the same.
    fn beside(
        &self,
        sizes: &LooseSizes,
        deducted: &LooseSizes,
    ) -> Result<Vec<(Role, Figure)>, Trouble> {
        match (sizes, deducted) {
            (_, LooseSizes::Area(area)) => Ok(vec![(Role::Deduction, area.clone())]),
            (LooseSizes::Rect(level, upright), LooseSizes::Rect(width, height))
                if near(level.size(), width.size()) && near(upright.size(), height.size()) =>
            {
                Ok(Vec::new())
            }
            (_, LooseSizes::Rect(width, height)) => Err(Trouble::Reject(format!(
                "{} deducts {} x {}, and the sizes of its opening are others",
                self.name(width.at()),
                width.written(),
                height.written()
            ))),
        }
    }

    /// The cell of deductions holds an area, or the sizes of an opening.
    fn deduction(&mut self) -> Result<Option<LooseSizes>, Trouble> {
        let Some((cell, place)) = self
            .filled(Role::Deduction)
            .filter(|(cell, _)| !is_blank(cell))
        else {
            return Ok(None);
        };
        let manner = self.manner(Role::Deduction);
        if let Ok(read) = cells::lengths(cell, place, &manner)
            && let [level, upright] = read.as_slice()
        {
            let known = |(role, _): &(Role, f64)| {
                matches!(
                    role,
                    Role::OpeningSize | Role::OpeningWidth | Role::OpeningHeight
                )
            };
            if !self.figures.iter().any(known) {
                self.figures.push((Role::OpeningSize, level.size()));
                self.figures.push((Role::OpeningSize, upright.size()));
            }
            return Ok(Some(LooseSizes::Rect(level.clone(), upright.clone())));
        }
        Ok(self.area(Role::Deduction)?.map(LooseSizes::Area))
    }

    /// The opening that a row of its own states.
    pub(super) fn opening_row(&mut self, name: &str) -> Result<Loose, Trouble> {
        let (stated, count) = self.stated()?;
        let at = self.at();
        let sizes = match stated {
            Stated::Rect(level, upright) => LooseSizes::Rect(level, upright),
            Stated::Area(area) => LooseSizes::Area(area),
            Stated::Level(_) | Stated::Wide(..) | Stated::High(..) => {
                return Err(Trouble::Reject("the opening has one size".to_owned()));
            }
            Stated::Nothing => match self.own_opening()? {
                Some(own) => {
                    let name = name.to_owned();
                    return Ok(Loose { name, ..own });
                }
                None => return Err(Trouble::Reject("the opening has no size".to_owned())),
            },
        };
        Ok(Loose {
            name: name.to_owned(),
            stated: self.restated_opening(&sizes)?,
            sizes,
            count: count.unwrap_or(1),
            reveal: self.length(Role::Reveal)?,
            at,
        })
    }

    /// What the row of an opening states once more in other columns: areas are held against the
    /// sizes; two statements of the sizes themselves are one too many.
    fn restated_opening(&mut self, sizes: &LooseSizes) -> Result<Vec<(Role, Figure)>, Trouble> {
        let sized = [Role::OpeningSize, Role::OpeningWidth, Role::OpeningHeight];
        if sized
            .into_iter()
            .any(|role| self.stated_cell(role).is_some())
        {
            let why = "it states the size of its opening in two places";
            return Err(Trouble::Reject(why.to_owned()));
        }
        let mut stated = Vec::new();
        for role in [Role::Area, Role::NetArea] {
            let is_itself =
                |area: &Figure| matches!(sizes, LooseSizes::Area(own) if own.at() == area.at());
            // An area that is the opening's size was read already.
            let read = match sizes {
                LooseSizes::Area(_) if self.is_read(role) => None,
                _ => self.area(role)?,
            };
            stated.extend(
                read.filter(|area| !is_itself(area))
                    .map(|area| (role, area)),
            );
        }
        if let Some(deducted) = self.deduction()? {
            stated.extend(self.beside(sizes, &deducted)?);
        }
        Ok(stated)
    }

    /// Whether a figure of a role was read in the row.
    fn is_read(&self, role: Role) -> bool {
        self.figures.iter().any(|(known, _)| *known == role)
    }
}

/// Whether two sizes are the same but for binary noise.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= a.abs().max(b.abs()) * NOISE
}

/// Puts an opening into its face, if it fits; the number it has there.
pub(super) fn put(face: &mut FaceRead, loose: Loose, answers: &Answers) -> Result<usize, Trouble> {
    if face.is_net {
        return Err(Trouble::Reject(format!(
            "face `{}` states an area that openings are off already: they cannot be taken off once more",
            face.name
        )));
    }
    let equal = face.count;
    let of = match (equal, answers.openings_are) {
        (1, _) => Are::Each,
        (_, Some(of)) => of,
        (_, None) => {
            let text = format!(
                "face `{}` is there {equal} times, and has openings: are they those of one, or of all?",
                face.name
            );
            return Err(Trouble::Ask("openings_are", text, loose.at));
        }
    };
    let (sizes, count) = match (loose.sizes, of) {
        (LooseSizes::Rect(level, upright), Are::Each) => {
            (OpeningSizes::Rect(level, upright), loose.count)
        }
        (LooseSizes::Rect(level, upright), Are::All) => {
            if !loose.count.is_multiple_of(equal) {
                let text = format!(
                    "{} openings cannot be shared by {equal} equal faces",
                    loose.count
                );
                return Err(Trouble::Reject(text));
            }
            (OpeningSizes::Rect(level, upright), loose.count / equal)
        }
        (LooseSizes::Area(area), Are::Each) => (OpeningSizes::Area(area, 1), loose.count),
        (LooseSizes::Area(area), Are::All) => (OpeningSizes::Area(area, equal), loose.count),
    };
    let same = |name: &str| face.openings.iter().any(|other| other.name == name);
    let mut name = loose.name.clone();
    let mut number = 2;
    while same(&name) {
        name = format!("{} ({number})", loose.name);
        number += 1;
    }
    let opening = OpeningRead {
        name,
        sizes,
        count,
        reveal: loose.reveal,
        stated: loose.stated,
        at: loose.at,
    };
    fits(face, &opening)?;
    stated::opening_fits(face, &opening)?;
    face.openings.push(opening);
    Ok(face.openings.len() - 1)
}

/// An opening that is larger than its face was measured on another, or mistyped.
fn fits(face: &FaceRead, opening: &OpeningRead) -> Result<(), Trouble> {
    let reject = |words: String| Err(Trouble::Reject(words));
    if let (Sizes::Rect(level, upright), OpeningSizes::Rect(width, height)) =
        (&face.sizes, &opening.sizes)
        && (width.size() > level.size() + NOISE || height.size() > upright.size() + NOISE)
    {
        return reject(format!(
            "the opening, {} x {}, is larger than face `{}`, {} x {}",
            width.written(),
            height.written(),
            face.name,
            level.written(),
            upright.written()
        ));
    }
    if face.deducted() + opening.area() > face.gross() + NOISE {
        return reject(format!(
            "the openings take more than face `{}` has",
            face.name
        ));
    }
    Ok(())
}
