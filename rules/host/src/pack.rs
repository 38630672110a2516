//! Loading a pack: manifest, tables, scripts, and the checks that need no run.
//!
//! A pack may extend another. Then it is loaded in layers, the lowest first; rows and functions
//! of an upper layer replace those of the same name under them.

use crate::bounds;
use crate::context::Context;
use crate::function::Function;
use crate::manifest::{Manifest, PackFiles};
use crate::script::{Brought, Scripts};
use crate::stack::side_by_side;
use crate::table::{OtherValue, Table, Tables};
use parge_base::{Code, Diagnostic, FileId, Sources, Span, Units, diagnostic};
use rhai::AST;
use std::sync::Arc;

/// A function that a pack may have for the program to call.
#[derive(Debug, Clone, Copy)]
pub struct Hook {
    /// The function's name.
    pub name: &'static str,
    /// What it is given, in this order; the first is the subject that it is asked about.
    pub parameters: &'static [&'static str],
}

impl Hook {
    /// How a script writes it: `waste(face, item)`.
    pub fn head(&self) -> String {
        format!("{}({})", self.name, self.parameters.join(", "))
    }
}

/// A pack as it was read, alone or as one of those that make up a pack.
#[derive(Debug, Clone)]
pub struct Layer {
    /// What its manifest says.
    pub manifest: Manifest,
    /// The folder it was read from, as shown in diagnostics.
    pub folder: String,
    /// Its texts; the manifest is the first.
    files: Vec<FileId>,
}

impl Layer {
    /// Its manifest, tables and scripts.
    pub fn files(&self) -> &[FileId] {
        &self.files
    }
}

/// A pack, ready to run.
#[derive(Debug)]
pub struct Pack {
    /// What its manifest says.
    pub manifest: Manifest,
    /// The folder it was read from, as shown in diagnostics.
    pub folder: String,
    pub(crate) context: Arc<Context>,
    pub(crate) program: AST,
    layers: Vec<Layer>,
    functions: Vec<Function>,
    hooks: Vec<Hook>,
}

impl Pack {
    /// The pack's tables.
    pub fn tables(&self) -> &Tables {
        &self.context.tables
    }

    /// The units in force, with the counted things that the manifests declare.
    pub fn units(&self) -> &Units {
        &self.context.units
    }

    /// The same pack with other values in some of its rows: what was read is not read again.
    pub fn with_values(&self, others: &[OtherValue]) -> Self {
        let mut tables = self.context.tables.clone();
        for OtherValue { table, keys, cell } in others {
            if let Some(table) = tables.0.get_mut(table) {
                Arc::make_mut(table).replace(keys, cell);
            }
        }
        Self {
            manifest: self.manifest.clone(),
            folder: self.folder.clone(),
            context: Arc::new(Context {
                tables,
                units: self.context.units.clone(),
                lines: Arc::clone(&self.context.lines),
                stopped: Default::default(),
            }),
            program: self.program.clone(),
            layers: self.layers.clone(),
            functions: self.functions.clone(),
            hooks: self.hooks.clone(),
        }
    }

    /// Its version, and the packs that it rests on with theirs: `1.0 on vertical-concrete 0.2.0`.
    /// A figure can only be traced by all of them.
    pub fn version(&self) -> String {
        let under = self.layers.iter().rev().skip(1);
        let under = under.map(|layer| {
            let Manifest { name, version, .. } = &layer.manifest;
            format!(" on {name} {version}")
        });
        under.fold(self.manifest.version.clone(), |all, one| all + one.as_str())
    }

    /// What it is made of: the lowest pack first, itself last.
    pub fn layers(&self) -> &[Layer] {
        &self.layers
    }

    /// The pack that a place of a table or script lies in.
    pub fn layer_of(&self, span: Span) -> Option<&Layer> {
        let has = |layer: &&Layer| layer.files.contains(&span.file);
        self.layers.iter().find(has)
    }

    /// The functions in force, rules and helpers, in the order of the scripts; what a pack adds
    /// stands behind those under it.
    pub fn functions(&self) -> &[Function] {
        &self.functions
    }

    /// Whether the pack has a rule for a hook.
    pub fn has_hook(&self, name: &str) -> bool {
        self.hook(name).is_some()
    }

    /// A hook with its place in a script.
    pub(crate) fn hook(&self, name: &str) -> Option<(&str, Span)> {
        let mut rules = self.functions.iter().filter(|function| function.is_rule);
        let rule = rules.find(|rule| rule.name == name)?;
        Some((&rule.name, rule.place))
    }

