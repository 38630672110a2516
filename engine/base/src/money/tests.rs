use super::*;

fn usd(text: &str) -> Money {
    Money::new(text.parse().unwrap(), Currency::from_code("USD").unwrap())
}

#[test]
fn lines_round_half_away_from_zero() {
    assert_eq!(usd("2.675").times(1.0).unwrap(), usd("2.68"));
    assert_eq!(usd("1.005").times(1.0).unwrap(), usd("1.01"));
    assert_eq!(usd("-1.005").times(1.0).unwrap(), usd("-1.01"));
    assert_eq!(usd("10").share("0.0725".parse().unwrap()).unwrap(), usd("0.73"));
}

#[test]
fn amounts_print_with_their_minor_unit() {
    assert_eq!(usd("1250").to_text(), "1250.00");
    let yen = Money::new("1250".parse().unwrap(), Currency::from_code("JPY").unwrap());
    assert_eq!(yen.to_text(), "1250");
}

#[test]
fn currencies_never_mix_and_amounts_never_wrap() {
    let euro = Money::zero(Currency::from_code("EUR").unwrap());
    assert_eq!(usd("1").plus(euro), Err(MoneyOverflow));
    assert_eq!(usd("79228162514264337593543950335").plus(usd("1")), Err(MoneyOverflow));
    assert_eq!(Currency::from_code("usd"), None);
}
