use super::*;
use parge_base::{Currency, Money};

pub(super) fn moved(name: &str, value: &str, ways: [&str; 2]) -> Moved {
    let usd = Currency::from_code("USD").unwrap();
    let way = |text: &str| match text.parse() {
        Ok(amount) => Way::Difference(Money::new(amount, usd)),
        Err(_) => Way::Unknown(text.to_owned()),
    };
    let [down, up] = ways.map(way);
    Moved {
        name: name.to_owned(),
        value: value.to_owned(),
        down,
        up,
        source: "company".to_owned(),
        place: None,
    }
}

fn drawn(moved: &[Moved]) -> String {
    svg(&Tornado {
        title: "Court & garden walls".to_owned(),
        by: "10%".to_owned(),
        total: "1,250.00 USD".to_owned(),
        moved,
    })
}

#[test]
fn a_small_tornado() {
    insta::assert_snapshot!(drawn(&[
        moved("prices.labour", "36.50 USD", ["-120.25", "118.00"]),
        moved("mixes.mix.yield", "0.45 ft3/bag", ["60.00", "-40.00"]),
        moved("let.tall", "9ft 6in", ["no height is left", "55.10"]),
        moved("conditions.high.above", "10 ft", ["12.00", "30.00"]),
    ]));
}

/// Nothing that moves, and nothing at all, are drawings as well.
#[test]
fn no_bar_has_no_size() {
    for moved in [vec![], vec![moved("<a & b>", "1", ["0.00", "0.00"])]] {
        let text = drawn(&moved);
        assert!(text.ends_with("</svg>\n"));
        for wrong in ["NaN", "inf", "<a & b>"] {
            assert!(!text.contains(wrong), "{text}");
        }
        assert!(!text.contains("height=\"9\""), "{text}");
    }
}
