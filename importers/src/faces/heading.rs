//! Headings that say how often what stands under them is there: `Typical bay (x 4)`.

/// The words behind the number.
const TIMES: [&str; 8] = ["nos", "no", "off", "times", "nr", "units", "unit", "floors"];

/// A heading without its number, and the number.
pub(super) fn repeated(text: &str) -> Option<(String, u32)> {
    let bare = text.trim().trim_end_matches([')', ']', '.']);
    let cut = bare
        .char_indices()
        .filter(|(_, ch)| matches!(ch, '(' | '[' | ' ' | '-' | '–' | '@'))
        .map(|(at, ch)| (at, at + ch.len_utf8()));
    for (before, behind) in cut {
        let tail = bare.get(behind..)?.trim().to_lowercase();
        if let Some(times) = times(&tail) {
            let name = bare
                .get(..before)?
                .trim_end_matches(['(', '[', '-', '–', '@', ' ', ',']);
            return (!name.is_empty()).then(|| (name.to_owned(), times));
        }
    }
    None
}

fn times(tail: &str) -> Option<u32> {
    let number = |text: &str| {
        let times = text.trim().parse::<u32>().ok()?;
        (2..=999).contains(&times).then_some(times)
    };
    if let Some(rest) = tail.strip_prefix(['x', '×']) {
        return number(rest);
    }
    let (digits, word) = tail.split_once(' ').or_else(|| {
        let at = tail
            .find(|ch: char| !ch.is_ascii_digit())
            .filter(|at| *at > 0)?;
        tail.split_at_checked(at)
    })?;
    TIMES
        .contains(&word.trim())
        .then(|| number(digits))
        .flatten()
}
