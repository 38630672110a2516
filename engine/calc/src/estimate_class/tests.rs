use super::*;
use parge_base::Currency;

/// Class 3 of an estimate of 10,000: -20/+30 % outside, -10/+10 % inside.
#[test]
fn a_range_lies_around_its_estimate() {
    let usd = Currency::from_code("USD").unwrap();
    let class = EstimateClass::new(3.0).unwrap();
    let range = class.range(Money::new(10_000.into(), usd)).unwrap();
    let texts = [range.outer, range.inner].map(|limits| limits.map(Money::to_text));
    assert_eq!(texts[0], ["8000.00", "13000.00"]);
    assert_eq!(texts[1], ["9000.00", "11000.00"]);
}

#[test]
fn there_are_five_classes() {
    for number in [0.0, 6.0, 2.5, -1.0, f64::NAN] {
        assert_eq!(EstimateClass::new(number), None, "{number}");
    }
    let widths = (1..=5).map(|number| {
        let class = EstimateClass::new(f64::from(number)).unwrap();
        let [low, high] = class.outer();
        let [least, most] = class.inner();
        assert!(low < least && most < high);
        high - low
    });
    assert!(widths.collect::<Vec<_>>().is_sorted());
}
