use super::*;

#[test]
fn rows_know_their_places_and_blank_rows_are_left_out() {
    let mut sources = Sources::new();
    let file = sources.add("t.csv", "\u{feff}Key,value\r\n\r\n\"a, b\", 1 \n,,\nc,2");
    let text = CsvText::read(&sources, file, Code::BadTable).unwrap();
    assert_eq!(text.header, ["key", "value"]);
    let rows: Vec<(&str, &str)> = text
        .rows
        .iter()
        .map(|row| (row.field(0), sources.slice(row.span)))
        .collect();
    assert_eq!(rows, [("a, b", "\"a, b\", 1 "), ("c", "c,2")]);
    assert_eq!(text.rows[1].field(9), "");
}

#[test]
fn numbers_may_be_fractions() {
    assert_eq!(number("0.45"), Some(0.45));
    assert_eq!(number("3/8"), Some(0.375));
    assert_eq!(number("1 1/2"), Some(1.5));
    for wrong in ["", "x", "1/0", "1e999", "NaN", "1 2", "a/2"] {
        assert_eq!(number(wrong), None, "{wrong}");
    }
}

#[test]
fn texts_over_line_ends_and_repeated_columns_are_refused() {
    let said = |text: &str| {
        let mut sources = Sources::new();
        let file = sources.add("t.csv", text);
        CsvText::read(&sources, file, Code::BadTable)
            .unwrap_err()
            .message
    };
    assert_eq!(
        said("a,b\n1,\"open\n2,x\n"),
        "a quoted text runs over the end of its line"
    );
    assert_eq!(said("a,b,a\n1,2,3\n"), "two columns are called `a`");
}

/// One reader reads all texts of a thread: none may leave anything to the next.
#[test]
fn a_text_is_read_the_same_after_any_other() {
    let texts = [
        "a,b\n1,2\n3, 4 \n",
        "a\n\"open quote, to the end\n1\n",
        "",
        "\u{feff}a,b\r\n\"x, y\",2\r\n",
        "a,a\n",
        "a",
    ];
    let read = |text: &str| {
        let mut sources = Sources::new();
        let file = sources.add("table.csv", text);
        format!("{:?}", CsvText::read(&sources, file, Code::BadTable))
    };
    let alone = |text: &'static str| std::thread::spawn(move || read(text)).join().unwrap();
    for before in texts {
        for text in texts {
            read(before);
            assert_eq!(read(text), alone(text), "{text} after {before}");
        }
    }
}
