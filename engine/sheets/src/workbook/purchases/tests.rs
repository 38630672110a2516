use super::*;

/// Spreadsheets number days from the end of 1899, with a leap day in 1900 that never was.
#[test]
fn days_are_numbered_as_spreadsheets_do() {
    assert_eq!(serial(date(2026, 6, 1)), Some(46_174.0));
    assert_eq!(serial(date(1900, 3, 1)), Some(61.0));
    assert_eq!(serial(date(1900, 2, 28)), None);
}
