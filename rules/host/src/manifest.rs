//! The manifest of a pack, and the pack as a set of texts.

use parge_base::{Code, Diagnostic, FileId, Item, Sources, Span, Units};
use serde::Deserialize;
use std::collections::BTreeMap;

/// A pack's files as texts by their path inside the pack, with `/` between folders. Whoever
/// reads them from a disk or out of the program makes one.
#[derive(Debug, Clone, Default)]
pub struct PackFiles {
    /// The pack's folder, as shown in diagnostics.
    pub folder: String,
    /// Texts by path.
    pub texts: BTreeMap<String, String>,
}

impl PackFiles {
    /// The manifest's path in a pack.
    pub const MANIFEST: &str = "pack.toml";
}

/// What `pack.toml` says.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    /// The name by which a job asks for the pack.
    pub name: String,
    /// The pack's version.
    pub version: String,
    /// What the pack is for, in one line.
    pub summary: String,
    /// The rules that the pack has, by name. A script that is lost or renamed is noticed by it.
    pub rules: Vec<String>,
    /// Kinds of counted things beyond the standard ones: `cartridge` is too long, `slab` is fine.
    #[serde(default)]
    pub items: Vec<String>,
}

impl Manifest {
    /// Reads the manifest and the units it puts in force.
    pub(crate) fn read(sources: &Sources, file: FileId) -> Result<(Self, Units), Diagnostic> {
        let manifest: Self = toml::from_str(sources.text(file)).map_err(|error| {
            let range = error.span().unwrap_or(0..0);
            let help = "a manifest has `name`, `version` and `summary`, each in quotes, lists its `rules`, and may list `items`";
            Diagnostic::new(Code::BadManifest, error.message().replace('\n', " "), help)
                .at(Span::new(file, range.start, range.end), "")
        })?;
        let mut units = Units::standard();
        for name in &manifest.items {
            let Some(item) = Item::new(name) else {
                let at = sources.text(file).find(name.as_str());
                let span = at.map_or(Span::new(file, 0, 0), |at| {
                    Span::new(file, at, at + name.len())
                });
                let message = format!("`{name}` cannot be the name of a counted thing");
                let help = "take one to eight lower-case letters, singular: `slab`";
                return Err(Diagnostic::new(Code::BadManifest, message, help).at(span, ""));
            };
            units.declare(item);
        }
        Ok((manifest, units))
    }
}
