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

/// Whether a byte of a script stands in the block that the condition around another byte opens:
/// `need(…)` in `if a > b { need(…) }`, asked for `>`. Not in what follows the block, be it an
/// `else`, and not where the comparison opens no block.
pub fn encloses(script: &str, condition: usize, inner: usize) -> bool {
    let between = script.get(condition..inner).unwrap_or("");
    let mut depth = 0usize;
    let mut letters = between.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' | '`' => skip_text(&mut letters, letter),
            '/' if letters.peek() == Some(&'/') => {
                letters.by_ref().find(|letter| *letter == '\n');
            }
            '{' => depth += 1,
            '}' if depth <= 1 => return false,
            '}' => depth -= 1,
            ';' if depth == 0 => return false,
            _ => {}
        }
    }
    depth > 0
}

/// Goes behind the end of a text in quotes.
fn skip_text(letters: &mut impl Iterator<Item = char>, quote: char) {
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => {
                letters.next();
            }
            letter if letter == quote => return,
            _ => {}
        }
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
