use super::*;
use crate::grid::open;
use parge_base::{Sources, Units};

fn list(csv: &str, currency: Option<&str>) -> PriceList {
    let book = open("list.csv", csv.as_bytes()).unwrap();
    price_list(&book, currency, None).unwrap()
}

const LIST: &str = "Mill Street Yard: spring prices\n\n\
    Code;Description;Pack size;Unit;Price (EUR)\n\
    Mixes\n\
    finish-mix;Finish mix, grey;1;bag;1.024,80 €\n\
    ;Clear sealer;5;gal;185,00\n\
    primer;Primer;1;gal;on request\n";

#[test]
fn a_list_with_titles_and_commas_becomes_a_book() {
    let read = list(LIST, Some("eur"));
    insta::assert_snapshot!(read.text, @r#"
    item,description,pack,pack_unit,pack_name,price,currency,supplier,valid_until
    finish-mix,"Finish mix, grey",1,bag,,1024.80,EUR,,
    clear-sealer,Clear sealer,5,gal,,185.00,EUR,,
    "#);
    assert_eq!(read.sum.to_string(), "1209.80");
    assert_eq!(read.rejected.len(), 1);
    // The book is one that the program reads.
    let mut sources = Sources::new();
    let file = sources.add("prices.csv", read.text);
    let (book, said) = crate::price_book(&sources, file, &Units::standard());
    assert_eq!(said, []);
    assert_eq!(book.unwrap().offers.len(), 2);
}

#[test]
fn a_currency_that_nobody_names_is_asked_for() {
    let read = list(LIST, None);
    assert_eq!(read.priced, 0);
    assert_eq!(read.open[0].0, "currency");
}

#[test]
fn texts_that_spreadsheets_take_for_formulas_are_refused() {
    let read = list("Item,Unit,Price,Currency\n=1+1,bag,2,USD\n", None);
    assert_eq!(read.rejected[0].1, "`=1+1` reads as a formula");
}