    /// What the program gives a hook, whether the pack has it or not.
    pub(crate) fn parameters_of(&self, hook: &str) -> &'static [&'static str] {
        let known = self.hooks.iter().find(|known| known.name == hook);
        known.map_or(&[], |known| known.parameters)
    }
}

/// Loads a pack from its layers: the pack that it rests on first, and the pack itself last; a
/// pack that extends nothing is its only layer. `hooks` are the functions that the program knows
/// to call: any other public function is an error, since it would silently never run. Everything
/// wrong is reported at once; with an error there is no pack.
pub fn load(
    layers: &[PackFiles],
    hooks: &[Hook],
    sources: &mut Sources,
) -> Result<Pack, Vec<Diagnostic>> {
    let too_large: Vec<Diagnostic> = layers.iter().flat_map(bounds::check_files).collect();
    if !too_large.is_empty() {
        return Err(too_large);
    }
    let (mut read, units) = read_manifests(layers, sources)?;
    let texts = add_texts(layers, &mut read, sources);
    let sources = &*sources;
    let ((tables, mut diagnostics), (scripts, whole, mut wrong)) = side_by_side(
        || read_tables(&read, &texts, &units, sources),
        || read_scripts(&read, &texts, hooks, sources),
    );
    diagnostics.append(&mut wrong);
    match (scripts.program, read.last()) {
        (Some(program), Some(own)) if whole && diagnostics.is_empty() => Ok(Pack {
            manifest: own.manifest.clone(),
            folder: own.folder.clone(),
            context: Arc::new(Context {
                tables,
                units,
                lines: Arc::new(scripts.lines),
                stopped: Default::default(),
            }),
            program,
            layers: read,
            functions: scripts.functions,
            hooks: hooks.to_vec(),
        }),
        _ => {
            diagnostic::tidy(&mut diagnostics);
            Err(diagnostics)
        }
    }
}

/// The manifests of all layers, and the counted things that they declare together.
fn read_manifests(
    layers: &[PackFiles],
    sources: &mut Sources,
) -> Result<(Vec<Layer>, Units), Vec<Diagnostic>> {
    let mut units = Units::standard();
    let (mut read, mut wrong) = (Vec::new(), Vec::new());
    for (at, files) in layers.iter().enumerate() {
        match read_manifest(files, &mut units, sources) {
            Ok(layer) if at == 0 && layer.manifest.extends.is_some() => {
                wrong.push(no_base(&layer, sources));
            }
            Ok(layer) => read.push(layer),
            Err(diagnostic) => wrong.push(diagnostic),
        }
    }
    if wrong.is_empty() {
        Ok((read, units))
    } else {
        Err(wrong)
    }
}

fn read_manifest(
    files: &PackFiles,
    units: &mut Units,
    sources: &mut Sources,
) -> Result<Layer, Diagnostic> {
    let folder = files.folder.clone();
    let Some(text) = files.texts.get(PackFiles::MANIFEST) else {
        let message = format!("`{folder}` has no {}", PackFiles::MANIFEST);
        let help = "a rule pack is a folder with pack.toml, scripts/ and tables/";
        return Err(Diagnostic::new(Code::BadManifest, message, help));
    };
    let name = format!("{folder}/{}", PackFiles::MANIFEST);
    let file = sources.add(name, text.clone());
    let manifest = Manifest::read(sources, file, units)?;
    Ok(Layer {
        manifest,
        folder,
        files: vec![file],
    })
}

/// A pack whose base was left out would estimate with a part of its rules.
fn no_base(layer: &Layer, sources: &Sources) -> Diagnostic {
    let name = &layer.manifest.name;
    let message = format!("pack `{name}` extends another, which was not read");
    let help = "give the pack that it extends before it";
    let diagnostic = Diagnostic::new(Code::PackNotFound, message, help);
    match layer.files.first() {
        Some(file) => diagnostic.at(word_in(*file, "extends", sources), ""),
        None => diagnostic,
    }
}

/// The texts of a layer but for its manifest.
#[derive(Debug, Default)]
struct Texts {
    /// The tables with their names.
    tables: Vec<(String, FileId)>,
    scripts: Vec<FileId>,
}

/// Adds the tables of all layers to the sources, then their scripts.
fn add_texts(layers: &[PackFiles], read: &mut [Layer], sources: &mut Sources) -> Vec<Texts> {
    let mut texts: Vec<Texts> = layers.iter().map(|_| Texts::default()).collect();
    let mut add = |(folder, ending), to: fn(&mut Texts, &str, FileId)| {
        for ((files, layer), texts) in layers.iter().zip(&mut *read).zip(&mut texts) {
            for (path, text) in &files.texts {
                let name = path.strip_prefix(folder);
                if let Some(name) = name.and_then(|name| name.strip_suffix(ending)) {
                    let file = sources.add(format!("{}/{path}", files.folder), text.clone());
                    layer.files.push(file);
                    to(texts, name, file);
                }
            }
        }
    };
    add(("tables/", ".csv"), |texts, name, file| {
        texts.tables.push((name.to_owned(), file));
    });
    add(("scripts/", ".rhai"), |texts, _, file| {
        texts.scripts.push(file);
    });
    texts
}

