mod corpus;
mod generated;
mod layout;
mod noise;
mod tokens;

use super::*;
use parge_base::Sources;

/// A text laid out. Looks besides that nothing is changed by it, and nothing by doing it twice.
fn fmt(text: &str) -> String {
    let file = Sources::new().add("plan", "");
    let laid_out = match format(file, text) {
        Ok(laid_out) => laid_out,
        Err(found) => panic!("{found:#?}\n{text}"),
    };
    check(text, &laid_out);
    laid_out
}

/// Looks that a text without mistakes was laid out as it should.
fn check(text: &str, laid_out: &str) {
    let file = Sources::new().add("plan", "");
    assert_eq!(format(file, laid_out).as_deref(), Ok(laid_out), "{text}");
    let (before, after) = (parse(file, text), parse(file, laid_out));
    assert_eq!(plain(&before.plan), plain(&after.plan), "{text}");
    assert_eq!(words(text), words(laid_out), "{text}");
    let no_line_is_left_open = |line: &str| line.trim_end() == line && !line.contains('\t');
    assert!(
        laid_out
            .lines()
            .all(|line| no_line_is_left_open(line) || line.contains('#') || line.contains('"')),
        "{laid_out}"
    );
    assert!(laid_out.ends_with('\n') && !laid_out.ends_with("\n\n"));
    assert!(!laid_out.starts_with('\n') && !laid_out.contains("\n\n\n"));
}

/// The tree as text, without its places.
fn plain(plan: &crate::ast::Plan) -> String {
    let told = format!("{plan:#?}");
    let kept = told.split("Span {").enumerate();
    let kept = kept.map(|(at, part)| match at {
        0 => part,
        _ => part.split_once('}').map_or("", |(_, rest)| rest),
    });
    kept.collect()
}

/// Everything but blanks, line ends and braces. A comment may move over a brace.
fn words(text: &str) -> String {
    let text = text.trim_start_matches('\u{FEFF}');
    let kept = |letter: &char| !letter.is_whitespace() && !matches!(letter, '{' | '}');
    text.chars().filter(kept).collect()
}
