use super::*;

fn usd(text: &str) -> Money {
    Money::new(text.parse().unwrap(), Currency::from_code("USD").unwrap())
}

#[test]
fn lines_round_half_away_from_zero() {
    assert_eq!(usd("2.675").times(1.0).unwrap(), usd("2.68"));
    assert_eq!(usd("1.005").times(1.0).unwrap(), usd("1.01"));
    assert_eq!(usd("-1.005").times(1.0).unwrap(), usd("-1.01"));
    assert_eq!(
        usd("10").share("0.0725".parse().unwrap()).unwrap(),
        usd("0.73")
    );
}

/// A margin of 44 % on 0.35 is 0.35 × 0.44 / 0.56 = 0.275 exactly, which rounds to 0.28; with
/// the quotient 0.7857… taken first it would come out a hair below.
#[test]
fn fractions_round_once() {
    let margin = |rate: &str| {
        (
            rate.parse().unwrap(),
            Decimal::ONE - rate.parse::<Decimal>().unwrap(),
        )
    };
    let (top, bottom) = margin("0.44");
    assert_eq!(usd("0.35").fraction(top, bottom).unwrap(), usd("0.28"));
    assert_eq!(
        usd("1").fraction(Decimal::ONE, Decimal::ZERO),
        Err(MoneyOverflow)
    );
}

#[test]
fn amounts_print_with_their_minor_unit() {
    assert_eq!(usd("1250").to_text(), "1250.00");
    assert_eq!(usd("26.155").to_price_text(), "26.155");
    assert_eq!(usd("26.1").to_price_text(), "26.10");
    let yen = Money::new("1250".parse().unwrap(), Currency::from_code("JPY").unwrap());
    assert_eq!(yen.to_text(), "1250");
}

#[test]
fn currencies_never_mix_and_amounts_never_wrap() {
    let euro = Money::zero(Currency::from_code("EUR").unwrap());
    assert_eq!(usd("1").plus(euro), Err(MoneyOverflow));
    assert_eq!(
        usd("79228162514264337593543950335").plus(usd("1")),
        Err(MoneyOverflow)
    );
    assert_eq!(Currency::from_code("usd"), None);
}
