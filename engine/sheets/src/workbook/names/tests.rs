use super::*;

#[test]
fn a_name_holds_what_a_spreadsheet_takes() {
    assert_eq!(
        joined(&["waste", "finish-mix", "stamp"]),
        "waste.finish_mix.stamp"
    );
    assert_eq!(joined(&["prices", "colour/=2+2"]), "prices.colour__2_2");
    assert_eq!(
        joined(&["size", "", "Größe", "Höhe 1"]),
        "size.Größe.Höhe_1"
    );
    assert!(joined(&["size", &"x".repeat(500)]).len() <= MOST_LETTERS);
}

#[test]
fn a_name_that_is_taken_gets_a_number() {
    let mut names = Names::default();
    let got = ["size.a", "SIZE.A", "size.a"].map(|name| names.free(name));
    assert_eq!(got, ["size.a", "SIZE.A_2", "size.a_3"]);
}
