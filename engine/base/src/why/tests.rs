use super::*;
use std::collections::BTreeSet;
use std::path::Path;

#[test]
fn every_code_has_a_page_that_begins_with_its_title() {
    for code in Code::ALL {
        let (id, title) = (code.id(), code.title());
        let page = page(*code);
        assert!(
            !page.is_empty(),
            "{id} has no page: write engine/base/why/{id}.md and list it in engine/base/src/why.rs"
        );
        assert_eq!(page.lines().next(), Some(&*format!("# {id}: {title}")));
    }
}

#[test]
fn every_page_says_what_it_means_and_shows_both_examples() {
    for (id, page) in PAGES {
        let sentences = meaning(page).matches(['.', '?']).count();
        assert!(sentences >= 2, "{id} says too little");
        let headings: Vec<&str> = page
            .lines()
            .filter(|line| line.starts_with("## "))
            .collect();
        assert_eq!(headings, ["## Reported", "## Right"], "{id}");
        assert!(!page.contains('—'), "{id}");
        let widest = page.lines().map(|line| line.chars().count()).max();
        assert!(widest <= Some(100), "{id} has a line of {widest:?} letters");
        assert!(page.ends_with('\n') && !page.ends_with("\n\n"), "{id}");
    }
}

/// A page of a code that is gone, or one that is not listed, is seen by nobody.
#[test]
fn the_listed_pages_are_those_in_the_folder() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("why");
    let entries = std::fs::read_dir(folder).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let there: BTreeSet<String> = names.collect();
    let listed = PAGES.iter().map(|(id, _)| format!("{id}.md")).collect();
    assert_eq!(there, listed);
    let known: BTreeSet<&str> = Code::ALL.iter().map(|code| code.id()).collect();
    let strays = PAGES.iter().filter(|(id, _)| !known.contains(id));
    assert_eq!(strays.count(), 0);
}

#[test]
fn the_meaning_is_the_words_between_title_and_examples() {
    let page = "# E0202: a title\n\nOne line,\nand another.\n\n## Reported\n\nno\n";
    assert_eq!(meaning(page), "One line, and another.");
}
