use super::*;
use crate::script::MAX_LINES as MAX_SCRIPT_LINES;
use crate::testing::{files, outcome, rule};
use std::time::Instant;

const REFERENCE: &str = include_str!("../../../REFERENCE.md");

/// 200000 as `200,000`.
fn with_commas(number: impl TryInto<u64>) -> String {
    let digits = number.try_into().ok().unwrap().to_string();
    let start = |at: usize| (digits.len() - at).is_multiple_of(3) && at > 0;
    let signs = digits.chars().enumerate();
    signs
        .flat_map(|(at, digit)| [start(at).then_some(','), Some(digit)])
        .flatten()
        .collect()
}

fn kilobytes(bytes: usize) -> String {
    assert_eq!(bytes % 1024, 0);
    match bytes / 1024 {
        large if large % 1024 == 0 => format!("{} MB", large / 1024),
        small => format!("{small} kB"),
    }
}

/// The rows of the reference's table that are bounds of this crate.
fn rows() -> Vec<(&'static str, String)> {
    let seconds = MAX_TIME.as_secs();
    assert_eq!(MAX_TIME, Duration::from_secs(seconds));
    vec![
        ("steps of one rule for one face", with_commas(MAX_STEPS)),
        ("time of all rules for one face", format!("{seconds} s")),
        (
            "figures and comparisons of all rules for one face",
            with_commas(MAX_RECORDED),
        ),
        (
            "needs, hours, cautions and warnings of all rules for one face",
            with_commas(MAX_LINES),
        ),
        (
            "rows that `keys` and `between` look through for one face",
            with_commas(MAX_LOOKED_THROUGH),
        ),
        (
            "rules stopped by a limit before the pack is given up",
            with_commas(MAX_STOPPED),
        ),
        (
            "functions that call each other, deep",
            with_commas(MAX_CALLS),
        ),
        (
            "brackets, blocks and operators within one another",
            with_commas(MAX_DEPTH),
        ),
        ("functions of a pack", with_commas(MAX_FUNCTIONS)),
        ("names in use at a time", with_commas(MAX_VARIABLES)),
        (
            "letters of a text; entries of a list",
            format!("{}; {}", with_commas(MAX_TEXT), with_commas(MAX_LIST)),
        ),
        (
            "letters of a warning, and of the name of an item, phase or caution",
            with_commas(MAX_SAID),
        ),
        (
            "files in `scripts/`, and in `tables/`",
            format!("{} each", with_commas(MAX_FILES)),
        ),
        (
            "size of a script; of all scripts of a pack",
            format!("{}; {}", kilobytes(MAX_SCRIPT), kilobytes(MAX_SCRIPTS)),
        ),
        (
            "lines of the scripts of a pack and of those under it",
            with_commas(MAX_SCRIPT_LINES),
        ),
        (
            "size of a table; of all tables of a pack",
            format!("{}; {}", kilobytes(MAX_TABLE), kilobytes(MAX_TABLES)),
        ),
        (
            "rows of a table; size of a row; letters of a cell",
            format!(
                "{}; {}; {}",
                with_commas(MAX_ROWS),
                kilobytes(MAX_ROW),
                with_commas(MAX_CELL)
            ),
        ),
        ("size of `pack.toml`", kilobytes(MAX_MANIFEST)),
    ]
}

/// Pack authors read these limits; the program holds to those in `bounds.rs`.
#[test]
fn the_reference_has_the_limits_that_hold() {
    let table: Vec<String> = rows()
        .into_iter()
        .map(|(what, most)| format!("| {what} | {most} |\n"))
        .collect();
    let table = table.concat();
    assert!(
        REFERENCE.contains(&format!("| what | most |\n| --- | --- |\n{table}")),
        "the table of limits in rules/REFERENCE.md should begin:\n{table}"
    );
}

/// What is said of a pack with more files.
fn told(more: Vec<(String, String)>) -> String {
    let mut files = files(&rule(""));
    files.texts.extend(more);
    outcome(&files).1
}

