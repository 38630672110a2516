//! The scripts of a pack: reading them one by one, the checks that need no run, and one program
//! made of all layers.

use crate::context::Lines;
use crate::engine;
use crate::errors;
use crate::function::{Function, lay_over};
use crate::manifest::PackFiles;
use crate::pack::Hook;
use parge_base::{Code, Diagnostic, FileId, Sources, Span, suggest};
use rhai::AST;

/// The most lines of all scripts together: the script engine counts no further than 65,535, and
/// places behind that would be wrong.
pub(crate) const MAX_LINES: usize = 60_000;

/// The scripts of the layers so far.
#[derive(Debug, Default)]
pub(crate) struct Scripts {
    pub(crate) lines: Lines,
    /// None where no script could be compiled yet.
    pub(crate) program: Option<AST>,
    /// The functions in force.
    pub(crate) functions: Vec<Function>,
}

/// What one layer brings.
pub(crate) struct Brought {
    /// Its rules with their places; what else is wrong with them was said.
    pub(crate) rules: Vec<(String, Span)>,
    /// Its scripts.
    pub(crate) files: Vec<FileId>,
    /// Whether all its scripts could be read.
    pub(crate) whole: bool,
}

impl Scripts {
    /// Lays the scripts of a pack over those of the packs under it. Each script is compiled
    /// alone first, so that an open bracket is reported in its own file and every file is read.
    pub(crate) fn add_layer(
        &mut self,
        files: &PackFiles,
        hooks: &[Hook],
        sources: &mut Sources,
        diagnostics: &mut Vec<Diagnostic>,
    ) -> Brought {
        let skipped = self.lines.count();
        let (mut found, mut read) = (Vec::new(), Vec::new());
        let mut whole = true;
        for (path, text) in &files.texts {
            if !(path.starts_with("scripts/") && path.ends_with(".rhai")) {
                continue;
            }
            let file = sources.add(format!("{}/{path}", files.folder), text.clone());
            read.push(file);
            self.lines.append(file, text);
            diagnostics.extend(refuse_insertion(file, text));
            match engine::shared().compile(text) {
                Ok(ast) => {
                    diagnostics.extend(refuse_loose_statements(&ast, file));
                    let functions = Function::all_of(&ast, file, text);
                    found.extend(checked(functions, hooks, diagnostics));
                }
                Err(error) => {
                    whole = false;
                    diagnostics.push(errors::compiling(&error, sources, file));
                }
            }
        }
        whole = whole && self.compile(skipped, &files.folder, diagnostics);
        let rules = found.iter().filter(|function| function.is_rule);
        let rules = rules.map(|rule| (rule.name.clone(), rule.place)).collect();
        if whole {
            lay_over(&mut self.functions, found, diagnostics);
        }
        Brought {
            rules,
            files: read,
            whole,
        }
    }

    /// Compiles the lines of a layer at their places in the one text, and lays them over the
    /// program so far.
    fn compile(&mut self, skipped: usize, folder: &str, diagnostics: &mut Vec<Diagnostic>) -> bool {
        if self.lines.count() > MAX_LINES {
            let message =
                format!("the scripts of `{folder}` and under it have over {MAX_LINES} lines");
            let help = "move numbers into tables, and take out what no rule uses";
            diagnostics.push(Diagnostic::new(Code::BadScript, message, help));
            return false;
        }
        match engine::shared().compile(self.lines.text_after(skipped)) {
            Ok(layer) => {
                self.program = Some(match self.program.take() {
                    Some(under) => under.merge(&layer),
                    None => layer,
                });
                true
            }
            Err(error) => {
                // Each file is fine alone, so the fault lies between files: a name defined in
                // two.
                let message = format!(
                    "the scripts of `{folder}` do not fit together: {}",
                    error.err_type()
                );
                let help = "define each function in one script only";
                let diagnostic = Diagnostic::new(Code::BadScript, message, help);
                diagnostics.push(match self.lines.span(error.position()) {
                    Some(span) => diagnostic.at(span, ""),
                    None => diagnostic,
                });
                false
            }
        }
    }
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

/// The functions of one script without those that the program could not call as they are meant,
/// which are reported: public ones that are no hook or are given other things, and hooks that
/// are private.
fn checked(
    functions: Vec<Function>,
    hooks: &[Hook],
    diagnostics: &mut Vec<Diagnostic>,
) -> Vec<Function> {
    let mut fine = Vec::new();
    for function in functions {
        let known = hooks.iter().find(|hook| hook.name == function.name);
        let is_wrong = match known {
            Some(hook) => !function.is_rule || is_given_otherwise(&function, hook),
            None => function.is_rule,
        };
        if is_wrong {
            diagnostics.push(no_hook(&function, known, hooks));
        } else {
            fine.push(function);
        }
    }
    fine
}

/// Whether a function takes more or fewer things than its hook, or the same in another order: the
/// names of parameters are free, but not in each other's places.
fn is_given_otherwise(function: &Function, hook: &Hook) -> bool {
    let displaced = |(at, name): (usize, &String)| {
        let place = hook.parameters.iter().position(|known| known == name);
        place.is_some_and(|place| place != at)
    };
    function.parameters.len() != hook.parameters.len()
        || function.parameters.iter().enumerate().any(displaced)
}

/// What to say of a function that the program never calls, or not as it is meant.
fn no_hook(function: &Function, known: Option<&Hook>, hooks: &[Hook]) -> Diagnostic {
    let name = &function.name;
    let (message, help) = match known {
        Some(hook) if !function.is_rule => (
            format!("`{name}` is a rule that the program calls, and is private here"),
            format!(
                "take the `private` away: `fn {}`; or give a helper another name",
                hook.head()
            ),
        ),
        Some(hook) => (
            format!(
                "rule `{name}` takes ({}), and the program gives it ({})",
                function.parameters.join(", "),
                hook.parameters.join(", ")
            ),
            format!("write `fn {}`", hook.head()),
        ),
        None => (
            format!("`{name}` is no rule that the program calls"),
            format!(
                "{} (a function that only other rules use begins with `private fn`)",
                suggest::help_for(name, hooks.iter().map(|hook| hook.name))
            ),
        ),
    };
    Diagnostic::new(Code::BadHook, message, help).at(function.place, "")
}
