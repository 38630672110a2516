//! A change in the words of a table.

use super::{Change, Kind, Part, Value};
use crate::job::UnitSystem;
use std::fmt;

/// The cells of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// Of what: `Entry planter, face street`.
    pub part: String,
    /// Which value, or `added`, `removed`, `renamed`.
    pub what: String,
    /// Before; empty for what is new.
    pub old: String,
    /// After; empty for what is gone.
    pub new: String,
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Job => f.write_str("job"),
            Self::Rules => f.write_str("rules"),
            Self::Finish(name) => write!(f, "finish {name}"),
            Self::Structure(name) => f.write_str(name),
            Self::Face { structure, face } => write!(f, "{structure}, face {face}"),
            Self::Opening {
                structure,
                face,
                opening,
            } => write!(f, "{structure}, face {face}, opening {opening}"),
            Self::Price { description, .. } => write!(f, "prices: {description}"),
        }
    }
}

impl Change {
    /// The change in words, with sizes in the units of the job.
    pub fn words(&self, units: UnitSystem) -> Words {
        let open = match (&self.part, self.kind) {
            (_, Kind::Added | Kind::Removed) => "",
            (Part::Price { .. }, _) if self.what != "supplier" => "no price",
            (Part::Rules, _) if self.what.starts_with("caution") => "",
            _ => "not stated",
        };
        let value = |value: &Option<Value>| {
            let words = value.as_ref().map(|value| value.words(units));
            words.unwrap_or_else(|| open.to_owned())
        };
        Words {
            part: self.part.to_string(),
            what: match self.kind {
                Kind::Added => "added".to_owned(),
                Kind::Removed => "removed".to_owned(),
                Kind::Renamed => "renamed".to_owned(),
                Kind::Changed => self.what.clone(),
            },
            old: value(&self.old),
            new: value(&self.new),
        }
    }
}
