//! Names of sheets as a plan can hold them.

/// A name in quotes, without what a plan refuses there: characters that nobody sees.
pub(super) fn quoted(name: &str) -> String {
    let mut text = String::with_capacity(name.len() + 2);
    push_quoted(&mut text, name);
    text
}

/// The same behind a text.
pub(super) fn push_quoted(text: &mut String, name: &str) {
    text.push('"');
    match is_plain(name) {
        true => text.push_str(name),
        false => text.push_str(&seen(name)),
    }
    text.push('"');
}

/// A name as it can stand in quotes.
fn seen(name: &str) -> String {
    let seen = name.chars().filter(|ch| !is_unseen(*ch));
    let words: Vec<String> = seen
        .collect::<String>()
        .split_whitespace()
        .map(str::to_owned)
        .collect();
    let text = words.join(" ").replace('\\', "\\\\").replace('"', "\\\"");
    match text.is_empty() {
        true => "(no name)".to_owned(),
        false => text,
    }
}

/// Whether nothing of a name has to be changed: letters that everybody sees, and a blank between words.
fn is_plain(name: &str) -> bool {
    let mut before = b' ';
    let as_it_is = name.bytes().all(|byte| {
        let is_second_blank = byte == b' ' && before == b' ';
        before = byte;
        matches!(byte, b' '..=b'~') && !matches!(byte, b'"' | b'\\') && !is_second_blank
    });
    as_it_is && before != b' '
}

/// Words that follow a size or begin a member: as names they stand in quotes.
const WORDS: [&str; 15] = [
    "x", "on", "to", "at", "count", "reveal", "sweep", "rise", "face", "finish", "opening", "from",
    "edge", "height", "after",
];

/// A name as short as it can be written: without quotes where it is one plain word.
pub(super) fn word(name: &str) -> String {
    let begins = name.starts_with(|ch: char| ch.is_ascii_lowercase() && ch != 'x');
    let plain = name
        .chars()
        .all(|ch| ch.is_ascii_lowercase() || ch.is_ascii_digit() || ch == '_');
    match begins && plain && !WORDS.contains(&name) && name != "conditions" {
        true => name.to_owned(),
        false => quoted(name),
    }
}

fn is_unseen(ch: char) -> bool {
    let joins = matches!(
        ch,
        '\u{AD}' | '\u{61C}' | '\u{180E}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}'
    );
    joins || ch.is_control() && !ch.is_whitespace()
}

/// A comment of one line.
pub(super) fn comment(text: &str) -> String {
    let line: Vec<&str> = text.split_whitespace().collect();
    let line: String = line
        .join(" ")
        .chars()
        .filter(|ch| !is_unseen(*ch))
        .collect();
    format!("# {line}\n")
}
