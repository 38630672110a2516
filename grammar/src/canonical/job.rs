//! The job block.

use super::Text;
use crate::ast::{BidTerm, Conditions, Crew, Job, JobSetting, Weather};
use jiff::civil::Date;
use parge_base::Spanned;

impl Text {
    pub(super) fn job(&mut self, Job { name, settings }: &Job) {
        self.named("job", name);
        self.within(|text| {
            for setting in settings {
                text.job_setting(&setting.node);
            }
        });
    }

    fn job_setting(&mut self, setting: &JobSetting) {
        match setting {
            JobSetting::Client(words) => self.named("client", words),
            JobSetting::Site(words) => self.named("site", words),
            JobSetting::Date(day) => self.day("date", day),
            JobSetting::ValidUntil(day) => self.day("valid_until", day),
            JobSetting::Valid(days) => self.valued("valid", days),
            JobSetting::Units(word) => self.named("units", word),
            JobSetting::Measure(word) => self.named("measure", word),
            JobSetting::Rules(word) => self.named("rules", word),
            JobSetting::Prices(word) => self.named("prices", word),
            JobSetting::Crew(crew) => self.crew(crew),
            JobSetting::Weather(weather) => self.weather(weather),
            JobSetting::Bid(terms) => {
                self.word("bid");
                self.within(|text| terms.iter().for_each(|term| text.term(&term.node)));
            }
            JobSetting::Conditions(conditions) => self.conditions(conditions),
            JobSetting::Start(day) => self.day("start", day),
            JobSetting::Workdays(days) => {
                self.word("workdays");
                self.within(|text| days.iter().for_each(|day| text.said(&day.node)));
            }
            JobSetting::Hours(hours) => self.valued("hours", hours),
            JobSetting::Holidays(days) => self.days("holidays", days),
            JobSetting::WeatherDays(days) => self.days("weather_days", days),
            JobSetting::Travel(time) => self.valued("travel", time),
            JobSetting::Forecast(path) => self.named("forecast", path),
        }
    }

    fn day(&mut self, word: &str, day: &Spanned<Date>) {
        self.word(word);
        self.word(&day.node.to_string());
    }

    fn days(&mut self, word: &str, days: &[Spanned<Date>]) {
        self.word(word);
        self.within(|text| {
            for day in days {
                text.word(&day.node.to_string());
            }
        });
    }

    fn crew(&mut self, Crew { people, classes }: &Crew) {
        self.word("crew");
        self.maybe("people", people.as_ref());
        self.within(|text| {
            for (class, count) in classes {
                text.said(&class.node);
                text.expression(count);
            }
        });
    }

    fn weather(&mut self, Weather { day, readings }: &Weather) {
        self.word("weather");
        if let Some(day) = day {
            self.day("on", day);
        }
        self.within(|text| {
            for (reading, value) in readings {
                text.said(&reading.node);
                text.expression(value);
            }
        });
    }

    pub(super) fn conditions(&mut self, conditions: &Conditions) {
        self.word("conditions");
        self.within(|text| {
            for (kind, word) in conditions {
                text.said(&kind.node);
                text.said(&word.node);
            }
        });
    }

    fn term(&mut self, term: &BidTerm) {
        match term {
            BidTerm::Burden(rate) => self.valued("burden", rate),
            BidTerm::Overhead(rate) => self.valued("overhead", rate),
            BidTerm::Profit(kind, rate) => {
                self.named("profit", kind);
                self.expression(rate);
            }
            BidTerm::Tax(rate, on) => {
                self.valued("tax", rate);
                self.said(&on.node);
            }
            BidTerm::Contingency(rate) => self.valued("contingency", rate),
            BidTerm::Class(number) => self.valued("class", number),
            BidTerm::Minimum(amount) => {
                self.word("minimum");
                self.money(amount.node);
            }
            BidTerm::Round(round) => {
                self.word(if round.up { "round-up" } else { "round" });
                self.money(round.multiple.node);
            }
        }
    }
}
