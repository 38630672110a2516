//! The same by the program that many offices have.

use super::book::{Difference, Recalculated, Stored, stored};
use super::place::Place;
use super::value::Value;
use super::{EXAMPLES, Made, said};
use parge_tests::Folder;
use rust_xlsxwriter::{Formula, Workbook};
use std::collections::BTreeMap;
use std::process::Command;
use std::time::Instant;

/// Tells the program to compute every formula when it opens a file. It would show what is stored.
const ALWAYS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item>
</oor:items>
"#;

/// A workbook of one formula with a result that it does not have.
fn untrue() -> Vec<u8> {
    let mut book = Workbook::new();
    let formula = Formula::new("=1+1").set_result("3");
    book.add_worksheet().write_formula(0, 0, formula).unwrap();
    book.save_to_buffer().unwrap()
}

/// Opens workbooks in LibreOffice, and gives back what it computed for the formulas of each.
fn computed(books: &[(String, Vec<u8>)]) -> Vec<BTreeMap<Place, Stored>> {
    let folder = Folder::new().unwrap();
    folder
        .write("profile/user/registrymodifications.xcu", ALWAYS)
        .unwrap();
    let file = |name: &str| format!("{name}.xlsx");
    for (name, bytes) in books {
        folder.write(&file(name), bytes).unwrap();
    }
    let profile = format!("file://{}", folder.path("profile").display());
    let run = Command::new("soffice")
        .arg("--headless")
        .arg(format!("-env:UserInstallation={profile}"))
        .args(["--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir"])
        .arg(folder.path("computed"))
        .args(books.iter().map(|(name, _)| folder.path(&file(name))))
        .output()
        .unwrap_or_else(|error| panic!("`soffice` does not start: {error}"));
    let read = |(name, _): &(String, Vec<u8>)| {
        let bytes = std::fs::read(folder.path("computed").join(file(name)));
        stored(&bytes.unwrap_or_else(|error| panic!("{name}: {error}\n{run:?}")))
    };
    books.iter().map(read).collect()
}

/// Every formula whose result there is another than the one stored, or an error.
fn differences(bytes: &[u8], computed: &BTreeMap<Place, Stored>) -> Vec<Difference> {
    let book = Recalculated::open(bytes);
    let differs = |(place, stored): (&Place, &Stored)| {
        let computed = computed
            .get(place)
            .map_or(&Value::Empty, |there| &there.result);
        let agrees = computed.agrees(&stored.result, book.money(place));
        (!agrees).then(|| Difference {
            place: place.clone(),
            formula: stored.formula.clone(),
            wanted: stored.result.clone(),
            computed: computed.clone(),
        })
    };
    book.stored().iter().filter_map(differs).collect()
}

#[test]
#[ignore = "needs LibreOffice: bash tests/libreoffice.sh"]
#[allow(
    clippy::print_stdout,
    reason = "who runs the script wants to know the time"
)]
fn libreoffice_computes_what_was_stored() {
    let mut books = vec![("untrue".to_owned(), untrue())];
    for name in EXAMPLES {
        let made = Made::of(&Folder::with_example(name).unwrap());
        books.push((name.to_owned(), made.workbook));
    }
    let begun = Instant::now();
    let computed = computed(&books);
    let took = begun.elapsed();
    let mut told = String::new();
    for ((name, bytes), computed) in books.iter().zip(&computed).skip(1) {
        let differences = differences(bytes, computed);
        assert!(differences.is_empty(), "{name}:{}", said(&differences));
        told += &format!("{name}: {} formulas agree\n", computed.len());
    }
    let seen = differences(&books[0].1, &computed[0]);
    assert_eq!(
        said(&seen),
        "\n  Sheet1!A1: 2, not 3: =1+1",
        "nothing was computed"
    );
    println!("{told}LibreOffice took {:.1} s", took.as_secs_f64());
}
