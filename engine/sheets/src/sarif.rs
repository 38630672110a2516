//! Diagnostics as SARIF 2.1.0, the form in which code review tools take the findings of a
//! checker and show them at the lines of a change (OASIS standard, with errata 01 of 2023).
//!
//! Braces in messages are not doubled, though section 3.11.5 of the standard asks for it: the
//! tools that show messages do not take the second one away, and `{{` would be wrong in a plan.

use parge_base::{Code, Diagnostic, Label, Severity, Sources, Span, why};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use serde::Serialize;
use std::collections::BTreeSet;
use std::path::{Component, Path, PathBuf};

const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// What was said of one plan and of the files that it asks for.
#[derive(Debug, Clone, Copy)]
pub struct Checked<'a> {
    /// The plan's path as it is shown: where to point for what has no place in a text.
    pub plan: &'a str,
    /// All that was said.
    pub diagnostics: &'a [Diagnostic],
}

/// The path of a file from the folder of the review, by the name it is shown under while a plan
/// is checked: what a plan names may lie beside it.
pub type Find<'f> = dyn Fn(&Checked<'_>, &str) -> PathBuf + 'f;

/// The findings of one run as a SARIF log.
pub fn sarif(checked: &[Checked<'_>], sources: &Sources, find: &Find<'_>) -> String {
    let all = checked.iter().flat_map(|plan| plan.diagnostics);
    let codes: BTreeSet<Code> = all.map(|diagnostic| diagnostic.code).collect();
    let codes: Vec<Code> = codes.into_iter().collect();
    let results = checked.iter().flat_map(|plan| {
        let places = Places {
            plan,
            sources,
            find,
        };
        let codes = &codes;
        let results = plan.diagnostics.iter();
        results.map(move |diagnostic| places.result(diagnostic, codes))
    });
    let log = Log {
        schema: SCHEMA,
        version: "2.1.0",
        runs: [Run {
            tool: Tool {
                driver: Driver {
                    name: "parge",
                    version: env!("CARGO_PKG_VERSION"),
                    rules: codes.iter().copied().map(rule).collect(),
                },
            },
            column_kind: "unicodeCodePoints",
            results: results.collect(),
        }],
    };
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    serde_json::to_string_pretty(&log).unwrap_or_default()
}

fn rule(code: Code) -> Rule {
    let page = why::page(code);
    Rule {
        id: code.id(),
        short_description: Text::plain(code.title()),
        help: Help {
            text: why::meaning(page),
            markdown: page,
        },
        default_configuration: Configuration {
            level: level(code.severity()),
        },
    }
}

fn level(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

#[derive(Clone, Copy)]
struct Places<'a> {
    plan: &'a Checked<'a>,
    sources: &'a Sources,
    find: &'a Find<'a>,
}

impl Places<'_> {
    fn result(self, diagnostic: &Diagnostic, codes: &[Code]) -> Finding {
        let mut labels = diagnostic.labels.iter();
        let first = match labels.next() {
            Some(label) => self.label(label, None),
            None => Location {
                id: None,
                physical_location: self.physical(self.plan.plan, None),
                message: None,
            },
        };
        let related = labels.zip(1..);
        Finding {
            rule_id: diagnostic.code.id(),
            rule_index: codes.iter().position(|code| *code == diagnostic.code),
            level: level(diagnostic.severity()),
            message: Text::plain(format!("{}\nhelp: {}", diagnostic.message, diagnostic.help)),
            locations: [first],
            related_locations: related
                .map(|(label, id)| self.label(label, Some(id)))
                .collect(),
        }
    }

    fn label(self, label: &Label, id: Option<usize>) -> Location {
        let name = self.sources.name(label.span.file);
        Location {
            id,
            physical_location: self.physical(name, Some(label.span)),
            message: (!label.text.is_empty()).then(|| Text::plain(label.text.clone())),
        }
    }

    fn physical(self, name: &str, span: Option<Span>) -> Physical {
        Physical {
            artifact_location: Artifact {
                uri: uri(&(self.find)(self.plan, name)),
            },
            region: span.map(|span| {
                let start = self.sources.place(span.file, span.start);
                let end = self.sources.place(span.file, span.end);
                Region {
                    start_line: start.line,
                    start_column: start.column,
                    end_line: end.line,
                    end_column: end.column,
                }
            }),
        }
    }
}

/// What stands unchanged in a URI, by RFC 3986: letters, digits and these.
const ESCAPED: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// A path as a URI with `/` between its parts: relative, or of scheme `file` for a path that
/// leads elsewhere.
fn uri(path: &Path) -> String {
    let mut parts = Vec::new();
    for part in path.components() {
        match part {
            Component::CurDir | Component::RootDir => {}
            Component::Prefix(_) | Component::ParentDir | Component::Normal(_) => {
                let text = part.as_os_str().to_string_lossy();
                parts.push(utf8_percent_encode(&text, ESCAPED).to_string());
            }
        }
    }
    let parts = parts.join("/");
    if path.is_absolute() {
        format!("file:///{parts}")
    } else {
        parts
    }
}

#[derive(Debug, Serialize)]
struct Log {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run; 1],
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Run {
    tool: Tool,
    column_kind: &'static str,
    results: Vec<Finding>,
}

#[derive(Debug, Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Debug, Serialize)]
struct Driver {
    name: &'static str,
    version: &'static str,
    rules: Vec<Rule>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule {
    id: &'static str,
    short_description: Text,
    help: Help,
    default_configuration: Configuration,
}

#[derive(Debug, Serialize)]
struct Help {
    text: String,
    markdown: &'static str,
}

#[derive(Debug, Serialize)]
struct Configuration {
    level: &'static str,
}

#[derive(Debug, Serialize)]
struct Text {
    text: String,
}

impl Text {
    fn plain(text: impl Into<String>) -> Self {
        Self { text: text.into() }
    }
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Finding {
    rule_id: &'static str,
    rule_index: Option<usize>,
    level: &'static str,
    message: Text,
    locations: [Location; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<usize>,
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Text>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    #[serde(skip_serializing_if = "Option::is_none")]
    region: Option<Region>,
}

#[derive(Debug, Serialize)]
struct Artifact {
    uri: String,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
}

#[cfg(test)]
mod tests;
