//! Loading a pack: manifest, tables, scripts, and the checks that need no run.

use crate::bounds;
use crate::context::{Context, Lines};
use crate::engine;
use crate::errors;
use crate::manifest::{Manifest, PackFiles};
use crate::table::{Table, Tables};
use parge_base::{Code, Diagnostic, FileId, Sources, Span, Units, diagnostic, suggest};
use rhai::{AST, FnAccess};
use std::sync::Arc;

/// A function that a pack may have for the program to call.
#[derive(Debug, Clone, Copy)]
pub struct Hook {
    /// The function's name.
    pub name: &'static str,
    /// What it is given.
    pub parameter: &'static str,
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
    hooks: Vec<(String, Span)>,
}

impl Pack {
    /// The pack's tables.
    pub fn tables(&self) -> &Tables {
        &self.context.tables
    }

    /// The units in force, with the counted things that the manifest declares.
    pub fn units(&self) -> &Units {
        &self.context.units
    }

    /// Whether the pack has a rule for a hook.
    pub fn has_hook(&self, name: &str) -> bool {
        self.hook(name).is_some()
    }

    /// A hook with its place in a script.
    pub(crate) fn hook(&self, name: &str) -> Option<(&str, Span)> {
        self.hooks
            .iter()
            .find(|(hook, _)| hook == name)
            .map(|(hook, span)| (hook.as_str(), *span))
    }
}

/// Loads a pack. `hooks` are the functions that the program knows to call: any other public
/// function is an error, since it would silently never run. Everything wrong is reported at
/// once; with an error there is no pack.
pub fn load(
    files: &PackFiles,
    hooks: &[Hook],
    sources: &mut Sources,
) -> Result<Pack, Vec<Diagnostic>> {
    let Some(text) = files.texts.get(PackFiles::MANIFEST) else {
        let message = format!("`{}` has no {}", files.folder, PackFiles::MANIFEST);
        let help = "a rule pack is a folder with pack.toml, scripts/ and tables/";
        return Err(vec![Diagnostic::new(Code::BadManifest, message, help)]);
    };
    let too_large = bounds::check_files(files);
    if !too_large.is_empty() {
        return Err(too_large);
    }
    let file = sources.add(
        format!("{}/{}", files.folder, PackFiles::MANIFEST),
        text.clone(),
    );
    let (manifest, units) = Manifest::read(sources, file).map_err(|error| vec![error])?;

    let mut diagnostics = Vec::new();
    let tables = load_tables(files, &units, sources, &mut diagnostics);
    let (lines, program, names) = load_scripts(files, hooks, sources, &mut diagnostics);
    if program.is_some() {
        diagnostics.extend(check_rules(&manifest, file, &names, sources));
    }
    match program {
        Some(program) if diagnostics.is_empty() => {
            let context = Arc::new(Context {
                tables,
                units,
                lines,
                stopped: Default::default(),
            });
            Ok(Pack {
                manifest,
                folder: files.folder.clone(),
                context,
                program,
                hooks: names,
            })
        }
        _ => {
            // The script engine names functions in no order.
            diagnostic::tidy(&mut diagnostics);
            Err(diagnostics)
        }
    }
}

fn load_tables(
    files: &PackFiles,
    units: &Units,
    sources: &mut Sources,
    diagnostics: &mut Vec<Diagnostic>,
) -> Tables {
    let mut tables = Tables::default();
    for (path, text) in &files.texts {
        let Some(name) = path
            .strip_prefix("tables/")
            .and_then(|name| name.strip_suffix(".csv"))
        else {
            continue;
        };
        let file = sources.add(format!("{}/{path}", files.folder), text.clone());
        let (table, mut wrong) = Table::read(sources, file, name, units);
        diagnostics.append(&mut wrong);
        if let Some(table) = table {
            tables.0.insert(name.to_owned(), table);
        }
    }
    tables
}

/// Compiles each script alone, so that an open bracket is reported in its own file and every
/// file is read, then all of them as one program.
fn load_scripts(
    files: &PackFiles,
    hooks: &[Hook],
    sources: &mut Sources,
    diagnostics: &mut Vec<Diagnostic>,
) -> (Lines, Option<AST>, Vec<(String, Span)>) {
    let mut lines = Lines::default();
    let mut names = Vec::new();
    let mut whole = true;
    for (path, text) in &files.texts {
        if !(path.starts_with("scripts/") && path.ends_with(".rhai")) {
            continue;
        }
        let file = sources.add(format!("{}/{path}", files.folder), text.clone());
        lines.append(file, text);
        diagnostics.extend(refuse_insertion(file, text));
        match engine::shared().compile(text) {
            Ok(ast) => {
                diagnostics.extend(refuse_loose_statements(&ast, file));
                names.extend(check_functions(&ast, hooks, sources, file, diagnostics));
            }
            Err(error) => {
                whole = false;
                diagnostics.push(errors::compiling(&error, sources, file));
            }
        }
    }
    if !whole {
        return (lines, None, names);
    }
    match engine::shared().compile(lines.text()) {
        Ok(program) => (lines, Some(program), names),
        Err(error) => {
            // Each file is fine alone, so the fault lies between files: a name defined in two.
            let message = format!(
                "the scripts of `{}` do not fit together: {}",
                files.folder,
                error.err_type()
            );
            let help = "define each function in one script only";
            let diagnostic = Diagnostic::new(Code::BadScript, message, help);
            diagnostics.push(match lines.span(error.position()) {
                Some(span) => diagnostic.at(span, ""),
                None => diagnostic,
            });
            (lines, None, names)
        }
    }
}

