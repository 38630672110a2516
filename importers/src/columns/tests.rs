use super::*;
use crate::cells::{LengthUnit, UnitWord};

const FIGURES: Content = Content {
    figures: 5,
    words: 0,
    counts_through: false,
};
const WORDS: Content = Content {
    figures: 0,
    words: 5,
    counts_through: false,
};

fn role(text: &str, over: Option<&str>, content: Content) -> Result<Role, Vec<Role>> {
    let head = Head {
        column: 0,
        over: over.map(str::to_owned),
        text: text.to_owned(),
    };
    match recognise(&head, content, None, &Words::default()) {
        Recognised::Known(column) => Ok(column.role),
        Recognised::Open { choices, .. } => Err(choices),
    }
}

#[test]
fn the_word_list_can_be_read() {
    for role in Role::ALL {
        let words = match Role::OF_BOOKS.contains(role) {
            true => Words::default().of_prices(),
            false => Words::default(),
        };
        assert!(
            !words.exact(&role.word().replace('_', " ")).is_empty(),
            "{role:?} has no word"
        );
    }
}

#[test]
fn headers_lose_their_unit() {
    let rows = [
        (
            "Height (in)",
            "height",
            Some(UnitWord::Length(LengthUnit::Inch)),
        ),
        ("Ht, ft", "ht", Some(UnitWord::Length(LengthUnit::Foot))),
        (
            "Width in mm",
            "width",
            Some(UnitWord::Length(LengthUnit::Millimetre)),
        ),
        ("L [m]", "l", Some(UnitWord::Length(LengthUnit::Metre))),
        ("SF", "sf", Some(UnitWord::Area(LengthUnit::Foot))),
        (
            "Net area sq ft",
            "net area",
            Some(UnitWord::Area(LengthUnit::Foot)),
        ),
        ("Qty.", "qty", None),
    ];
    for (text, words, unit) in rows {
        assert_eq!(header_words(text), (words.to_owned(), unit), "{text}");
    }
}

#[test]
fn the_words_of_the_trade() {
    let rows = [
        ("L", FIGURES, Role::Length),
        ("Wall height", FIGURES, Role::Height),
        ("ddt", FIGURES, Role::Deduction),
        ("opng", FIGURES, Role::Deduction),
        ("Nos", FIGURES, Role::Count),
        ("SF", FIGURES, Role::Area),
        ("Net area (SF)", FIGURES, Role::NetArea),
        ("Location", WORDS, Role::Structure),
        ("Elevation", WORDS, Role::Structure),
        ("Remarks", WORDS, Role::Note),
        ("Checked against", WORDS, Role::Ignore),
    ];
    for (text, content, wanted) in rows {
        assert_eq!(role(text, None, content), Ok(wanted), "{text}");
    }
}

#[test]
fn a_header_over_two_says_what_they_are_of() {
    assert_eq!(role("W", Some("Opening"), FIGURES), Ok(Role::OpeningWidth));
    assert_eq!(role("H", Some("Opening"), FIGURES), Ok(Role::OpeningHeight));
    assert_eq!(role("H", Some("Size"), FIGURES), Ok(Role::Height));
}

#[test]
fn a_number_column_counts_rows_or_faces() {
    let through = Content {
        counts_through: true,
        ..FIGURES
    };
    assert_eq!(role("No.", None, through), Ok(Role::Number));
    assert_eq!(role("No.", None, FIGURES), Ok(Role::Count));
}

#[test]
fn unknown_figures_are_asked_about() {
    assert_eq!(role("Fac", None, FIGURES), Err(Vec::new()));
    assert_eq!(role("Fac", None, WORDS), Ok(Role::Note));
}
