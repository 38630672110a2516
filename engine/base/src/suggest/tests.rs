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
