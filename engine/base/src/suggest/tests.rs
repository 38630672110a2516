use super::*;

#[test]
fn suggests_the_nearest_name_only_when_it_is_near() {
    assert_eq!(nearest("drystne", ["bark", "drystone"]), Some("drystone"));
    assert_eq!(nearest("Bark", ["bark", "drystone"]), Some("bark"));
    assert_eq!(nearest("marble", ["bark", "drystone"]), None);
}

#[test]
fn lists_what_is_known_when_nothing_is_near() {
    assert_eq!(
        help_for("marble", ["bark", "drystone"]),
        "known here: `bark` and `drystone`"
    );
    assert_eq!(help_for("marble", []), "none is defined yet");
}

/// Comparing two of these would take hours.
#[test]
fn names_that_are_noise_are_not_compared() {
    let (wrong, known) = ("a".repeat(1_000_000), "b".repeat(1_000_000));
    assert_eq!(nearest(&wrong, ["let", &known]), None);
    assert_eq!(nearest("lte", [known.as_str(), "let"]), Some("let"));
}
