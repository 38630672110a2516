use super::*;

/// A network of our own with hand-worked passes; `d` to `e` waits 2.
#[test]
fn the_passes_of_a_small_network() {
    let minutes = [("a", 3), ("b", 5), ("c", 2), ("d", 4), ("e", 6), ("f", 1)];
    let activities = minutes.map(|(label, minutes)| activity(label, 1, minutes));
    let waits = vec![
        wait(0, 2, 0),
        wait(0, 3, 0),
        wait(1, 3, 0),
        wait(2, 4, 0),
        wait(3, 4, 2),
        wait(3, 5, 0),
    ];
    let problem = problem(9, activities.to_vec(), waits);
    let path = critical_path(&problem, &without_nights()).unwrap();
    let rows = path.spans.iter().map(|span| {
        let minutes = [
            span.earliest_start,
            span.earliest_finish,
            span.latest_start,
            span.latest_finish,
        ];
        (minutes.map(minute), span.total_float)
    });
    assert_eq!(
        rows.collect::<Vec<_>>(),
        [
            ([0, 3, 2, 5], 2),
            ([0, 5, 0, 5], 0),
            ([3, 5, 9, 11], 6),
            ([5, 9, 5, 9], 0),
            ([11, 17, 11, 17], 0),
            ([9, 10, 16, 17], 7),
        ]
    );
    assert_eq!(minute(path.end), 17);
}

/// A day's work on Friday; what follows 16 hours, 48 hours and 7 days later finds the weekend.
#[test]
fn waits_run_over_nights_and_weekends() {
    for (hours, starts) in [(0, 8), (16, 8), (48, 8), (64, 8), (65, 8), (7 * 24, 15)] {
        let activities = vec![activity("scratch", 2, 480), activity("finish", 2, 60)];
        let problem = problem(2, activities, vec![wait(0, 1, hours * 60)]);
        let path = critical_path(&problem, &office_days(0)).unwrap();
        let hour = if hours == 65 { 8 } else { 7 };
        assert_eq!(
            path.spans[1].earliest_start,
            date(2026, 6, starts).at(hour, 0, 0, 0),
            "{hours} h"
        );
        assert_eq!(path.spans[0].earliest_finish, START.at(15, 0, 0, 0));
    }
}

/// Float counts productive minutes only: the short one can wait over the weekend until Monday
/// 14:00, which is 8 hours of Friday and 7 of Monday.
#[test]
fn float_counts_working_time() {
    let activities = vec![activity("long", 1, 960), activity("short", 1, 60)];
    let problem = problem(2, activities, Vec::new());
    let path = critical_path(&problem, &office_days(0)).unwrap();
    assert_eq!(path.spans[1].total_float, 480 + 420);
    assert_eq!(path.spans[1].latest_start, date(2026, 6, 8).at(14, 0, 0, 0));
    assert_eq!(path.spans[0].total_float, 0);
}
