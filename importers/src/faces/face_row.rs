//! Rows of faces, and of openings below them.

use super::import::doubt;
use super::openings;
use super::reader::TableReader;
use super::row::{Cells, Trouble};
use super::sizes::Stated;
use super::{FaceRead, Guess, Import, Side, Sizes, Verdict};
use crate::cells::{Figure, given_length_at};
use crate::columns::Role;
use crate::grid::At;
use crate::profile::Are;
use compact_str::{CompactString, format_compact};

/// What a row calls its face, and what it says that it is made of.
pub(super) struct Names {
    face: CompactString,
    finish: Option<String>,
    substrate: Option<String>,
}

impl Cells<'_> {
    /// Whether the row has no name, and states an area or a count alone.
    pub(super) fn may_restate(&self) -> bool {
        self.first_text().is_none() && !self.seen.size
    }

    /// Reads them.
    pub(super) fn names(&self) -> Names {
        let own = self.shown(Role::Face).or_else(|| self.shown(Role::Kind));
        let face = own.map(CompactString::from);
        Names {
            face: face.unwrap_or_else(|| format_compact!("row {}", self.row.number + 1)),
            finish: self.text(Role::Finish),
            substrate: self.shown(Role::Substrate).map(|text| text.to_lowercase()),
        }
    }
}

impl TableReader<'_> {
    /// A row with the figures of a face.
    pub(super) fn face(&mut self, cells: &mut Cells<'_>) -> Result<Verdict, Trouble> {
        let structure = self.structure(cells);
        if let Some(total) = self.restated(cells) {
            return Ok(total);
        }
        let (stated, own) = cells.known_stated()?;
        if own.is_none() && cells.filled(Role::Count).is_none() {
            self.out.counted_once(cells);
        }
        let count = own.unwrap_or(1).saturating_mul(self.under.times);
        let sizes = sizes(cells, stated, count)?;
        self.out.derived(&sizes);
        let stated = areas_beside(cells, &sizes)?;
        let names = cells.known_names();
        let mut face = FaceRead {
            structure,
            name: names.face,
            count,
            times: self.under.times,
            finish: names.finish,
            substrate: names.substrate,
            openings: Vec::new(),
            at: cells.at(),
            is_net: is_net(cells, &sizes),
            sizes,
            stated,
            table: self.number,
        };
        if let Some(loose) = cells.own_opening()? {
            openings::put(&mut face, loose, cells.answers())?;
        } else if let Some((_, at)) = cells.stated_cell(Role::Reveal) {
            let text = format!("{} states a reveal, and its row no opening", cells.name(at));
            let help = "the plan has it not; add it to the openings of the face";
            cells.remarks.push(doubt(at, text, help));
        }
        self.out.faces.push(face);
        let number = self.out.faces.len() - 1;
        self.under.face = Some(number);
        Ok(Verdict::Face(number))
    }

    /// A nameless row that states nothing but the sum of those above it is a total.
    fn restated(&mut self, cells: &mut Cells<'_>) -> Option<Verdict> {
        if !cells.may_restate() {
            return None;
        }
        let area = cells.area(Role::Area).ok()??;
        cells.figures.clear();
        if !self
            .running
            .is_sum(Role::Area, area.size(), area.half_digit())
        {
            return None;
        }
        self.out.guesses.push(Guess {
            what: format!("row {} is a total", cells.row.number + 1),
            reason: "it has no name, and states the sum of the rows above it".to_owned(),
        });
        Some(self.total(cells, usize::MAX))
    }

    /// A row with the figures of an opening of the face above.
    pub(super) fn opening(&mut self, cells: &mut Cells<'_>) -> Result<Verdict, Trouble> {
        let _ = self.structure(cells);
        let name = cells
            .text(Role::Face)
            .or_else(|| cells.first_text().map(str::to_owned));
        let name = name.unwrap_or_else(|| "opening".to_owned());
        let loose = cells.opening_row(&name)?;
        let answers = cells.answers();
        let found = self
            .under
            .face
            .and_then(|at| Some((at, self.out.faces.get_mut(at)?)));
        let Some((number, face)) = found else {
            return Err(Trouble::Reject(
                "no face stands above the opening".to_owned(),
            ));
        };
        let opening = openings::put(face, loose, answers)?;
        Ok(Verdict::Opening(number, opening))
    }
}

