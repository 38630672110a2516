//! Where one member of a block ends and the next one begins on the same line.

use super::token::{Kind, Token};

/// How the members of a block are told apart.
enum Members {
    /// Each begins with one of these words.
    Begin(&'static [&'static str]),
    /// Each is two words, or a word and a number: `access tight`, `lead 1`.
    Pairs,
}

/// Words that want another word or a value behind them, so that none of them ends a member.
const OPEN_ENDED: [&str; 9] = [
    "on", "to", "at", "count", "diameter", "finish", "radius", "reveal", "sweep",
];

fn members(opener: &str) -> Option<Members> {
    Some(Members::Begin(match opener {
        "job" => &[
            "client",
            "site",
            "date",
            "valid_until",
            "valid",
            "units",
            "measure",
            "rules",
            "prices",
            "crew",
            "weather",
            "bid",
            "conditions",
            "start",
            "workdays",
            "hours",
            "holidays",
            "weather_days",
            "travel",
            "forecast",
        ],
        "weather" => &["air", "humidity", "wind", "mix"],
        "bid" => &[
            "burden",
            "overhead",
            "profit",
            "tax",
            "contingency",
            "class",
            "minimum",
            "round",
        ],
        "finish" => &[
            "technique",
            "thickness",
            "relief",
            "colours",
            "colors",
            "sealer",
        ],
        "structure" | "template" => &[
            "face",
            "finish",
            "height",
            "at",
            "edge",
            "conditions",
            "after",
        ],
        "face" => &["opening", "edge"],
        "alternate" => &["structure", "omit"],
        "conditions" | "crew" => return Some(Members::Pairs),
        _ => return None,
    }))
}

/// Cuts a line into its members. `opener` is the word that began the block it stands in; the
/// lines of a block that is not known, and of the top, are left whole.
pub(super) fn cut<'a, 't>(opener: &str, line: &'a [Token<'t>]) -> Vec<&'a [Token<'t>]> {
    let mut starts = vec![0];
    match members(opener) {
        None => {}
        Some(Members::Pairs) => {
            let is_half =
                |token: &Token<'_>| matches!(token.kind, Kind::Word | Kind::Text | Kind::Number);
            if line.iter().all(is_half) {
                starts.extend((2..line.len()).step_by(2));
            }
        }
        Some(Members::Begin(words)) => starts.extend(begins(words, line)),
    }
    let ends = starts.iter().skip(1).copied().chain([line.len()]);
    let ranges = starts.iter().copied().zip(ends);
    ranges
        .filter_map(|(start, end)| line.get(start..end))
        .collect()
}

/// Where members begin after the first. A word of the language may be a name as well, as in
/// `technique relief`: a member has something behind its word, and ends with no operator.
fn begins(words: &[&str], line: &[Token<'_>]) -> Vec<usize> {
    let mut found = Vec::new();
    let (mut start, mut depth) = (0, 0_usize);
    for (at, token) in line.iter().enumerate() {
        match token.kind {
            Kind::OpenParen => depth += 1,
            Kind::CloseParen => depth = depth.saturating_sub(1),
            Kind::Word if depth == 0 && words.contains(&token.text) => {
                // `edge.width` is measured on something that is named so.
                if line.get(at + 1).is_some_and(|next| next.kind == Kind::Dot) {
                    continue;
                }
                let member = line.get(start..at).unwrap_or(&[]);
                if is_whole(member) && may_follow(member, token) {
                    found.push(at);
                    start = at;
                }
            }
            _ => {}
        }
    }
    found
}

fn is_whole(member: &[Token<'_>]) -> bool {
    let least = match member.first().map(|word| word.text) {
        Some("edge") => 3,
        _ => 2,
    };
    let ends = member.last().is_some_and(|last| match last.kind {
        Kind::Word => !OPEN_ENDED.contains(&last.text),
        Kind::Number | Kind::Text | Kind::CloseParen => true,
        _ => false,
    });
    member.len() >= least && ends
}

/// Behind a face, only what cannot be a detail of it begins a member.
fn may_follow(member: &[Token<'_>], word: &Token<'_>) -> bool {
    member.first().is_none_or(|first| first.text != "face") || word.text == "face"
}
