//! Estimate against actual as a drawing (SVG): a mark for each recorded line that a row of the pack is
//! to answer for, both axes by the same measure of powers, and three lines: where estimate and actual
//! are the same, where the actual is what the proposed row says, and the band of its interval. A job
//! that hardly counts is hollow, with its name. It stands alone, and can be read in grey.

use crate::escape;
use parge_calc::learn::model::{Kind, LEVEL};
use parge_calc::learn::{Learned, Lesson, Verdict};
use std::collections::BTreeMap;
use std::fmt::Write;

const LEFT: f64 = 70.0;
const TOP: f64 = 92.0;
/// The side of the square that is drawn in.
const SIDE: f64 = 420.0;
const WIDTH: f64 = 640.0;
const HEIGHT: f64 = TOP + SIDE + 56.0;

const STYLE: &str = "text{font:11px sans-serif;fill:#222}\
.title{font-size:15px;font-weight:bold}.small{font-size:10px;fill:#444}\
.grid{stroke:#ddd;stroke-width:.5}.same{stroke:#222;stroke-width:1}\
.proposed{stroke:#3f6275;stroke-width:1.6;stroke-dasharray:6 3}.band{fill:#d9e3e9}\
.mark{fill:#3f6275;stroke:#1f3a48;stroke-width:.8}\
.hollow{fill:#fff;stroke:#222;stroke-width:1.2}.end{text-anchor:end}.middle{text-anchor:middle}";

/// Below this weight a job hardly counts.
const HARDLY: f64 = 0.3;

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Scatter {
    /// The rows, in words.
    pub title: String,
    /// Lines of words beneath.
    pub notes: Vec<String>,
    /// The unit of both axes.
    pub unit: String,
    /// The marks.
    pub marks: Vec<Mark>,
    /// By which ratio the actual differs where the proposed row is right, and its interval; none
    /// where lines rest on other rows as well, so that there is no one ratio.
    pub ratio: Option<[f64; 3]>,
}

/// A recorded line.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The job.
    pub job: String,
    /// The line in words.
    pub line: String,
    /// As estimated.
    pub expected: f64,
    /// As recorded.
    pub used: f64,
    /// How much its job counts.
    pub weight: f64,
}

impl Scatter {
    /// The chart of a lesson. Of lines in several units those of the most common one are drawn, and
    /// the others counted.
    pub fn of(lesson: &Lesson, learned: &Learned) -> Self {
        let mut by_unit: BTreeMap<&str, usize> = BTreeMap::new();
        for point in &lesson.points {
            *by_unit.entry(point.unit.text()).or_default() += 1;
        }
        let most = by_unit.iter().max_by_key(|(_, count)| **count);
        let unit = most.map_or("", |(unit, _)| *unit).to_owned();
        let drawn = lesson
            .points
            .iter()
            .filter(|point| point.unit.text() == unit);
        let marks: Vec<Mark> = drawn
            .filter_map(|point| {
                Some(Mark {
                    job: learned.jobs.get(point.job)?.name.clone(),
                    line: point.words.clone(),
                    expected: point.unit.show(point.expected)?,
                    used: point.unit.show(point.used)?,
                    weight: point.weight,
                })
            })
            .collect();
        let mut notes = notes(lesson);
        if !lesson.alone {
            notes.push("other rows have a part in these lines, so no one line says all".to_owned());
        }
        let others = lesson.points.len() - marks.len();
        if others > 0 {
            notes.push(format!("{others} more in other units are not drawn"));
        }
        let names: Vec<String> = lesson
            .cells
            .iter()
            .map(|cell| cell.cell.to_string())
            .collect();
        Self {
            title: names.join(", "),
            notes,
            unit,
            marks,
            ratio: ratio(lesson),
        }
    }
}

/// Ratio of actual over estimate at the value as it is, where a line rests on the rows alone.
fn ratio(lesson: &Lesson) -> Option<[f64; 3]> {
    let (shift, first) = (&lesson.shift, lesson.cells.first()?);
    // The shift is from the value before own jobs moved the row.
    let now = match lesson.kind {
        Kind::Waste => {
            let share = first.factor.unit.factor();
            ((1.0 + first.before * share) / (1.0 + first.factor.written * share)).ln()
        }
        Kind::Cover | Kind::Rate => (first.before / first.factor.written).ln(),
    };
    let sides = [-shift.reach, 0.0, shift.reach];
    let way = if lesson.kind == Kind::Cover {
        -1.0
    } else {
        1.0
    };
    lesson
        .alone
        .then(|| sides.map(|side| (way * (now + shift.mean + side)).exp()))
}

