//! Where everything of a chart lies, in pixels.

use super::{Bar, Chart, Row};
use crate::escape;
use jiff::ToSpan;
use jiff::civil::{Date, DateTime};
use std::fmt::Write;

const ROW: f64 = 20.0;
const MARGIN: f64 = 12.0;
/// Height of title, months and days above the first row.
const HEAD: f64 = 72.0;
const DAYS: i64 = 1000;
/// Letters of a name that are shown.
const LETTERS: usize = 34;
/// Width of a letter of the 11 pixel face at most, near enough.
const LETTER: f64 = 6.4;
/// The least width of a column of the legend, and what its text stands off from the column.
const LEGEND_COLUMN: f64 = 190.0;
const LEGEND_TEXT: f64 = 30.0;

/// Colours that differ in brightness too.
const COLOURS: [&str; 7] = [
    "#4477aa", "#ccbb44", "#aa3377", "#66ccee", "#228833", "#ee8866", "#bbbbbb",
];

/// Patterns over the colour, in a square of 8 pixels.
const PATTERNS: [&str; 6] = [
    "",
    "M0 8L8 0",
    "M0 4H8",
    "M4 0V8",
    "M0 0L8 8",
    "M0 4H8M4 0V8",
];

const STYLE: &str = "text{font:11px sans-serif;fill:#222}\
.title{font-size:15px;font-weight:bold}.name{font-weight:bold}.small{font-size:9px}\
.off{fill:#e4e4e4}.line{stroke:#ccc;stroke-width:.5}.group{stroke:#666;stroke-width:1}\
.bar{stroke:#444;stroke-width:.6}.critical{stroke:#000;stroke-width:2.2}\
.wait{stroke:#555;stroke-width:1.4;stroke-dasharray:2 2.5}";

pub(super) struct Drawing<'a> {
    chart: &'a Chart,
    phases: Vec<&'a str>,
    dates: Vec<Date>,
    /// Where names of phases and where days begin.
    phase_left: f64,
    left: f64,
    column: f64,
    legend_column: f64,
    text: String,
}

impl<'a> Drawing<'a> {
    pub fn of(chart: &'a Chart) -> Self {
        let mut phases: Vec<&str> = Vec::new();
        for row in &chart.rows {
            if !phases.contains(&row.phase.as_str()) {
                phases.push(&row.phase);
            }
        }
        let dates = (0..DAYS).map_while(|day| chart.first.checked_add(day.days()).ok());
        let dates: Vec<Date> = dates.take_while(|date| *date <= chart.last).collect();
        let widest = |name: fn(&Row) -> &str| {
            let letters = chart
                .rows
                .iter()
                .map(|row| short(name(row)).chars().count());
            letters.max().unwrap_or(0) as f64 * LETTER + 10.0
        };
        let phase_left = MARGIN + widest(|row| &row.structure);
        let phase_width = widest(|row| &row.phase);
        Self {
            phases,
            column: if dates.len() <= 45 { 26.0 } else { 13.0 },
            left: phase_left + phase_width,
            legend_column: LEGEND_COLUMN.max(LEGEND_TEXT + phase_width),
            phase_left,
            dates,
            chart,
            text: String::new(),
        }
    }

