//! Turns what the script engine reports into diagnostics in an estimator's words.

use crate::bounds::{MAX_DEPTH, MAX_FUNCTIONS, MAX_STEPS, MAX_TEXT};
use crate::clock::OutOfTime;
use crate::context::Lines;
use crate::engine::{REFUSED, shared};
use parge_base::{Code, Diagnostic, FileId, Sources, Span};
use rhai::{EvalAltResult, LexError, ParseError, ParseErrorType, Position};

/// A script that does not compile.
pub(crate) fn compiling(error: &ParseError, sources: &Sources, file: FileId) -> Diagnostic {
    let (message, help) = refused(error.err_type()).unwrap_or_else(|| {
        let message = first_lower(&error.err_type().to_string());
        let help = "mend the script here: look for a missing bracket, comma, quote or `;`";
        (format!("the script cannot be read: {message}"), help.into())
    });
    let line = error.position().line().unwrap_or(1);
    Diagnostic::new(Code::BadScript, message, help).at(
        at_column(sources, sources.line_span(file, line), error.position()),
        "",
    )
}

/// What is no slip of the pen: something that rules may not use, or too much of it.
fn refused(error: &ParseErrorType) -> Option<(String, String)> {
    let word = match error {
        ParseErrorType::Reserved(word) => word,
        ParseErrorType::BadInput(LexError::ImproperSymbol(word, _)) => word,
        ParseErrorType::ExprTooDeep => {
            let message = format!(
                "more than {MAX_DEPTH} brackets, blocks or operators stand within one another"
            );
            return Some((message, "divide it with `let`, or into functions".into()));
        }
        ParseErrorType::TooManyFunctions => {
            let message = format!("the pack has more than {MAX_FUNCTIONS} functions");
            return Some((
                message,
                "put numbers into tables, not into functions".into(),
            ));
        }
        ParseErrorType::LiteralTooLarge(..) => {
            let message = format!("a text or list is too long; {MAX_TEXT} letters are the most");
            return Some((
                message,
                "look for a missing quote; put lists into tables".into(),
            ));
        }
        _ => return None,
    };
    let (known, instead) = REFUSED.iter().find(|(known, _)| known == word)?;
    Some((
        format!("`{known}` cannot be used in a rule"),
        (*instead).into(),
    ))
}

/// A hook that stopped. Bounds are reported without a place, so then the hook itself is shown.
pub(crate) fn running(
    error: &EvalAltResult,
    (hook, hook_span): (&str, Span),
    lines: &Lines,
) -> Diagnostic {
    let (inner, position) = innermost(error);
    let limit = limit(inner);
    let diagnostic = match &limit {
        Some(what) => {
            let message = format!("rule `{hook}` was stopped: {what}");
            let help = match out_of_time(inner) {
                Some(_) => {
                    "try again when the computer is idle; if it stops here again, look for what the rule does over and over"
                }
                None => "look for a loop that never ends or a function that calls itself",
            };
            Diagnostic::new(Code::RuleLimit, message, help)
        }
        None => {
            let message = format!("rule `{hook}` stopped: {}", words(inner));
            Diagnostic::new(
                Code::RuleFailed,
                message,
                "mend the rule or the table it reads; figures of this rule are missing until then",
            )
        }
    };
    diagnostic.at(lines.span(position).unwrap_or(hook_span), "stopped here")
}

/// The error at the bottom of the calls, and the last place known on the way there.
fn innermost(error: &EvalAltResult) -> (&EvalAltResult, Position) {
    let (mut at, mut position) = (error, error.position());
    while let EvalAltResult::ErrorInFunctionCall(_, _, inner, _) = at {
        at = inner;
        if !at.position().is_none() {
            position = at.position();
        }
    }
    (at, position)
}

/// Whether a run was stopped for the time that it took, and not for what it did.
pub(crate) fn out_of_time(error: &EvalAltResult) -> Option<OutOfTime> {
    match innermost(error).0 {
        EvalAltResult::ErrorTerminated(what, _) => what.clone().try_cast(),
        _ => None,
    }
}

