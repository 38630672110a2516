//! Where figures have their units from, where neither their cells nor their headers name them, and
//! what was answered: both decide on sizes, so that they are signed with them.

use super::{FaceRead, Guess, Import, OpeningSizes, Side, Sizes};
use crate::cells::{Figure, UnitFrom};
use crate::grid::Book;
use crate::profile::Profile;
use std::collections::BTreeMap;

/// Notes the units that stand elsewhere, and the answers.
pub(super) fn tell(book: &Book, profile: &Profile, out: &mut Import) {
    let mut found: BTreeMap<UnitFrom, (usize, &Figure)> = BTreeMap::new();
    for figure in out.faces.iter().flat_map(figures) {
        if !matches!(figure.unit_from(), UnitFrom::Cell | UnitFrom::Header) {
            let (count, _) = found.entry(figure.unit_from()).or_insert((0, figure));
            *count += 1;
        }
    }
    let units: Vec<Guess> = found
        .into_iter()
        .map(|(from, (count, first))| Guess {
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
        .collect();
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
