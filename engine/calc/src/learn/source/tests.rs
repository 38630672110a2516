use super::*;
use parge_base::FactorSource;

#[test]
fn the_value_before_is_read_back() {
    let days = Some((Date::constant(2025, 3, 2), Date::constant(2026, 8, 14)));
    let text = source(7, days, Some(10.0));
    assert_eq!(
        text,
        "own jobs: 7 jobs, 2025-03-02 to 2026-08-14; before 10"
    );
    let Some(FactorSource::OwnJobs(jobs)) = FactorSource::parse(&text) else {
        panic!("{text} is no source of own jobs");
    };
    assert_eq!(before(&jobs), Some(10.0));
    assert_eq!(FactorSource::OwnJobs(jobs).to_string(), text);
}

#[test]
fn a_source_written_by_hand_says_no_value_before() {
    for text in [
        "7 jobs",
        "7 jobs; before",
        "7 jobs; before many",
        "7 jobs; before -3",
    ] {
        assert_eq!(before(text), None, "{text}");
    }
}
