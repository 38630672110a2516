//! How long the bid holds: up to a day, or for so many days from its own.

use super::values::Values;
use jiff::ToSpan;
use jiff::civil::Date;
use parge_base::{Code, Diagnostic, Span, Spanned};
use parge_grammar::ast::{Expr, JobSetting};

impl Values<'_> {
    /// The last day on which the bid can be accepted, by the settings of a job. `bid` is the day of
    /// the bid.
    pub(super) fn valid_until(
        &mut self,
        settings: &[Spanned<JobSetting>],
        bid: Option<Date>,
    ) -> Option<Spanned<Date>> {
        let mut stated = None;
        let mut counted = None;
        for setting in settings {
            match &setting.node {
                JobSetting::ValidUntil(day) => stated = Some(*day),
                JobSetting::Valid(days) => counted = Some((days, setting.span)),
                _ => {}
            }
        }
        if let Some((stated, (_, counted))) = stated.zip(counted) {
            self.say_valid_twice(stated.span, counted);
        }
        let until = match (stated, counted) {
            (Some(day), _) => day,
            (None, Some((days, span))) => Spanned::new(self.days_on(days, span, bid)?, span),
            (None, None) => return None,
        };
        match bid {
            Some(bid) if until.node < bid => {
                self.say_over_before_bid(until, bid);
                None
            }
            _ => Some(until),
        }
    }

    /// So many days after the day of the bid.
    fn days_on(&mut self, days: &Expr, span: Span, bid: Option<Date>) -> Option<Date> {
        let (_, days) = self.count(days, "the number of days that the bid holds")?;
        let Some(bid) = bid else {
            let message = "the days that the bid holds count from its date, and the job has none";
            let help = "add the day of the bid, such as `date 2026-05-11`, or write the last day \
                        itself, such as `valid_until 2026-08-01`";
            let dateless = Diagnostic::new(Code::MissingSetting, message, help);
            self.diagnostics.push(dateless.at(span, ""));
            return None;
        };
        let until = bid.checked_add(i64::from(days).days()).ok();
        if until.is_none() {
            let message = "the bid holds beyond the calendar";
            let help = "write fewer days, such as `valid 60 days`, or correct `date`";
            let far = Diagnostic::new(Code::OutOfRange, message, help);
            self.diagnostics.push(far.at(span, ""));
        }
        until
    }

    fn say_valid_twice(&mut self, stated: Span, counted: Span) {
        let message = "`valid_until` and `valid` say the same: how long the bid holds";
        let twice = Diagnostic::new(Code::SettingTwice, message, "keep the one that holds");
        let twice = twice.at(stated, "up to a day").at(counted, "so many days");
        self.diagnostics.push(twice);
    }

    fn say_over_before_bid(&mut self, until: Spanned<Date>, bid: Date) {
        let message = format!("the bid holds until {}, and is of {bid}", until.node);
        let help = "correct `valid_until` or `date`: a bid holds on its own day at least";
        let over = Diagnostic::new(Code::OutOfRange, message, help);
        self.diagnostics.push(over.at(until.span, ""));
    }
}

#[cfg(test)]
mod tests;
