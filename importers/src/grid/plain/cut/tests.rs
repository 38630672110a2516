use super::*;
use proptest::prelude::*;

/// What is taken off a text as a number, and what is left of it.
fn number(text: &str) -> Option<(u64, &str)> {
    let mut cut = Cut::new(text);
    let number = cut.number()?;
    Some((number.to_bits(), cut.0))
}

#[test]
fn what_is_no_number_is_left() {
    for text in [
        "",
        "-",
        ".5",
        "5.",
        "5.<",
        "--5",
        "+5",
        "1234567890123456",
        "0.1234567890123456",
    ] {
        assert_eq!(number(text), None, "{text}");
    }
    assert_eq!(number("-0<"), Some(((-0.0_f64).to_bits(), "<")));
    // What is left decides whether it was all of the number.
    assert_eq!(number("1e5"), Some((1_f64.to_bits(), "e5")));
    assert_eq!(number("1.5.2"), Some((1.5_f64.to_bits(), ".2")));
}

proptest! {
    /// Digits read one by one are the number that reading the text gives, to the last bit.
    #[test]
    fn numbers_are_read_exactly(text in "-?[0-9]{1,9}(\\.[0-9]{1,6})?", tiny in "-?0\\.[0-9]{1,14}") {
        for text in [text, tiny] {
            prop_assert_eq!(number(&text), Some((text.parse::<f64>().unwrap().to_bits(), "")));
        }
    }

    #[test]
    fn places_are_read_alike(column in 0_u32..16_384, row in 1_u32..1_048_577) {
        let name = format!("{}{row}", crate::grid::letters(column));
        let mut cut = Cut::new(&name);
        prop_assert_eq!((cut.column(), cut.digits()), (Some(column), Some(row)));
        prop_assert!(cut.is_at_end());
    }
}
