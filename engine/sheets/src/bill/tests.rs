use super::*;
use crate::sample;

#[test]
fn a_line_a_material() {
    let sample = sample::complete();
    let text = bill_of_materials(&sample.estimate);
    assert!(text.starts_with("\u{feff}item,"));
    assert_eq!(text.matches("\r\n").count(), text.matches('\n').count());
    insta::assert_snapshot!(text.replace("\r\n", "\n"));
}

/// What has no price is not nothing.
#[test]
fn a_missing_price_is_said() {
    let sample = sample::without_lath();
    let text = bill_of_materials(&sample.estimate);
    assert!(text.contains(",no price,no price,USD,"), "{text}");
}