/// Compares the rules that the manifest lists with those that the scripts have: a rule that is
/// not there would leave its figures out without a word.
fn check_rules(
    manifest: &Manifest,
    file: FileId,
    found: &[(String, Span)],
    sources: &Sources,
) -> Vec<Diagnostic> {
    let listed = |name: &str| manifest.rules.iter().any(|rule| rule == name);
    let there = |name: &str| found.iter().any(|(rule, _)| rule == name);
    let missing = manifest
        .rules
        .iter()
        .filter(|rule| !there(rule))
        .map(|rule| {
            let quoted = format!("\"{rule}\"");
            let at = sources.text(file).find(&quoted);
            let span = at.map_or(Span::new(file, 0, 0), |at| {
                Span::new(file, at, at + quoted.len())
            });
            let message = format!("the pack lists rule `{rule}`, but no script has it");
            let help = format!(
                "write `fn {rule}(…)` in a script, or take it off the list in {}",
                PackFiles::MANIFEST
            );
            Diagnostic::new(Code::BadHook, message, help).at(span, "")
        });
    let unlisted = found
        .iter()
        .filter(|(rule, _)| !listed(rule))
        .map(|(rule, span)| {
            let message = format!(
                "rule `{rule}` is not on the list in {}",
                PackFiles::MANIFEST
            );
            let help = format!("add `\"{rule}\"` to `rules` there");
            Diagnostic::new(Code::BadHook, message, help).at(*span, "")
        });
    missing.chain(unlisted).collect()
}

/// Statements outside a rule never run: only the rules are called.
fn refuse_loose_statements(ast: &AST, file: FileId) -> Option<Diagnostic> {
    if ast.statements().is_empty() {
        return None;
    }
    let message = "the script has lines outside its rules, which would never run";
    let help = "put them into a rule, such as `fn coats(face) { … }`; numbers belong into a table";
    Some(
        Diagnostic::new(Code::BadScript, message, help).at(Span::new(file, 0, 0), "in this script"),
    )
}

/// A quantity inserted into a text by `${…}` would show as a word without its figure, and the
/// script engine lets nobody refuse it at run time.
fn refuse_insertion(file: FileId, text: &str) -> Option<Diagnostic> {
    let at = text.find("${")?;
    let message = "figures and texts cannot be inserted into a text with `${…}`";
    let help = "join texts with `+`; a figure cannot become text";
    Some(Diagnostic::new(Code::BadScript, message, help).at(Span::new(file, at, at + 2), ""))
}

/// The hooks of one script; a public function that is none is reported.
fn check_functions(
    ast: &AST,
    hooks: &[Hook],
    sources: &Sources,
    file: FileId,
    diagnostics: &mut Vec<Diagnostic>,
) -> Vec<(String, Span)> {
    let mut names = Vec::new();
    for function in ast
        .iter_functions()
        .filter(|function| function.access == FnAccess::Public)
    {
        let known = hooks.iter().find(|hook| hook.name == function.name);
        let start = sources
            .text(file)
            .find(&format!("fn {}", function.name))
            .unwrap_or(0);
        let span = Span::new(file, start, start + 3 + function.name.len());
        if known.is_some() && function.params.len() == 1 {
            names.push((function.name.to_owned(), span));
            continue;
        }
        let (message, help) = match known {
            Some(hook) => (
                format!(
                    "rule `{}` takes {} things where one is given",
                    function.name,
                    function.params.len()
                ),
                format!("write `fn {}({})`", hook.name, hook.parameter),
            ),
            None => (
                format!("`{}` is no rule that the program calls", function.name),
                format!(
                    "{} (a function that only other rules use begins with `private fn`)",
                    suggest::help_for(function.name, hooks.iter().map(|hook| hook.name))
                ),
            ),
        };
        diagnostics.push(Diagnostic::new(Code::BadHook, message, help).at(span, ""));
    }
    names
}

#[cfg(test)]
mod tests;
