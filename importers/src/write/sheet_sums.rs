//! The sums over the rows of the sheet, from nothing but the figures of their cells by what their
//! columns are. This reads a row a second time, apart from the reader that makes faces of it, as the
//! second entry of a book: what one of both gets wrong, their sums show.

use super::sums::{Sums, What};
use crate::cells::given_length;
use crate::columns::Role;
use crate::faces::{Import, RowRead, Verdict};
use crate::profile::{Answers, Are};
use std::collections::BTreeMap;

/// The figures of one row.
struct Row<'a>(&'a [(Role, f64)]);

/// What a row states of a size: two sizes with their product, or an area alone.
enum Stated {
    Sizes(f64, f64),
    Area(f64),
}

impl Stated {
    fn area(&self) -> f64 {
        match self {
            Self::Sizes(level, upright) => level * upright,
            Self::Area(area) => *area,
        }
    }
}

impl Row<'_> {
    /// The figures in the columns of a role, without their signs.
    fn all(&self, role: Role) -> impl Iterator<Item = f64> {
        let own = self.0.iter().filter(move |(of, _)| *of == role);
        own.map(|(_, value)| value.abs())
    }

    fn first(&self, role: Role) -> Option<f64> {
        self.all(role).next()
    }

    fn count(&self, role: Role) -> f64 {
        self.first(role).unwrap_or(1.0)
    }

    /// What stands in the columns of a face, or of an opening in a row of its own. `height` is the one
    /// that was answered.
    fn stated(&self, height: Option<f64>) -> Option<Stated> {
        let (length, width) = (self.first(Role::Length), self.first(Role::Width));
        let own_height = self.first(Role::Height);
        let (level, upright) = match (length, width, own_height) {
            (Some(length), Some(width), None) => (Some(length), Some(width)),
            (length, width, height) => (length.or(width), height),
        };
        let mut size = self.all(Role::Size);
        let (level, upright) = (size.next().or(level), size.next().or(upright));
        let area = self.first(Role::Area).or(self.first(Role::NetArea));
        match (level, upright, area, height) {
            (Some(level), Some(upright), ..) => Some(Stated::Sizes(level, upright)),
            (_, _, Some(area), _) => Some(Stated::Area(area)),
            (Some(level), None, None, Some(height)) => Some(Stated::Sizes(level, height)),
            _ => None,
        }
    }

    /// What stands in the columns of an opening.
    fn opening(&self) -> Option<Stated> {
        let mut size = self.all(Role::OpeningSize);
        let level = size.next().or(self.first(Role::OpeningWidth));
        let upright = size.next().or(self.first(Role::OpeningHeight));
        match (level, upright) {
            (Some(level), Some(upright)) => Some(Stated::Sizes(level, upright)),
            _ => self.first(Role::Deduction).map(Stated::Area),
        }
    }
}

/// The sums of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetSums {
    /// Over the rows that are faces or openings.
    pub(super) taken: Sums,
    /// Over rows that are not taken over.
    pub(super) rejected: Sums,
}

/// The sums of a sheet whose rows are read under `answers`.
pub fn sums_of_sheet(import: &Import, answers: &Answers) -> SheetSums {
    SheetSums {
        taken: of_taken(&import.rows, answers),
        rejected: of_rejected(&import.rows),
    }
}

fn of_taken(rows: &[RowRead], answers: &Answers) -> Sums {
    let height = answers.height.as_deref();
    let height = height.and_then(|text| given_length(text).ok());
    let height = height.map(|height| height.size());
    let mut sums = Sums::default();
    // How many equal ones there are of each face, for the rows of openings below it.
    let mut equal: BTreeMap<usize, f64> = BTreeMap::new();
    for read in rows {
        let row = Row(&read.figures);
        match read.verdict {
            Verdict::Face(number) => {
                let count = row.count(Role::Count) * f64::from(read.times);
                equal.insert(number, count);
                face(&mut sums, &row, count, height, answers);
                if let Some(own) = row.opening() {
                    let openings = own.area() * row.count(Role::OpeningCount);
                    opening(&mut sums, &row, openings, count, answers);
                }
            }
            Verdict::Opening(number, _) => {
                let count = equal.get(&number).copied().unwrap_or(0.0);
                let openings = match row.stated(None) {
                    Some(stated) => stated.area() * row.count(Role::Count),
                    None => {
                        row.opening().map_or(0.0, |own| own.area()) * row.count(Role::OpeningCount)
                    }
                };
                opening(&mut sums, &row, openings, count, answers);
            }
            _ => {}
        }
    }
    sums
}

fn face(sums: &mut Sums, row: &Row<'_>, count: f64, height: Option<f64>, answers: &Answers) {
    sums.add(What::Faces, 1.0);
    sums.add(What::Equal, count);
    match row.stated(height) {
        Some(Stated::Sizes(level, upright)) => {
            sums.add(What::Levels, level);
            sums.add(What::Uprights, upright);
            sums.add(What::Gross, level * upright * count);
        }
        Some(Stated::Area(area)) => {
            let is_of_one = answers.areas_are == Some(Are::Each);
            sums.add(What::Gross, if is_of_one { area * count } else { area });
        }
        None => {}
    }
}

/// The openings of one row, whose area is that of one face or of all.
fn opening(sums: &mut Sums, row: &Row<'_>, area: f64, count: f64, answers: &Answers) {
    let is_of_all = answers.openings_are == Some(Are::All);
    sums.add(What::Openings, 1.0);
    sums.add(What::Deducted, if is_of_all { area } else { area * count });
    sums.add(What::Reveals, row.first(Role::Reveal).unwrap_or(0.0));
}

/// What stands in rows that are not taken over, as far as it could be read.
fn of_rejected(rows: &[RowRead]) -> Sums {
    let mut sums = Sums::default();
    let rejected = rows
        .iter()
        .filter(|row| matches!(row.verdict, Verdict::Rejected(_)));
    for (role, value) in rejected.flat_map(|row| &row.figures) {
        let what = match role {
            Role::Length | Role::Width => What::Levels,
            Role::Height => What::Uprights,
            Role::Area => What::Gross,
            _ => continue,
        };
        sums.add(what, value.abs());
    }
    sums
}
