use super::*;

fn term_of(text: &str) -> Result<(f64, Option<String>), String> {
    term(text).map(|term| (term.value, term.unit))
}

#[test]
fn numbers_are_read_as_they_are_written_by_hand() {
    let read = |text: &str| {
        let terms = terms(text).unwrap();
        let values = terms.iter().map(|term| term.value);
        (
            values.collect::<Vec<_>>(),
            terms.last().unwrap().unit.clone(),
        )
    };
    let unit = |text: &str| Some(text.to_owned());
    assert_eq!(read("104 bags"), (vec![104.0], unit("bags")));
    assert_eq!(read("36h"), (vec![36.0], unit("h")));
    assert_eq!(read("7 1/2 gal"), (vec![7.5], unit("gal")));
    assert_eq!(read("7½ gal."), (vec![7.5], unit("gal.")));
    assert_eq!(
        read("64 + 40 + 3 bags"),
        (vec![64.0, 40.0, 3.0], unit("bags"))
    );
    assert_eq!(read("12"), (vec![12.0], None));
    assert_eq!(read("___ 104 bag"), (vec![104.0], unit("bag")));
    assert_eq!(read("_104_ bag"), (vec![104.0], unit("bag")));
    assert!(terms("2 ___ h").is_err());
    assert!(is_filled("_104_ ft2") && is_filled("7½ gal") && is_filled("64+40 bag"));
    assert!(!is_filled("___ ft2") && !is_filled("___"));
    assert_eq!(term_of("-4 bags").unwrap().0, -4.0);
    assert_eq!(term_of("1,250 ft2"), Err("1,250".to_owned()));
    assert_eq!(term_of("5 2 gal"), Err("5 2".to_owned()));
    assert_eq!(term_of("bags"), Err("bags".to_owned()));
}

#[test]
fn units_are_spelt_by_hand() {
    let units = Units::standard();
    for word in [
        "bags", "Bags", "gal.", "gals", "boxes", "sq ft", "sq. ft.", "Hours", "rolls", "L",
    ] {
        let read = spellings(word).iter().any(|word| units.parse(word).is_ok());
        assert!(read, "{word}");
    }
    assert!(
        spellings("bogs")
            .iter()
            .all(|word| units.parse(word).is_err())
    );
}
