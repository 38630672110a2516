//! Versions, and what a manifest extends.

use super::*;

#[test]
fn a_version_is_one_to_three_numbers() {
    assert_eq!(version("0.1"), Some([0, 1, 0]));
    assert_eq!(version("2"), Some([2, 0, 0]));
    assert_eq!(version("1.20.3"), Some([1, 20, 3]));
    for wrong in ["", "1.", ".1", "1.2.3.4", "1.x", "+1", "99999999999"] {
        assert_eq!(version(wrong), None, "{wrong}");
    }
}

#[test]
fn a_version_is_met_by_itself_and_by_anything_newer() {
    let said = |wanted: &str| {
        let mut sources = Sources::new();
        let file = sources.add("p/pack.toml", format!("engine = \"{wanted}\"\n"));
        let said = check_engine(sources.text(file), file);
        said.err()
            .map_or("fine".to_owned(), |error| error.code.id().to_owned())
    };
    for fine in ["0", "0.1", "0.0.9", ENGINE] {
        assert_eq!(said(fine), "fine", "{fine}");
    }
    assert_eq!(said("99"), "E0411");
    assert_eq!(said("soon"), "E0402");
}

#[test]
fn what_a_manifest_extends_is_found_with_its_place() {
    let text = "name = \"p\"\nextends = \"../base\"\n";
    let (word, range) = extends(text).unwrap();
    assert_eq!((word.as_str(), &text[range]), ("../base", "\"../base\""));
    assert!(extends("name = \"p\"").is_none());
    assert!(extends("extends = 3").is_none());
}
