//! The days that are worked, and what can be done on each.

use super::error::ScheduleError;
use jiff::ToSpan;
use jiff::civil::{Date, DateTime, Weekday};
use std::collections::BTreeSet;

/// How many calendar days are laid out at most: five years with a leap day or two.
pub const HORIZON_DAYS: u32 = 5 * 366;

pub(super) const DAY: i64 = 24 * 60;

/// Which days are worked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalendarRules {
    /// The first day that can be worked.
    pub start: Date,
    /// The days of the week that are worked.
    pub weekdays: Vec<Weekday>,
    /// Holidays and days lost to weather.
    pub off: BTreeSet<Date>,
    /// Minutes from midnight to the begin of a day's work.
    pub begin: u32,
}

/// A working day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Day {
    /// Its first productive minute, counted from midnight of the start date.
    pub(super) from: i64,
    /// The minute after its last.
    pub(super) until: i64,
    /// The most bags of each mix; none where there is no limit. On a day with the limit 0 nothing
    /// is placed, not even from a bag that was opened before.
    caps: Vec<Option<u32>>,
}

impl Day {
    /// Productive minutes.
    pub fn minutes(&self) -> u64 {
        self.until.saturating_sub(self.from).unsigned_abs()
    }

    /// The most bags of a mix that can be placed on it.
    pub fn cap(&self, mix: usize) -> u32 {
        match self.caps.get(mix) {
            Some(Some(cap)) => *cap,
            _ => u32::MAX,
        }
    }
}

/// All working days in order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Days {
    start: Date,
    mixes: usize,
    days: Vec<Day>,
}

impl Days {
    /// Lays out the working days of five years.
    ///
    /// `minutes` gives the productive minutes of a date, `cap` the most bags of a mix that can
    /// be placed on a date (none where there is no limit). Both are asked only for working days;
    /// a date with 0 minutes is not worked.
    ///
    /// # Errors
    ///
    /// No working time on any day, or a day that goes past midnight.
    pub fn lay_out(
        rules: &CalendarRules,
        mixes: usize,
        minutes: impl Fn(Date) -> u32,
        cap: impl Fn(Date, usize) -> Option<u32>,
    ) -> Result<Self, ScheduleError> {
        let mut days = Vec::new();
        for number in 0..HORIZON_DAYS {
            // The calendar itself ends with the year 9999.
            let Ok(date) = rules.start.checked_add(i64::from(number).days()) else {
                break;
            };
            if !rules.weekdays.contains(&date.weekday()) || rules.off.contains(&date) {
                continue;
            }
            let long = minutes(date);
            if i64::from(rules.begin) + i64::from(long) > DAY {
                return Err(ScheduleError::PastMidnight(date));
            }
            if long > 0 {
                let from = i64::from(number) * DAY + i64::from(rules.begin);
                days.push(Day {
                    from,
                    until: from + i64::from(long),
                    caps: (0..mixes).map(|mix| cap(date, mix)).collect(),
                });
            }
        }
        if days.is_empty() {
            return Err(ScheduleError::NoWorkingTime);
        }
        Ok(Self {
            start: rules.start,
            mixes,
            days,
        })
    }

    /// The days.
    pub fn iter(&self) -> impl Iterator<Item = &Day> {
        self.days.iter()
    }

    /// Whether a crew that works on every day has the time for so many person-minutes; an error says
    /// what is missing.
    ///
    /// # Errors
    ///
    /// More work than that.
    pub fn hold(&self, work: u128, crew: u32) -> Result<(), ScheduleError> {
        let minutes = self.days.iter().map(|day| u128::from(day.minutes()));
        let there = minutes.sum::<u128>() * u128::from(crew);
        match work <= there {
            true => Ok(()),
            false => Err(ScheduleError::TooMuchWork { work, there }),
        }
    }

    /// How many mixes have a limit or could have one.
    pub fn mixes(&self) -> usize {
        self.mixes
    }

    pub(super) fn get(&self, number: usize) -> Option<&Day> {
        self.days.get(number)
    }

    /// The number of the first day that is not over at a minute.
    pub(super) fn first_open_at(&self, minute: i64) -> usize {
        self.days.partition_point(|day| day.until <= minute)
    }

    /// The first productive minute of all.
    pub(super) fn first_minute(&self) -> i64 {
        self.days.first().map_or(0, |day| day.from)
    }

    /// The end of the last day.
    pub(super) fn last_minute(&self) -> i64 {
        self.days.last().map_or(0, |day| day.until)
    }

    /// Productive minutes between two minutes of the clock.
    pub(super) fn worked_between(&self, from: i64, until: i64) -> u64 {
        let later = self.days.iter().skip(self.first_open_at(from));
        later
            .take_while(|day| day.from < until)
            .map(|day| (day.until.min(until) - day.from.max(from)).unsigned_abs())
            .sum()
    }

    /// The same days up to one of them, and up to a minute, with time running backwards.
    pub(super) fn mirrored(&self, last: usize, end: i64) -> Self {
        let days = self.days.iter().take(last.saturating_add(1)).rev();
        let turned = days.map(|day| Day {
            from: -day.until.min(end),
            until: -day.from,
            caps: day.caps.clone(),
        });
        Self {
            start: self.start,
            mixes: self.mixes,
            days: turned.collect(),
        }
    }

    /// A minute as date and time. What lies beyond the year 9999 stays at its end.
    pub(super) fn moment(&self, minute: i64) -> DateTime {
        self.start
            .to_datetime(jiff::civil::Time::midnight())
            .saturating_add(minute.minutes())
    }

    /// The date of a working day.
    pub(super) fn date(&self, number: usize) -> Date {
        let from = self.get(number).map_or(0, |day| day.from);
        self.moment(from).date()
    }
}
