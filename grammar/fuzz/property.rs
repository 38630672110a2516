//! What holds of any text, be it a plan or not. The fuzz target and a test of the crate share
//! it; each says in its own way where `parse` and `format` come from.

use super::{format, parse};
use parge_base::{FileId, Sources};

/// Looks at everything that must hold of a text, and panics where something does not.
pub(crate) fn holds(text: &str) {
    let file = Sources::new().add("plan", "");
    let parsed = parse(file, text);
    let tree = format!("{:?}", parsed.plan);
    for diagnostic in &parsed.diagnostics {
        assert!(!diagnostic.labels.is_empty(), "{diagnostic:?}");
        assert!(!diagnostic.help.is_empty(), "{diagnostic:?}");
        for label in &diagnostic.labels {
            let range = label.span.range();
            assert!(text.get(range).is_some(), "{diagnostic:?}");
        }
    }
    for (start, end) in places(&tree) {
        assert!(text.get(start..end).is_some(), "{start}..{end} in {tree}");
    }
    line_ends(file, text);
    match format(file, text) {
        Ok(laid_out) => {
            assert_eq!(parsed.diagnostics, [], "laid out in spite of mistakes");
            laid_out_well(file, text, &tree, &laid_out);
        }
        Err(told) => {
            // What cannot be laid out is what cannot be read, and nothing else.
            assert_eq!(told, parsed.diagnostics);
            assert!(!told.is_empty());
        }
    }
}

fn laid_out_well(file: FileId, text: &str, tree: &str, laid_out: &str) {
    let again = parse(file, laid_out);
    assert_eq!(again.diagnostics, [], "{laid_out}");
    let (before, after) = (without_places(tree), format!("{:?}", again.plan));
    assert_eq!(before, without_places(&after), "{laid_out}");
    assert_eq!(comments(text), comments(laid_out), "{laid_out}");
    assert_eq!(words(text), words(laid_out), "{laid_out}");
    let twice = format(file, laid_out);
    assert_eq!(twice.as_deref(), Ok(laid_out));
}

/// A text says the same whichever way its lines end.
fn line_ends(file: FileId, text: &str) {
    let unix = text.replace("\r\n", "\n").replace('\r', "\n");
    let told = |text: &str| {
        let parsed = parse(file, text);
        let told = parsed.diagnostics.iter();
        let told: Vec<_> = told
            .map(|told| (told.code, told.message.clone(), told.help.clone()))
            .collect();
        (without_places(&format!("{:?}", parsed.plan)), told)
    };
    let wanted = told(&unix);
    assert_eq!(told(&unix.replace('\n', "\r\n")), wanted, "CR LF");
    assert_eq!(told(&unix.replace('\n', "\r")), wanted, "CR");
}

const PLACE: &str = "Span { file: FileId(";

/// The places in a tree that was written out.
fn places(tree: &str) -> impl Iterator<Item = (usize, usize)> {
    let number = |part: &str, name: &str| -> usize {
        let (_, behind) = part.split_once(name).unwrap_or_default();
        let digits = behind.split(|letter: char| !letter.is_ascii_digit());
        digits
            .into_iter()
            .next()
            .and_then(|n| n.parse().ok())
            .unwrap_or(usize::MAX)
    };
    let parts = tree.split(PLACE).skip(1);
    parts.map(move |part| (number(part, "start: "), number(part, "end: ")))
}

fn without_places(tree: &str) -> String {
    let mut parts = tree.split(PLACE);
    let first = parts.next().unwrap_or_default();
    let rest = parts.map(|part| part.split_once('}').map_or("", |(_, rest)| rest));
    [first].into_iter().chain(rest).collect()
}

/// The comments of a text, found by nothing but its quotes: a quote that stands directly behind
/// a digit is a mark of inches, and a backslash in quotes takes the next letter with it.
fn comments(text: &str) -> Vec<&str> {
    text.split(['\n', '\r']).filter_map(comment).collect()
}

fn comment(line: &str) -> Option<&str> {
    let (mut quoted, mut escaped, mut before) = (false, false, ' ');
    for (at, letter) in line.char_indices() {
        match letter {
            '#' if !quoted => return Some(line[at..].trim_end()),
            '"' if quoted && !escaped => quoted = false,
            '"' if !quoted && !before.is_ascii_digit() => quoted = true,
            _ => {}
        }
        escaped = quoted && letter == '\\' && !escaped;
        before = letter;
    }
    None
}

/// Everything but blanks, line ends and braces; a comment may move over a brace.
fn words(text: &str) -> String {
    let text = text.trim_start_matches('\u{FEFF}');
    let kept = |letter: &char| !letter.is_whitespace() && !matches!(letter, '{' | '}');
    text.chars().filter(kept).collect()
}
