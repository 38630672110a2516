use super::*;

fn read(text: &str) -> (Option<PriceBook>, Vec<String>) {
    let mut sources = Sources::new();
    let file = sources.add("prices.csv", text);
    let (book, diagnostics) = price_book(&sources, file, &Units::standard());
    let lines = diagnostics.iter().map(|d| {
        let at = d.span().map_or("", |span| sources.slice(span));
        format!("{} at `{at}`: {}", d.code.id(), d.message)
    });
    (book, lines.collect())
}

const HEADER: &str =
    "item,description,pack,pack_unit,pack_name,price,currency,supplier,valid_until\n";

#[test]
fn a_row_becomes_an_offer() {
    let (book, wrong) = read(&format!(
        "{HEADER}sealer,Matte sealer,5,gal,,185.50,USD,Yard,2026-12-31\n"
    ));
    assert_eq!(wrong, Vec::<String>::new());
    let book = book.unwrap();
    let offer = book.offer("sealer").unwrap();
    assert_eq!(offer.price.to_text(), "185.50");
    assert_eq!(offer.pack.size.value, 5.0 * 0.003785411784);
    assert_eq!(offer.pack.name, "pack");
    assert_eq!(offer.valid_until.unwrap().to_string(), "2026-12-31");
    assert_eq!(book.offer("sealr"), None);
}

#[test]
fn a_row_without_a_price_prices_nothing() {
    let (book, wrong) = read(&format!(
        "{HEADER}sealer,,5,gal,,,USD,,\nlath,,1,sheet,,11,USD,,\n"
    ));
    assert_eq!(wrong, Vec::<String>::new());
    assert_eq!(book.unwrap().offer("sealer"), None);
}

#[test]
fn every_row_that_cannot_be_read_is_reported_and_there_is_no_book() {
    let rows = "a,,5,galon,,1,USD,,\nb,,0,gal,,1,USD,,\nc,,5,gal,,$1,USD,,\nd,,5,gal,,1,US,,\n\
                e,,5,gal,,1,USD,,soon\n,,5,gal,,1,USD,,\nf,,5,gal,,-1,USD,,\ng,,1,bag,,1,EUR,,\ng,,1,bag,,1,USD,,\n";
    let (book, wrong) = read(&format!("{HEADER}{rows}"));
    assert!(book.is_none());
    assert_eq!(
        wrong,
        [
            "E0502 at `a,,5,galon,,1,USD,,`: `galon` is no known unit; did you mean `gal`?",
            "E0502 at `b,,0,gal,,1,USD,,`: `0` is no size of a pack",
            "E0502 at `c,,5,gal,,$1,USD,,`: `$1` is no price",
            "E0502 at `d,,5,gal,,1,US,,`: `US` is no currency",
            "E0502 at `e,,5,gal,,1,USD,,soon`: `soon` is no date",
            "E0502 at `,,5,gal,,1,USD,,`: the row names no item",
            "E0502 at `f,,5,gal,,-1,USD,,`: `-1` is no price",
            "E0501 at `g,,1,bag,,1,USD,,`: the price book mixes EUR and USD",
            "E0503 at `g,,1,bag,,1,USD,,`: `g` is priced twice",
        ]
    );
}

#[test]
fn missing_and_unknown_columns_are_named() {
    let (book, wrong) = read("item,pack,pack_unit,cost\n");
    assert!(book.is_none());
    assert_eq!(
        wrong,
        [
            "E0501 at `item,pack,pack_unit,cost`: the price book has no column `price`",
            "E0501 at `item,pack,pack_unit,cost`: the price book has no column `currency`",
            "E0501 at `item,pack,pack_unit,cost`: the price book has a column `cost` that is not known",
        ]
    );
    assert_eq!(read("").1, ["E0501 at ``: the file has no header row"]);
}
