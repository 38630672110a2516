use super::*;

#[test]
fn thousands_are_set_apart() {
    assert_eq!(number(1234567.891, 2), "1,234,567.89");
    assert_eq!(number(-123.0, 0), "-123");
    assert_eq!(number(-1234.0, 0), "-1,234");
    assert_eq!(grouped("999.50"), "999.50");
}

#[test]
fn names_cannot_command_the_terminal() {
    assert_eq!(visible("Wall\u{1b}[2J"), "Wall\u{fffd}[2J");
}

/// Words give way to numbers for as long as there is room for these.
#[test]
fn a_number_is_never_broken() {
    let row = |name: &str| {
        let numbers = ["1,234,567.89", "12,345.60"].map(str::to_owned);
        [vec![name.to_owned()], numbers.to_vec()].concat()
    };
    let rows = vec![
        row("a name of many words"),
        row("anamewithoutanyblanktobreakitat"),
    ];
    for width in [35, 40, 60, 80] {
        let text = table(&["name", ">total", ">labour"], rows.clone(), width);
        assert!(
            text.contains("1,234,567.89") && text.contains("12,345.60"),
            "{text}"
        );
    }
}
