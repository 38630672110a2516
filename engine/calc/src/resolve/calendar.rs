//! The days of work: start, weekdays, holidays, days lost, hours and travel.

use super::values::Values;
use crate::job::{Calendar, Figure};
use jiff::civil::{Date, Weekday};
use parge_base::{Code, Diagnostic, Dim, Span, Spanned};
use parge_grammar::ast::{Expr, JobSetting, Name};
use std::collections::BTreeMap;

/// The weekdays as a plan writes them, in the order of [`Calendar::weekdays`].
const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/// Seconds of a day, the base unit of time.
const DAY: f64 = 86_400.0;

/// How far the next day of work is looked for: no job stands still for longer.
const MOST_DAYS: usize = 400;

impl Values<'_> {
    /// The days of work that the settings of a job state. `bid` is the day of the bid.
    pub(super) fn calendar(
        &mut self,
        settings: &[Spanned<JobSetting>],
        bid: Option<Date>,
    ) -> Calendar {
        let mut calendar = Calendar::default();
        let mut weekdays_told = false;
        for setting in settings {
            match &setting.node {
                JobSetting::Start(day) => calendar.start = Some(*day),
                JobSetting::Workdays(words) => match self.weekdays(words) {
                    Some(weekdays) => calendar.weekdays = weekdays,
                    None => weekdays_told = true,
                },
                JobSetting::Hours(expr) => calendar.hours = self.hours(expr),
                JobSetting::Holidays(days) => {
                    self.say_days_twice("holidays", days);
                    calendar.holidays = days.clone();
                }
                JobSetting::WeatherDays(days) => {
                    self.say_days_twice("weather_days", days);
                    calendar.lost = days.clone();
                }
                JobSetting::Travel(expr) => calendar.travel = self.travel(expr),
                _ => {}
            }
        }
        self.look_at_day_length(&calendar);
        self.look_at_days_before_start(&calendar);
        if !weekdays_told {
            self.look_at_start(&calendar);
            self.look_at_days_lost(&calendar);
        }
        if let (Some(start), Some(bid)) = (calendar.start, bid)
            && start.node < bid
        {
            let message = format!("work begins on {}, and the bid is of {bid}", start.node);
            let help = "correct `start` or `date`: the bid comes first";
            let early = Diagnostic::new(Code::StartsBeforeBid, message, help);
            self.diagnostics.push(early.at(start.span, ""));
        }
        calendar
    }

    /// The weekdays of work; none after a fault, which is reported.
    fn weekdays(&mut self, words: &[Name]) -> Option<[bool; 7]> {
        let mut weekdays = [false; 7];
        let mut first: BTreeMap<usize, Span> = BTreeMap::new();
        let mut good = true;
        for word in words {
            let at = WEEKDAYS.iter().position(|known| *known == word.node);
            let Some((at, day)) = at.and_then(|at| Some((at, weekdays.get_mut(at)?))) else {
                self.unknown_weekday(word);
                good = false;
                continue;
            };
            *day = true;
            if let Some(first) = first.insert(at, word.span) {
                let message = format!("`workdays` names `{}` twice", word.node);
                self.say_twice(message, word.span, first);
            }
        }
        good.then_some(weekdays)
    }

    fn unknown_weekday(&mut self, word: &Name) {
        let lower = word.node.to_lowercase();
        let begins = WEEKDAYS.iter().find(|known| lower.starts_with(**known));
        match begins {
            Some(known) => {
                let message = format!("`workdays` does not know `{}`", word.node);
                let help = format!("write `{known}`");
                self.diagnostics
                    .push(Diagnostic::new(Code::UnknownWord, message, help).at(word.span, ""));
            }
            None => self.unknown("workdays", word, WEEKDAYS),
        }
    }

    fn hours(&mut self, expr: &Expr) -> Option<Figure> {
        let figure = self.of_kind(expr, Dim::TIME, "the time on site a day")?;
        self.within(
            figure,
            "the time on site a day",
            |seconds| seconds > 0.0 && seconds <= DAY,
            "more than nothing and at most 24h",
            "write the hours of one day, such as `8h`",
        )
    }

    fn travel(&mut self, expr: &Expr) -> Option<Figure> {
        let figure = self.of_kind(expr, Dim::TIME, "the time to the site")?;
        self.within(
            figure,
            "the time to the site",
            |seconds| (0.0..=DAY / 2.0).contains(&seconds),
            "no less than nothing and at most 12h",
            "write the time of one way, such as `45min`",
        )
    }

    /// Time on site and both ways must fit into a day.
    fn look_at_day_length(&mut self, calendar: &Calendar) {
        let Some((hours, travel)) = calendar.hours.zip(calendar.travel) else {
            return;
        };
        let [on_site, one_way] = [hours, travel].map(|figure| self.tape.value(figure.node).value);
        if on_site + 2.0 * one_way > DAY {
            let message = "the time on site and the way there and back are more than a day";
            let help = "`travel` is one way, and `hours` are those of one day: correct them";
            let long = Diagnostic::new(Code::OutOfRange, message, help);
            self.diagnostics
                .push(long.at(hours.span, "on site").at(travel.span, "one way"));
        }
    }

    fn say_days_twice(&mut self, word: &str, days: &[Spanned<Date>]) {
        let mut seen: BTreeMap<Date, Span> = BTreeMap::new();
        for day in days {
            if let Some(first) = seen.insert(day.node, day.span) {
                let message = format!("`{word}` names {} twice", day.node);
                self.say_twice(message, day.span, first);
            }
        }
    }

    fn say_twice(&mut self, message: String, again: Span, first: Span) {
        let twice = Diagnostic::new(Code::SettingTwice, message, "remove one of the two");
        let twice = twice.at(again, "again here").at(first, "first here");
        self.diagnostics.push(twice);
    }

    /// The first day on site must be one of work. That it is lost to weather may well be.
    fn look_at_start(&mut self, calendar: &Calendar) {
        let Some(start) = calendar.start else {
            return;
        };
        if calendar.is_workday(start.node) {
            return;
        }
        let why = no_workday(calendar, start.node);
        let message = format!("`start` is {}, {why}", start.node);
        let next = start.node.series(jiff::Span::new().days(1));
        let next = next.take(MOST_DAYS).find(|day| calendar.is_workday(*day));
        let help = match next {
            Some(next) => {
                format!("write the next day of work, `start {next}`, or correct the days")
            }
            None => "correct `workdays` and `holidays`: no day of work follows".to_owned(),
        };
        let wrong = Diagnostic::new(Code::OutOfRange, message, help).at(start.span, "");
        self.diagnostics.push(wrong);
    }

    fn look_at_days_before_start(&mut self, calendar: &Calendar) {
        let Some(start) = calendar.start else {
            return;
        };
        for day in calendar.holidays.iter().chain(&calendar.lost) {
            if day.node < start.node {
                let message = format!("{} lies before the start and changes nothing", day.node);
                let help = "remove it, or correct its year";
                let unused = Diagnostic::new(Code::UnusedSetting, message, help);
                let unused = unused.at(day.span, "").at(start.span, "the start");
                self.diagnostics.push(unused);
            }
        }
    }

    fn look_at_days_lost(&mut self, calendar: &Calendar) {
        for day in &calendar.lost {
            let is_before = calendar.start.is_some_and(|start| day.node < start.node);
            if is_before || calendar.is_workday(day.node) {
                continue;
            }
            let why = no_workday(calendar, day.node);
            let message = format!("nothing is lost to weather on {}, {why}", day.node);
            let help = "remove the day, or correct it";
            self.diagnostics
                .push(Diagnostic::new(Code::UnusedSetting, message, help).at(day.span, ""));
        }
    }
}

/// Why a day is none of work: `a sunday, on which nobody works`.
fn no_workday(calendar: &Calendar, day: Date) -> String {
    if calendar.is_holiday(day) {
        return "a holiday".to_owned();
    }
    let name = match day.weekday() {
        Weekday::Monday => "monday",
        Weekday::Tuesday => "tuesday",
        Weekday::Wednesday => "wednesday",
        Weekday::Thursday => "thursday",
        Weekday::Friday => "friday",
        Weekday::Saturday => "saturday",
        Weekday::Sunday => "sunday",
    };
    format!("a {name}, on which nobody works")
}

#[cfg(test)]
mod tests;
