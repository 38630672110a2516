use super::*;
use parge_base::{FileId, Sources, Units};
use parge_rules::cases;

fn case(text: &str) -> Case {
    let mut sources = Sources::new();
    let text = format!("[[case]]\nname = 'a'\nplan = ''\n{text}");
    let file: FileId = sources.add("a.toml", text);
    let (mut cases, wrong) = cases(&sources, file, &Units::standard());
    assert!(wrong.is_empty(), "{wrong:?}");
    cases.remove(0)
}

/// Whether the case holds where these two warnings and an error are said.
fn holds(text: &str) -> Vec<String> {
    let said = [
        Diagnostic::new(Code::RuleWarning, "the coat is thin", ""),
        Diagnostic::new(Code::NoDate, "the job has no date", ""),
        Diagnostic::new(Code::NoValue, "an error is no warning", ""),
    ];
    let misses = warned(&case(text), &said).into_iter();
    misses
        .map(|miss| format!("{}: {}, {}", miss.what, miss.wanted, miss.got))
        .collect()
}

#[test]
fn warnings_are_those_of_the_case_and_no_others() {
    assert!(holds("warns = ['coat is thin', 'no date']").is_empty());
    assert!(holds("warns = ['W0409', 'no date', 'thin']").is_empty());
    assert!(holds("cautions = ['silica']").is_empty());
    assert_eq!(
        holds("warns = ['W0409', 'an error']"),
        [
            "warning `an error`: said, not said",
            &format!(
                "warning {}: not said, the job has no date",
                Code::NoDate.id()
            ),
        ]
    );
    assert_eq!(holds("warns = []").len(), 2);
}

fn wanted(text: &str) -> Wanted {
    let mut sources = Sources::new();
    let text = format!("[[case]]\nname = 'a'\nbid = {{}}\n[case.charges]\nx = '{text}'");
    let file: FileId = sources.add("a.toml", text);
    let (mut cases, wrong) = cases(&sources, file, &Units::standard());
    assert!(wrong.is_empty(), "{wrong:?}");
    match cases.remove(0).asked {
        parge_rules::Asked::Bid { mut charges, .. } => charges.remove(0),
        other => panic!("{other:?}"),
    }
}

fn passes(text: &str, feet: f64) -> bool {
    let unit = Units::standard().parse("ft").unwrap();
    let mut outcome = Outcome::default();
    outcome.compare("", &wanted(text), unit.quantity(feet).unwrap());
    assert!(outcome.wrong.is_empty());
    outcome.misses.is_empty()
}

#[test]
fn figures_are_compared_to_the_digits_written() {
    assert!(passes("13.89 ft", 13.888_888));
    assert!(passes("14 ft", 13.888_888));
    assert!(passes("13.9 ft", 13.888_888));
    assert!(!passes("13.88 ft", 13.888_888));
    assert!(!passes("13.890 ft", 13.888_888));
    assert!(passes("0.00 ft", 0.0));
    assert!(!passes("0.00 ft", 0.006));
    // The middle is both of its neighbours, whatever the binary digits say.
    assert!(passes("0.13 ft", 0.125) && passes("0.12 ft", 0.125));
    assert!(passes("12 in", 1.0));
}

#[test]
fn another_kind_is_a_fault_of_the_case() {
    let mut outcome = Outcome::default();
    outcome.compare("", &wanted("1 ft2"), Quantity::zero(Dim::LENGTH));
    assert!(outcome.misses.is_empty());
    assert_eq!(outcome.wrong.len(), 1);
}
