//! The papers of a bid: the page for the client, drawings, the bill of materials.

use calamine::{DataType, Reader};
use parge_cli::Exit;
use parge_tests::Folder;

/// The page of the demo, of which the estimate's own figures are the price.
#[test]
fn the_page_of_a_bid_is_written_whole() {
    let folder = Folder::with_demo().unwrap();
    // Twice: an output of the program is written anew.
    for _ in 0..2 {
        let said = folder.parge("bid job.parge -o bid.html");
        assert_eq!(said.exit, Exit::Fine, "{said}");
    }
    let page = folder.read("bid.html").unwrap();
    assert!(page.starts_with("<!DOCTYPE html>") && page.ends_with(" -->\n"));
    let estimate = folder.parge("estimate job.parge --json -");
    let json: serde_json::Value = serde_json::from_str(&estimate.out).unwrap();
    let price = |step: &str| grouped(json["price"][step].as_str().unwrap());
    assert!(page.contains(&price("total")));
    for hidden in ["materials", "labour", "burden", "overhead", "profit", "tax"] {
        assert!(!page.contains(&price(hidden)), "{hidden}");
    }
    for structure in json["structures"].as_array().unwrap() {
        assert!(page.contains(structure["name"].as_str().unwrap()));
    }
    assert_eq!(folder.parge("bid job.parge").out, page);
}

/// Commas between the thousands.
fn grouped(amount: &str) -> String {
    let (whole, minor) = amount.split_once('.').unwrap();
    let digits: Vec<char> = whole.chars().rev().collect();
    let groups: Vec<String> = digits
        .chunks(3)
        .map(|group| group.iter().collect())
        .collect();
    let whole: String = groups.join(",").chars().rev().collect();
    format!("{whole}.{minor}")
}

#[test]
fn an_incomplete_bid_is_written_and_says_so() {
    let folder = Folder::with_demo().unwrap();
    folder.edit("prices.csv", "sealer,", "sealers,").unwrap();
    let said = folder.parge("bid job.parge -o bid.html");
    assert_eq!(said.exit, Exit::Problems, "{said}");
    let page = folder.read("bid.html").unwrap();
    assert!(page.contains("INCOMPLETE: ") && page.contains("Total, INCOMPLETE"));
}

#[test]
fn papers_that_were_worked_in_are_replaced_only_when_told_to() {
    let folder = Folder::with_demo().unwrap();
    for (command, name) in [
        ("bid job.parge -o bid.html", "bid.html"),
        ("draw job.parge -o faces.svg", "faces.svg"),
        ("estimate job.parge --csv materials.csv", "materials.csv"),
    ] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Fine, "{said}");
        let edited = format!("{}<!-- mine -->\n", folder.read(name).unwrap());
        folder.write(name, &edited).unwrap();
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Failed, "{said}");
        assert!(said.err.contains("E0603"), "{said}");
        assert_eq!(folder.read(name).unwrap(), edited);
        let said = folder.parge(&format!("{command} --force"));
        assert_eq!(said.exit, Exit::Fine, "{said}");
    }
}

#[test]
fn papers_go_nowhere_else() {
    let folder = Folder::with_demo().unwrap();
    folder
        .write("plan.html", folder.read("job.parge").unwrap())
        .unwrap();
    let before = folder.names().unwrap();
    for command in [
        "bid job.parge -o bid.pdf",
        "bid plan.html -o plan.html --force",
        "draw job.parge -o faces.png",
        "estimate job.parge --csv prices.csv --force",
        "estimate job.parge --csv materials.txt",
    ] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Failed, "{command}\n{said}");
        assert!(said.err.contains("E0602"), "{command}\n{said}");
    }
    assert_eq!(folder.names().unwrap(), before);
}

#[test]
fn one_face_is_drawn_by_its_name() {
    let folder = Folder::with_demo().unwrap();
    let said = folder.parge_with(&["draw", "job.parge", "--face", "Grotto/mouth"]);
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(said.out.contains(">mouth<") && !said.out.contains(">ledge<"));
    let said = folder.parge_with(&["draw", "job.parge", "--face", "Grotto/moth", "-o", "a.svg"]);
    assert_eq!(said.exit, Exit::Usage);
    insta::assert_snapshot!(said);
    let said = folder.parge_with(&["draw", "job.parge", "--face", "nowhere"]);
    assert_eq!(said.exit, Exit::Usage);
    assert!(said.err.contains("`Kiosk/front`"), "{said}");
    assert!(!folder.path("a.svg").exists());
}

