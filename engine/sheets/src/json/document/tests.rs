use super::*;
use serde_json::json;

fn lines(all: &[serde_json::Value]) -> Lines {
    let mut lines = Lines::default();
    all.iter().for_each(|line| lines.push(line).unwrap());
    lines
}

/// An object with a list in pieces, one of them put aside first, as `serde_json` would write it.
#[test]
fn members_and_lines_are_laid_out_as_those_of_a_whole() {
    let all = [
        json!({"a": [1, {"b": []}], "c": {}}),
        json!("d\n"),
        json!([]),
    ];
    for (before, aside) in [(0, 0), (0, 3), (1, 1), (2, 0), (3, 3)] {
        let mut text = Vec::new();
        let mut document = Document::begin(&mut text).unwrap();
        document.member("first \"one\"", &all).unwrap();
        let mut kept = Aside::new().unwrap();
        kept.lines(&lines(&all[..aside])).unwrap();
        document
            .list("list", |list| {
                list.lines(&Lines::default())?;
                list.lines(&lines(&all[..before]))?;
                list.put_aside(kept)
            })
            .unwrap();
        document.end().unwrap();
        let list: Vec<_> = all[..before].iter().chain(&all[..aside]).collect();
        let mut whole = serde_json::Map::new();
        whole.insert("first \"one\"".into(), json!(all));
        whole.insert("list".into(), json!(list));
        let wanted = serde_json::to_string_pretty(&whole).unwrap();
        assert_eq!(String::from_utf8(text).unwrap(), wanted);
    }
}

#[test]
fn an_object_without_members_is_empty() {
    let mut text = Vec::new();
    Document::begin(&mut text).unwrap().end().unwrap();
    assert_eq!(text, b"{}");
}
