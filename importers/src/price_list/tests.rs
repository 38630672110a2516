use super::*;
use crate::columns::Role;
use crate::faces::Verdict;
use crate::grid::open;

/// What came of a list: the book, what became of each row, and what is asked.
fn told(csv: &str, answers: &[(&str, &str)]) -> String {
    let book = open("list.csv", csv.as_bytes()).unwrap();
    let mut profile = Profile::default();
    for (key, value) in answers {
        profile.answer(key, value).unwrap();
    }
    let import = price_list(&book, &profile);
    let mut lines = vec![book_text(&import.offers)];
    for row in &import.rows {
        let detail = match &row.verdict {
            Verdict::Heading(text) | Verdict::Rejected(text) => text.clone(),
            _ => String::new(),
        };
        lines.push(format!("{} {}: {detail}", row.row + 1, row.verdict.word()));
    }
    let questions = import.questions.iter();
    lines.extend(questions.map(|asked| format!("? {}: {}", asked.key, asked.text)));
    let remarks = import.remarks.iter();
    lines.extend(remarks.map(|remark| format!("! {}", remark.text)));
    let guesses = import.guesses.iter();
    lines.extend(guesses.map(|guess| format!("{}, since {}", guess.what, guess.reason)));
    lines.join("\n")
}

#[test]
fn the_roles_are_the_columns_of_a_book() {
    assert_eq!(Role::OF_BOOKS.map(Role::word), COLUMNS);
}

#[test]
fn a_list_with_titles_and_commas_becomes_a_book() {
    let list = "Mill Street Yard: spring prices\n\n\
        Code;Description;Pack size;Unit;Price (EUR);Remarks\n\
        Mixes\n\
        finish-mix;Finish mix, grey;1;bag;1.024,80 €;\n\
        ;Clear sealer;5;gal;185,00;two coats\n\
        scratch;Scratch coat;50 lb bag;;14,20;\n\
        sand;Sand;0,5;yd3;31,00;\n\
        mesh;Mesh;1;barrow;9,00;\n\
        primer;Primer;1;gal;on request;\n\
        colour;Colour;1;gal;;\n\
        Prices ex yard\n";
    insta::assert_snapshot!(told(list, &[]));
}

#[test]
fn what_nothing_says_is_asked() {
    let list = "Item,Unit,Price\nsealer,gal,41.50\nmesh,5 gal pail,\"1,024\"\n";
    insta::assert_snapshot!(told(list, &[]));
    let answers = [("currency", "usd"), ("pack", "one")];
    insta::assert_snapshot!(told(list, &answers));
    insta::assert_snapshot!(told(list, &[("currency", "usd"), ("pack", "reject")]));
}

#[test]
fn a_comma_that_can_be_both_is_asked_about() {
    let list = "Item,Pack,Unit,Price,Currency\nsealer,1,gal,\"1,024\",USD\n";
    assert!(told(list, &[]).contains("? decimal"));
    assert!(told(list, &[("decimal", "point")]).contains("gal,,1024,USD"));
    assert!(told(list, &[("decimal", "comma")]).contains("gal,,1.024,USD"));
}

#[test]
fn a_point_that_can_be_both_is_asked_about() {
    let list = "Item;Pack;Unit;Price;Currency\nsealer;5;gal;1.850;EUR\nmix;1;bag;3;EUR\n";
    assert!(told(list, &[]).contains("? decimal"));
    assert!(told(list, &[("decimal", "comma")]).contains("gal,,1850,EUR"));
    // Another price shows which it is.
    let list = list.replace(";3;", ";3,50;");
    assert!(told(&list, &[]).contains("gal,,1850,EUR"));
}

#[test]
fn a_price_by_the_unit_beside_a_pack_is_asked_about() {
    let list = "Item,Pack,Unit,Price per lb,Currency\nmix,50,lb,0.25,USD\nprimer,1,gal,24.80,USD\n";
    assert!(told(list, &[]).contains("? prices_are"));
    assert!(told(list, &[("prices_are", "unit")]).contains("mix,,50,lb,,12.5,USD"));
    assert!(told(list, &[("prices_are", "pack")]).contains("mix,,50,lb,,0.25,USD"));
    assert!(told(list, &[("prices_are", "unit")]).contains("primer,,1,gal,,24.80,USD"));
}

#[test]
fn what_costs_nothing_is_an_offer_to_look_at() {
    let list = "Item,Pack,Unit,Price,Currency\nwater,1,gal,0,USD\nprimer,1,gal,,USD\n";
    let told = told(list, &[]);
    assert!(told.contains("water,,1,gal,,0,USD"), "{told}");
    assert!(told.contains("costs nothing"), "{told}");
    assert!(told.contains("3 rejected: it has no price"), "{told}");
}

#[test]
fn columns_that_can_be_two_things_are_asked_about() {
    let list = "Item,Pack,Unit,List price,Net price,Currency\nsealer,1,gal,41,39,USD\n";
    assert!(told(list, &[]).contains("both seem to be price"));
    let told = told(list, &[("column.D", "ignore")]);
    assert!(told.contains("sealer,,1,gal,,39,USD"), "{told}");
}

#[test]
fn texts_that_spreadsheets_take_for_formulas_are_refused() {
    let list = "Item,Pack,Unit,Price,Currency\n=1+1,1,bag,2,USD\n";
    assert!(told(list, &[]).contains("2 rejected: `=1+1` reads as a formula"));
}
