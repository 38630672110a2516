//! The scripts of a pack: reading them one by one, the checks that need no run, and one program
//! made of all layers.

use crate::bounds::MAX_FUNCTIONS;
use crate::context::Lines;
use crate::engine;
use crate::errors;
use crate::function::{Function, lay_over};
use crate::pack::Hook;
use parge_base::{Code, Diagnostic, FileId, Sources, Span, suggest};
use rhai::{AST, ParseError};
use std::collections::HashSet;

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
    /// Whether all its scripts could be read.
    pub(crate) whole: bool,
}

impl Scripts {
    /// Lays the scripts of a pack over those of the packs under it. Each script is compiled alone,
    /// so that an open bracket is reported in its own file and every file is read; behind as many
    /// empty lines as the scripts before it have, so that it has its places in the one text.
    pub(crate) fn add_layer(
        &mut self,
        (folder, files): (&str, &[FileId]),
        hooks: &[Hook],
        sources: &Sources,
        diagnostics: &mut Vec<Diagnostic>,
    ) -> Brought {
        let below = self.lines.count();
        let (mut found, mut compiled) = (Vec::new(), Vec::new());
        let mut whole = true;
        for file in files.iter().copied() {
            let text = sources.text(file);
            // What comes behind the most lines is refused as a whole: its places do not matter.
            let before = self.lines.count().min(MAX_LINES);
            self.lines.append(file, text);
            diagnostics.extend(refuse_insertion(file, text));
            match engine::shared().compile(behind(before, text)) {
                Ok(ast) => {
                    diagnostics.extend(refuse_loose_statements(&ast, file));
                    let functions = Function::all_of(&ast, file, text, before);
                    found.extend(checked(functions, hooks, diagnostics));
                    compiled.push(ast);
                }
                Err(error) => {
                    whole = false;
                    // Once more without the empty lines, so that the place is one of the file.
                    let error = engine::shared().compile(text).err().unwrap_or(error);
                    diagnostics.push(errors::compiling(&error, sources, file));
                }
            }
        }
        whole = whole && self.lay(compiled, below, folder, diagnostics);
        let rules = found.iter().filter(|function| function.is_rule);
        let rules = rules.map(|rule| (rule.name.clone(), rule.place)).collect();
        if whole {
            lay_over(&mut self.functions, found, diagnostics);
        }
        Brought { rules, whole }
    }

    /// Lays the scripts of a layer over the program so far.
    fn lay(
        &mut self,
        compiled: Vec<AST>,
        below: usize,
        folder: &str,
        diagnostics: &mut Vec<Diagnostic>,
    ) -> bool {
        if self.lines.count() > MAX_LINES {
            let message =
                format!("the scripts of `{folder}` and under it have over {MAX_LINES} lines");
            let help = "move numbers into tables, and take out what no rule uses";
            diagnostics.push(Diagnostic::new(Code::BadScript, message, help));
            return false;
        }
        if !fit_together(&compiled)
            && let Err(error) = engine::shared().compile(self.lines.text_after(below))
        {
            diagnostics.push(self.misfit(folder, &error));
            return false;
        }
        for script in compiled {
            match &mut self.program {
                Some(program) => {
                    program.combine(script);
                }
                none => *none = Some(script),
            }
        }
        // A pack without scripts has a program all the same.
        self.program.get_or_insert_default();
        true
    }

    /// What to say of scripts that are fine alone, so that the fault lies between them.
    fn misfit(&self, folder: &str, error: &ParseError) -> Diagnostic {
        let message = format!(
            "the scripts of `{folder}` do not fit together: {}",
            error.err_type()
        );
        let help = "define each function in one script only";
        let diagnostic = Diagnostic::new(Code::BadScript, message, help);
        match self.lines.span(error.position()) {
            Some(span) => diagnostic.at(span, ""),
            None => diagnostic,
        }
    }
}

/// A text behind so many empty lines.
fn behind(lines: usize, text: &str) -> String {
    "\n".repeat(lines) + text
}

/// Whether scripts that are fine alone are surely one program: no function stands in two of them,
/// and there are fewer together than a program may have. Of others only the script engine knows,
/// and what is wrong with them.
fn fit_together(scripts: &[AST]) -> bool {
    let functions = || scripts.iter().flat_map(AST::iter_functions);
    let mut known = HashSet::new();
    functions().count() < MAX_FUNCTIONS
        && functions().all(|function| known.insert((function.name, function.params.len())))
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
