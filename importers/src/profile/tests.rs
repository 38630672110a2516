use super::*;
use crate::columns::RowWord;
use parge_base::Sources;

const TEXT: &str = r#"name = "Rooms"
sheets = ["Schedule"]

[answers]
length = "ft"
hidden = "leave out"
height = "8ft 6in"

[columns]
"Wall Ht." = "height"
E = "count"

[words]
total = ["Summe"]

[job]
on = "block"

[finishes.bark]
technique = "carve"
thickness = "1 1/2in"
"#;

fn read_text(text: &str) -> Result<Profile, parge_base::Diagnostic> {
    let mut sources = Sources::new();
    let file = sources.add("profile.toml", text);
    read(&sources, file)
}

#[test]
fn a_profile_is_read_and_written() {
    let profile = read_text(TEXT).unwrap();
    assert_eq!(profile.answers.hidden, Some(Take::LeaveOut));
    assert_eq!(
        profile.role_of("Schedule", "B", "Wall Ht."),
        Some(Role::Height)
    );
    assert_eq!(profile.role_of("Schedule", "E", "?"), Some(Role::Count));
    let says = profile.words.of_row("Summe");
    assert!(says.has(RowWord::Total));
    let again = read_text(&write(&profile).unwrap()).unwrap();
    assert_eq!(again, profile);
}

#[test]
fn what_is_wrong_in_a_profile_is_said_at_its_place() {
    for (from, to, said) in [
        (
            "\"ft\"",
            "\"feets\"",
            "`feets` is nothing that `length` can be",
        ),
        (
            "\"count\"",
            "\"counts\"",
            "`counts` is nothing that `e` can be",
        ),
        ("[job]", "[jobs]", "the profile cannot be read"),
    ] {
        let error = read_text(&TEXT.replace(from, to)).unwrap_err();
        assert!(error.message.to_lowercase().contains(said), "{error:?}");
        assert!(error.span().is_some());
    }
}

#[test]
fn a_script_reads_odd_cells_and_says_so() {
    let book = crate::grid::open("a.csv", b"Wall,Size\nA,12ft/8ft\n").unwrap();
    let text = "name = \"Odd\"\nscript = '''\nfn cell(text) {\n  let out = text;\n  \
                if text.contains(\"ft/\") { out.replace(\"/\", \" x \"); }\n  out\n}\n'''\n";
    let profile = read_text(text).unwrap();
    let read = scripted(&book, &profile, &mut Sources::new()).unwrap();
    assert_eq!(
        read.remarks[0].text,
        "a!B2 says `12ft/8ft`, read as `12ft x 8ft`"
    );
    let import = crate::faces::import(&read.book, &profile);
    assert_eq!(import.faces.len(), 1);
}
