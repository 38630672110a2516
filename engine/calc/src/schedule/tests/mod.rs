mod examples;
mod optimum;
mod path;
mod properties;
mod published;
mod refused;

use super::*;
use jiff::civil::{Date, Weekday, date};
use std::collections::BTreeSet;

const ALL_WEEK: [Weekday; 7] = [
    Weekday::Monday,
    Weekday::Tuesday,
    Weekday::Wednesday,
    Weekday::Thursday,
    Weekday::Friday,
    Weekday::Saturday,
    Weekday::Sunday,
];

/// A Friday.
const START: Date = date(2026, 6, 5);

fn rules() -> CalendarRules {
    CalendarRules {
        start: START,
        weekdays: ALL_WEEK[..5].to_vec(),
        off: BTreeSet::new(),
        begin: 7 * 60,
    }
}

/// Monday to Friday, 7:00 to 15:00, no limit of bags.
fn office_days(mixes: usize) -> Days {
    Days::lay_out(&rules(), mixes, |_| 480, |_, _| None).unwrap()
}

/// Every minute is worked, so that minutes of the clock are periods of a textbook.
fn without_nights() -> Days {
    let rules = CalendarRules {
        weekdays: ALL_WEEK.to_vec(),
        begin: 0,
        ..rules()
    };
    Days::lay_out(&rules, 0, |_| 1440, |_, _| None).unwrap()
}

/// One activity of fixed people.
fn activity(label: &str, people: u32, minutes: u64) -> Activity {
    Activity {
        label: label.to_owned(),
        work: minutes * u64::from(people),
        least_people: people,
        most_people: people,
        bags: None,
        in_one_day: false,
        holds: Vec::new(),
    }
}

fn wait(before: usize, after: usize, minutes: u32) -> Wait {
    Wait {
        before,
        after,
        minutes,
    }
}

fn problem(crew: u32, activities: Vec<Activity>, waits: Vec<Wait>) -> Problem {
    Problem {
        crew,
        others: Vec::new(),
        activities,
        waits,
    }
}

/// Minutes of the clock since midnight of the start date.
fn minute(moment: jiff::civil::DateTime) -> i64 {
    let since = moment.duration_since(START.at(0, 0, 0, 0));
    since.as_secs() / 60
}
