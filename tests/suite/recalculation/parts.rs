//! What a workbook is made of: nothing that runs, nothing outside of it, nothing that changes by
//! itself.

use super::{EXAMPLES, Made};
use parge_tests::Folder;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// Functions whose result changes by itself, or which hide what a formula rests on.
const VOLATILE: [&str; 10] = [
    "NOW",
    "TODAY",
    "RAND",
    "RANDBETWEEN",
    "RANDARRAY",
    "OFFSET",
    "INDIRECT",
    "CELL",
    "INFO",
    "WEBSERVICE",
];

/// Words that are in the name of a part, or in its text, when a workbook reaches outside of itself
/// or runs something.
const OUTSIDE: [&str; 8] = [
    "externallink",
    "vbaproject",
    "connections",
    "querytable",
    "activex",
    "macrosheet",
    "oleobject",
    "targetmode=\"external\"",
];

/// What formulas stand in: cells, conditional formats, lists to choose from, and names.
const FORMULAS: [&str; 4] = ["f", "formula", "formula1", "definedName"];

/// The parts of a file with their texts.
fn parts(bytes: &[u8]) -> Vec<(String, String)> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).unwrap();
    (0..archive.len())
        .map(|part| {
            let mut part = archive.by_index(part).unwrap();
            let mut bytes = Vec::new();
            part.read_to_end(&mut bytes).unwrap();
            (
                part.name().unwrap().into_owned(),
                String::from_utf8_lossy(&bytes).into_owned(),
            )
        })
        .collect()
}

/// The texts of the elements of a name.
fn texts_of(xml: &str, tag: &str) -> Vec<String> {
    let open = format!("<{tag}");
    let element = |rest: &str| {
        let (attributes, rest) = rest.split_once('>')?;
        let named = attributes.is_empty() || attributes.starts_with(' ');
        let text = rest.split_once("</")?.0.replace("&quot;", "\"");
        named.then_some(text)
    };
    xml.split(open.as_str())
        .skip(1)
        .filter_map(element)
        .collect()
}

/// The functions that a formula calls. Texts in it are no calls.
fn calls(formula: &str) -> Vec<String> {
    let code = formula
        .split('"')
        .step_by(2)
        .collect::<Vec<_>>()
        .join("\"\"");
    let name = |letter: char| letter.is_ascii_alphanumeric() || "._".contains(letter);
    let before = code.match_indices('(').filter_map(|(at, _)| {
        let word = code[..at].rsplit(|letter| !name(letter)).next()?;
        let word = word.rsplit('.').next()?.to_uppercase();
        (!word.is_empty()).then_some(word)
    });
    before.collect()
}

#[test]
fn calls_are_seen_and_texts_are_not() {
    let formula = "=IF(_xlfn.RAND( )>B1,\"NOW() or \"\"TODAY()\"\"\",rounded_now(SUM(A1)))";
    assert_eq!(calls(formula), ["IF", "RAND", "ROUNDED_NOW", "SUM"]);
    assert_eq!(calls("=(1+2)*PI()"), ["PI"]);
}

#[test]
fn formulas_are_seen_in_every_element() {
    let xml =
        "<x><f>1+1</f><font>no</font><definedName a=\"b\">IF(&quot;no&quot;)</definedName></x>";
    let found = FORMULAS.iter().flat_map(|tag| texts_of(xml, tag));
    assert_eq!(found.collect::<Vec<_>>(), ["1+1", "IF(\"no\")"]);
}

#[test]
fn workbooks_hold_no_macro_no_link_and_nothing_that_changes_by_itself() {
    for example in EXAMPLES {
        let folder = Folder::with_example(example).unwrap();
        let made = Made::of(&folder);
        let parts = parts(&made.workbook);
        assert!(parts.iter().any(|(name, _)| name == "xl/workbook.xml"));
        for (name, text) in &parts {
            let (name, text) = (name.to_lowercase(), text.to_lowercase());
            // Texts of the office stand in a part of their own and may say anything.
            let office = name.ends_with("sharedstrings.xml");
            for word in OUTSIDE {
                let inside = name.contains(word) || (!office && text.contains(word));
                assert!(!inside, "{example}: {name} has `{word}`");
            }
        }
        let mut formulas = 0;
        for (name, text) in &parts {
            for formula in FORMULAS.iter().flat_map(|tag| texts_of(text, tag)) {
                formulas += 1;
                let calls = calls(&formula);
                let volatile = calls.iter().find(|call| VOLATILE.contains(&call.as_str()));
                assert_eq!(volatile, None, "{example}: {name}: {formula}");
                // Another file's cells are written `[1]Sheet!A1`.
                assert!(!formula.contains('['), "{example}: {name}: {formula}");
            }
        }
        assert!(formulas > 40, "{example}: {formulas}");
    }
}
