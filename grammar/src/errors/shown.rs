//! The user's own text inside a message.

/// The longest piece of text repeated in a message, in characters.
const MAX_SHOWN: usize = 40;

/// A piece of the user's text in backticks: on one line, short, and without characters that
/// cannot be seen or that turn the direction of writing.
pub(crate) fn shown(text: &str) -> String {
    let text = text.trim();
    let mut out = String::from("`");
    // A line break of two characters is one blank, as any other is.
    let letters = text.char_indices().filter(|(at, letter)| {
        let rest = text.get(*at..).unwrap_or("");
        *letter != '\r' || !rest.starts_with("\r\n")
    });
    for (index, (_, letter)) in letters.enumerate() {
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

/// Whether a character cannot be seen, or changes how its neighbours are seen: the controls, and
/// what Unicode lists as `Default_Ignorable_Code_Point` (DerivedCoreProperties.txt; from memory).
/// Some of these may stand in a word by the rules of Unicode, as the selectors of variants do.
pub(crate) fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{115F}'..='\u{1160}' | '\u{17B4}'..='\u{17B5}'
            | '\u{180B}'..='\u{180F}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}' | '\u{3164}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}'
            | '\u{FFA0}' | '\u{FFF0}'..='\u{FFFB}' | '\u{1BCA0}'..='\u{1BCA3}'
            | '\u{1D173}'..='\u{1D17A}' | '\u{E0000}'..='\u{E0FFF}')
}
