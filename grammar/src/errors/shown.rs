//! The user's own text inside a message.

/// The longest piece of text repeated in a message, in characters.
const MAX_SHOWN: usize = 40;

/// A piece of the user's text in backticks: on one line, short, and without characters that
/// cannot be seen or that turn the direction of writing.
pub(crate) fn shown(text: &str) -> String {
    let text = text.trim();
    let mut out = String::from("`");
    for (index, letter) in text.chars().enumerate() {
        if index == MAX_SHOWN {
            out.push('…');
            break;
        }
        out.push(match letter {
            '\n' | '\r' | '\t' => ' ',
            '`' => '\'',
            hidden if is_hidden(hidden) => '\u{FFFD}',
            letter => letter,
        });
    }
    out.push('`');
    out
}

/// Whether a character cannot be seen, or changes how its neighbours are seen.
pub(crate) fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{AD}' | '\u{61C}' | '\u{180E}' | '\u{FEFF}' | '\u{200B}'..='\u{200F}'
            | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FFF9}'..='\u{FFFB}'
            | '\u{E0000}'..='\u{E007F}')
}
