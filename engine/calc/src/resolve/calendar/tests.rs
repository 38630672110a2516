use crate::job::Job;
use crate::testing::{measured, said};

fn plan(settings: &str) -> String {
    format!(
        "parge 1\njob \"Test\" {{\n  rules \"small\"\n{settings}\n}}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on block {{ face f rect 4ft x 4ft plain }}\n"
    )
}

fn job(settings: &str) -> Job {
    measured(&plan(settings)).job
}

#[test]
fn a_job_that_says_nothing_works_from_monday_to_friday() {
    let calendar = job("").calendar;
    assert_eq!(
        calendar.weekdays,
        [true, true, true, true, true, false, false]
    );
    assert!(calendar.start.is_none() && calendar.hours.is_none() && calendar.travel.is_none());
    assert!(calendar.holidays.is_empty() && calendar.lost.is_empty());
}

#[test]
fn the_days_of_work_are_what_was_written() {
    let job = job(
        "date 2026-05-11 start 2026-06-01 workdays mon tue wed thu sat hours 9h travel 45min\n\
         holidays 2026-07-03, 2026-07-06\nweather_days 2026-06-10",
    );
    let days = |days: &[parge_base::Spanned<jiff::civil::Date>]| {
        let texts = days.iter().map(|day| day.node.to_string());
        texts.collect::<Vec<_>>()
    };
    let calendar = &job.calendar;
    assert_eq!(calendar.start.unwrap().node.to_string(), "2026-06-01");
    assert_eq!(
        calendar.weekdays,
        [true, true, true, true, false, true, false]
    );
    assert_eq!(days(&calendar.holidays), ["2026-07-03", "2026-07-06"]);
    assert_eq!(days(&calendar.lost), ["2026-06-10"]);
    assert_eq!(job.value(calendar.hours.unwrap()).value, 9.0 * 3600.0);
    assert_eq!(job.value(calendar.travel.unwrap()).value, 45.0 * 60.0);
}

#[test]
fn mistakes_in_the_days_of_work() {
    insta::assert_snapshot!(
        [
            "start 2026-06-06",
            "start 2026-06-01 holidays 2026-06-01, 2026-06-02",
            "start 2026-06-06 workdays sat sun",
            "start 2026-06-01\nstart 2026-06-02",
            "date 2026-06-08 start 2026-06-01",
            "date 2026-06-01 start 2026-06-01",
            "start 2026-06-10 weather_days 2026-06-10",
            "start 2026-06-01 holidays 2026-05-25",
            "start 2026-06-01 weather_days 2026-05-25, 2026-06-13",
            "holidays 2026-07-03, 2026-07-06, 2026-07-03",
            "weather_days 2026-06-10, 2026-06-10",
            "holidays 2026-07-03 weather_days 2026-07-03",
            "start 2026-06-06 workdays mon teu wed",
            "workdays monday mon mon feiertag",
            "hours 0h",
            "hours 25h",
            "hours 24h",
            "hours 8",
            "hours 8ft",
            "travel -5min",
            "travel 13h",
            "hours 20h travel 3h",
        ]
        .map(|text| format!("{text}\n{}\n", said(&plan(text))))
        .join("\n")
    );
}
