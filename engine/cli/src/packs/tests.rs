use super::*;

#[test]
fn the_reference_of_rules_has_the_limits_that_hold() {
    let reference = include_str!("../../../../rules/REFERENCE.md");
    let megabytes = MAX_FILE >> 20;
    for row in [
        format!("| files in `tests/`; size of each | {MAX_FILES}; {megabytes} MB |\n"),
        format!("| packs that rest on each other | {MAX_LAYERS} |\n"),
    ] {
        assert!(reference.contains(&row), "{row}");
    }
}
