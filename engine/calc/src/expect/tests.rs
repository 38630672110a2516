use super::*;
use parge_base::{FileId, Sources, Units};
use parge_rules::cases;

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
