//! What a record states that no line of the estimate has: listed by itself, and never dropped.

use crate::job::UnitSystem;
use crate::price::Estimate;
use parge_base::actuals::{AreaBuilt, HoursWorked, MaterialUsed, Scope, Written};
use parge_base::money::MoneyOverflow;
use parge_base::number::whole_up;
use parge_base::{Code, Diagnostic, Money, Quantity, Unit, Units, suggest};

/// What is recorded of something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// How much of an item was used.
    Material,
    /// How long a phase took.
    Hours,
    /// How much was coated.
    Area,
}

impl Kind {
    /// `material`, `hours` or `area`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Material => "material",
            Self::Hours => "hours",
            Self::Area => "area",
        }
    }
}

/// What matches no line.
#[derive(Debug, Clone, PartialEq)]
pub struct Unmatched {
    /// What is recorded.
    pub kind: Kind,
    /// The item, the phase, or the structure with its face, as written.
    pub name: String,
    /// Of what hours were worked.
    pub scope: Option<Scope>,
    /// How much.
    pub amount: Quantity,
    /// The unit to show it in.
    pub unit: Unit,
    /// What it cost, where the record states a price.
    pub cost: Option<Money>,
    /// Where.
    pub place: Written,
}

impl Unmatched {
    pub(super) fn material(used: &MaterialUsed) -> Result<Self, MoneyOverflow> {
        let cost = used.paid.as_ref().map(|paid| {
            let packs = whole_up(used.amount.value / paid.pack.size.value);
            paid.price.times(packs)
        });
        Ok(Self {
            kind: Kind::Material,
            name: used.item.clone(),
            scope: None,
            amount: used.amount,
            unit: used.unit.clone(),
            cost: cost.transpose()?,
            place: used.place.clone(),
        })
    }

    pub(super) fn hours(worked: &HoursWorked) -> Result<Self, MoneyOverflow> {
        let unit = hour();
        let hours = unit.show(worked.time).unwrap_or_default();
        let cost = worked.wage.map(|wage| wage.times(hours)).transpose()?;
        Ok(Self {
            kind: Kind::Hours,
            name: worked.phase.clone(),
            scope: Some(worked.scope.clone()),
            amount: worked.time,
            unit,
            cost,
            place: worked.place.clone(),
        })
    }

    pub(super) fn area(built: &AreaBuilt, unit: Unit) -> Self {
        let name = match &built.face {
            Some(face) => format!("{}/{face}", built.structure),
            None => built.structure.clone(),
        };
        Self {
            kind: Kind::Area,
            name,
            scope: None,
            amount: built.area,
            unit,
            cost: None,
            place: built.place.clone(),
        }
    }

    /// The warning, with the name that may be meant.
    pub(super) fn said(&self, estimate: &Estimate) -> Diagnostic {
        let job = &estimate.takeoff.measured.job;
        let structures = || job.structures.iter().map(|found| found.name.as_str());
        let items = || {
            estimate
                .materials
                .iter()
                .map(|line| line.material.item.as_str())
        };
        let phases = || {
            estimate
                .labour
                .iter()
                .map(|line| line.labour.phase.as_str())
        };
        let known_phase = phases().any(|phase| phase == self.name);
        let (what, near) = match (self.kind, &self.scope) {
            (Kind::Hours, Some(Scope::Structure(name))) if known_phase => (
                format!("`{}` at `{name}`", self.name),
                suggest::nearest(name, structures().filter(|known| known != name)),
            ),
            (Kind::Hours, _) => {
                let others = phases().filter(|known| *known != self.name);
                (
                    format!("`{}`", self.name),
                    suggest::nearest(&self.name, others),
                )
            }
            (Kind::Area, _) => {
                let structure = self.name.split('/').next().unwrap_or(&self.name);
                let others = structures().filter(|known| *known != structure);
                (
                    format!("`{}`", self.name),
                    suggest::nearest(structure, others),
                )
            }
            (Kind::Material, _) => (
                format!("`{}`", self.name),
                suggest::nearest(&self.name, items()),
            ),
        };
        let message = format!("{what} matches no line of the estimate");
        let help = match near {
            Some(near) => format!("did you mean `{near}`? as it stands, it is listed by itself"),
            None => "it is listed by itself: nothing was estimated that it could be held against"
                .to_owned(),
        };
        let said = Diagnostic::new(Code::MatchesNoLine, message, help);
        said.at(self.place.span, self.place.words.clone())
    }
}

/// The unit that hours are shown in. It is known to every pack.
pub(super) fn hour() -> Unit {
    Units::standard()
        .parse("h")
        .unwrap_or_else(|_| Unit::plain())
}

/// The unit that areas are shown in.
pub(super) fn area_unit(system: UnitSystem) -> Unit {
    let word = match system {
        UnitSystem::Us => "ft2",
        UnitSystem::Metric => "m2",
    };
    Units::standard()
        .parse(word)
        .unwrap_or_else(|_| Unit::plain())
}
