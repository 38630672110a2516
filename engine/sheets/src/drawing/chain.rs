//! Rows of dimensions beneath a face or at its left.

use super::canvas::{Canvas, Place, SMALL, width};
use super::dimension::dimension;
use parge_calc::job::UnitSystem;

/// Half of a tick across.
const TICK: f64 = 0.8;
/// What a line of extension stands off from the face, and how far it goes on behind its line.
const OFF: f64 = 1.0;
const BEHIND: f64 = 1.0;

/// Which way a row runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// Beneath the face, from the left to the right.
    Below,
    /// At its left, from its foot up.
    Left,
}

/// The dimensions between levels that follow each other.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    side: Side,
    /// The levels, in metres from the left or lower end of the face.
    levels: Vec<f64>,
    texts: Vec<String>,
    /// Whether its texts stand across the row, since there is no room along it.
    across: bool,
}

impl Chain {
    /// Between such levels; none where they lie too close for a text.
    pub(super) fn of(
        side: Side,
        levels: &[f64],
        scale: super::scale::Scale,
        units: UnitSystem,
    ) -> Option<Self> {
        let pairs = levels.iter().zip(levels.iter().skip(1));
        let lengths: Vec<f64> = pairs.map(|(from, to)| to - from).collect();
        let texts: Vec<String> = lengths.iter().map(|of| dimension(*of, units)).collect();
        let fits = |room: &dyn Fn(&str) -> f64| {
            let mut both = lengths.iter().zip(&texts);
            both.all(|(length, text)| scale.paper(*length) >= room(text))
        };
        let along = fits(&|text| width(text, SMALL) + 1.0);
        // One text goes over the ends of its row, where they lie beside each other.
        let across = !along && (lengths.len() > 1 || side == Side::Left);
        if across && lengths.len() > 1 && !fits(&|_| SMALL + 0.3) {
            return None;
        }
        Some(Self {
            side,
            levels: levels.to_vec(),
            texts,
            across,
        })
    }

    /// The room that it takes before its line and behind it.
    fn room(&self) -> [f64; 2] {
        let longest = self.texts.iter().map(|text| width(text, SMALL));
        match (self.across, self.side) {
            (true, _) => [2.5, longest.fold(0.0, f64::max) + 1.5],
            // The text stands above its line, and at the left of it.
            (false, Side::Below) => [SMALL + 2.2, 1.0],
            (false, Side::Left) => [3.0, SMALL + 0.7],
        }
    }

    /// Draws it where the room that is taken ends, and hands back where its own ends.
    fn draw(&self, canvas: &mut Canvas, place: &Place, taken: f64) -> f64 {
        let [before, behind] = self.room();
        let off = taken + before;
        let at = |along: f64, off: f64| self.at(place, along, off);
        for level in &self.levels {
            canvas.line(at(*level, OFF), at(*level, off + BEHIND), "pd-dim");
        }
        if let [first, .., last] = self.levels.as_slice() {
            canvas.line(at(*first, off), at(*last, off), "pd-dim");
        }
        for level in &self.levels {
            let [x, y] = at(*level, off);
            canvas.line([x - TICK, y + TICK], [x + TICK, y - TICK], "pd-tick");
        }
        let pairs = self.levels.iter().zip(self.levels.iter().skip(1));
        for ((from, to), text) in pairs.zip(&self.texts) {
            let middle = at(f64::midpoint(*from, *to), off);
            self.text(canvas, middle, text);
        }
        off + behind
    }

    fn text(&self, canvas: &mut Canvas, [x, y]: [f64; 2], text: &str) {
        const LIFT: f64 = 0.7;
        const DOWN: f64 = SMALL * 0.35;
        match (self.side, self.across) {
            (Side::Below, false) => canvas.text([x, y - LIFT], "pd-small pd-mid", text),
            (Side::Left, false) => canvas.turned([x - LIFT, y], 90.0, "pd-small pd-mid", text),
            (Side::Below, true) => {
                canvas.turned([x + DOWN, y + 1.2], 90.0, "pd-small pd-end", text);
            }
            (Side::Left, true) => canvas.text([x - 1.2, y + DOWN], "pd-small pd-end", text),
        }
    }

    /// The point so far along the row and off the face.
    fn at(&self, place: &Place, along: f64, off: f64) -> [f64; 2] {
        match self.side {
            Side::Below => {
                let [x, y] = place.of([along, 0.0]);
                [x, y + off]
            }
            Side::Left => {
                let [x, y] = place.of([0.0, along]);
                [x - off, y]
            }
        }
    }
}

/// The lengths between levels, in words.
pub(super) fn words(levels: &[f64], units: UnitSystem) -> String {
    let pairs = levels.iter().zip(levels.iter().skip(1));
    let lengths: Vec<String> = pairs
        .map(|(from, to)| dimension(to - from, units))
        .collect();
    lengths.join(" + ")
}

/// The room that rows take together.
pub(super) fn room(chains: &[Chain]) -> f64 {
    chains.iter().flat_map(Chain::room).sum()
}

/// Draws rows behind each other.
pub(super) fn draw(chains: &[Chain], canvas: &mut Canvas, place: &Place) {
    let mut taken = 0.0;
    for chain in chains {
        taken = chain.draw(canvas, place, taken);
    }
}