fn notes(lesson: &Lesson) -> Vec<String> {
    let cells = lesson.cells.iter().take(3).map(|cell| {
        let [low, high] = cell.interval;
        let unit = cell.factor.unit.text();
        let becomes = match cell.verdict {
            Verdict::Moves => format!("proposed {}", cell.value),
            Verdict::Stays => "borne out".to_owned(),
            Verdict::TooLittle => "stays, the jobs say too little".to_owned(),
            Verdict::BelowNothing => "stays, less was used than without waste".to_owned(),
        };
        let now = cell.factor.written;
        let level = LEVEL * 100.0;
        format!("now {now} {unit}; {becomes}; {level:.0} of 100 between {low} and {high}")
    });
    cells.collect()
}

/// Draws it.
pub fn svg(scatter: &Scatter) -> String {
    let mut drawing = Drawing {
        scatter,
        range: range(scatter),
        text: String::new(),
    };
    drawing.head();
    drawing.grid();
    drawing.lines();
    drawing.marks();
    drawing.text.push_str("</svg>\n");
    drawing.text
}

/// From the smallest to the largest figure, with room around.
fn range(scatter: &Scatter) -> [f64; 2] {
    let marks = scatter.marks.iter();
    let figures = marks.flat_map(|mark| [mark.expected, mark.used]);
    let figures = figures.filter(|figure| *figure > 0.0);
    let (least, most) = figures.fold((f64::INFINITY, 0.0), |(least, most): (f64, f64), figure| {
        (least.min(figure), most.max(figure))
    });
    match least <= most {
        true => [least / 1.25, most * 1.25],
        false => [1.0, 10.0],
    }
}

struct Drawing<'s> {
    scatter: &'s Scatter,
    range: [f64; 2],
    text: String,
}

