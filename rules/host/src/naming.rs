//! Names that a script gives its figures.
//!
//! The tape knows the line that made a figure, not what the line calls it. An explanation wants
//! the name: `bags` of `let bags = …`, or `mean_finish` for what that function hands back. It is
//! read off the script's text, which is enough for words; no figure rests on it.

/// What a place of a script says about the figure made there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Naming<'t> {
    /// The function that the place is in.
    pub function: Option<&'t str>,
    /// The variable that the line sets.
    pub variable: Option<&'t str>,
    /// Whether what is made here can be what the function hands back: no statement follows.
    pub is_last: bool,
}

/// Whether a file is a script of a pack, by its name.
pub fn is_script(file: &str) -> bool {
    file.ends_with(".rhai")
}

/// Reads the names around a byte of a script.
pub fn naming(script: &str, at: usize) -> Naming<'_> {
    let start = script.get(..at).and_then(|before| before.rfind('\n'));
    let start = start.map_or(0, |newline| newline + 1);
    let rest = script.get(start..).unwrap_or("");
    let line = rest.lines().next().unwrap_or("");
    let above = script.get(..start).unwrap_or("");
    let heads = [line].into_iter().chain(above.lines().rev());
    let function = heads.filter_map(head_of).next();
    let below = rest.get(line.len()..).unwrap_or("");
    let body = below
        .split_inclusive('\n')
        .take_while(|line| head_of(line).is_none());
    Naming {
        function,
        variable: variable_of(line),
        is_last: body
            .into_iter()
            .all(|line| !without_comment(line).contains(';')),
    }
}

/// The name of the function that a line begins.
fn head_of(line: &str) -> Option<&str> {
    let line = line.trim_start();
    let line = line.strip_prefix("private ").unwrap_or(line).trim_start();
    let name = line.strip_prefix("fn ")?.split('(').next()?.trim();
    is_name(name).then_some(name)
}

/// The variable that a line sets.
fn variable_of(line: &str) -> Option<&str> {
    let line = line.trim_start();
    let line = line.strip_prefix("let ").unwrap_or(line);
    let (name, value) = line.split_once('=')?;
    let name = name.trim();
    (is_name(name) && !value.starts_with('=')).then_some(name)
}

fn without_comment(line: &str) -> &str {
    line.split("//").next().unwrap_or("")
}

fn is_name(text: &str) -> bool {
    let mut letters = text.chars();
    letters
        .next()
        .is_some_and(|first| first.is_ascii_alphabetic() || first == '_')
        && letters.all(|letter| letter.is_ascii_alphanumeric() || letter == '_')
}

#[cfg(test)]
mod tests;