    pub fn finish(mut self) -> String {
        let bottom = HEAD + self.chart.rows.len() as f64 * ROW;
        let right = self.left + self.dates.len() as f64 * self.column;
        let entries = self.phases.len() + 3;
        let title = self.chart.title.chars().count() as f64 * 9.5;
        let least = (2.0 * MARGIN + self.legend_column * 3.0).max(title + 2.0 * MARGIN);
        let width = (right + MARGIN).max(least);
        let across = ((width - 2.0 * MARGIN) / self.legend_column)
            .floor()
            .max(1.0) as usize;
        let height = bottom + 16.0 + entries.div_ceil(across) as f64 * ROW + MARGIN;
        self.put(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width:.1} {height:.1}\" \
             width=\"{width:.1}\" height=\"{height:.1}\">\n<style>{STYLE}</style>\n"
        ));
        self.patterns();
        self.put(format_args!(
            "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n"
        ));
        let title = &self.chart.title;
        self.label(MARGIN, 24.0, "title", title);
        self.days(bottom);
        self.rows(right);
        self.legend(bottom + 16.0, across);
        self.text.push_str("</svg>\n");
        self.text
    }

    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a string does not fail.
        let _ = self.text.write_fmt(text);
    }

    fn label(&mut self, x: f64, y: f64, class: &str, text: &str) {
        let text = escape(text);
        self.put(format_args!(
            "<text x=\"{x:.1}\" y=\"{y:.1}\" class=\"{class}\">{text}</text>\n"
        ));
    }

    /// A name, cut where it is too long; the whole is shown when it is pointed at.
    fn name(&mut self, x: f64, y: f64, class: &str, text: &str) {
        let (shown, whole) = (escape(&short(text)), escape(text));
        self.put(format_args!(
            "<text x=\"{x:.1}\" y=\"{y:.1}\" class=\"{class}\">{shown}<title>{whole}</title></text>\n"
        ));
    }

    fn patterns(&mut self) {
        self.text.push_str("<defs>\n");
        for phase in 0..self.phases.len() {
            let colour = COLOURS
                .get(phase % COLOURS.len())
                .copied()
                .unwrap_or("#bbbbbb");
            let lines = PATTERNS.get(phase % PATTERNS.len()).copied().unwrap_or("");
            self.put(format_args!(
                "<pattern id=\"phase{phase}\" width=\"8\" height=\"8\" \
                 patternUnits=\"userSpaceOnUse\"><rect width=\"8\" height=\"8\" \
                 fill=\"{colour}\"/><path d=\"{lines}\" stroke=\"#222\" stroke-width=\"1\" \
                 fill=\"none\"/></pattern>\n"
            ));
        }
        self.text.push_str("</defs>\n");
    }

    /// Months, days, and the shade of those that are not worked.
    fn days(&mut self, bottom: f64) {
        let mut month = None;
        for (number, date) in self.dates.clone().into_iter().enumerate() {
            let x = self.left + number as f64 * self.column;
            if self.chart.off.contains(&date) {
                let (column, height) = (self.column, bottom - HEAD + 16.0);
                self.put(format_args!(
                    "<rect x=\"{x:.1}\" y=\"{:.1}\" width=\"{column:.1}\" \
                     height=\"{height:.1}\" class=\"off\"/>\n",
                    HEAD - 16.0
                ));
            }
            self.put(format_args!(
                "<line x1=\"{x:.1}\" y1=\"{:.1}\" x2=\"{x:.1}\" y2=\"{bottom:.1}\" class=\"line\"/>\n",
                HEAD - 16.0
            ));
            let this = (date.year(), date.month());
            // A month that begins at the very end has no room for its name.
            let room = (self.dates.len() - number) as f64 * self.column >= 48.0;
            if month != Some(this) && (room || number == 0) {
                let text = format!("{:04}-{:02}", date.year(), date.month());
                self.label(x + 2.0, HEAD - 22.0, "name", &text);
            }
            month = Some(this);
            // Narrow columns have room for the days that begin a week.
            if self.column > 20.0 || date.weekday() == jiff::civil::Weekday::Monday {
                let text = date.day().to_string();
                self.label(x + 2.0, HEAD - 5.0, "small", &text);
            }
        }
    }

    fn rows(&mut self, right: f64) {
        let mut structure = None;
        for (number, row) in self.chart.rows.iter().enumerate() {
            let top = HEAD + number as f64 * ROW;
            let class = if structure == Some(&row.structure) {
                "line"
            } else {
                "group"
            };
            self.put(format_args!(
                "<line x1=\"{MARGIN:.1}\" y1=\"{top:.1}\" x2=\"{right:.1}\" y2=\"{top:.1}\" \
                 class=\"{class}\"/>\n"
            ));
            if structure != Some(&row.structure) {
                self.name(MARGIN, top + 14.0, "name", &row.structure);
            }
            structure = Some(&row.structure);
            let phase_left = self.phase_left;
            self.name(phase_left, top + 14.0, "phase", &row.phase);
            for wait in &row.waits {
                let (from, until) = self.across(wait);
                self.wait(from, until, top + ROW / 2.0);
            }
            for bar in &row.bars {
                let (from, until) = self.across(bar);
                self.bar(from, until, top, self.phase(row), row.critical);
            }
        }
    }

    fn phase(&self, row: &Row) -> usize {
        let found = self.phases.iter().position(|phase| *phase == row.phase);
        found.unwrap_or(0)
    }

    fn bar(&mut self, from: f64, until: f64, top: f64, phase: usize, critical: bool) {
        let class = if critical { "bar critical" } else { "bar" };
        // What is short stays visible.
        let (y, width) = (top + 4.0, (until - from).max(1.5));
        self.put(format_args!(
            "<rect x=\"{from:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"12\" \
             fill=\"url(#phase{phase})\" class=\"{class}\"/>\n"
        ));
    }

    fn wait(&mut self, from: f64, until: f64, y: f64) {
        self.put(format_args!(
            "<line x1=\"{from:.1}\" y1=\"{y:.1}\" x2=\"{until:.1}\" y2=\"{y:.1}\" class=\"wait\"/>\n"
        ));
    }

    pub fn across(&self, bar: &Bar) -> (f64, f64) {
        (self.x(bar.from), self.x(bar.until))
    }

    /// Where a moment lies; what is outside of the hours or days shown lies at their edge.
    fn x(&self, moment: DateTime) -> f64 {
        let (open, close) = self.chart.hours;
        let minute = f64::from(moment.hour()) * 60.0 + f64::from(moment.minute());
        let long = f64::from(close.saturating_sub(open).max(1));
        let part = ((minute - f64::from(open)) / long).clamp(0.0, 1.0);
        let since = moment.date().duration_since(self.chart.first).as_hours() / 24;
        let columns = (since as f64 + part).clamp(0.0, self.dates.len() as f64);
        self.left + columns * self.column
    }

    fn legend(&mut self, top: f64, across: usize) {
        let column = self.legend_column;
        let place = |number: usize| {
            let x = MARGIN + (number % across) as f64 * column;
            (x, top + (number / across) as f64 * ROW)
        };
        for (number, phase) in self.phases.clone().into_iter().enumerate() {
            let (x, y) = place(number);
            self.bar(x, x + 24.0, y, number, false);
            let phase = phase.to_owned();
            self.name(x + LEGEND_TEXT, y + 14.0, "phase", &phase);
        }
        let count = self.phases.len();
        let (x, y) = place(count);
        self.put(format_args!(
            "<rect x=\"{x:.1}\" y=\"{:.1}\" width=\"24\" height=\"12\" fill=\"#fff\" \
             class=\"bar critical\"/>\n",
            y + 4.0
        ));
        self.label(x + LEGEND_TEXT, y + 14.0, "phase", "a delay delays the end");
        let (x, y) = place(count + 1);
        self.wait(x, x + 24.0, y + ROW / 2.0);
        self.label(x + LEGEND_TEXT, y + 14.0, "phase", "waiting");
        let (x, y) = place(count + 2);
        self.put(format_args!(
            "<rect x=\"{x:.1}\" y=\"{:.1}\" width=\"24\" height=\"12\" class=\"off\"/>\n",
            y + 4.0
        ));
        self.label(x + LEGEND_TEXT, y + 14.0, "phase", "not worked");
    }
}

fn short(name: &str) -> String {
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    let kept: String = name.chars().take(LETTERS - 1).collect();
    format!("{kept}\u{2026}")
}
