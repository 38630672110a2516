//! Mistakes, each with what is said of it.

use super::{good, read, told, told_of, told_of_all};
use crate::ast::Statement;

#[test]
fn whole_texts() {
    for text in ["", " \n\t", "# nothing\n\n# more", "\u{FEFF}"] {
        assert!(
            told(text).starts_with("E0102 at ``: the plan is empty |"),
            "{}",
            told(text)
        );
        assert!(!told(text).contains('\n'));
    }
    insta::assert_snapshot!(told("let a = 3ft"), @r#"
    E0108 at `let`: the version line is missing | begin the plan with the line `parge 1`
    "#);
    insta::assert_snapshot!(told("parge 2\nlet a = 3ft"), @r#"
    E0108 at `2`: version 2 of the plan language is not known | write `parge 1`; a plan of a later version needs a later program
    "#);
    insta::assert_snapshot!(told("parge one"), @r#"
    E0108 at `parge one`: the version line cannot be read | write the line as `parge 1`, with nothing else on it
    "#);
    insta::assert_snapshot!(told("prage 1\nlet a = 3ft"), @r#"
    E0108 at `prage`: the version line is missing | begin the plan with the line `parge 1`
    "#);
    insta::assert_snapshot!(told("parge 1\nparge 1"), @r#"
    E0108 at `parge 1`: the version line stands in the middle of the plan | write `parge 1` once, as the first line
    "#);
    assert_eq!(good("parge 1").statements, []);
    assert_eq!(
        read("parge 2").plan.version.map(|version| version.node),
        Some(2)
    );
}

#[test]
fn more_mistakes_than_anybody_reads() {
    let parsed = read(&("parge 1\n".to_owned() + &"x\n".repeat(5000)));
    assert_eq!(parsed.diagnostics.len(), 1001);
}

#[test]
fn statements() {
    insta::assert_snapshot!(told_of_all(&[
        "lte a = 3",
        "wall \"x\"",
        "face a rect 1ft x 1ft",
        "opening a rect 1ft x 1ft",
        "technique carve",
        "= 3",
        "“a”",
        "a\u{200B}b",
        "\u{202E}let a = 3",
        "strcture \"a\" { face b rct 1ft x 1ft }",
    ]), @r#"
    E0107 at `lte`: `lte` begins no statement here | did you mean `let`?
    E0107 at `wall`: `wall` begins no statement here | known here: `parge`, `job`, `let`, `finish`, `structure`, `template`, `include`, `alternate`, `allowance`, `exclude`, `note` and `terms`
    E0107 at `face`: `face` begins no statement here | write it in the braces of its structure: `structure "Entry" { face street rect 22ft x 4ft drystone }`
    E0107 at `opening`: `opening` begins no statement here | write it in the braces of its face: `face street rect 22ft x 4ft { opening vent rect 12in x 8in reveal 4in }`
    E0107 at `technique`: `technique` begins no statement here | `technique` belongs in the braces of a finish, as in `technique stamp`
    E0107 at `= 3`: `= 3` begins no statement | begin it with a word such as `let`, as in `let height = 4ft`
    E0106 at `“`: `“` means nothing here | write names in straight double quotes, as in `"Entry planter"`, and feet and inches as `12ft 6in`
    E0106 at `unseen`: an invisible character (U+200B) stands here | delete it, and write the word around it anew
    E0106 at `unseen`: an invisible character (U+202E) stands here | delete it, and write the word around it anew
    E0107 at `strcture`: `strcture` begins no statement here | did you mean `structure`?
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    "#);
}

#[test]
fn heads() {
    insta::assert_snapshot!(told_of_all(&[
        "job Heron Point {}",
        "job {}",
        "job \"a\"",
        "job \"\" {}",
        "job \"a\" b {}",
        "finish {}",
        "finish dry stone {}",
        "finish dry-stone {}",
        "finish bark",
        "finish on {}",
        "structure a on {}",
        "structure Entry planter on block {}",
        "structure \"a\" onn b {}",
        "{ technique carve }",
    ]), @r#"
    E0106 at `Heron Point`: the name behind `job` needs quotes | write `job "Heron Point"`
    E0106 at ``: a name in quotes is missing behind `job` | write it as in `job "Entry court" { crew 3 }`
    E0106 at `job "a"`: the `{` is missing behind `job "a"` | write what belongs to it in braces, as in `job "Entry court" { crew 3 }`
    E0106 at `""`: the quoted text is empty | write a name between the quotes, as in `"Entry planter"`
    E0106 at `b`: `b` cannot stand here | write it as in `job "Entry court" { crew 3 }`
    E0106 at ``: a name is missing behind `finish` | write it as in `finish bark { technique carve }`
    E0106 at `dry stone`: the name behind `finish` needs quotes | write `finish "dry stone"`
    E0106 at `dry-stone`: the name behind `finish` needs quotes | write `finish "dry-stone"`
    E0106 at `finish bark`: the `{` is missing behind `finish bark` | write what belongs to it in braces, as in `finish bark { technique carve }`
    E0106 at `on`: `on` is a word of the language and no name | write a name before it, or the name itself in quotes: `"on"`
    E0106 at ``: a name is missing behind `on` | write it as in `structure "Entry planter" on block { … }`
    E0106 at `Entry planter on block`: the name behind `structure` needs quotes | write `structure "Entry planter"`
    E0107 at `onn`: `onn` is not known here | did you mean `on`?
    E0106 at `{`: a block stands without a statement before it | say what the block is of, as in `finish bark { technique carve }`
    "#);
}

/// Mistakes of all sorts between things that are right.
const MANY: &str = "parge 1
job Heron {
  crew 3
  clinet \"x\"
}
let a = 3 ft
let b = 3ft
finish bark { technique carve  thicknes 1in  relief 1.15 }
structure \"s\" on block {
  face one rct 3ft x b
  face two rect 3ft x b bark {
    opening v rect 1ft 1ft
    opening w rect 1ft x 1ft
  }
  face three rect 3/0in x b
}
lte c = 4ft
}
let d = 5ft
";

#[test]
fn all_mistakes_are_told_in_one_run_and_good_neighbours_survive() {
    insta::assert_snapshot!(told(MANY), @r#"
    E0106 at `Heron`: the name behind `job` needs quotes | write `job "Heron"`
    E0107 at `clinet`: `clinet` begins no line here | did you mean `client`?
    E0106 at `3 ft`: a blank stands between the number and its unit | write `3ft`
    E0107 at `thicknes`: `thicknes` begins no line here | did you mean `thickness`?
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    E0111 at `1ft 1ft`: `1ft 1ft` are not one length | write the larger unit first, as in `12ft 6in`; width and height have `x` between them, as in `22ft x 4ft`
    E0111 at `3/0`: the fraction `3/0` has 0 below the line | write a fraction such as `3/4in`
    E0107 at `lte`: `lte` begins no statement here | did you mean `let`?
    E0104 at `}`: the `}` closes nothing | delete it, or write the `{` that it closes, as in `finish bark { technique carve }`
    "#);
    let plan = read(MANY).plan;
    let [
        Statement::Let(b),
        Statement::Finish(bark),
        Statement::Structure(s),
        Statement::Let(d),
    ] = plan.statements.as_slice()
    else {
        panic!("{plan:?}");
    };
    assert_eq!((b.name.node.as_str(), d.name.node.as_str()), ("b", "d"));
    assert_eq!(bark.settings.len(), 2);
    assert_eq!(s.body.faces.len(), 1);
    assert_eq!(s.body.faces[0].name.node, "two");
    assert_eq!(s.body.faces[0].openings.len(), 1);
    assert_eq!(s.body.faces[0].openings[0].name.node, "w");
}

#[test]
fn an_open_block_keeps_what_follows() {
    let text = "parge 1\nfinish bark {\n  technique carve\n\nstructure s {\n  face a rect 1ft x 1ft\n}\nlet d = 5ft\n";
    insta::assert_snapshot!(told(text), @r#"
    E0103 at `{`: the block is not closed | write `}` behind the last line of the block, as in `finish bark { technique carve }`
    "#);
    let plan = read(text).plan;
    let [
        Statement::Finish(bark),
        Statement::Structure(s),
        Statement::Let(_),
    ] = plan.statements.as_slice()
    else {
        panic!("{plan:?}");
    };
    assert_eq!((bark.settings.len(), s.body.faces.len()), (1, 1));
}

#[test]
fn a_missing_brace_is_told_once() {
    insta::assert_snapshot!(told_of("finish bark\n  technique carve\n  relief 1.1\n}\nlet d = 5ft"), @r#"
    E0106 at `finish bark`: the `{` is missing behind `finish bark` | write what belongs to it in braces, as in `finish bark { technique carve }`
    "#);
    insta::assert_snapshot!(told_of("structure \"Entry on block {\n  face a rct 1ft x 1ft\n}\nlet d = 5ft"), @r#"
    E0105 at `"Entry on block`: the quoted text is not closed | write `"` behind the text, on the same line, as in `"Entry planter"`
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    "#);
    insta::assert_snapshot!(told_of("let d = 5ft\n}\n}"), @r#"
    E0104 at `}`: the `}` closes nothing | delete it, or write the `{` that it closes, as in `finish bark { technique carve }`
    "#);
}
