//! Elements of SVG, and how much room texts take.

use crate::text::escape;
use parge_calc::elevation::{Edge, Path};
use std::fmt::{self, Write};

/// Width of a letter of a text 1 high, near enough.
const LETTER: f64 = 0.56;
/// Of a letter of scripts with square signs.
const SQUARE: f64 = 1.05;

/// The height of most texts, and of small ones.
pub(super) const TEXT: f64 = 2.5;
pub(super) const SMALL: f64 = 2.3;

/// The width that a text takes, near enough.
pub(super) fn width(text: &str, size: f64) -> f64 {
    let letter = |ch: char| match ch {
        '\u{1100}'..='\u{11ff}' | '\u{2e80}'..='\u{ffdc}' | '\u{1f000}'.. => SQUARE,
        _ => LETTER,
    };
    text.chars().map(letter).sum::<f64>() * size
}

/// A text in lines that are no wider than there is room, broken at blanks where there are any; at
/// most so many, the last of which then ends with an ellipsis.
pub(super) fn lines(text: &str, size: f64, room: f64, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let both = match line.as_str() {
            "" => word.to_owned(),
            line => format!("{line} {word}"),
        };
        if width(&both, size) <= room {
            line = both;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        // A word that is longer than a line is broken where the line ends.
        for letter in word.chars() {
            if width(&line, size) + width(letter.encode_utf8(&mut [0; 4]), size) > room {
                lines.push(std::mem::take(&mut line));
            }
            line.push(letter);
        }
        if lines.len() > most {
            break;
        }
    }
    lines.push(line);
    lines.retain(|line| !line.is_empty());
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            last.pop();
            last.push('…');
        }
    }
    lines
}

/// What is drawn: x to the right and y down, in millimetres.
#[derive(Debug, Default)]
pub(super) struct Canvas {
    pub(super) body: String,
}

impl Canvas {
    fn put(&mut self, text: fmt::Arguments<'_>) {
        // Writing to a string does not fail.
        let _ = self.body.write_fmt(text);
    }

    pub(super) fn line(&mut self, [x1, y1]: [f64; 2], [x2, y2]: [f64; 2], class: &str) {
        let [x1, y1, x2, y2] = [x1, y1, x2, y2].map(Number);
        self.put(format_args!(
            "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" class=\"{class}\"/>\n"
        ));
    }

    pub(super) fn rect(&mut self, [x, y]: [f64; 2], [w, h]: [f64; 2], class: &str) {
        let [x, y, w, h] = [x, y, w, h].map(Number);
        self.put(format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" class=\"{class}\"/>\n"
        ));
    }

    /// A text that begins, is centred or ends there, as its class says.
    pub(super) fn text(&mut self, [x, y]: [f64; 2], class: &str, text: &str) {
        let ([x, y], text) = ([x, y].map(Number), escape(text));
        self.put(format_args!(
            "<text x=\"{x}\" y=\"{y}\" class=\"{class}\">{text}</text>\n"
        ));
    }

    /// A text turned by an angle, in degrees, against the clock.
    pub(super) fn turned(&mut self, [x, y]: [f64; 2], angle: f64, class: &str, text: &str) {
        let ([x, y, angle], text) = ([x, y, -angle].map(Number), escape(text));
        self.put(format_args!(
            "<text transform=\"translate({x} {y}) rotate({angle})\" class=\"{class}\">{text}</text>\n"
        ));
    }

    /// Closed lines; a second one is a hole in the first.
    pub(super) fn outline(&mut self, paths: &[Path], place: &Place, class: &str) {
        let mut d = String::new();
        for path in paths {
            let [x, y] = place.of(path.start).map(Number);
            let _ = write!(d, "M{x} {y}");
            for edge in &path.edges {
                let [x, y] = place.of(edge.end()).map(Number);
                let _ = match edge {
                    Edge::Line(_) => write!(d, "L{x} {y}"),
                    Edge::Arc {
                        radii, large, left, ..
                    } => {
                        let [a, b] = radii.map(|radius| Number(place.length(radius)));
                        // On paper y goes down, so a turn to the left is one against the sweep.
                        let (large, sweep) = (u8::from(*large), u8::from(!*left));
                        write!(d, "A{a} {b} 0 {large} {sweep} {x} {y}")
                    }
                };
            }
            d.push('Z');
        }
        self.put(format_args!("<path d=\"{d}\" class=\"{class}\"/>\n"));
    }
}

/// Where on paper a face stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// Its left and lower end.
    pub(super) origin: [f64; 2],
    /// The scale.
    pub(super) scale: super::scale::Scale,
}

impl Place {
    /// A point of the face.
    pub(super) fn of(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [left, foot] = self.origin;
        [left + self.length(x), foot - self.length(y)]
    }

    /// A length.
    pub(super) fn length(&self, metres: f64) -> f64 {
        self.scale.paper(metres)
    }
}

/// A number with at most three decimals.
struct Number(f64);

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rounded = (self.0 * 1000.0).round() / 1000.0;
        // No minus before a nothing.
        write!(f, "{}", if rounded == 0.0 { 0.0 } else { rounded })
    }
}

#[cfg(test)]
mod tests;
