//! Texts of users in pages and drawings: nothing in them is markup, and what cannot be seen or
//! would turn the text around it does no harm.

/// A text without characters that neither a page nor a drawing may hold: control characters, and
/// the two that are none (XML 1.0, 2.2). They become visible.
pub(crate) fn visible(text: &str) -> String {
    let shown = |letter: char| match letter {
        '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
        control if control.is_control() => '\u{fffd}',
        other => other,
    };
    text.chars().map(shown).collect()
}

/// A text as HTML and SVG show it: nothing in it is markup. Control characters become visible.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in visible(text).chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
}

/// A text that turns nothing around it: without characters that embed or override a direction,
/// and between marks that isolate it where it has letters of a script that runs to the left.
pub(crate) fn isolated(text: &str) -> String {
    let plain: String = visible(text)
        .chars()
        .filter(|ch| !is_direction(*ch))
        .collect();
    if plain.chars().any(runs_left) {
        format!("\u{2068}{plain}\u{2069}")
    } else {
        plain
    }
}

/// The characters of Unicode that embed, override or isolate a direction (UAX #9, 2.1 to 2.5).
fn is_direction(ch: char) -> bool {
    matches!(ch, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Blocks of Unicode with scripts that run to the left.
fn runs_left(ch: char) -> bool {
    matches!(ch, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}'
        | '\u{10800}'..='\u{10fff}' | '\u{1e800}'..='\u{1efff}' | '\u{200f}')
}

#[cfg(test)]
mod tests;
