//! `parge why`: every page tells the truth, and every code can be asked for.
//!
//! The first example of a page is reported with its code and no other, the second without any.
//! An example shows the lines that matter; what a whole job needs besides is added here. A block
//! behind whose language a file is named is that file: ```` ```csv prices.csv ````.

use parge_base::{Code, why};
use parge_cli::Exit;
use parge_tests::Folder;
use std::collections::BTreeSet;

/// Codes whose pages say in words how they come about, and why no example can show it.
const IN_WORDS: [(Code, &str); 3] = [
    (
        Code::NotReconciled,
        "a safety net that no sheet is known to fall into",
    ),
    (
        Code::NotUtf8,
        "a page is UTF-8 itself; tests/suite/bad_input.rs has a file that is not",
    ),
    (Code::TooLarge, "a file of more than 256 MB"),
];

const JOB: &str = r#"job "Garden wall" {
  date    2026-05-11
  rules   "RULES"
  prices  "prices.csv"
  bid     { burden 30%  overhead 10%  profit margin 20%  tax 0% on materials }
}
"#;

/// A fenced block: its language, the file that it is, and its text.
#[derive(Debug)]
struct Block {
    language: String,
    file: Option<String>,
    text: String,
}

/// The fenced blocks under a heading of a page.
fn blocks(page: &str, heading: &str) -> Vec<Block> {
    let section = page.split("\n## ").find(|part| part.starts_with(heading));
    let mut blocks: Vec<Block> = Vec::new();
    let mut inside = false;
    for line in section.unwrap_or("").lines() {
        match line.strip_prefix("```") {
            Some("") => inside = false,
            Some(info) => {
                let (language, file) = info.split_once(' ').unwrap_or((info, ""));
                inside = true;
                blocks.push(Block {
                    language: language.to_owned(),
                    file: (!file.is_empty()).then(|| file.to_owned()),
                    text: String::new(),
                });
            }
            None if inside => {
                let block = blocks.last_mut().unwrap();
                block.text += &format!("{line}\n");
            }
            None => {}
        }
    }
    blocks
}

/// A plan around the lines of an example. They stand last, so that a block that they leave open
/// takes in nothing.
fn completed(example: &str, rules: &str) -> String {
    let states = |word: &str| {
        let mut lines = example.lines();
        lines.any(|line| line.split([' ', '\t']).next() == Some(word))
    };
    let mut plan = "parge 1\n".to_owned();
    if !states("job") {
        plan += &JOB.replace("RULES", rules);
    }
    if !states("finish") {
        plan += "finish drystone { technique stamp  thickness 3/4in }\n";
    }
    // A word in the place of `structure` is a mistake that an example is about.
    if !example.contains("face ") {
        plan += "structure \"Wall\" on block { face front rect 20ft x 6ft drystone }\n";
    }
    plan + example
}

/// The demo's price book with the rows of an example in place of its own; a book of other
/// columns stays as it is.
fn completed_book(example: &str, demo: &str) -> String {
    let columns: Vec<&str> = demo.lines().next().unwrap().split(',').collect();
    let given: Vec<&str> = example.lines().next().unwrap().split(',').collect();
    if !given.iter().all(|column| columns.contains(column)) {
        return example.to_owned();
    }
    let items: Vec<&str> = example
        .lines()
        .filter_map(|line| line.split(',').next())
        .collect();
    let row = |line: &str| {
        let fields: Vec<&str> = line.split(',').collect();
        let field = |column: &&str| {
            let at = given.iter().position(|given| given == column);
            at.map_or("", |at| fields[at])
        };
        columns.iter().map(field).collect::<Vec<_>>().join(",")
    };
    let own = example.lines().skip(1).map(row);
    let others = demo
        .lines()
        .filter(|line| !items.contains(&line.split(',').next().unwrap()));
    let book: Vec<String> = others.map(str::to_owned).chain(own).collect();
    // The header names no item, and `item` of the example's header took the demo's out.
    format!("{}\n{}\n", columns.join(","), book.join("\n"))
}

