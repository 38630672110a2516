use super::*;
use parge_base::Currency;
use proptest::prelude::*;

fn usd(text: &str) -> Money {
    Money::new(text.parse().unwrap(), Currency::from_code("USD").unwrap())
}

fn rate(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn sums(materials: &str, labour: &str) -> Sums {
    Sums {
        materials: usd(materials),
        taxed: usd(materials),
        freight: usd("0"),
        labour: usd(labour),
        allowances: usd("0"),
        charges: usd("0"),
    }
}

fn priced(sums: Sums, bid: &Bid) -> Price {
    chain(sums, bid, bid.contingency.unwrap_or_default(), None).unwrap()
}

/// P6 of the published checks: cost 80,000; a margin of 20 % gives 100,000, a markup 96,000.
#[test]
fn a_margin_is_a_share_of_the_price_and_a_markup_of_the_cost() {
    let of = |profit| Bid {
        profit: Some(profit),
        ..Bid::default()
    };
    let total = |bid: &Bid| priced(sums("50000", "30000"), bid).total;
    assert_eq!(total(&of(Profit::Margin(rate("0.20")))), usd("100000.00"));
    assert_eq!(total(&of(Profit::Markup(rate("0.20")))), usd("96000.00"));
}

fn usual(tax: Taxable) -> Bid {
    Bid {
        burden: Some(rate("0.32")),
        overhead: Some(rate("0.12")),
        profit: Some(Profit::Markup(rate("0.20"))),
        tax: Some((rate("0.0725"), tax)),
        ..Bid::default()
    }
}

/// 1000 material, 500 labour, 32 % burden 160, 12 % overhead of 1660 = 199.20, 20 % markup of
/// 1859.20 = 371.84, 7.25 % on materials 72.50.
#[test]
fn the_total_is_the_sum_of_the_rounded_lines() {
    let price = priced(sums("1000", "500"), &usual(Taxable::Materials));
    let lines = [price.burden, price.overhead, price.profit, price.tax].map(Money::to_text);
    assert_eq!(lines, ["160.00", "199.20", "371.84", "72.50"]);
    assert_eq!(price.total.to_text(), "2303.54");
    let on_total = priced(sums("1000", "500"), &usual(Taxable::Total));
    assert_eq!(on_total.tax.to_text(), "161.75");
}

/// 1000 material, 500 labour, 32 % burden 160, 12 % overhead 199.20, 20 % markup 371.84: with an
/// allowance of 850 the price before tax is 3081.04, and 7.25 % of that is 223.38.
#[test]
fn an_allowance_bears_tax_on_the_total_and_nothing_else() {
    let with = Sums {
        allowances: usd("850"),
        ..sums("1000", "500")
    };
    let price = priced(with, &usual(Taxable::Total));
    let lines = [price.overhead, price.profit, price.allowances, price.tax].map(Money::to_text);
    assert_eq!(lines, ["199.20", "371.84", "850.00", "223.38"]);
    assert_eq!(price.total.to_text(), "3304.42");
}

/// 1000 material of which 400 are taxed, 120 freight, 500 labour, 160 burden: 12 % overhead of 1780
/// is 213.60; 10 % contingency of 1993.60 is 199.36; 20 % markup of 2192.96 is 438.59, which makes
/// 2631.55. Tax is 7.25 % of 400.
#[test]
fn freight_and_contingency_bear_what_follows_them() {
    let with = Sums {
        taxed: usd("400"),
        freight: usd("120"),
        ..sums("1000", "500")
    };
    let bid = Bid {
        contingency: Some(rate("0.10")),
        ..usual(Taxable::Materials)
    };
    let price = priced(with, &bid);
    let lines = [price.overhead, price.contingency, price.profit, price.tax];
    let lines = lines.map(Money::to_text);
    assert_eq!(lines, ["213.60", "199.36", "438.59", "29.00"]);
    assert_eq!(price.total.to_text(), "2660.55");
}

/// A price of 1,991.23 before tax, with a minimum and roundings. Tax of 10 % is on what comes of them.
#[test]
fn the_minimum_comes_before_rounding_and_both_before_tax() {
    let priced = |minimum: Option<&str>, rounding: Option<(bool, &str)>| {
        let bid = Bid {
            minimum: minimum.map(usd),
            rounding: rounding.map(|(up, multiple)| Rounding {
                up,
                multiple: usd(multiple),
            }),
            tax: Some((rate("0.1"), Taxable::Total)),
            ..Bid::default()
        };
        let price = priced(sums("1491.23", "500"), &bid);
        [price.minimum, price.rounding, price.tax, price.total].map(Money::to_text)
    };
    let cases: [(_, _, [&str; 4]); 7] = [
        (None, None, ["0.00", "0.00", "199.12", "2190.35"]),
        (Some("2150"), None, ["158.77", "0.00", "215.00", "2365.00"]),
        (Some("1500"), None, ["0.00", "0.00", "199.12", "2190.35"]),
        (
            None,
            Some((false, "5")),
            ["0.00", "-1.23", "199.00", "2189.00"],
        ),
        (
            None,
            Some((true, "10")),
            ["0.00", "8.77", "200.00", "2200.00"],
        ),
        (
            None,
            Some((false, "0.05")),
            ["0.00", "0.02", "199.13", "2190.38"],
        ),
        // To the nearest 100 it would be 2,100, under the minimum.
        (
            Some("2120"),
            Some((false, "100")),
            ["128.77", "80.00", "220.00", "2420.00"],
        ),
    ];
    for (minimum, rounding, wanted) in cases {
        assert_eq!(
            priced(minimum, rounding),
            wanted,
            "{minimum:?} {rounding:?}"
        );
    }
}

#[test]
fn a_multiple_is_not_rounded_further() {
    for text in ["2150", "0.05", "0", "-30", "1234567.85"] {
        let rounding = Rounding {
            up: true,
            multiple: usd("0.05"),
        };
        assert_eq!(
            rounded_by(usd(text), rounding, None).unwrap().to_text(),
            "0.00",
            "{text}"
        );
    }
}

prop_compose! {
    fn any_bid()(
        rates in prop::collection::vec(0u32..90, 4),
        least in prop::option::of(0u32..400_000),
        rounding in prop::option::of((any::<bool>(), 1u32..50_000)),
        tax in any::<bool>(),
    ) -> Bid {
        let share = |at: usize| Decimal::new(i64::from(rates[at]), 2);
        let cents = |cents: u32| Money::new(Decimal::new(cents.into(), 2), usd("0").currency());
        Bid {
            burden: Some(share(0)),
            overhead: Some(share(1)),
            contingency: Some(share(2)),
            profit: Some(Profit::Margin(share(3))),
            minimum: least.map(cents),
            rounding: rounding.map(|(up, multiple)| Rounding { up, multiple: cents(multiple) }),
            tax: Some((share(0), if tax { Taxable::Total } else { Taxable::Materials })),
            class: None,
        }
    }
}

proptest! {
    #[test]
    fn the_lines_add_up_and_the_terms_are_kept(
        bid in any_bid(),
        materials in 0u32..10_000_000,
        labour in 0u32..10_000_000,
        freight in 0u32..100_000,
        charges in -50_000i64..50_000,
    ) {
        let cents = |cents: i64| Money::new(Decimal::new(cents, 2), usd("0").currency());
        let start = Sums {
            materials: cents(materials.into()),
            taxed: cents(i64::from(materials) / 2),
            freight: cents(freight.into()),
            labour: cents(labour.into()),
            allowances: cents(1_234),
            charges: cents(charges),
        };
        let price = priced(start, &bid);
        let lines = [
            price.materials, price.freight, price.labour, price.burden, price.overhead,
            price.contingency, price.profit, price.allowances, price.charges, price.minimum,
            price.rounding, price.tax,
        ];
        let sum = lines.into_iter().try_fold(usd("0"), Money::plus).unwrap();
        prop_assert_eq!(sum, price.total);
        let before_tax = price.total.minus(price.tax).unwrap();
        if let Some(least) = bid.minimum {
            prop_assert!(before_tax.amount() >= least.amount());
        }
        if let Some(Rounding { up, multiple }) = bid.rounding {
            prop_assert!((before_tax.amount() % multiple.amount()).is_zero());
            prop_assert!(price.rounding.amount().abs() < multiple.amount());
            let grows = price.rounding.amount() >= Decimal::ZERO;
            prop_assert!(!up || grows || before_tax.amount() < Decimal::ZERO);
        }
    }
}
