//! Literals against the standards that define them. Figures of NIST SP 811 (2008), appendix B.8,
//! are from memory, to the digits printed there; those it prints in bold are exact.

use super::{quantity, told_of};

/// Seven digits, as SP 811 prints what is not exact.
fn near(text: &str, printed: f64) {
    let value = quantity(text).value;
    assert!(
        (value / printed - 1.0).abs() < 5e-7,
        "{text} is {value}, not {printed}"
    );
}

#[test]
fn units_are_those_of_nist_sp_811() {
    for (text, exact) in [
        ("1ft", 3.048e-1),
        ("1in", 2.54e-2),
        ("1yd", 9.144e-1),
        ("1ft2", 9.290_304e-2),
        ("1mph", 4.4704e-1),
        ("1h", 3.6e3),
        ("1d", 8.64e4),
        ("1L", 1e-3),
        ("1t", 1e3),
    ] {
        assert_eq!(quantity(text).value, exact, "{text}");
    }
    near("1yd2", 8.361_274e-1);
    near("1ft3", 2.831_685e-2);
    near("1yd3", 7.645_549e-1);
    near("1gal", 3.785_412e-3);
    near("1qt", 9.463_529e-4);
    near("1pt", 4.731_765e-4);
    near("1floz", 2.957_353e-5);
    near("1lb", 4.535_924e-1);
    near("1oz", 2.834_952e-2);
    near("1deg", 1.745_329e-2);
    // t/K = (t/F + 459.67)/1.8 and t/K = t/C + 273.15.
    near("32F", 273.15);
    near("212F", 373.15);
    near("-40F", 233.15);
    near("-40C", 233.15);
}

fn plan(line: &str) -> String {
    format!("job \"Dates\" {{ {line} }}\n")
}

/// ISO 8601: year, month and day with dashes, in the calendar of Gregory.
#[test]
fn dates_are_those_of_iso_8601() {
    for date in ["2026-04-20", "2028-02-29", "2000-02-29", "2026-12-31"] {
        assert_eq!(told_of(&plan(&format!("date {date}"))), "", "{date}");
    }
    for date in [
        "2026-02-29",
        "1900-02-29",
        "2026-13-01",
        "2026-04-31",
        "20-04-2026",
        "04/20/2026",
        "2026-4-20",
        "20260420",
    ] {
        assert_ne!(told_of(&plan(&format!("date {date}"))), "", "{date}");
    }
}

/// ISO 4217: the code in capitals, and as many digits as the currency's minor unit has.
#[test]
fn amounts_are_those_of_iso_4217() {
    let told = |amount: &str| told_of(&format!("allowance \"Crane\" {amount}\n"));
    for amount in [
        "850 USD",
        "850.50 USD",
        "850 JPY",
        "850.125 KWD",
        "12.5 EUR",
        "1 250.50 GBP",
    ] {
        assert_eq!(told(amount), "", "{amount}");
    }
    for amount in [
        "850.5 JPY",
        "850.505 USD",
        "850.1255 KWD",
        "850 usd",
        "850 ABC",
        "850",
        "USD 850",
        "$850",
    ] {
        assert_ne!(told(amount), "", "{amount}");
    }
}
