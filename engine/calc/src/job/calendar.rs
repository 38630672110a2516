//! The days of work.

use super::Figure;
use jiff::civil::{Date, Weekday};
use parge_base::Spanned;

/// When work goes on, as the plan states it.
#[derive(Debug, Clone)]
pub struct Calendar {
    /// The first day on site.
    pub start: Option<Spanned<Date>>,
    /// On which weekdays work goes on, monday first.
    pub weekdays: [bool; 7],
    /// Days without work.
    pub holidays: Vec<Spanned<Date>>,
    /// Days of work that are lost to weather.
    pub lost: Vec<Spanned<Date>>,
    /// Time on site a day: more than nothing, at most a day.
    pub hours: Option<Figure>,
    /// Time to the site, one way, on each day of work.
    pub travel: Option<Figure>,
}

impl Default for Calendar {
    /// Monday to friday, and nothing else stated.
    fn default() -> Self {
        Self {
            start: None,
            weekdays: [true, true, true, true, true, false, false],
            holidays: Vec::new(),
            lost: Vec::new(),
            hours: None,
            travel: None,
        }
    }
}

impl Calendar {
    /// Whether work goes on at this weekday.
    pub fn has_weekday(&self, weekday: Weekday) -> bool {
        let at = usize::try_from(weekday.to_monday_zero_offset()).ok();
        at.and_then(|at| self.weekdays.get(at).copied())
            .unwrap_or(false)
    }

    /// Whether a day is a holiday.
    pub fn is_holiday(&self, day: Date) -> bool {
        self.holidays.iter().any(|holiday| holiday.node == day)
    }

    /// Whether a day is one of work, be it lost to weather or not.
    pub fn is_workday(&self, day: Date) -> bool {
        self.has_weekday(day.weekday()) && !self.is_holiday(day)
    }

    /// Whether a day is lost to weather.
    pub fn is_lost(&self, day: Date) -> bool {
        self.lost.iter().any(|lost| lost.node == day)
    }
}

#[cfg(test)]
mod tests;
