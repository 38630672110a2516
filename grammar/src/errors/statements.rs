//! Mistakes in statements and members as a whole.

use super::samples;
use super::shown::shown;
use crate::outline::TOP_WORDS;
use crate::read::Source;
use parge_base::suggest::help_for;
use parge_base::{Code, Diagnostic, Span};
use std::ops::Range;

pub(crate) fn no_version(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Version,
        "the version line is missing",
        "begin the plan with the line `parge 1`",
    )
    .at(span, "`parge 1` belongs before this")
}

pub(crate) fn bad_version(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Version,
        "the version line cannot be read",
        "write the line as `parge 1`, with nothing else on it",
    )
    .at(span, "")
}

pub(crate) fn other_version(span: Span, number: u32) -> Diagnostic {
    Diagnostic::new(
        Code::Version,
        format!("version {number} of the plan language is not known"),
        "write `parge 1`; a plan of a later version needs a later program",
    )
    .at(span, "only version 1 is known")
}

pub(crate) fn second_version(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Version,
        "the version line stands in the middle of the plan",
        "write `parge 1` once, as the first line",
    )
    .at(span, "")
}

/// A statement that begins with no known word. `head` is its text.
pub(crate) fn unknown(source: &Source<'_>, head: &Range<usize>, word: &str) -> Diagnostic {
    let span = |range: Range<usize>| Span::new(source.file, range.start, range.end);
    let text = source.text.get(head.clone()).unwrap_or("");
    let odd = [head.start, head.start + word.len()]
        .into_iter()
        .filter(|at| *at < head.end);
    let mut odd = odd.filter_map(|at| super::letters::odd_letter(source.file, source.text, at));
    if let Some(diagnostic) = odd.next() {
        return diagnostic;
    }
    if word.is_empty() {
        let help = "begin it with a word such as `let`, as in `let height = 4ft`";
        return Diagnostic::new(
            Code::UnknownStatement,
            format!("{} begins no statement", shown(text)),
            help,
        )
        .at(span(head.clone()), "");
    }
    let help = match word {
        "face" => format!(
            "write it in the braces of its structure: `structure \"Entry\" {{ {} }}`",
            samples::FACE
        ),
        "opening" => format!("write it in the braces of its face: `{}`", samples::OPENING),
        _ => match (samples::home(word), other_word(word)) {
            (Some((home, sample)), _) => {
                let article = if home.starts_with('a') { "an" } else { "a" };
                format!("`{word}` belongs in the braces of {article} {home}, as in `{sample}`")
            }
            (None, Some(known)) => {
                let sample = samples::of(known).unwrap_or(known);
                format!("write `{sample}`")
            }
            (None, None) => help_for(word, TOP_WORDS),
        },
    };
    Diagnostic::new(
        Code::UnknownStatement,
        format!("{} begins no statement here", shown(word)),
        help,
    )
    .at(span(head.start..head.start + word.len()), "")
}

/// The word of the language for what others call otherwise.
fn other_word(word: &str) -> Option<&'static str> {
    Some(match word {
        "exclusion" | "exclusions" | "excludes" => "exclude",
        "import" | "use" => "include",
        "option" | "alternative" => "alternate",
        "remark" | "comment" => "note",
        _ => return None,
    })
}

pub(crate) fn needless_block(brace: Span, word: &str) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        format!("{} takes no block", shown(word)),
        "delete the braces, or close the statement around it with `}` first",
    )
    .at(brace, "a block begins here")
}

/// A structure in an alternate that says nothing. `sample` is the right form.
pub(crate) fn change_without_block(span: Span, sample: &str) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "an alternate says in braces what becomes of a structure",
        format!("write `{sample}`, or leave the structure out, as in `omit \"Grotto\"`"),
    )
    .at(span, "`{` belongs behind this")
}

/// The braces of a structure in an alternate are empty.
pub(crate) fn nothing_changed(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::MissingSetting,
        "the alternate does not say what becomes of the structure",
        format!(
            "name a finish, as in `{}`, or leave the structure out, as in `omit \"Grotto\"`",
            samples::CHANGE
        ),
    )
    .at(span, "no finish is named")
}

