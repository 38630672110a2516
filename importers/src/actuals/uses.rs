//! Materials, hours and areas of a record, each stated once.

use super::amount::{Kind, Used, money, used};
use super::entry::{Amount, At, Piece};
use parge_base::actuals::{AreaBuilt, HoursWorked, Lines, MaterialUsed, Scope, Written};
use parge_base::{Code, Diagnostic, Dim};

/// What was read so far.
pub(super) struct Uses<'l> {
    pub(super) lines: &'l Lines,
    /// Each with its amount as written, for what is said of a second one.
    pub(super) materials: Vec<(MaterialUsed, String)>,
    pub(super) hours: Vec<(HoursWorked, String)>,
    pub(super) areas: Vec<AreaBuilt>,
}

type Added = Result<(), Diagnostic>;

impl<'l> Uses<'l> {
    pub(super) fn new(lines: &'l Lines) -> Self {
        Self {
            lines,
            materials: Vec::new(),
            hours: Vec::new(),
            areas: Vec::new(),
        }
    }

    pub(super) fn item(&mut self, name: &Piece, amount: &Amount) -> Added {
        let line = self.lines.item(&name.text);
        let kind = line.map_or(Kind::Any, Kind::Item);
        let Used {
            amount: quantity,
            unit,
            paid,
        } = used(amount, kind, &self.lines.units, self.lines.currency)?;
        let item = line.map_or(&name.text, |line| &line.item).clone();
        let written = &amount.amount.text;
        let mut before = self.materials.iter();
        if let Some((first, known)) = before.find(|(first, _)| first.item == item) {
            let help = format!("add both up in one line: `{item} {known} + {written}`");
            return Err(twice(&format!("`{item}`"), name, &first.place, help));
        }
        let used = MaterialUsed {
            item,
            amount: quantity,
            unit,
            paid,
            place: name.place.clone(),
        };
        self.materials.push((used, written.clone()));
        Ok(())
    }

    pub(super) fn hours(&mut self, phase: &Piece, at: &At, amount: &Amount) -> Added {
        let line = self.lines.phase(&phase.text);
        let phase_name = line.map_or(&phase.text, |line| &line.phase).clone();
        let scope = match at {
            At::Whole => Scope::Whole,
            At::Job => Scope::Job,
            At::Structure(name) => {
                let line = self.lines.structure(&name.text);
                Scope::Structure(line.map_or(&name.text, |line| &line.name).clone())
            }
        };
        let kind = Kind::Of(Dim::TIME, "hours place 36 h");
        let of_time = Amount {
            price: None,
            ..amount.clone()
        };
        let time = used(&of_time, kind, &self.lines.units, self.lines.currency)?.amount;
        let wage = amount.price.as_ref();
        let wage = wage
            .map(|wage| money(wage, self.lines.currency))
            .transpose()?;
        self.once(phase, &phase_name, &scope, &amount.amount.text)?;
        let worked = HoursWorked {
            phase: phase_name,
            scope,
            time,
            wage,
            place: phase.place.clone(),
        };
        self.hours.push((worked, amount.amount.text.clone()));
        Ok(())
    }

    /// A phase is recorded once a structure, or once as a whole.
    fn once(&self, at: &Piece, phase: &str, scope: &Scope, written: &str) -> Added {
        for (first, known) in self.hours.iter().filter(|(first, _)| first.phase == phase) {
            if first.scope == *scope {
                let what = match scope {
                    Scope::Whole => format!("`{phase}`"),
                    Scope::Structure(name) => format!("`{phase}` at `{name}`"),
                    Scope::Job => format!("`{phase}` of the job"),
                };
                let help = format!("add both up in one line: `{known} + {written}`");
                return Err(twice(&what, at, &first.place, help));
            }
            if (first.scope == Scope::Whole) != (*scope == Scope::Whole) {
                let what = format!("`{phase}` as a whole and in parts");
                let help = "keep the hours of the whole phase, or those of its structures with \
                            `job` for what belongs to none";
                return Err(twice(&what, at, &first.place, help.to_owned()));
            }
        }
        Ok(())
    }

    pub(super) fn area(
        &mut self,
        structure: &Piece,
        face: Option<&Piece>,
        amount: &Amount,
    ) -> Added {
        let line = self.lines.structure(&structure.text);
        let name = line.map_or(&structure.text, |line| &line.name).clone();
        let faces = line.map_or(&[][..], |line| &line.faces);
        let face = face.map(|face| {
            let known = faces
                .iter()
                .find(|known| known.eq_ignore_ascii_case(&face.text));
            known.unwrap_or(&face.text).clone()
        });
        if let Some(price) = &amount.price {
            let help = "leave the price out: areas say how much was built";
            return Err(price.wrong(Code::BadActuals, "an area has no price", help));
        }
        let kind = Kind::Of(Dim::AREA, "area \"Grotto\" 312 ft2");
        let area = used(amount, kind, &self.lines.units, self.lines.currency)?.amount;
        let overlaps = |other: &&AreaBuilt| {
            let both = other.face.as_ref().zip(face.as_ref());
            other.structure == name && both.is_none_or(|(a, b)| a == b)
        };
        if let Some(first) = self.areas.iter().find(overlaps) {
            let help = "keep the area of the whole structure, or those of its faces".to_owned();
            let what = format!("the area of `{name}`");
            return Err(twice(&what, structure, &first.place, help));
        }
        self.areas.push(AreaBuilt {
            structure: name,
            face,
            area,
            place: structure.place.clone(),
        });
        Ok(())
    }
}

/// What is stated twice is neither added up nor taken from one of both: nobody knows whether the
/// second line corrects the first or adds to it.
pub(super) fn twice(what: &str, again: &Piece, first: &Written, help: String) -> Diagnostic {
    let label = |words: &str, place: &Written| match place.words.as_str() {
        "" => words.to_owned(),
        cell => format!("{words}: {cell}"),
    };
    Diagnostic::new(Code::UsedTwice, format!("{what} is stated twice"), help)
        .at(again.place.span, label("again here", &again.place))
        .at(first.span, label("first here", first))
}
