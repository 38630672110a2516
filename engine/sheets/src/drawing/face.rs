//! One face on a sheet: its outline, openings and dimensions, and its caption.

use super::canvas::{Canvas, Place, SMALL, TEXT, lines, width};
use super::caption::{Words, letter};
use super::chain::{self, Chain, Side};
use super::dimension::dimension;
use super::scale::Scale;
use parge_calc::elevation::{DrawnOpening, Edge, Elevation, View};
use parge_calc::job::UnitSystem;
use std::f64::consts::PI;

/// The height of a line of a caption, and what a caption stands off.
const LINE: f64 = 3.3;
const CAPTION_OFF: f64 = 4.2;
/// A caption is at least so wide, whatever it stands beneath.
const CAPTION_WIDTH: f64 = 40.0;
/// Lines that one text of a caption may take.
const MOST_LINES: usize = 4;
/// What a line of extension stands off, and goes on behind its line.
const OUT: f64 = 1.0;
/// Room for a text above or beneath a face.
const TEXT_ROOM: f64 = 3.6;

/// A face with its scale: all of it is ready to be drawn.
pub(super) struct Cell<'a> {
    of: &'a Elevation,
    scale: Scale,
    units: UnitSystem,
    below: Vec<Chain>,
    left: Vec<Chain>,
    name: Vec<String>,
    caption: Vec<String>,
}

impl<'a> Cell<'a> {
    pub(super) fn of(
        elevation: &'a Elevation,
        words: &Words,
        scale: Scale,
        units: UnitSystem,
    ) -> Self {
        let [wide, high] = elevation.size;
        let row = |side, levels: &[f64]| Chain::of(side, levels, scale, units);
        let (mut below, mut left, mut close) = (Vec::new(), Vec::new(), Vec::new());
        let has_width = !matches!(elevation.view, View::Fan(_) | View::SameArea);
        let has_height = !matches!(elevation.view, View::Fan(_));
        for (rows, side, levels, has, all, way) in [
            (
                &mut below,
                Side::Below,
                &elevation.across,
                has_width,
                wide,
                "Across",
            ),
            (&mut left, Side::Left, &elevation.up, has_height, high, "Up"),
        ] {
            if !has {
                continue;
            }
            if levels.len() > 2 {
                match row(side, levels) {
                    Some(parts) => rows.push(parts),
                    None => close.push(format!("{way} {}.", chain::words(levels, units))),
                }
            }
            rows.extend(row(side, &[0.0, all]));
        }
        let mut cell = Self {
            of: elevation,
            scale,
            units,
            below,
            left,
            name: Vec::new(),
            caption: Vec::new(),
        };
        let room = cell.drawn_width().max(CAPTION_WIDTH);
        cell.name = lines(&words.name, TEXT * 1.2, room, 2);
        let mut texts = words.lines.clone();
        // What is too close to be dimensioned at this scale is told.
        texts.append(&mut close);
        let broken = texts
            .iter()
            .flat_map(|text| lines(text, TEXT, room, MOST_LINES));
        cell.caption = broken.collect();
        cell
    }

    /// Width and height of the outline on paper.
    pub(super) fn paper(&self) -> [f64; 2] {
        self.of.size.map(|metres| self.scale.paper(metres))
    }

    fn left_room(&self) -> f64 {
        chain::room(&self.left).max(self.overhang())
    }

    fn right_room(&self) -> f64 {
        match self.of.view {
            View::Fan(_) => 2.0 * TEXT_ROOM,
            _ => self.overhang(),
        }
    }

    /// What the text of a narrow face's width goes over its sides.
    fn overhang(&self) -> f64 {
        let text = width(&dimension(self.of.size[0], self.units), SMALL);
        let narrow = (text - self.paper()[0]) / 2.0;
        if self.below.is_empty() {
            1.0
        } else {
            narrow.max(1.0)
        }
    }

    fn drawn_width(&self) -> f64 {
        self.left_room() + self.paper()[0] + self.right_room()
    }

    pub(super) fn width(&self) -> f64 {
        self.drawn_width().max(CAPTION_WIDTH)
    }

    /// From its top to the foot of its outline.
    pub(super) fn above(&self) -> f64 {
        let texts = match self.of.view {
            View::Fan(_) => TEXT_ROOM,
            _ if self.of.stations.is_empty() => 1.0,
            _ => self.station_room() + 1.5,
        };
        texts + self.paper()[1]
    }

    /// From the foot of its outline to the end of its caption.
    pub(super) fn beneath(&self) -> f64 {
        let lines = self.name.len() + self.caption.len();
        self.dimensions_beneath() + CAPTION_OFF + lines as f64 * LINE
    }

    fn dimensions_beneath(&self) -> f64 {
        match self.of.view {
            View::Fan(_) => TEXT_ROOM,
            _ => chain::room(&self.below),
        }
    }

    /// Draws it with its left end and the foot of its outline there, and its caption beneath the
    /// deepest of its row.
    pub(super) fn draw(&self, canvas: &mut Canvas, [left, foot]: [f64; 2], deepest: f64) {
        let place = Place {
            origin: [left + self.left_room(), foot],
            scale: self.scale,
        };
        let class = match self.of.view {
            View::Side | View::SameArea | View::Around => "pd-unknown",
            _ => "pd-face",
        };
        canvas.outline(&self.of.outline, &place, class);
        for opening in &self.of.openings {
            hole(canvas, &place, opening);
        }
        chain::draw(&self.below, canvas, &place);
        chain::draw(&self.left, canvas, &place);
        self.stations(canvas, &place);
        if let View::Fan(sizes) = self.of.view {
            self.fan(canvas, &place, sizes);
        }
        self.captions(canvas, left, foot + deepest);
    }

