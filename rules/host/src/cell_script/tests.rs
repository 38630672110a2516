use super::*;
use parge_base::Sources;

fn script(text: &str) -> Result<CellScript, Diagnostic> {
    let file = Sources::new().add("profile.toml", text);
    CellScript::compile(text, file, Span::new(file, 0, 0))
}

fn read(text: &str, cells: &[&str]) -> Result<Vec<String>, String> {
    script(text).unwrap().read(cells.iter().copied())
}

#[test]
fn a_script_reads_odd_texts() {
    let odd = "fn cell(text) { if text.starts_with(\"h=\") { text.sub_string(2) + \" mm\" } else { text } }";
    assert_eq!(read(odd, &["h=2400", "Wall"]).unwrap(), ["2400 mm", "Wall"]);
}

#[test]
fn what_is_no_such_script_is_refused() {
    for bad in [
        "fn other(text) { text }",
        "let a = 1;",
        "fn cell(text) { eval(text) }",
        "fn cell(",
        "",
    ] {
        assert!(script(bad).is_err(), "{bad}");
    }
}

#[test]
fn scripts_are_bounded() {
    let endless = "fn cell(text) { loop { } }";
    assert!(read(endless, &["a"]).unwrap_err().contains("stopped"));
    let long = "fn cell(text) { let all = text; loop { all += all; } }";
    assert!(read(long, &["abc"]).unwrap_err().contains("stopped"));
    assert!(
        read("fn cell(text) { 3 }", &["a"])
            .unwrap_err()
            .contains("no text")
    );
}
