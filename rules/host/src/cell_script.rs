//! A script that reads odd texts: one function from a text to a text, in an engine with the bounds
//! of the rules and nothing but texts and numbers.

use crate::bounds::MAX_TEXT;
use crate::clock::Watch;
use crate::engine;
use parge_base::{Code, Diagnostic, FileId, Span};
use rhai::packages::{MoreStringPackage, Package};
use rhai::{AST, CallFnOptions, Dynamic, Engine, Scope};
use std::sync::OnceLock;
use std::time::Duration;

/// The function that a script has to have.
const FUNCTION: &str = "cell";

/// How long all calls for one file may take together.
const LIMIT: Duration = Duration::from_secs(5);

/// A script with its function `cell(text)`.
#[derive(Debug)]
pub struct CellScript {
    program: AST,
}

impl CellScript {
    /// Compiles a script. `place` is where it stands.
    pub fn compile(script: &str, file: FileId, place: Span) -> Result<Self, Diagnostic> {
        let wrong = |message: String, help: &str| {
            let span = if place.file == file {
                place
            } else {
                Span::new(file, 0, 0)
            };
            Diagnostic::new(Code::BadProfile, message, help).at(span, "")
        };
        let program = engine().compile(script).map_err(|error| {
            wrong(
                format!("the script cannot be read: {error}"),
                "write `fn cell(text) { … }`",
            )
        })?;
        let known = program
            .iter_functions()
            .any(|known| known.name == FUNCTION && known.params.len() == 1);
        match known && program.statements().is_empty() {
            true => Ok(Self { program }),
            false => Err(wrong(
                "the script has no function `cell(text)`, or has statements outside of functions"
                    .to_owned(),
                "write `fn cell(text) { … }` and what it calls, and nothing else",
            )),
        }
    }

    /// What the script makes of each text; words for what stopped it.
    pub fn read<'t>(&self, texts: impl Iterator<Item = &'t str>) -> Result<Vec<String>, String> {
        // Held while the calls run, so that all of them together are bounded.
        let _watch = Watch::start(LIMIT);
        let made = texts.map(|text| {
            let options = CallFnOptions::new().eval_ast(false);
            let text: String = text.chars().take(MAX_TEXT / 4).collect();
            let made = engine().call_fn_with_options::<Dynamic>(
                options,
                &mut Scope::new(),
                &self.program,
                FUNCTION,
                (text.clone(),),
            );
            let made = made.map_err(|error| format!("the script stopped at `{text}`: {error}"))?;
            made.into_string().map_err(|other| {
                format!("the script makes `{other}` of `{text}`, which is no text")
            })
        });
        made.collect()
    }
}

/// The engine for these scripts.
fn engine() -> &'static Engine {
    static ENGINE: OnceLock<Engine> = OnceLock::new();
    ENGINE.get_or_init(|| {
        let mut engine = Engine::new_raw();
        engine::plain_packages(&mut engine);
        MoreStringPackage::new().register_into_engine(&mut engine);
        engine::bound(&mut engine);
        engine
    })
}

#[cfg(test)]
mod tests;
