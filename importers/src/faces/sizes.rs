//! The sizes that a row states.

use super::row::{Cells, Trouble};
use crate::cells::{self, Count, Figure, LengthUnit, Manner, UnitFrom, UnitWord, Why};
use crate::columns::Role;
use crate::grid::{At, Cell, Content};

/// What a row says of its size.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Stated {
    /// Both sizes.
    Rect(Figure, Figure),
    /// The level size alone.
    Level(Figure),
    /// The area alone.
    Area(Figure),
    /// The area, and the upright size.
    High(Figure, Figure),
    /// The area, and the level size.
    Wide(Figure, Figure),
    /// Nothing.
    Nothing,
}

/// What stands in a cell where nothing is meant.
const BLANKS: [&str; 8] = ["-", "--", "–", "n/a", "na", "nil", "none", "0"];

/// Whether a cell of a measure says nothing: empty marks, and 0 where that is none.
pub(super) fn is_blank(cell: &Cell) -> bool {
    match &cell.content {
        Content::Number(number) => *number == 0.0,
        Content::Text(text) => BLANKS.iter().any(|blank| blank.eq_ignore_ascii_case(text)),
        _ => false,
    }
}

impl Cells<'_> {
    /// What the row says of its size, and its count where it states one. The quantity of a bill is
    /// the size itself.
    pub(super) fn stated(&mut self) -> Result<(Stated, Option<u32>), Trouble> {
        if let Some(billed) = self.billed()? {
            return Ok((billed, None));
        }
        let count = self.count()?.map(|count| count.number);
        Ok((self.sizes()?, count))
    }

    /// The sizes of the row, from whichever columns state them.
    pub(super) fn sizes(&mut self) -> Result<Stated, Trouble> {
        let size = self.pair(Role::Size)?;
        let length = self.length(Role::Length)?;
        let width = self.length(Role::Width)?;
        let height = self.length(Role::Height)?;
        let (size_level, size_upright) = match size {
            Some((level, upright)) => (Some(level), upright),
            None => (None, None),
        };
        // Length and width without a height are the two sizes of the face.
        let (level, upright) = match (length, width, height) {
            (Some(length), Some(width), None) => (Some(length), Some(width)),
            (length, width, height) => (length.or(width), height),
        };
        // Of two statements of one thing neither is passed over.
        let twice = (size_level.is_some() && level.is_some())
            || (size_upright.is_some() && upright.is_some());
        if twice {
            let why = "it states its size in one column, and its length or height in another";
            return Err(Trouble::Reject(why.to_owned()));
        }
        let level = size_level.or(level);
        let upright = size_upright.or(upright);
        match (level, upright) {
            (Some(level), Some(upright)) => Ok(Stated::Rect(level, upright)),
            (Some(level), None) => Ok(match self.area_alone()? {
                Stated::Area(area) => Stated::Wide(area, level),
                _ => Stated::Level(level),
            }),
            (None, Some(upright)) => match self.area_alone()? {
                Stated::Area(area) => Ok(Stated::High(area, upright)),
                _ => Err(Trouble::Reject(
                    "it states a height, and no length or area".to_owned(),
                )),
            },
            (None, None) => self.area_alone(),
        }
    }

    fn area_alone(&mut self) -> Result<Stated, Trouble> {
        for role in [Role::Area, Role::NetArea] {
            if let Some(area) = self.area(role)? {
                return Ok(Stated::Area(area));
            }
        }
        Ok(Stated::Nothing)
    }

    /// The count of the row; 1 where it states none.
    pub(super) fn count(&mut self) -> Result<Option<Count>, Trouble> {
        let Some((cell, at)) = self.filled(Role::Count) else {
            return Ok(None);
        };
        let manner = self.manner(Role::Count);
        let count =
            cells::count(cell, at, &manner).map_err(|why| self.trouble(why, at, "count"))?;
        self.was_text(count.was_text, at);
        let signed = f64::from(count.number) * if count.negative { -1.0 } else { 1.0 };
        self.figures.push((Role::Count, signed));
        Ok(Some(count))
    }

    /// How many openings stand in the row's own columns.
    pub(super) fn count_of(&mut self, role: Role) -> Result<Option<u32>, Trouble> {
        let Some((cell, at)) = self.filled(role).filter(|(cell, _)| !is_blank(cell)) else {
            return Ok(None);
        };
        let manner = self.manner(role);
        let count =
            cells::count(cell, at, &manner).map_err(|why| self.trouble(why, at, "count"))?;
        self.figures.push((role, f64::from(count.number)));
        Ok(Some(count.number))
    }

    /// A length in the column of a role, with the inches in a column beside it.
    pub(super) fn length(&mut self, role: Role) -> Result<Option<Figure>, Trouble> {
        let mut figure: Option<Figure> = None;
        let mut inches: Option<Figure> = None;
        for (cell, at, unit) in self.all_of(role) {
            if is_blank(cell) {
                continue;
            }
            let manner = self.manner_of(unit);
            let read = cells::length(cell, at, &manner)
                .map_err(|why| self.trouble(why, at, role.word()))?;
            self.was_a_day(cell, at);
            let Some(one) = read else {
                let text = format!("{} holds two sizes", self.name(at));
                return Err(Trouble::Reject(text));
            };
            match (&figure, &inches) {
                (None, _) => figure = Some(one),
                (_, None) => inches = Some(one),
                _ => {}
            }
        }
        if let (Some(feet), Some(inches)) = (&figure, &inches) {
            figure = Some(cells::feet_and_inches(feet, inches));
        }
        if let Some(figure) = &figure {
            self.note_figure(role, figure);
        }
        Ok(figure)
    }

    /// Two lengths in one cell; the second may be missing.
    pub(super) fn pair(&mut self, role: Role) -> Result<Option<(Figure, Option<Figure>)>, Trouble> {
        let Some((cell, at)) = self.filled(role).filter(|(cell, _)| !is_blank(cell)) else {
            return Ok(None);
        };
        let manner = self.manner(role);
        let read =
            cells::lengths(cell, at, &manner).map_err(|why| self.trouble(why, at, role.word()))?;
        self.was_a_day(cell, at);
        let mut read = read.into_iter();
        let Some(first) = read.next() else {
            return Ok(None);
        };
        let second = read.next();
        self.note_figure(role, &first);
        if let Some(second) = &second {
            self.note_figure(role, second);
        }
        Ok(Some((first, second)))
    }

    /// An area in the column of a role, or the row's number where its unit is one of area.
    pub(super) fn area(&mut self, role: Role) -> Result<Option<Figure>, Trouble> {
        let Some((cell, at)) = self.filled(role).filter(|(cell, _)| !is_blank(cell)) else {
            return Ok(None);
        };
        let manner = self.manner(role);
        let area =
            cells::area(cell, at, &manner).map_err(|why| self.trouble(why, at, role.word()))?;
        self.was_a_day(cell, at);
        self.note_figure(role, &area);
        Ok(Some(area))
    }

    /// A bill states quantity and unit: the quantity is an area or a length where the unit is one.
    pub(super) fn billed(&mut self) -> Result<Option<Stated>, Trouble> {
        let Some((cell, at)) = self.filled(Role::Count) else {
            return Ok(None);
        };
        match self.unit {
            Some(UnitWord::Area(unit)) => {
                let manner = Manner {
                    area: Some((unit, UnitFrom::Row)),
                    ..self.manner(Role::Area)
                };
                let read = cells::area(cell, at, &manner);
                let area = read.map_err(|why| self.trouble(why, at, "area"))?;
                self.note_figure(Role::Area, &area);
                Ok(Some(Stated::Area(area)))
            }
            Some(UnitWord::Length(unit)) => {
                let manner = self.with_unit(unit);
                let read = cells::lengths(cell, at, &manner);
                match read
                    .map_err(|why| self.trouble(why, at, "length"))?
                    .as_slice()
                {
                    [one] => {
                        self.note_figure(Role::Length, one);
                        Ok(Some(Stated::Level(one.clone())))
                    }
                    _ => Ok(None),
                }
            }
            _ => Ok(None),
        }
    }

    fn with_unit(&self, unit: LengthUnit) -> Manner {
        Manner {
            length: Some((unit, UnitFrom::Row)),
            ..self.manner(Role::Length)
        }
    }

    fn note_figure(&mut self, role: Role, figure: &Figure) {
        self.was_text(figure.was_text(), figure.at());
        if figure.was_text() {
            self.as_text.push((role, figure.size()));
        }
        let sign = if figure.is_negative() { -1.0 } else { 1.0 };
        self.figures.push((role, sign * figure.size()));
    }

    fn trouble(&self, why: Why, at: At, what: &str) -> Trouble {
        let name = self.name(at);
        match why {
            Why::Unclear(words) => Trouble::Reject(format!("{name}, {what}: {words}")),
            Why::NoUnit if what.contains("area") || what == "deduction" => Trouble::Ask(
                "area",
                format!("{name} and others state an area, and nothing says in which unit"),
                at,
            ),
            Why::NoUnit => Trouble::Ask(
                "length",
                format!("{name} and others state a size, and nothing says in which unit"),
                at,
            ),
            Why::Date { day, fraction } => {
                if self.dates_are_days() {
                    return Trouble::Reject(format!(
                        "{name}, {what}: the cell holds the day {day}"
                    ));
                }
                let text = format!(
                    "{name} holds the day {day}, which a spreadsheet makes of a typed `{fraction}`"
                );
                Trouble::Ask("dates", text, at)
            }
        }
    }
}
