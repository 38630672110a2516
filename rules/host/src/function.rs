//! The functions of a pack's scripts: where they stand, and which of them replaces which.

use crate::errors::byte_of_column;
use parge_base::{Code, Diagnostic, FileId, Span};
use rhai::{AST, FnAccess, Position};

/// A function of a script: a rule that the program calls, or a helper of the rules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Function {
    /// Its name.
    pub name: String,
    /// The names of what it is given.
    pub parameters: Vec<String>,
    /// Whether the program calls it.
    pub is_rule: bool,
    /// Where its name stands, with the `fn` before it.
    pub place: Span,
    /// Its text with the comment over it.
    pub text: String,
    /// The function of a pack under this one that it replaces.
    pub replaces: Option<Box<Self>>,
}

impl Function {
    /// The functions of a script in the order of its text, which was compiled behind so many empty
    /// lines; the public ones are taken for rules.
    pub(crate) fn all_of(ast: &AST, file: FileId, text: &str, skipped: usize) -> Vec<Self> {
        let of = |function: &rhai::ScriptFuncDef| {
            let body = byte(text, skipped, function.body.start_position());
            let end = byte(text, skipped, function.body.end_position()) + 1;
            let head = format!("fn {}", function.name);
            // Only its parameters stand between its name and its body.
            let at = text.get(..body).and_then(|before| before.rfind(&head));
            let (start, length) = at.map_or((body, 0), |at| (at, head.len()));
            Self {
                name: function.name.to_string(),
                parameters: function.params.iter().map(ToString::to_string).collect(),
                is_rule: function.access == FnAccess::Public,
                place: Span::new(file, start, start + length),
                text: text
                    .get(with_comment(text, start)..end)
                    .unwrap_or("")
                    .to_owned(),
                replaces: None,
            }
        };
        let functions = ast.shared_lib().iter_script_fn_info();
        let mut functions: Vec<Self> = functions.map(|(.., function)| of(function)).collect();
        // The script engine names functions in no order.
        functions.sort_by_key(|function| function.place);
        functions
    }

    /// Whether both do the same by the look of it: comments, blank lines and blanks at the
    /// begin and end of a line change nothing.
    pub fn reads_as(&self, other: &Self) -> bool {
        fn lines(text: &str) -> impl Iterator<Item = &str> {
            let lines = text.lines().map(str::trim);
            lines.filter(|line| !line.is_empty() && !line.starts_with("//"))
        }
        lines(&self.text).eq(lines(&other.text))
    }
}

/// Lays the functions of a pack over those of the packs under it. One of the same name and as
/// many parameters replaces; the others are added.
pub(crate) fn lay_over(
    under: &mut Vec<Function>,
    over: Vec<Function>,
    diagnostics: &mut Vec<Diagnostic>,
) {
    let below = under.len();
    for mut function in over {
        let mut namesakes = under.iter_mut().take(below);
        let namesakes: Vec<&mut Function> = namesakes
            .by_ref()
            .filter(|other| other.name == function.name)
            .collect();
        let other = namesakes
            .first()
            .map(|other| (other.place, other.parameters.join(", ")));
        let same = namesakes
            .into_iter()
            .find(|other| other.parameters.len() == function.parameters.len());
        match (same, other) {
            (Some(replaced), _) if replaced.is_rule != function.is_rule => {
                diagnostics.push(other_kind(&function, replaced));
            }
            (Some(replaced), _) => {
                let old = replaced.clone();
                function.replaces = Some(Box::new(old));
                *replaced = function;
            }
            (None, Some((place, parameters))) => {
                let name = &function.name;
                let message = format!(
                    "`{name}` is given ({}) here, and ({parameters}) in the pack under this one",
                    function.parameters.join(", ")
                );
                let help = format!(
                    "write `fn {name}({parameters})`, or give a function of your own another name"
                );
                let diagnostic = Diagnostic::new(Code::CannotReplace, message, help);
                diagnostics.push(
                    diagnostic
                        .at(function.place, "")
                        .at(place, "in the pack under this one"),
                );
            }
            (None, None) => under.push(function),
        }
    }
}

/// A rule in the place of a helper, or the other way: one of the two would not be called as it
/// is meant.
fn other_kind(function: &Function, replaced: &Function) -> Diagnostic {
    let name = &function.name;
    let (message, help) = if replaced.is_rule {
        (
            format!("`{name}` is a rule that the program calls, and is private here"),
            format!(
                "take the `private` away: `fn {name}({})`",
                replaced.parameters.join(", ")
            ),
        )
    } else {
        (
            format!("rule `{name}` has the name of a helper in the pack under this one"),
            "give the helper another name in that pack".to_owned(),
        )
    };
    Diagnostic::new(Code::CannotReplace, message, help)
        .at(function.place, "")
        .at(replaced.place, "in the pack under this one")
}

/// The byte of a text at which a position of the script engine lies; the text stands behind so many
/// empty lines.
fn byte(text: &str, skipped: usize, position: Position) -> usize {
    let before = position.line().unwrap_or(1).saturating_sub(1 + skipped);
    let mut at = 0;
    for (number, line) in text.split_inclusive('\n').enumerate() {
        if number == before {
            return at + byte_of_column(line, position);
        }
        at += line.len();
    }
    text.len()
}

/// Where the text of a function begins: with `private`, and the comment right over it.
fn with_comment(text: &str, start: usize) -> usize {
    let before = text.get(..start).unwrap_or("");
    let mut begin = before.rfind('\n').map_or(0, |at| at + 1);
    // Something else before it on its line stays out.
    let lead = before.get(begin..).unwrap_or("").trim();
    if !lead.is_empty() && lead != "private" {
        return start;
    }
    while begin > 0 {
        let above = text.get(..begin - 1).unwrap_or("");
        let line = above.rfind('\n').map_or(0, |at| at + 1);
        if !above
            .get(line..)
            .unwrap_or("")
            .trim_start()
            .starts_with("//")
        {
            break;
        }
        begin = line;
    }
    begin
}
