//! Where figures have their units from, where neither their cells nor their headers name them, and
//! what was answered: both decide on sizes, so that they are signed with them.

use super::{BLOCK, FaceRead, Guess, Import, OpeningSizes, Side, Sizes};
use crate::cells::{Figure, UnitFrom};
use crate::grid::Book;
use crate::profile::Profile;
use rayon::prelude::*;

/// Notes the units that stand elsewhere, and the answers.
pub(super) fn tell(book: &Book, profile: &Profile, out: &mut Import) {
    let blocks = out.faces.par_chunks(BLOCK).map(elsewhere);
    let found = blocks.reduce(Elsewhere::default, Elsewhere::and);
    let units = UnitFrom::ALL.into_iter().zip(found.0);
    let units = units.filter_map(|(from, (count, first))| {
        let first = first?;
        Some(Guess {
            what: format!(
                "{count} figures have their unit from what stands {}",
                from.words()
            ),
            reason: format!(
                "neither their cells nor their headers name one; the first is {}, {}",
                book.cell_name(first.at()),
                first.written()
            ),
        })
    });
    out.guesses.extend(units);
    let given = profile.answers.given().into_iter();
    let given: Vec<String> = given
        .map(|(key, value)| format!("`{key}` is `{value}`"))
        .collect();
    if !given.is_empty() {
        out.guesses.push(Guess {
            what: given.join(", "),
            reason: "it was answered so, or the profile says it".to_owned(),
        });
    }
}

/// How many figures have their unit from each place that is neither their cell nor their header, by
/// the numbers of the places, with the first of them.
#[derive(Default)]
struct Elsewhere<'a>([(usize, Option<&'a Figure>); UnitFrom::ALL.len()]);

impl Elsewhere<'_> {
    /// With those of the faces below.
    fn and(mut self, below: Self) -> Self {
        for ((count, first), (more, next)) in self.0.iter_mut().zip(below.0) {
            *count += more;
            *first = first.or(next);
        }
        self
    }
}

fn elsewhere(faces: &[FaceRead]) -> Elsewhere<'_> {
    let mut found = Elsewhere::default();
    let figures = faces.iter().flat_map(figures);
    for figure in figures.filter(|figure| !is_near(figure.unit_from())) {
        if let Some((count, first)) = found.0.get_mut(figure.unit_from() as usize) {
            *count += 1;
            first.get_or_insert(figure);
        }
    }
    found
}

/// Whether a unit stands in the cell of its figure, or in its header.
fn is_near(from: UnitFrom) -> bool {
    matches!(from, UnitFrom::Cell | UnitFrom::Header)
}

/// The figures of a face and of its openings.
fn figures(face: &FaceRead) -> impl Iterator<Item = &Figure> {
    let sizes = match &face.sizes {
        Sizes::Rect(level, upright) => [level, upright],
        Sizes::Area { area, side, .. } => match side {
            Side::Answered(size) | Side::High(size) | Side::Long(size) => [area, size],
        },
    };
    let openings = face.openings.iter().flat_map(|opening| {
        let (first, second) = match &opening.sizes {
            OpeningSizes::Rect(level, upright) => (level, Some(upright)),
            OpeningSizes::Area(area, _) => (area, None),
        };
        [Some(first), second, opening.reveal.as_ref()]
    });
    sizes.into_iter().chain(openings.flatten())
}
