//! The manifest of a pack, and the pack as a set of texts.

use parge_base::{Code, Diagnostic, FileId, Item, Sources, Span, Units};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;

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
    /// The pack under this one, by its name or path: what this pack does not say itself stands
    /// as it is there.
    #[serde(default)]
    pub extends: Option<String>,
    /// The program's version that the pack needs: `0.1` is met by 0.1.0 and by anything newer.
    #[serde(default)]
    pub engine: Option<String>,
    /// The rules that the pack has itself, by name. A script that is lost or renamed is noticed
    /// by it.
    pub rules: Vec<String>,
    /// Kinds of counted things beyond the standard ones: `cartridge` is too long, `slab` is fine.
    #[serde(default)]
    pub items: Vec<String>,
}

/// The program's version: all its crates have the same.
const ENGINE: &str = env!("CARGO_PKG_VERSION");

impl Manifest {
    /// Reads the manifest and puts the counted things in force that it declares.
    pub(crate) fn read(
        sources: &Sources,
        file: FileId,
        units: &mut Units,
    ) -> Result<Self, Diagnostic> {
        let text = sources.text(file);
        // First of all, since a manifest for a newer program may say what this one cannot read.
        check_engine(text, file)?;
        let manifest: Self = toml::from_str(text).map_err(|error| {
            let range = error.span().unwrap_or(0..0);
            let help = "a manifest has `name`, `version` and `summary`, each in quotes, lists its `rules`, and may have `extends` and `engine` and list `items`";
            Diagnostic::new(Code::BadManifest, error.message().replace('\n', " "), help)
                .at(Span::new(file, range.start, range.end), "")
        })?;
        for name in &manifest.items {
            let Some(item) = Item::new(name) else {
                let message = format!("`{name}` cannot be the name of a counted thing");
                let help = "take one to eight lower-case letters, singular: `slab`";
                let span = first(name, text, file);
                return Err(Diagnostic::new(Code::BadManifest, message, help).at(span, ""));
            };
            units.declare(item);
        }
        Ok(manifest)
    }
}

/// The first place of a word in a text.
fn first(word: &str, text: &str, file: FileId) -> Span {
    let at = text.find(word);
    at.map_or(Span::new(file, 0, 0), |at| {
        Span::new(file, at, at + word.len())
    })
}

/// The pack that a manifest extends, and where in the manifest its name stands. None where
/// nothing is extended, or where the manifest cannot be read: [`crate::load`] says why.
pub fn extends(manifest: &str) -> Option<(String, Range<usize>)> {
    #[derive(Deserialize)]
    struct Part {
        extends: Option<Spanned<String>>,
    }
    let part: Part = toml::from_str(manifest).ok()?;
    let extends = part.extends?;
    let range = extends.span();
    Some((extends.into_inner(), range))
}

/// Refuses a pack that needs a newer program.
fn check_engine(text: &str, file: FileId) -> Result<(), Diagnostic> {
    #[derive(Deserialize)]
    struct Part {
        engine: Option<Spanned<String>>,
    }
    // What else is wrong with the manifest is told when all of it is read.
    let Ok(Part {
        engine: Some(engine),
    }) = toml::from_str(text)
    else {
        return Ok(());
    };
    let range = engine.span();
    let span = Span::new(file, range.start, range.end);
    let wanted = engine.into_inner();
    let Some(least) = version(&wanted) else {
        let message = format!("`{wanted}` is no version of the program");
        let help = format!("write numbers with dots, such as `engine = \"{ENGINE}\"`");
        return Err(Diagnostic::new(Code::BadManifest, message, help).at(span, ""));
    };
    if version(ENGINE).is_some_and(|own| own >= least) {
        return Ok(());
    }
    let message = format!("the pack needs parge {wanted} or newer, and this is parge {ENGINE}");
    let help =
        "install the newer program, or take the version of the pack that was made for this one";
    Err(Diagnostic::new(Code::NewerEngine, message, help).at(span, ""))
}

/// One to three numbers with dots between them; those left out are 0.
fn version(text: &str) -> Option<[u32; 3]> {
    let mut version = [0; 3];
    let mut places = version.iter_mut();
    for part in text.split('.') {
        let digits = !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        *places.next()? = part.parse().ok().filter(|_| digits)?;
    }
    Some(version)
}

#[cfg(test)]
mod tests;