/// The tables of each layer laid over those of the layers under it, with what is wrong.
fn read_tables(
    layers: &[Layer],
    texts: &[Texts],
    units: &Units,
    sources: &Sources,
) -> (Tables, Vec<Diagnostic>) {
    let (mut tables, mut diagnostics) = (Tables::default(), Vec::new());
    for (layer, texts) in layers.iter().zip(texts) {
        for (name, file) in &texts.tables {
            let (table, mut wrong) = Table::read(sources, *file, name, units);
            diagnostics.append(&mut wrong);
            if let Some(table) = table {
                lay_over(&mut tables, table, layer, units, &mut diagnostics);
            }
        }
    }
    (tables, diagnostics)
}

fn lay_over(
    tables: &mut Tables,
    table: Table,
    layer: &Layer,
    units: &Units,
    diagnostics: &mut Vec<Diagnostic>,
) {
    match tables.0.get_mut(&table.name) {
        Some(under) => {
            let under = Arc::make_mut(under);
            under.lay_over(table, &layer.manifest.name, diagnostics);
            // Rows that are added stand last, where figures must still rise.
            diagnostics.extend(crate::between::check(under, units));
        }
        None => {
            diagnostics.extend(table.takes_from_nothing());
            tables.0.insert(table.name.clone(), Arc::new(table));
        }
    }
}

/// The scripts of all layers, whether all could be read, and what is wrong with them.
fn read_scripts(
    layers: &[Layer],
    texts: &[Texts],
    hooks: &[Hook],
    sources: &Sources,
) -> (Scripts, bool, Vec<Diagnostic>) {
    let (mut scripts, mut diagnostics) = (Scripts::default(), Vec::new());
    let mut whole = true;
    for (layer, texts) in layers.iter().zip(texts) {
        let of_layer = (&*layer.folder, &*texts.scripts);
        let brought = scripts.add_layer(of_layer, hooks, sources, &mut diagnostics);
        whole &= brought.whole;
        diagnostics.extend(check_rules(layer, &brought, sources));
    }
    (scripts, whole, diagnostics)
}

/// Compares the rules that a manifest lists with those that the pack's own scripts have: a rule
/// that is not there would leave its figures out without a word. Where a script could not be
/// read, nothing is said, since the rule may be in it.
fn check_rules(layer: &Layer, brought: &Brought, sources: &Sources) -> Vec<Diagnostic> {
    let Some(file) = layer.files.first().filter(|_| brought.whole) else {
        return Vec::new();
    };
    let Manifest { rules, extends, .. } = &layer.manifest;
    let found = &brought.rules;
    let listed = |name: &str| rules.iter().any(|rule| rule == name);
    let there = |name: &str| found.iter().any(|(rule, _)| rule == name);
    let missing = rules.iter().filter(|rule| !there(rule)).map(|rule| {
        let span = word_in(*file, &format!("\"{rule}\""), sources);
        let message = format!("the pack lists rule `{rule}`, but no script has it");
        let only = match extends {
            Some(_) => "; those of the pack that it extends are there without",
            None => "",
        };
        let help = format!(
            "write `fn {rule}(…)` in a script, or take it off the list in {}{only}",
            PackFiles::MANIFEST
        );
        Diagnostic::new(Code::BadHook, message, help).at(span, "")
    });
    let unlisted = found.iter().filter(|(rule, _)| !listed(rule));
    let unlisted = unlisted.map(|(rule, span)| {
        let message = format!(
            "rule `{rule}` is not on the list in {}",
            PackFiles::MANIFEST
        );
        let help = format!("add `\"{rule}\"` to `rules` there");
        Diagnostic::new(Code::BadHook, message, help).at(*span, "")
    });
    missing.chain(unlisted).collect()
}

/// The first place of a word in a manifest outside its comments; its begin where the word is
/// written otherwise.
fn word_in(file: FileId, word: &str, sources: &Sources) -> Span {
    let mut start = 0;
    for line in sources.text(file).split_inclusive('\n') {
        let said = line.split('#').next().unwrap_or(line);
        if let Some(at) = said.find(word) {
            return Span::new(file, start + at, start + at + word.len());
        }
        start += line.len();
    }
    Span::new(file, 0, 0)
}

#[cfg(test)]
mod tests;
