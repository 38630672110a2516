//! Published values beside computed ones. The values and their sources stand in
//! `engine/calc/src/checks`.

use parge_cli::Exit;
use parge_tests::Folder;

/// Every check passes; the table shows each with its source.
#[test]
fn all_published_values_are_reproduced() {
    let said = Folder::new().unwrap().parge("checks");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);
}