fn limit(error: &EvalAltResult) -> Option<String> {
    match error {
        EvalAltResult::ErrorTooManyOperations(_) => {
            Some(format!("it took more than {MAX_STEPS} steps"))
        }
        EvalAltResult::ErrorStackOverflow(_) => {
            Some("its functions call each other too deep".into())
        }
        EvalAltResult::ErrorTooManyVariables(_) => Some("it holds too many values at once".into()),
        EvalAltResult::ErrorTooManyModules(_) => Some("it asks for other scripts".into()),
        EvalAltResult::ErrorTerminated(what, _) => {
            let out_of_time = out_of_time(error).map(|out_of_time| out_of_time.to_string());
            Some(out_of_time.unwrap_or_else(|| what.to_string()))
        }
        EvalAltResult::ErrorDataTooLarge(..) => Some("a text or list grew too long".into()),
        _ => None,
    }
}

fn words(error: &EvalAltResult) -> String {
    match error {
        EvalAltResult::ErrorRuntime(value, _) if value.is_string() => value.to_string(),
        EvalAltResult::ErrorRuntime(..) => "`throw` needs a text that says what is wrong".into(),
        EvalAltResult::ErrorVariableNotFound(name, _) => format!("`{name}` is not defined"),
        EvalAltResult::ErrorFunctionNotFound(signature, _) => call_words(signature),
        EvalAltResult::ErrorMismatchDataType(wanted, got, _) => {
            format!(
                "{} is needed here, not {}",
                type_words(wanted),
                type_words(got)
            )
        }
        EvalAltResult::ErrorMismatchOutputType(wanted, got, _) => {
            format!(
                "{} is needed here, not {}",
                type_words(wanted),
                type_words(got)
            )
        }
        other => first_lower(&without_position(&other.to_string())),
    }
}

/// `need (&str, i64)` in words: "`need` does not work with a text and a whole number".
fn call_words(signature: &str) -> String {
    let (name, arguments) = signature.split_once(" (").unwrap_or((signature, ""));
    let is_word = name.starts_with(char::is_alphabetic);
    if is_word && !is_native(name) {
        return format!("`{name}` is not known, or takes another number of things in its brackets");
    }
    let arguments: Vec<String> = arguments
        .trim_end_matches(')')
        .split(',')
        .map(str::trim)
        .filter(|text| !text.is_empty())
        .map(type_words)
        .collect();
    match arguments.as_slice() {
        [] => format!("`{name}` is not known, or needs something in its brackets"),
        [only] => format!("`{name}` does not work with {only}"),
        [init @ .., last] => format!("`{name}` does not work with {} and {last}", init.join(", ")),
    }
}

fn is_native(name: &str) -> bool {
    let named = |function: rhai::FuncInfo<'_>| (function.metadata.name == name).then_some(());
    !shared().collect_fn_metadata(None, named, true).is_empty()
}

pub(crate) fn type_words(name: &str) -> String {
    match name.trim_start_matches("&mut ").trim_start_matches('&') {
        "i64" => "a whole number without a unit",
        "f64" => "a number without a unit",
        text if text.split(" | ").all(|name| {
            matches!(
                name,
                "str" | "&str" | "ImmutableString" | "string" | "String"
            )
        }) =>
        {
            "a text"
        }
        "bool" => "a yes or no",
        "()" => "nothing",
        "array" => "a list",
        "quantity" => "a quantity",
        name if name.ends_with("Traced") => "a quantity",
        name if name == "subject" || name.ends_with("Seen") => "a face or job",
        other => other,
    }
    .to_owned()
}

fn without_position(text: &str) -> String {
    text.split(" (line ").next().unwrap_or(text).to_owned()
}

fn first_lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

fn at_column(sources: &Sources, line: Span, position: Position) -> Span {
    let offset = byte_of_column(sources.slice(line), position);
    Span {
        start: line.start + offset as u32,
        ..line
    }
}

/// Columns count characters, spans count bytes: where in a line a position lies.
pub(crate) fn byte_of_column(line: &str, position: Position) -> usize {
    let skipped = position.position().unwrap_or(1).saturating_sub(1);
    line.char_indices()
        .nth(skipped)
        .map_or(line.len(), |(at, _)| at)
}
