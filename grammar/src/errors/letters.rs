//! Characters that belong in no plan outside quotes, mostly from word processors.

use super::shown::is_hidden;
use parge_base::{Code, Diagnostic, FileId, Span};

/// What is wrong with the character at a place, if it is one of those.
pub(crate) fn odd_letter(file: FileId, text: &str, at: usize) -> Option<Diagnostic> {
    let letter = text.get(at..)?.chars().next()?;
    let span = Span::new(file, at, at + letter.len_utf8());
    // Everybody sees where a line ends.
    if matches!(letter, '\t' | '\n' | '\r') {
        return None;
    }
    if is_hidden(letter) {
        return Some(unseen(span, letter));
    }
    let help = match letter {
        '“' | '”' | '„' | '«' | '»' | '‘' | '’' | '\'' => {
            "write names in straight double quotes, as in `\"Entry planter\"`, and feet and inches as `12ft 6in`"
        }
        '−' | '–' | '—' => "write the plain `-`, as in `height - 6in`",
        '÷' | '∕' | '⁄' => "write `/`, as in `height / 2`",
        '·' | '∙' | '⋅' => "write `*`, as in `height * 2`",
        '½' | '¼' | '¾' | '⅛' | '⅜' | '⅝' | '⅞' => {
            "write the fraction out, as in `6 3/4in`"
        }
        ';' => "delete it; statements end with their line",
        '[' | ']' => "write round brackets, as in `(0ft, 4ft)`",
        _ => return None,
    };
    let message = format!("`{letter}` means nothing here");
    Some(Diagnostic::new(Code::Syntax, message, help).at(span, ""))
}

/// A character that cannot be seen, by its number.
pub(crate) fn unseen(span: Span, letter: char) -> Diagnostic {
    let message = format!(
        "an invisible character (U+{:04X}) stands here",
        u32::from(letter)
    );
    let help = "delete it, and write the word around it anew";
    Diagnostic::new(Code::Syntax, message, help).at(span, "")
}