#[test]
fn the_files_of_each_folder_are_counted_and_weighed_together() {
    let scripts =
        |count: usize| (0..count).map(|at| (format!("scripts/s{at}.rhai"), String::new()));
    let text = told(scripts(MAX_FILES).collect());
    assert!(
        text.contains("`p/scripts/` has 201 files, and 200 are the most"),
        "{text}"
    );
    assert_eq!(told(scripts(MAX_FILES - 1).collect()), "");
    let row = format!("k,{},text,company\n", "x".repeat(MAX_CELL));
    let table = format!("key,value,unit,source\n{}", row.repeat(500));
    let tables = (0..17).map(|at| (format!("tables/t{at}.csv"), table.clone()));
    let text = told(tables.collect());
    assert!(
        text.contains("the files of `p/tables/` are larger than 16384 kB together"),
        "{text}"
    );
}

#[test]
fn looking_through_tables_is_counted() {
    let rows: String = (0..MAX_ROWS)
        .map(|at| format!("x,{at}m,1,1,company\n"))
        .collect();
    let mut files = files(&rule("loop { keys(\"t\", \"none\"); }"));
    let table = format!("of,at,value,unit,source\n{rows}");
    files.texts.insert("tables/t.csv".into(), table);
    let (_, text) = outcome(&files);
    assert!(text.contains("looked through tables too often"), "{text}");
}

/// A table is a name and not a path, and scripts bring in nothing.
#[test]
fn no_path_leads_out_of_a_pack() {
    for body in [
        "factor(\"../mixes\", \"waste\");",
        "text(\"../../pack.toml\", \"name\");",
        "keys(\"/etc/passwd\");",
        "has(\"tables/mixes.csv\", \"waste\");",
    ] {
        let (_, text) = outcome(&files(&rule(body)));
        assert!(text.contains("the pack has no table"), "{body}: {text}");
    }
    for body in ["import \"../../other\" as p;", "import \"..\";"] {
        let (_, text) = outcome(&files(&rule(body)));
        assert!(
            text.contains("`import` cannot be used in a rule"),
            "{body}: {text}"
        );
    }
}

/// Lines that are cheap to write and may be dear to read, around them what makes them a script.
const DEAR: [(&str, &str, &str); 9] = [
    ("fn coats(face) {\n", "let a@ = 1;\n", "}\n"),
    ("fn coats(face) {\n", "let a@ = face;\n", "}\n"),
    ("", "private fn f@(a, b) { a + b }\n", ""),
    ("fn coats(face) {\n", "f@(1);\n", "}\n"),
    ("fn coats(face) {\n", "let a = [[[[1]]]];\n", "}\n"),
    (
        "fn coats(face) {\n",
        "if face.area > 1 { } else { }\n",
        "}\n",
    ),
    ("fn coats(face) {\n", "let s = \"\\u0041\\x42@\";\n", "}\n"),
    ("", "/* /* @ */ */\n", ""),
    ("fn coats(face) {\n", "((((((((@))))))));\n", "}\n"),
];

/// The largest script is read within seconds, whatever is in it; a pack has four of them at most,
/// and each is read twice. The time that is allowed here is wide, for a slow build on a busy
/// machine: what takes longer grows without bound.
#[test]
fn the_largest_script_is_read_within_seconds() {
    for (start, line, end) in DEAR {
        let count = (MAX_SCRIPT - start.len() - end.len()) / (line.len() + 3);
        let lines: String = (0..count)
            .map(|at| line.replace('@', &at.to_string()))
            .collect();
        let files = files(&format!("{start}{lines}{end}"));
        assert!(check_files(&files).is_empty(), "{line}");
        let begin = Instant::now();
        let (_, text) = outcome(&files);
        assert!(begin.elapsed() < Duration::from_secs(60), "{line}: {text}");
    }
}