pub(crate) fn second_finish(first: Span, second: Span) -> Diagnostic {
    Diagnostic::new(
        Code::SettingTwice,
        "an alternate gives a structure one finish",
        format!("write one finish, as in `{}`", samples::CHANGE),
    )
    .at(second, "the second")
    .at(first, "the first")
}

/// Conditions that are not pairs of words.
pub(crate) fn no_pair(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "conditions are pairs of words, the kind first",
        "write them as in `conditions { access tight  place indoors }`; the rule pack says which \
         there are",
    )
    .at(span, "")
}

/// A line of the crew block that is no class with its number.
pub(crate) fn no_class(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "a crew is made up of wage classes, each with how many there are",
        "write them as in `crew { lead 1  finisher 2 }`; the price book says what each is paid",
    )
    .at(span, "")
}

/// `crew` with nothing behind it.
pub(crate) fn empty_crew(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "`crew` does not say how many work on site",
        "write the number, as in `crew 3`, or the wage classes, as in `crew { lead 1  finisher 2 }`",
    )
    .at(span, "")
}

pub(crate) fn setting_without_block(span: Span, word: &str) -> Diagnostic {
    let sample = samples::of(word).unwrap_or_default();
    Diagnostic::new(
        Code::Syntax,
        format!("the `{{` is missing behind `{word}`"),
        format!("write what belongs to it in braces, as in `{sample}`"),
    )
    .at(span, "`{` belongs behind this")
}

pub(crate) fn finish_on_face(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "a face names its finish without the word `finish`",
        format!("write the name alone, as in `{}`", samples::FACE),
    )
    .at(span, "")
}

/// A setting of the structure, or an edge, behind a face or edge on the same line.
pub(crate) fn reads_as_its_own(span: Span, word: &str, behind_edge: bool) -> Diagnostic {
    let before = if behind_edge { "edge" } else { "face" };
    let help = match (behind_edge, word) {
        (false, "edge") => format!(
            "write it in the braces of the face, as in `{} {{ edge cap 22ft }}`, or on a line of \
             its own, as an edge of the structure",
            samples::FACE
        ),
        _ => format!("write `{word}` on a line of its own, or before the {before}"),
    };
    Diagnostic::new(
        Code::Syntax,
        format!("`{word}` stands behind the {before} and holds for the whole structure"),
        help,
    )
    .at(span, "")
}

/// `a.b.c.d`
pub(crate) fn long_path(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "too many names stand before what is measured",
        "name the structure, the face and what of it is meant, as in `planter.street.area`",
    )
    .at(span, "")
}

/// `planter."street"`
pub(crate) fn no_property(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "what of it is meant is missing behind the name",
        "write it behind the name, without quotes, as in `\"Entry planter\".street.area`",
    )
    .at(span, "a name, and no measure")
}

/// `sweep 90`: radians are never meant.
pub(crate) fn bare_angle(span: Span, written: &str) -> Diagnostic {
    let message = format!("the angle `{written}` has no unit");
    let help = format!("write `{written}deg`");
    Diagnostic::new(Code::MissingUnit, message, help).at(span, "")
}

pub(crate) fn few_corners(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "a polygon has three corners or more",
        "write every corner in turn, as in `polygon (0ft, 0ft) (10ft, 0ft) (5ft, 7ft)`",
    )
    .at(span, "")
}

pub(crate) fn too_long(span: Span, limit: usize) -> Diagnostic {
    Diagnostic::new(
        Code::TooLarge,
        format!("a statement is longer than {} KB", limit >> 10),
        "divide it: give parts of it names, or make several of it",
    )
    .at(span, "begins here")
}

pub(crate) fn expression_too_deep(span: Span, limit: usize) -> Diagnostic {
    Diagnostic::new(
        Code::TooDeep,
        format!("the calculation is nested more than {limit} deep"),
        "give a part of it a name, as in `let part = (a + b) * c`",
    )
    .at(span, "")
}
