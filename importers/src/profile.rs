//! Profiles: what is known of one client's sheets, and every answer to a question.
//!
//! A profile is all that an import knows beside the sheet. Flags, answers at a terminal and a file
//! fill the same fields, so that an import with answers can be kept as a profile and done again.

mod answers;
mod file;
mod script;

pub use answers::{Answers, Are, Choice, KEYS, Key, OpeningRows, Take};
pub use file::{read, write};
pub use script::{Scripted, scripted};

/// The profiles of the program, by name.
pub const SHIPPED: [(&str, &str); 4] = [
    (
        "room-schedule",
        include_str!("../profiles/room-schedule.toml"),
    ),
    (
        "elevation-schedule",
        include_str!("../profiles/elevation-schedule.toml"),
    ),
    ("area-bill", include_str!("../profiles/area-bill.toml")),
    (
        "metric-blocks",
        include_str!("../profiles/metric-blocks.toml"),
    ),
];

use crate::columns::{Role, Words};
use std::collections::BTreeMap;

/// What is known of a client's sheets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Profile {
    /// Its name.
    pub name: String,
    /// What it is for.
    pub about: String,
    /// The sheets that are read; all with a table where none is named.
    pub sheets: Vec<String>,
    /// Answers to questions.
    pub answers: Answers,
    /// What columns are, by their headers or their letters, in small letters.
    pub columns: BTreeMap<String, Role>,
    /// Words beside the English ones, as a file lists them.
    pub extra_words: BTreeMap<String, Vec<String>>,
    /// All words.
    pub words: Words,
    /// What the plan says that no sheet does.
    pub job: JobWords,
    /// Finishes that the plan defines, by name: technique and thickness.
    pub finishes: BTreeMap<String, FinishWords>,
    /// The script for odd cells, as text.
    pub script: Option<String>,
}

/// What the plan says beside faces.
#[derive(Debug, Clone, PartialEq, Eq, Default, serde::Deserialize, serde::Serialize)]
#[serde(deny_unknown_fields)]
pub struct JobWords {
    /// The name of the job; the file's where none is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The rule pack.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rules: Option<String>,
    /// The price book.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prices: Option<String>,
    /// The measuring rule.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measure: Option<String>,
    /// The finish of faces whose row names none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finish: Option<String>,
    /// What faces are built of whose row does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<String>,
}

/// A finish as a profile defines it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Deserialize, serde::Serialize)]
#[serde(deny_unknown_fields)]
pub struct FinishWords {
    /// The technique.
    pub technique: String,
    /// The thickness, as a plan writes it.
    pub thickness: String,
    /// The relief, where it is not 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub relief: Option<String>,
}

impl Profile {
    /// Whether a header is known by its text.
    pub fn knows_header(&self, text: &str) -> bool {
        self.columns.contains_key(&text.trim().to_lowercase())
    }

    /// What a column is, by its header, or by its letters with or without the sheet.
    pub fn role_of(&self, sheet: &str, letters: &str, header: &str) -> Option<Role> {
        let by_place = format!("{sheet}!{letters}").to_lowercase();
        let keys = [
            by_place,
            letters.to_lowercase(),
            header.trim().to_lowercase(),
        ];
        keys.iter().find_map(|key| self.columns.get(key)).copied()
    }

    /// Takes an answer: `hidden=include`, or `column.E=height`. What is wrong with it otherwise.
    pub fn answer(&mut self, key: &str, value: &str) -> Result<(), String> {
        if let Some(column) = key.strip_prefix("column.") {
            let role = Role::of(value).ok_or_else(|| {
                let known = Role::ALL.iter().map(|role| role.word());
                format!("one of: {}", known.collect::<Vec<_>>().join(", "))
            })?;
            self.columns.insert(column.trim().to_lowercase(), role);
            return Ok(());
        }
        self.answers.set(key, value)
    }
}

#[cfg(test)]
mod tests;
