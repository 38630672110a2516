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
    let offer = book.offers_of("sealer").next().unwrap();
    assert_eq!(offer.price.to_text(), "185.50");
    assert_eq!(offer.pack.size.value, 5.0 * 0.003785411784);
    assert_eq!(offer.pack.name, "pack");
    assert_eq!(offer.valid_until.unwrap().to_string(), "2026-12-31");
    assert_eq!(book.offers_of("sealr").next(), None);
}

#[test]
fn a_row_without_a_price_prices_nothing() {
    let (book, wrong) = read(&format!(
        "{HEADER}sealer,,5,gal,,,USD,,\nlath,,1,sheet,,11,USD,,\n"
    ));
    assert_eq!(wrong, Vec::<String>::new());
    assert_eq!(book.unwrap().offers_of("sealer").next(), None);
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

const ALL: &str = "item,pack,pack_unit,price,currency,supplier,valid_from,valid_until,from_packs,lead_days,freight,taxed\n";

#[test]
fn the_terms_of_an_offer_are_read() {
    let (book, wrong) = read(&format!(
        "{ALL}sealer,5,gal,185.50,USD,Yard,2026-01-01,2026-12-31,,10,85,\n\
         sealer,5,gal,171,USD,Yard,,,12,10,85.00,No\nsealer,1,gal,40,USD,Shop,,,,,,yes\n"
    ));
    assert_eq!(wrong, Vec::<String>::new());
    let book = book.unwrap();
    let terms: Vec<_> = book
        .offers_of("sealer")
        .map(|offer| offer.terms.clone())
        .collect();
    assert_eq!(terms[0].valid_from.unwrap().to_string(), "2026-01-01");
    let plain = |at: usize| (terms[at].from_packs, terms[at].lead_days, terms[at].taxed);
    assert_eq!(plain(0), (1, Some(10), true));
    assert_eq!(plain(1), (12, Some(10), false));
    assert_eq!(plain(2), (1, None, true));
    let freight: Vec<_> = book
        .freight
        .iter()
        .map(|freight| freight.supplier.as_str())
        .collect();
    assert_eq!(freight, ["Yard"]);
    assert_eq!(book.freight_of("Yard").unwrap().amount.to_text(), "85.00");
    assert_eq!(book.freight_of("Shop"), None);
}

#[test]
fn terms_that_cannot_be_read_are_told() {
    let row = |rest: &str| format!("a,5,gal,1,USD,{rest}\n");
    let rows = [
        "Y,2026-13-01,,,,,",
        "Y,2026-06-02,2026-06-01,,,,",
        "Y,,,0,,,",
        "Y,,,2.5,,,",
        "Y,,,,-3,,",
        "Y,,,,soon,,",
        "Y,,,,,$85,",
        ",,,,,85,",
        "Y,,,,,,maybe",
    ];
    let (book, wrong) = read(&format!("{ALL}{}", rows.map(row).concat()));
    assert!(book.is_none());
    let messages: Vec<&str> = wrong
        .iter()
        .map(|text| text.split_once("`: ").map_or("", |(_, message)| message))
        .collect();
    assert_eq!(
        messages,
        [
            "`2026-13-01` is no date",
            "the price ends on 2026-06-01, before it begins on 2026-06-02",
            "`0` is no number of packs",
            "`2.5` is no number of packs",
            "`-3` is no number of days",
            "`soon` is no number of days",
            "`$85` is no freight",
            "the freight is of no supplier",
            "`maybe` does not say whether the item is taxed",
        ]
    );
}

/// Offers differ by supplier, pack, number of packs and time; those that differ by none are two
/// prices of one thing. A wage is one at a time.
#[test]
fn only_equal_offers_price_an_item_twice() {
    let fine = "a,5,gal,1,USD,Y,,,,,,\na,5,gal,2,USD,Z,,,,,,\na,1,gal,3,USD,Y,,,,,,\n\
                a,5,gal,4,USD,Y,,,10,,,\na,4,qt,5,USD,Q,,2026-05-31,,,,\na,1,gal,6,USD,Q,2026-06-01,,,,,\n\
                labour,1,h,36,USD,,,2026-05-31,,,,\nlabour,1,h,38,USD,,2026-06-01,,,,,\n";
    assert_eq!(read(&format!("{ALL}{fine}")).1, Vec::<String>::new());
    let twice = "a,5,gal,1,USD,Y,,,,,,\na,5,gal,2,USD,Y,2026-01-01,,,,,\n\
                 labour,1,h,36,USD,A,,,,,,\nlabour,1,h,38,USD,B,2026-06-01,,,,,\n\
                 b,1,gal,1,USD,Y,,,,,80,\nc,1,gal,1,USD,Y,,,,,90,\n";
    let (book, wrong) = read(&format!("{ALL}{twice}"));
    assert!(book.is_none());
    assert_eq!(
        wrong,
        [
            "E0503 at `a,5,gal,2,USD,Y,2026-01-01,,,,,`: `a` is priced twice",
            "E0503 at `labour,1,h,38,USD,B,2026-06-01,,,,,`: `labour` is priced twice",
            "E0502 at `c,1,gal,1,USD,Y,,,,,90,`: the freight of `Y` is stated twice",
        ]
    );
}
