use super::*;
use jiff::civil::date;
use parge_base::{Sources, Span};

#[test]
fn a_day_of_work_is_a_weekday_of_work_and_no_holiday() {
    let span = Span::new(Sources::new().add("", ""), 0, 0);
    let mut calendar = Calendar::default();
    // 1 June 2026 is a monday.
    let worked = |calendar: &Calendar| {
        let days = (1..=7).map(|day| calendar.is_workday(date(2026, 6, day)));
        days.collect::<Vec<_>>()
    };
    assert_eq!(
        worked(&calendar),
        [true, true, true, true, true, false, false]
    );
    calendar.weekdays = [true, true, true, true, false, true, false];
    calendar.holidays = vec![Spanned::new(date(2026, 6, 2), span)];
    calendar.lost = vec![Spanned::new(date(2026, 6, 3), span)];
    assert_eq!(
        worked(&calendar),
        [true, false, true, true, false, true, false]
    );
    assert!(calendar.is_lost(date(2026, 6, 3)) && !calendar.is_lost(date(2026, 6, 2)));
}