    /// The room beneath the foot that the dimensions of a cell take: the captions of a row stand
    /// beneath the deepest.
    pub(super) fn depth(&self) -> f64 {
        self.dimensions_beneath()
    }

    /// The height of the caption.
    pub(super) fn caption_height(&self) -> f64 {
        self.beneath() - self.dimensions_beneath()
    }

    fn captions(&self, canvas: &mut Canvas, left: f64, top: f64) {
        let names = self.name.iter().map(|line| ("pd-name", line));
        let rest = self.caption.iter().map(|line| ("", line));
        let mut y = top + CAPTION_OFF;
        for (class, line) in names.chain(rest) {
            canvas.text([left, y], class, line);
            y += LINE;
        }
    }

    /// The heights at the stations of a wall, over its top.
    fn stations(&self, canvas: &mut Canvas, place: &Place) {
        let turned = self.are_turned();
        for [x, height] in &self.of.stations {
            let text = dimension(*height, self.units);
            let [at, top] = place.of([*x, *height]);
            canvas.line([at, top], place.of([*x, 0.0]), "pd-hidden");
            if turned {
                canvas.turned([at + SMALL * 0.35, top - 1.2], 90.0, "pd-small", &text);
            } else {
                canvas.text([at, top - 1.2], "pd-small pd-mid", &text);
            }
        }
    }

    /// Whether the heights stand upright, since stations are close.
    fn are_turned(&self) -> bool {
        let stations = &self.of.stations;
        let mut pairs = stations.iter().zip(stations.iter().skip(1));
        pairs.any(|([from, _], [to, high])| {
            let text = width(&dimension(*high, self.units), SMALL);
            self.scale.paper(to - from) < text + 1.0
        })
    }

    fn station_room(&self) -> f64 {
        let texts = self.of.stations.iter();
        let longest = texts.map(|[_, high]| width(&dimension(*high, self.units), SMALL));
        match self.are_turned() {
            true => longest.fold(0.0, f64::max),
            false => SMALL,
        }
    }

    /// The lengths around beneath the foot and over the top of a fan, and along its slope.
    fn fan(&self, canvas: &mut Canvas, place: &Place, [foot, top, slope]: [f64; 3]) {
        let [wide, high] = self.of.size;
        // The narrow end of a fan is hollow: its middle lies a slope from the middle of the other.
        let (low, up) = match foot > top {
            true => (0.0, slope),
            false => (high - slope, high),
        };
        if foot > 0.0 {
            let [x, y] = place.of([wide / 2.0, low]);
            let text = dimension(foot, self.units);
            canvas.text([x, y + SMALL + 0.4], "pd-small pd-mid", &text);
        }
        if top > 0.0 {
            let [x, y] = place.of([wide / 2.0, up]);
            let text = dimension(top, self.units);
            canvas.text([x, y - 0.8], "pd-small pd-mid", &text);
        }
        let edges = self.of.outline.first().map_or(&[][..], |path| &path.edges);
        if let [outer @ Edge::Arc { .. }, inner, ..] = edges {
            let ends = [outer.end(), inner.end()].map(|end| place.of(end));
            // With its wide end down a fan goes round to the left, and has its outside at the right.
            let outside = if foot > top { 1.0 } else { -1.0 };
            slanted(canvas, ends, outside, &dimension(slope, self.units));
        }
    }
}

/// A dimension beside an edge: at the right hand of who goes along it, or at the left for an
/// outside less than nothing.
fn slanted(canvas: &mut Canvas, [a, b]: [[f64; 2]; 2], outside: f64, text: &str) {
    const OFF: f64 = 3.0;
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let length = dx.hypot(dy).max(f64::MIN_POSITIVE);
    // On paper y goes down.
    let beside = [-dy / length * outside, dx / length * outside];
    let moved = |[x, y]: [f64; 2], off: f64| [x + beside[0] * off, y + beside[1] * off];
    for end in [a, b] {
        canvas.line(moved(end, OUT), moved(end, OFF + OUT), "pd-dim");
        let [x, y] = moved(end, OFF);
        canvas.line([x - 0.8, y + 0.8], [x + 0.8, y - 0.8], "pd-tick");
    }
    canvas.line(moved(a, OFF), moved(b, OFF), "pd-dim");
    let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
    let slope = (-dy).atan2(dx);
    // Never upside down.
    let angle = slope - (slope / PI).round() * PI;
    let [x, y] = moved(middle, OFF + SMALL * 0.75);
    let down = SMALL * 0.35;
    let at = [x + down * angle.sin(), y + down * angle.cos()];
    canvas.turned(at, angle.to_degrees(), "pd-small pd-mid", text);
}

/// An opening with its letter, where there is room for it.
fn hole(canvas: &mut Canvas, place: &Place, opening: &DrawnOpening) {
    canvas.outline(&opening.outline, place, "pd-hole");
    let [[x, y], [wide, high]] = opening.at;
    let letter = letter(opening.opening);
    let [centre, middle] = place.of([x + wide / 2.0, y + high / 2.0]);
    let fits = place.length(wide) >= width(&letter, SMALL) && place.length(high) >= SMALL;
    if fits {
        canvas.text([centre, middle + SMALL * 0.35], "pd-small pd-mid", &letter);
    } else {
        let [_, top] = place.of([x, y + high]);
        canvas.text([centre, top - 0.6], "pd-small pd-mid", &letter);
    }
}