impl Drawing<'_> {
    fn head(&mut self) {
        self.put(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" \
             width=\"{WIDTH}\" height=\"{HEIGHT}\">\n<style>{STYLE}</style>\n\
             <clipPath id=\"within\"><rect x=\"{LEFT}\" y=\"{TOP}\" width=\"{SIDE}\" \
             height=\"{SIDE}\"/></clipPath>\n\
             <rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n"
        ));
        self.label((14.0, 24.0), "title", &short(&self.scatter.title, 68));
        let notes = self.scatter.notes.clone();
        for (number, note) in notes.iter().enumerate() {
            self.label((14.0, 42.0 + 14.0 * number as f64), "small", note);
        }
        let unit = match self.scatter.unit.as_str() {
            "h" => "hours",
            unit => unit,
        };
        let bottom = TOP + SIDE;
        self.label(
            (LEFT + SIDE / 2.0, bottom + 36.0),
            "middle",
            &format!("estimated, {unit}"),
        );
        self.label((LEFT - 56.0, TOP - 8.0), "", &format!("actual, {unit}"));
    }

    /// Where a figure lies between the two ends, from 0 to 1.
    fn along(&self, figure: f64) -> f64 {
        let [least, most] = self.range;
        (figure / least).ln() / (most / least).ln()
    }

    fn x(&self, figure: f64) -> f64 {
        LEFT + SIDE * self.along(figure)
    }

    fn y(&self, figure: f64) -> f64 {
        TOP + SIDE * (1.0 - self.along(figure))
    }

    fn grid(&mut self) {
        let (right, bottom) = (LEFT + SIDE, TOP + SIDE);
        for figure in round_figures(self.range) {
            let (x, y) = (self.x(figure), self.y(figure));
            self.put(format_args!(
                "<path d=\"M{x:.1} {TOP}V{bottom}M{LEFT} {y:.1}H{right}\" class=\"grid\"/>\n"
            ));
            let text = figure.to_string();
            self.label((x, bottom + 16.0), "small middle", &text);
            self.label((LEFT - 6.0, y + 3.0), "small end", &text);
        }
        self.put(format_args!(
            "<rect x=\"{LEFT}\" y=\"{TOP}\" width=\"{SIDE}\" height=\"{SIDE}\" fill=\"none\" \
             stroke=\"#888\"/>\n"
        ));
    }

    fn lines(&mut self) {
        let [least, most] = self.range;
        let (x, right) = (self.x(least), self.x(most));
        if let Some([low, middle, high]) = self.scatter.ratio {
            let [a, b, c, d] = [
                self.y(least * low),
                self.y(most * low),
                self.y(most * high),
                self.y(least * high),
            ];
            self.put(format_args!(
                "<g clip-path=\"url(#within)\"><path d=\"M{x:.1} {a:.1}L{right:.1} {b:.1}V{c:.1}\
                 L{x:.1} {d:.1}Z\" class=\"band\"/>\n"
            ));
            let (a, b) = (self.y(least * middle), self.y(most * middle));
            self.put(format_args!(
                "<path d=\"M{x:.1} {a:.1}L{right:.1} {b:.1}\" class=\"proposed\"/></g>\n"
            ));
        }
        let (a, b) = (self.y(least), self.y(most));
        self.put(format_args!(
            "<path d=\"M{x:.1} {a:.1}L{right:.1} {b:.1}\" class=\"same\"/>\n"
        ));
        self.legend();
    }

    fn legend(&mut self) {
        let x = LEFT + SIDE + 14.0;
        let mut y = TOP + 12.0;
        let mut entry = |drawing: &mut Self, shape: &str, words: &str| {
            drawing.put(format_args!(
                "<g transform=\"translate({x},{y})\">{shape}</g>\n"
            ));
            drawing.label((x + 30.0, y + 4.0), "small", words);
            y += 18.0;
        };
        entry(self, "<path d=\"M0 0H24\" class=\"same\"/>", "as estimated");
        if self.scatter.ratio.is_some() {
            entry(
                self,
                "<path d=\"M0 0H24\" class=\"proposed\"/>",
                "what the jobs say",
            );
            let band = "<rect y=\"-5\" width=\"24\" height=\"10\" class=\"band\"/>";
            entry(self, band, &format!("{:.0} of 100", LEVEL * 100.0));
        }
        entry(self, "<circle cx=\"12\" r=\"4\" class=\"mark\"/>", "a job");
        let hardly = |mark: &Mark| mark.weight < HARDLY;
        if self.scatter.marks.iter().any(hardly) {
            entry(
                self,
                "<circle cx=\"12\" r=\"4\" class=\"hollow\"/>",
                "hardly counts",
            );
        }
    }

    fn marks(&mut self) {
        for mark in &self.scatter.marks {
            if mark.expected <= 0.0 || mark.used <= 0.0 {
                continue;
            }
            let (x, y) = (self.x(mark.expected), self.y(mark.used));
            let hardly = mark.weight < HARDLY;
            let class = if hardly { "hollow" } else { "mark" };
            let words = format!(
                "{}, {}: estimated {:.1}, actual {:.1}",
                mark.job, mark.line, mark.expected, mark.used
            );
            let words = escape(&words);
            self.put(format_args!(
                "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"4\" class=\"{class}\"><title>{words}\
                 </title></circle>\n"
            ));
            if hardly {
                let side = if x > LEFT + SIDE / 2.0 {
                    (-8.0, "small end")
                } else {
                    (8.0, "small")
                };
                self.label((x + side.0, y + 3.0), side.1, &short(&mark.job, 28));
            }
        }
    }

    fn label(&mut self, (x, y): (f64, f64), class: &str, text: &str) {
        let text = escape(text);
        self.put(format_args!(
            "<text x=\"{x:.1}\" y=\"{y:.1}\" class=\"{class}\">{text}</text>\n"
        ));
    }

    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a string does not fail.
        let _ = self.text.write_fmt(text);
    }
}

/// Round figures between two: 1, 2 and 5 times powers of ten.
fn round_figures([least, most]: [f64; 2]) -> Vec<f64> {
    let first = least.log10().floor() as i32;
    let last = most.log10().ceil() as i32;
    let powers = (first..=last).flat_map(|power| [1, 2, 5].map(|digit| (digit, power)));
    let figures = powers.filter_map(|(digit, power)| format!("{digit}e{power}").parse().ok());
    figures
        .filter(|figure: &f64| (least..=most).contains(figure))
        .collect()
}

fn short(name: &str, letters: usize) -> String {
    if name.chars().count() <= letters {
        return name.to_owned();
    }
    let kept: String = name.chars().take(letters - 1).collect();
    format!("{kept}\u{2026}")
}

#[cfg(test)]
mod tests;
