use super::{HEAD, Places};
use parge_base::{Code, Diagnostic, Sources, Span};

const TEXT: &str = "let a = 2ft\nstructure A {\n}\nstructure B from b(1ft)\nnote \"x\"\n";

fn places() -> Places {
    let file = Sources::new().add("plan", "");
    Places::new(TEXT, parge_grammar::statements(file, TEXT).unwrap())
}

#[test]
fn an_edit_within_a_structure_has_a_letter_of_it_on_both_sides() {
    let places = places();
    let (first, last) = (TEXT.find("structure A").unwrap(), TEXT.find('}').unwrap());
    assert_eq!(places.around(&(first + 1..last)), Some(1));
    assert_eq!(places.around(&(last..last)), Some(1));
    assert_eq!(places.around(&(first..last)), None, "it begins otherwise");
    assert_eq!(
        places.around(&(first + 1..last + 1)),
        None,
        "it ends otherwise"
    );
    assert_eq!(places.around(&(1..2)), None, "no structure");
    let b = TEXT.find("b(").unwrap();
    assert_eq!(places.around(&(b..b + 1)), Some(2));
    assert_eq!([1, 2].map(|statement| places.structure(statement)), [0, 1]);
}

#[test]
fn what_was_said_is_pointed_into_the_text_as_it_is_now() {
    let mut sources = Sources::new();
    let (file, aside) = (sources.add("plan", TEXT), sources.add("aside", ""));
    let mut places = places();
    let mut text = TEXT.to_owned();
    let first = TEXT.find("structure A").unwrap();
    text.insert_str(first + 13, "\n  face");
    places.change(1, 0, 7);
    text.replace_range(
        text.find("1ft").unwrap()..text.find("1ft").unwrap() + 3,
        "9",
    );
    places.change(2, 3, 1);
    assert_eq!(&text[places.of(1)], "structure A {\n  face\n}");
    assert_eq!(&text[places.of(2)], "structure B from b(9)");
    assert_eq!(&text[places.of(3)], "note \"x\"");

    // In the structure that was read aside, and in a statement as it was before.
    let note = TEXT.find("note").unwrap();
    let mut said = Diagnostic::new(Code::Syntax, "", "")
        .at(Span::new(aside, HEAD.len() + 17, HEAD.len() + 18), "")
        .at(Span::new(file, note, note + 4), "");
    places.point([file, aside], 2, &mut said);
    let shown: Vec<&str> = said
        .labels
        .iter()
        .map(|label| &text[label.span.range()])
        .collect();
    assert_eq!(shown, ["b", "note"]);
    assert!(said.labels.iter().all(|label| label.span.file == file));
}
