use super::same;

#[test]
fn names_written_by_hand_are_the_same_in_any_letters_and_blanks() {
    assert!(same("Finish mix", "finish  MIX "));
    assert!(same("finish-mix", "Finish mix"));
    assert!(!same("finish-mix", "finishmix"));
    assert!(!same("colour/moss", "colour moss"));
}