/// The codes that are reported for the blocks of an example.
fn reported(blocks: &[Block]) -> BTreeSet<String> {
    let folder = Folder::with_demo().unwrap();
    let own_rules = blocks.iter().any(|block| {
        let file = block.file.as_deref().unwrap_or("");
        file.starts_with("our-rules/")
    });
    if own_rules {
        assert_eq!(folder.parge("rules export .").exit, Exit::Fine);
        std::fs::rename(folder.path("vertical-concrete"), folder.path("our-rules")).unwrap();
    }
    let rules = if own_rules {
        "./our-rules"
    } else {
        "vertical-concrete"
    };
    folder.write("job.parge", completed("", rules)).unwrap();
    let mut commands = Vec::new();
    for block in blocks {
        match (block.language.as_str(), &block.file) {
            ("sh", None) => commands.extend(block.text.lines()),
            ("parge", None) => {
                let plan = completed(&block.text, rules);
                folder.write("job.parge", plan).unwrap();
            }
            ("csv", Some(file)) if file == "prices.csv" => {
                let book = completed_book(&block.text, &folder.read(file).unwrap());
                folder.write(file, book).unwrap();
            }
            (_, Some(file)) => folder.write(file, &block.text).unwrap(),
            (_, None) => panic!("{block:?} is of no use"),
        }
    }
    if commands.is_empty() {
        commands.push("parge check job.parge");
    }
    let said = commands.iter().map(|command| {
        let arguments = command.strip_prefix("parge ").unwrap();
        folder.parge(arguments).err
    });
    let said: String = said.collect();
    let codes = said.split(['[', ']']).filter(|word| {
        let is_code = word.len() == 5 && word.starts_with(['E', 'W']);
        is_code && word.bytes().skip(1).all(|byte| byte.is_ascii_digit())
    });
    codes.map(str::to_owned).collect()
}

#[test]
fn the_examples_of_every_page_are_reported_and_right() {
    let mut wrong = Vec::new();
    for code in Code::ALL {
        let page = why::page(*code);
        let (bad, good) = (blocks(page, "Reported"), blocks(page, "Right"));
        if IN_WORDS.iter().any(|(known, _)| known == code) {
            let section = page.split("\n## ").nth(1).unwrap();
            assert!(section.contains("Produced by: "), "{}", code.id());
            continue;
        }
        if bad.is_empty() || good.is_empty() {
            wrong.push(format!("{} lacks an example", code.id()));
            continue;
        }
        let (bad, good) = (reported(&bad), reported(&good));
        if bad != BTreeSet::from([code.id().to_owned()]) {
            wrong.push(format!(
                "{}: its first example is reported as {bad:?}",
                code.id()
            ));
        }
        if !good.is_empty() {
            wrong.push(format!(
                "{}: its second example is reported as {good:?}",
                code.id()
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_page_is_printed_for_its_code_however_it_is_written() {
    let folder = Folder::new().unwrap();
    for word in ["E0202", "e0202"] {
        let said = folder.parge(&format!("why {word}"));
        assert_eq!(said.exit, Exit::Fine, "{said}");
        assert_eq!(said.out, why::page(Code::UnknownFinish));
    }
}

#[test]
fn an_unknown_code_is_wrong_use() {
    let folder = Folder::new().unwrap();
    let said = ["E0299", "W0202", "finish"].map(|word| {
        let said = folder.parge(&format!("why {word}"));
        assert_eq!(said.exit, Exit::Usage);
        said.to_string()
    });
    insta::assert_snapshot!(said.join("\n"));
}

#[test]
fn all_codes_are_listed_by_number_with_their_titles() {
    let said = Folder::new().unwrap().parge("why");
    assert_eq!(said.exit, Exit::Fine);
    let lines: Vec<&str> = said.out.lines().collect();
    assert!(lines.is_sorted_by_key(|line| &line[1..5]), "{said}");
    assert_eq!(lines.len(), Code::ALL.len());
    for code in Code::ALL {
        let line = format!("{}  {}", code.id(), code.title());
        assert!(lines.contains(&line.as_str()), "{line} is not listed");
    }
}

/// The reference of the language lists every code with what it is about.
#[test]
fn the_reference_lists_every_code() {
    let path = parge_tests::repository().join("grammar/REFERENCE.md");
    let reference = std::fs::read_to_string(path).unwrap();
    for code in Code::ALL {
        let row = format!("| `{}` | {} |\n", code.id(), code.title());
        assert!(reference.contains(&row), "the reference lacks {row}");
    }
    let listed = reference.matches("\n| `E0").count() + reference.matches("\n| `W0").count();
    assert_eq!(
        listed,
        Code::ALL.len(),
        "the reference lists a code that is none"
    );
}