/// The sizes of a face from what its row states; what is missing was answered, or is asked.
fn sizes(cells: &mut Cells<'_>, stated: Stated, count: u32) -> Result<Sizes, Trouble> {
    let at = cells.at();
    match stated {
        Stated::Rect(level, upright) => Ok(Sizes::Rect(level, upright)),
        Stated::Nothing => Err(Trouble::Reject("it states no size".to_owned())),
        Stated::Level(level) => {
            let height = height(cells, at, "states a length and no height")?;
            Ok(Sizes::Rect(level, height))
        }
        Stated::Area(area) => {
            let of = area_of(cells, &area, count)?;
            let side = Side::Answered(height(cells, at, "states an area alone")?);
            Ok(Sizes::Area { area, of, side })
        }
        Stated::High(area, height) => {
            let of = area_of(cells, &area, count)?;
            let side = Side::High(height);
            Ok(Sizes::Area { area, of, side })
        }
        Stated::Wide(area, length) => {
            let of = area_of(cells, &area, count)?;
            let side = Side::Long(length);
            Ok(Sizes::Area { area, of, side })
        }
    }
}

/// Whether an area beside a count is of one of the equal faces, or of all.
fn area_of(cells: &Cells<'_>, area: &Figure, count: u32) -> Result<Are, Trouble> {
    match (count, cells.answers().areas_are) {
        (1, _) => Ok(Are::All),
        (_, Some(of)) => Ok(of),
        (_, None) => {
            let name = cells.name(area.at());
            let text = format!("{name} states an area beside a count of {count}");
            Err(Trouble::Ask("areas_are", text, area.at()))
        }
    }
}

/// Whether the size of a face is an area that openings are off already.
fn is_net(cells: &Cells<'_>, sizes: &Sizes) -> bool {
    match sizes {
        Sizes::Area { area, .. } => cells.role(area.at().column) == Some(Role::NetArea),
        Sizes::Rect(..) => false,
    }
}

impl Import {
    /// A row that leaves the column of counts empty is there once, which is told once.
    fn counted_once(&mut self, cells: &Cells<'_>) {
        let Some(header) = cells.header(Role::Count) else {
            return;
        };
        let guess = Guess {
            what: format!("rows without a figure under `{header}` count once"),
            reason: "they state sizes, and no count".to_owned(),
        };
        if !self.guesses.contains(&guess) {
            self.guesses.push(guess);
        }
    }

    /// The size that follows from an area and another size is told once for each of both.
    fn derived(&mut self, sizes: &Sizes) {
        let (what, reason) = match sizes {
            Sizes::Area {
                side: Side::High(_),
                ..
            } => (
                "faces of an area and a height are as long as the area over the height",
                "their rows state no length, and a plan needs their edges; the area is as stated",
            ),
            Sizes::Area {
                side: Side::Long(_),
                ..
            } => (
                "faces of an area and a length are as high as the area over the length",
                "their rows state no height, and a plan needs their edges; the area is as stated",
            ),
            Sizes::Area { .. } => (
                "faces of an area alone are as long as the area over the height that was answered",
                "their rows state no sizes, and a plan needs their edges; the area is as stated",
            ),
            Sizes::Rect(..) => return,
        };
        let guess = Guess {
            what: what.to_owned(),
            reason: reason.to_owned(),
        };
        if !self.guesses.contains(&guess) {
            self.guesses.push(guess);
        }
    }
}

/// The areas that stand beside the sizes of a face.
fn areas_beside(cells: &mut Cells<'_>, sizes: &Sizes) -> Result<Vec<(Role, Figure)>, Trouble> {
    let beside: &[Role] = match sizes {
        Sizes::Rect(..) => &[Role::Area, Role::NetArea],
        sizes if is_net(cells, sizes) => &[],
        Sizes::Area { .. } => &[Role::NetArea],
    };
    let mut areas = Vec::new();
    for role in beside {
        areas.extend(cells.area(*role)?.map(|figure| (*role, figure)));
    }
    Ok(areas)
}

/// The height that was answered for rows that state none.
fn height(cells: &mut Cells<'_>, at: At, states: &str) -> Result<Figure, Trouble> {
    let Some(text) = &cells.answers().height else {
        let number = cells.row.number + 1;
        let text = format!("row {number} {states}: how high are such faces?");
        return Err(Trouble::Ask("height", text, at));
    };
    let height = given_length_at(text, at);
    height.map_err(|_| Trouble::Reject("the height that was answered cannot be read".to_owned()))
}
