use super::*;

fn usd(text: &str) -> Money {
    Money::new(text.parse().unwrap(), Currency::from_code("USD").unwrap())
}

fn rate(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// P6 of the published checks: cost 80,000; a margin of 20 % gives 100,000, a markup 96,000.
#[test]
fn a_margin_is_a_share_of_the_price_and_a_markup_of_the_cost() {
    let margin = Bid {
        profit: Some(Profit::Margin(rate("0.20"))),
        ..Bid::default()
    };
    let markup = Bid {
        profit: Some(Profit::Markup(rate("0.20"))),
        ..Bid::default()
    };
    let total = |bid: &Bid| {
        chain([usd("50000"), usd("30000"), usd("0"), usd("0")], bid, None)
            .unwrap()
            .total
    };
    assert_eq!(total(&margin), usd("100000.00"));
    assert_eq!(total(&markup), usd("96000.00"));
}

/// 1000 material, 500 labour, 32 % burden 160, 12 % overhead of 1660 = 199.20, 20 % markup of
/// 1859.20 = 371.84, 7.25 % on materials 72.50.
#[test]
fn the_total_is_the_sum_of_the_rounded_lines() {
    let bid = Bid {
        burden: Some(rate("0.32")),
        overhead: Some(rate("0.12")),
        profit: Some(Profit::Markup(rate("0.20"))),
        tax: Some((rate("0.0725"), Taxable::Materials)),
    };
    let price = chain([usd("1000"), usd("500"), usd("0"), usd("0")], &bid, None).unwrap();
    let lines = [price.burden, price.overhead, price.profit, price.tax].map(Money::to_text);
    assert_eq!(lines, ["160.00", "199.20", "371.84", "72.50"]);
    assert_eq!(price.total.to_text(), "2303.54");
    let on_total = Bid {
        tax: Some((rate("0.0725"), Taxable::Total)),
        ..bid
    };
    assert_eq!(
        chain(
            [usd("1000"), usd("500"), usd("0"), usd("0")],
            &on_total,
            None
        )
        .unwrap()
        .tax
        .to_text(),
        "161.75"
    );
}

/// 1000 material, 500 labour, 32 % burden 160, 12 % overhead 199.20, 20 % markup 371.84: with an
/// allowance of 850 the price before tax is 3081.04, and 7.25 % of that is 223.38.
#[test]
fn an_allowance_bears_tax_on_the_total_and_nothing_else() {
    let bid = Bid {
        burden: Some(rate("0.32")),
        overhead: Some(rate("0.12")),
        profit: Some(Profit::Markup(rate("0.20"))),
        tax: Some((rate("0.0725"), Taxable::Total)),
    };
    let price = chain([usd("1000"), usd("500"), usd("850"), usd("0")], &bid, None).unwrap();
    let lines = [price.overhead, price.profit, price.allowances, price.tax].map(Money::to_text);
    assert_eq!(lines, ["199.20", "371.84", "850.00", "223.38"]);
    assert_eq!(price.total.to_text(), "3304.42");
}
