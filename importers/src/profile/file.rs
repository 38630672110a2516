//! Profiles as files.

use super::{FinishWords, JobWords, Profile};
use parge_base::{Code, Diagnostic, FileId, Sources, Span};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

#[derive(Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    about: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    sheets: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    script: Option<String>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    answers: BTreeMap<String, String>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    columns: BTreeMap<String, String>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    words: BTreeMap<String, Vec<String>>,
    #[serde(default)]
    job: JobWords,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    finishes: BTreeMap<String, FinishWords>,
}

/// Reads a profile.
pub fn read(sources: &Sources, file: FileId) -> Result<Profile, Diagnostic> {
    let text = sources.text(file);
    let wire: Wire = toml::from_str(text).map_err(|error| {
        let span = error.span().unwrap_or(0..0);
        let message = format!(
            "the profile cannot be read: {}",
            first_line(error.message())
        );
        let help = "a profile has `name`, `sheets`, `script`, and the tables [answers], [columns], \
                    [words], [job] and [finishes]";
        Diagnostic::new(Code::BadProfile, message, help)
            .at(Span::new(file, span.start, span.end), "")
    })?;
    let mut profile = Profile {
        name: wire.name,
        about: wire.about,
        sheets: wire.sheets,
        job: wire.job,
        finishes: wire.finishes,
        script: wire.script,
        ..Profile::default()
    };
    let wrong = |what: &str, value: &str, help: String| {
        let at = text.find(value).unwrap_or(0);
        let message = format!("`{value}` is nothing that `{what}` can be");
        let help = format!("write {help}");
        Diagnostic::new(Code::BadProfile, message, help)
            .at(Span::new(file, at, at + value.len()), "")
    };
    for (key, value) in &wire.answers {
        let taken = profile.answer(key, value);
        taken.map_err(|help| wrong(key, value, help))?;
    }
    for (header, role) in &wire.columns {
        let taken = profile.answer(&format!("column.{header}"), role);
        taken.map_err(|help| wrong(header, role, help))?;
    }
    for (key, list) in &wire.words {
        let taken = profile.words.add(key, list);
        taken.map_err(|help| wrong("words", key, help))?;
    }
    profile.extra_words = wire.words;
    Ok(profile)
}

fn first_line(text: &str) -> &str {
    text.lines().next().unwrap_or(text)
}

/// A profile as the text of a file; none where it cannot be written.
pub fn write(profile: &Profile) -> Option<String> {
    let columns = profile.columns.iter();
    let answers = profile.answers.given().into_iter();
    let wire = Wire {
        name: profile.name.clone(),
        about: profile.about.clone(),
        sheets: profile.sheets.clone(),
        script: profile.script.clone(),
        answers: answers
            .map(|(key, value)| (key.to_owned(), value))
            .collect(),
        columns: columns
            .map(|(header, role)| (header.clone(), role.word().to_owned()))
            .collect(),
        words: profile.extra_words.clone(),
        job: profile.job.clone(),
        finishes: profile.finishes.clone(),
    };
    toml::to_string_pretty(&wire).ok()
}
