use super::*;

const HERE: At = At {
    sheet: 0,
    row: 0,
    column: 0,
};

fn manner(unit: Option<LengthUnit>) -> Manner {
    Manner {
        decimal: Decimal::Point,
        length: unit.map(|unit| (unit, UnitFrom::Header)),
        area: unit.map(|unit| (unit, UnitFrom::Header)),
        dates_are_fractions: false,
        has_numbers: true,
    }
}

fn cell(content: Content) -> Cell {
    Cell {
        column: 0,
        content,
        formula: None,
        struck: false,
        format: None,
    }
}

fn text(text: &str) -> Cell {
    cell(Content::Text(text.into()))
}

fn said(text_of: &str, unit: Option<LengthUnit>) -> String {
    match lengths(&text(text_of), HERE, &manner(unit)) {
        Ok(figures) => {
            let written: Vec<&str> = figures.iter().map(Figure::written).collect();
            written.join(" x ")
        }
        Err(why) => format!("{why:?}"),
    }
}

#[test]
fn lengths_of_the_trade() {
    let rows = [
        ("8'-6\"", "8ft 6in"),
        ("8' 6 1/2\"", "8ft 6 1/2in"),
        ("8'6", "8ft 6in"),
        ("8’ 6½”", "8ft 6 1/2in"),
        ("12 ft", "12ft"),
        ("12 ft. 3 in.", "12ft 3in"),
        ("8'-0\"", "8ft"),
        ("0'-6\"", "6in"),
        ("2.4 m", "2.4m"),
        ("2400mm", "2400mm"),
        ("3 m 810 mm", "3m 810mm"),
        ("3/4\"", "3/4in"),
        ("1,250.5 mm", "1250.5mm"),
        ("102 x 30 in", "102in x 30in"),
        ("8'-6\" x 7'-0\"", "8ft 6in x 7ft"),
        ("2.4m x 3.0m", "2.4m x 3.0m"),
        ("2.4mx3m", "2.4m x 3m"),
        (".5 m", "0.5m"),
    ];
    for (written, wanted) in rows {
        assert_eq!(said(written, None), wanted, "{written}");
    }
}

#[test]
fn bare_numbers_take_the_unit_of_their_column() {
    assert_eq!(said("102 x 30", Some(LengthUnit::Inch)), "102in x 30in");
    assert_eq!(said("2 1/2", Some(LengthUnit::Inch)), "2 1/2in");
    assert_eq!(said("7", None), "NoUnit");
    let number = lengths(
        &cell(Content::Number(8.25)),
        HERE,
        &manner(Some(LengthUnit::Foot)),
    );
    assert_eq!(number.unwrap()[0].written(), "8.25ft");
    let as_text = lengths(&text("7"), HERE, &manner(Some(LengthUnit::Foot))).unwrap();
    assert!(as_text[0].was_text());
}

#[test]
fn what_is_no_length_says_why() {
    for bad in [
        "8-6",
        "TBC",
        "3/0 x 7/0",
        "12 sf",
        "2 x 3 x 4",
        "0",
        "see dwg",
        "",
        "1.2.3",
    ] {
        let why = lengths(&text(bad), HERE, &manner(Some(LengthUnit::Foot)));
        assert!(matches!(why, Err(Why::Unclear(_))), "{bad}: {why:?}");
    }
}

#[test]
fn a_day_that_was_a_fraction() {
    let day = cell(Content::Date(2026, 4, 3));
    let why = lengths(&day, HERE, &manner(Some(LengthUnit::Inch))).unwrap_err();
    assert!(matches!(why, Why::Date { fraction, .. } if fraction == "3/4"));
    let asked = Manner {
        dates_are_fractions: true,
        ..manner(Some(LengthUnit::Inch))
    };
    assert_eq!(lengths(&day, HERE, &asked).unwrap()[0].written(), "3/4in");
}

#[test]
fn areas_and_counts() {
    let bare = manner(Some(LengthUnit::Foot));
    assert_eq!(
        area(&text("1,234 SF"), HERE, &bare).unwrap().written(),
        "1234ft2"
    );
    assert_eq!(
        area(&text("12.5 m²"), HERE, &bare).unwrap().written(),
        "12.5m2"
    );
    let less = area(&text("(24)"), HERE, &bare).unwrap();
    assert!(less.is_negative() && less.written() == "24ft2");
    assert_eq!(count(&text("4 nos"), HERE, &bare).unwrap().number, 4);
    assert_eq!(count(&text("x 3"), HERE, &bare).unwrap().number, 3);
    assert!(count(&text("2.5"), HERE, &bare).is_err());
    assert!(count(&cell(Content::Number(0.0)), HERE, &bare).is_err());
}

#[test]
fn a_number_format_shows_a_unit() {
    assert_eq!(
        in_format(Some("0.00\" m\"")),
        Some(UnitWord::Length(LengthUnit::Metre))
    );
    assert_eq!(
        in_format(Some("#,##0.0\\ \"ft\"")),
        Some(UnitWord::Length(LengthUnit::Foot))
    );
    assert_eq!(in_format(Some("0.00")), None);
}

#[test]
fn a_note_names_the_unit() {
    let inch = Some(UnitWord::Length(LengthUnit::Inch));
    assert_eq!(unit_in_words("All dimensions in inches"), inch);
    assert_eq!(
        unit_in_words("dims in mm unless noted"),
        Some(UnitWord::Length(LengthUnit::Millimetre))
    );
    assert_eq!(unit_in_words("Lengths in m, areas in m2"), None);
    assert_eq!(unit_in_words("Sealed in two coats"), None);
}

#[test]
fn commas_and_points() {
    let of = |text: &str| {
        let found = evidence(text);
        (found.point, found.comma, found.open)
    };
    assert_eq!(of("2,4"), (false, true, false));
    assert_eq!(of("2.4"), (true, false, false));
    assert_eq!(of("1.234,5"), (false, true, false));
    assert_eq!(of("1,234"), (false, false, true));
    assert_eq!(of("12.125"), (false, false, false));
    assert!(evidence("12.125").open_point && evidence("1.200 x 1.200").open_point);
    assert_eq!(of("1.200 x 2.4"), (true, false, false));
    let comma = Manner {
        decimal: Decimal::Comma,
        ..manner(None)
    };
    assert_eq!(
        lengths(&text("1.234,5 mm"), HERE, &comma).unwrap()[0].written(),
        "1234.5mm"
    );
}
