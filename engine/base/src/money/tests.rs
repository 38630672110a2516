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

#[test]
fn amounts_are_read_exactly() {
    for (text, wanted) in [
        ("850 USD", "850 USD"),
        ("850USD", "850 USD"),
        ("1 250.50 USD", "1250.50 USD"),
        ("1250.5 EUR", "1250.5 EUR"),
        ("1\u{A0}250 JPY", "1250 JPY"),
        (" 0.01  GBP ", "0.01 GBP"),
        (
            "79228162514264337593543950335 USD",
            "79228162514264337593543950335 USD",
        ),
    ] {
        let read = Money::parse(text).unwrap();
        let shown = format!("{} {}", read.amount(), read.currency().code());
        assert_eq!(shown, wanted, "{text}");
    }
}

#[test]
fn what_is_no_amount_is_told_from_what_is() {
    let usd = Currency::from_code("USD").unwrap();
    let yen = Currency::from_code("JPY").unwrap();
    let code = |code: &str| MoneyError::UnknownCode(code.to_owned());
    for (text, wanted) in [
        ("", MoneyError::NoNumber),
        ("$850", MoneyError::NoNumber),
        ("-850 USD", MoneyError::NoNumber),
        ("USD 850", MoneyError::NoNumber),
        ("850", MoneyError::NoCode),
        ("850 usd", code("usd")),
        ("850 US", code("US")),
        ("850 USD more", code("USD more")),
        ("1,250 USD", MoneyError::BadNumber),
        ("1 25 USD", MoneyError::BadNumber),
        ("1250 000 USD", MoneyError::BadNumber),
        ("1  250 USD", MoneyError::BadNumber),
        ("1.2.3 USD", MoneyError::BadNumber),
        ("850. USD", MoneyError::BadNumber),
        ("850.005 USD", MoneyError::TooFine(usd)),
        ("850.500 USD", MoneyError::TooFine(usd)),
        ("850.0 JPY", MoneyError::TooFine(yen)),
        ("79228162514264337593543950336 USD", MoneyError::TooLarge),
    ] {
        assert_eq!(Money::parse(text), Err(wanted), "{text}");
    }
}
