//! Calendar files (iCalendar, RFC 5545): the days of a plan for any calendar program.
//!
//! Times are floating (section 3.3.5, form 1): seven in the morning is seven wherever the site is.

use crate::seal;
use jiff::ToSpan;
use jiff::civil::{Date, DateTime};

/// The longest line in octets, its end aside (section 3.1).
const LINE: usize = 75;

/// When an event is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// Whole days.
    Days {
        /// The first.
        first: Date,
        /// The last, which belongs to it.
        last: Date,
    },
    /// From a time until another; an `until` that is not later makes it a mere moment.
    Times {
        /// From.
        from: DateTime,
        /// Until.
        until: DateTime,
    },
}

/// An entry of a calendar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// What makes it the same event when it is imported again; see [`uid`].
    pub uid: String,
    /// When.
    pub when: When,
    /// Its title.
    pub summary: String,
    /// What to know about it; lines are kept. Left out when empty.
    pub description: String,
}

/// A name for an event that is the same whenever its parts are: job, structure, phase, date.
pub fn uid(parts: &[&str]) -> String {
    // With its length before each part, no two lists of parts run together to the same text.
    let lengths = parts.iter().map(|part| format!("{}:{part}", part.len()));
    let text: String = lengths.collect();
    format!("{:016x}@parge", seal::fingerprint(text.as_bytes()))
}

/// A calendar of events; none without any, since a calendar must have one (section 3.4).
///
/// `stamp` says as of when the events hold, in UTC (DTSTAMP, section 3.8.7.2).
pub fn ics(events: &[Event], stamp: DateTime) -> Option<String> {
    if events.is_empty() {
        return None;
    }
    let mut out = Lines(String::new());
    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line("PRODID:-//Parge//Day plan//EN");
    for event in events {
        out.line("BEGIN:VEVENT");
        out.line(&format!("UID:{}", text(&event.uid)));
        out.line(&format!("DTSTAMP:{}Z", date_time(stamp)));
        match event.when {
            When::Days { first, last } => {
                // The end of whole days is the day after (section 3.6.1).
                let after = last.max(first).saturating_add(1.day());
                out.line(&format!("DTSTART;VALUE=DATE:{}", date(first)));
                if after > first {
                    out.line(&format!("DTEND;VALUE=DATE:{}", date(after)));
                }
            }
            When::Times { from, until } => {
                out.line(&format!("DTSTART:{}", date_time(from)));
                if until > from {
                    out.line(&format!("DTEND:{}", date_time(until)));
                }
            }
        }
        out.line(&format!("SUMMARY:{}", text(&event.summary)));
        if !event.description.is_empty() {
            out.line(&format!("DESCRIPTION:{}", text(&event.description)));
        }
        out.line("END:VEVENT");
    }
    out.line("END:VCALENDAR");
    Some(out.0)
}

struct Lines(String);

impl Lines {
    /// Writes a line, folded between letters (section 3.1): a line that goes on begins with a
    /// space, which counts.
    fn line(&mut self, line: &str) {
        let mut length = 0;
        for letter in line.chars() {
            if length + letter.len_utf8() > LINE {
                self.0.push_str("\r\n ");
                length = 1;
            }
            self.0.push(letter);
            length += letter.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

/// A text with its special letters escaped (section 3.3.11). Control characters, which no text
/// may have, become visible.
fn text(text: &str) -> String {
    let text = text.replace("\r\n", "\n");
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' | ';' | ',' => out.extend(['\\', letter]),
            '\n' | '\r' => out.push_str("\\n"),
            '\t' => out.push('\t'),
            control if control.is_control() => out.push('\u{fffd}'),
            other => out.push(other),
        }
    }
    out
}

/// Section 3.3.4.
fn date(date: Date) -> String {
    format!("{:04}{:02}{:02}", date.year(), date.month(), date.day())
}

/// Section 3.3.5.
fn date_time(moment: DateTime) -> String {
    let (hour, minute) = (moment.hour(), moment.minute());
    format!(
        "{}T{hour:02}{minute:02}{:02}",
        date(moment.date()),
        moment.second()
    )
}

#[cfg(test)]
mod tests;