/// A plan with a fault has no papers.
#[test]
fn no_paper_rests_on_a_plan_with_a_fault() {
    let folder = Folder::with_demo().unwrap();
    folder
        .edit("job.parge", "let ridge = 12ft 3in", "let ridge = 12")
        .unwrap();
    for command in ["bid job.parge -o bid.html", "draw job.parge -o faces.svg"] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Problems, "{said}");
    }
    assert_eq!(folder.names().unwrap(), ["job.parge", "prices.csv"]);
}

/// Names that are formulas, markup, of another script or very long.
const NAMES: [&str; 6] = [
    "=cmd|' /C calc'!A0",
    "<script>alert(1)</script>",
    "'><img src=x onerror=y>",
    "＝1+1; =2+2",
    "{{ name }}{% raw %}",
    "קיר הכניסה (צפון)",
];

/// What cannot be seen is no part of a name.
#[test]
fn a_plan_has_no_name_with_invisible_characters() {
    for name in ["wall\u{202e}lld", "a\u{1}", "a\u{7f}", "a\u{0}"] {
        let folder = Folder::with_demo().unwrap();
        folder.edit("job.parge", "Alder Marsh Trust", name).unwrap();
        let said = folder.parge("bid job.parge -o bid.html");
        assert_eq!(said.exit, Exit::Problems, "{said}");
        assert!(said.err.contains("invisible"), "{said}");
    }
}

#[test]
fn no_name_does_harm_in_any_paper() {
    let folder = Folder::with_demo().unwrap();
    let long = "long ".repeat(400);
    let all = NAMES.iter().copied().chain([long.as_str()]);
    let faces: String = all
        .clone()
        .map(|name| format!("structure \"{name}\" on block {{ face \"{name}\" rect 8ft x 4ft drystone {{ opening \"{name}\" rect 1ft x 1ft }} }}\nnote \"{name}\"\nexclude \"{name}\"\nallowance \"{name}\" 5 USD\n"))
        .collect();
    let plan = format!("{}\n{faces}", folder.read("job.parge").unwrap());
    folder.write("job.parge", plan).unwrap();
    let book = folder.read("prices.csv").unwrap();
    folder
        .write(
            "prices.csv",
            book.replace(",Mill Street Yard,", ",＝Mill; =2+2,"),
        )
        .unwrap();
    let said = folder.parge("estimate job.parge -o bid.xlsx --csv materials.csv");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    for command in [
        "bid job.parge -o bid.html",
        "draw job.parge -o faces.svg",
        "days job.parge -o days.csv",
    ] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Fine, "{said}");
    }
    for name in ["bid.html", "faces.svg", "materials.csv", "days.csv"] {
        let text = folder.read(name).unwrap();
        let is_fine = |ch: char| matches!(ch, '\n' | '\r') || !ch.is_control();
        assert!(text.chars().all(is_fine), "{name}");
        // In lines of values markup is a text like any other.
        let is_markup = text.contains("<script") || text.contains("<img");
        assert!(name.ends_with(".csv") || !is_markup, "{name}");
    }
    for name in ["materials.csv", "days.csv"] {
        let text = folder.read(name).unwrap();
        for start in [",=", ",＝", "\n=", ",\"=", "; =", ";="] {
            assert!(!text.contains(start), "{name}: {start:?}");
        }
    }
    let mut book: calamine::Xlsx<_> = calamine::open_workbook(folder.path("bid.xlsx")).unwrap();
    for sheet in book.sheet_names() {
        for row in book.worksheet_range(&sheet).unwrap().rows() {
            let texts = row.iter().filter_map(|cell| cell.get_string());
            for text in texts {
                assert!(
                    !text.chars().any(|ch| ch.is_control() && ch != '\n'),
                    "{sheet}: {text:?}"
                );
            }
        }
    }
}
