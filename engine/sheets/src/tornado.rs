//! What moves a total most as a drawing (SVG): a bar to the left where the total falls, to the
//! right where it rises, the longest on top. It stands alone, and can be read in grey: less of an
//! input is light with a pattern, more of it is dark.

use crate::escape;
use parge_calc::whatif::{Moved, Way};
use rust_decimal::prelude::ToPrimitive;
use std::fmt::Write;

const ROW: f64 = 26.0;
const MARGIN: f64 = 14.0;
/// Height of title, legend and scale above the first row.
const HEAD: f64 = 96.0;
/// Width of the bars from the largest loss to the largest gain.
const BARS: f64 = 420.0;
/// Room beside the bars for their amounts.
const AMOUNT: f64 = 78.0;
/// Letters of a name that are shown, and the width of one at most, near enough.
const LETTERS: usize = 44;
const LETTER: f64 = 6.4;

const STYLE: &str = "text{font:11px sans-serif;fill:#222}\
.title{font-size:15px;font-weight:bold}.small{font-size:10px;fill:#444}\
.line{stroke:#ccc;stroke-width:.5}.axis{stroke:#222;stroke-width:1}\
.bar{stroke:#444;stroke-width:.6}.end{text-anchor:end}.middle{text-anchor:middle}";

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Tornado<'t> {
    /// What stands above it.
    pub title: String,
    /// The share by which each input is moved, in words: `10%`.
    pub by: String,
    /// The total, in words.
    pub total: String,
    /// The inputs in order.
    pub moved: &'t [Moved],
}

/// Draws it.
pub fn svg(tornado: &Tornado<'_>) -> String {
    Drawing::of(tornado).finish()
}

struct Drawing<'t> {
    tornado: &'t Tornado<'t>,
    /// Where the total lies, and how many pixels one of the currency has.
    zero: f64,
    scale: f64,
    left: f64,
    text: String,
}

fn difference(way: &Way) -> f64 {
    match way {
        Way::Difference(money) => money.amount().to_f64().unwrap_or(0.0),
        Way::Unknown(_) => 0.0,
    }
}

impl<'t> Drawing<'t> {
    fn of(tornado: &'t Tornado<'t>) -> Self {
        let ways = || {
            tornado
                .moved
                .iter()
                .flat_map(|moved| [&moved.down, &moved.up])
        };
        let least = ways().map(difference).fold(0.0, f64::min);
        let most = ways().map(difference).fold(0.0, f64::max);
        let names = tornado
            .moved
            .iter()
            .map(|moved| label(moved).chars().count());
        let left = MARGIN + names.max().unwrap_or(0).min(LETTERS) as f64 * LETTER + AMOUNT;
        let scale = BARS / (most - least).max(f64::MIN_POSITIVE);
        Self {
            tornado,
            scale: if most > least { scale } else { 0.0 },
            zero: if most > least {
                left - least * scale
            } else {
                left + BARS / 2.0
            },
            left,
            text: String::new(),
        }
    }

    fn finish(mut self) -> String {
        let right = self.left + BARS + AMOUNT;
        let title = self.tornado.title.chars().count() as f64 * 9.5 + 2.0 * MARGIN;
        let width = (right + MARGIN).max(title);
        let bottom = HEAD + self.tornado.moved.len() as f64 * ROW;
        let height = bottom + MARGIN;
        self.put(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width:.1} {height:.1}\" \
             width=\"{width:.1}\" height=\"{height:.1}\">\n<style>{STYLE}</style>\n\
             <defs><pattern id=\"less\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">\
             <rect width=\"6\" height=\"6\" fill=\"#d9dfe4\"/><path d=\"M0 6L6 0\" \
             stroke=\"#555\" stroke-width=\".8\"/></pattern></defs>\n\
             <rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n"
        ));
        self.head();
        for (number, moved) in self.tornado.moved.iter().enumerate() {
            self.row(HEAD + number as f64 * ROW, moved, right);
        }
        let zero = self.zero;
        self.put(format_args!(
            "<line x1=\"{zero:.1}\" y1=\"{:.1}\" x2=\"{zero:.1}\" y2=\"{bottom:.1}\" \
             class=\"axis\"/>\n",
            HEAD - 6.0
        ));
        self.text.push_str("</svg>\n");
        self.text
    }

    fn head(&mut self) {
        let Tornado {
            title, by, total, ..
        } = self.tornado;
        self.label((MARGIN, 24.0), "title", title);
        for (number, (fill, words)) in [(LESS, "less"), (MORE, "more")].iter().enumerate() {
            let x = MARGIN + number as f64 * 150.0;
            self.put(format_args!(
                "<rect x=\"{x:.1}\" y=\"38\" width=\"24\" height=\"12\" fill=\"{fill}\" \
                 class=\"bar\"/>\n"
            ));
            self.label((x + 30.0, 48.0), "small", &format!("{by} {words} of it"));
        }
        self.label((self.zero, HEAD - 22.0), "middle", "the total as it is");
        self.label((self.zero, HEAD - 10.0), "middle", total);
    }

    fn row(&mut self, top: f64, moved: &Moved, right: f64) {
        self.put(format_args!(
            "<line x1=\"{MARGIN:.1}\" y1=\"{top:.1}\" x2=\"{right:.1}\" y2=\"{top:.1}\" \
             class=\"line\"/>\n"
        ));
        let name = label(moved);
        let (shown, whole) = (escape(&short(&name)), escape(&name));
        let y = top + 16.0;
        self.put(format_args!(
            "<text x=\"{MARGIN:.1}\" y=\"{y:.1}\">{shown}<title>{whole}</title></text>\n"
        ));
        // Both may lie on one side, so each has a half of the row.
        for (way, y, fill) in [
            (&moved.down, top + 3.0, LESS),
            (&moved.up, top + 13.0, MORE),
        ] {
            let (x, width) = self.across(difference(way));
            if width > 0.0 {
                self.put(format_args!(
                    "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"9\" \
                     fill=\"{fill}\" class=\"bar\"/>\n"
                ));
            }
        }
        self.amounts(moved, y);
    }

    fn across(&self, amount: f64) -> (f64, f64) {
        let end = self.zero + amount * self.scale;
        (self.zero.min(end), (end - self.zero).abs())
    }

    /// The larger loss and the larger gain, each beside its bar.
    fn amounts(&mut self, moved: &Moved, y: f64) {
        let mut ways = [&moved.down, &moved.up];
        ways.sort_by(|a, b| difference(a).total_cmp(&difference(b)));
        let [least, most] = ways;
        if let Way::Difference(money) = least
            && difference(least) < 0.0
        {
            let x = self.across(difference(least)).0 - 5.0;
            self.label((x, y), "small end", &money.to_text());
        }
        if let Way::Difference(money) = most
            && difference(most) > 0.0
        {
            let (x, width) = self.across(difference(most));
            self.label(
                (x + width + 5.0, y),
                "small",
                &format!("+{}", money.to_text()),
            );
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

/// The fills of the bars of less and of more of an input.
const LESS: &str = "url(#less)";
const MORE: &str = "#3f6275";

fn label(moved: &Moved) -> String {
    format!("{}  {}", moved.name, moved.value)
}

fn short(name: &str) -> String {
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    let kept: String = name.chars().take(LETTERS - 1).collect();
    format!("{kept}\u{2026}")
}

#[cfg(test)]
mod tests;
