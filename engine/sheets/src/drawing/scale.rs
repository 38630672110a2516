//! Scales, and the bar that stays true when a sheet is printed smaller.

use super::canvas::Canvas;
use super::dimension::dimension;
use parge_base::number::round_to;
use parge_calc::job::UnitSystem;

/// Millimetres in a metre.
const MILLIMETRES: f64 = 1000.0;
/// The longest bar on paper.
const LONGEST_BAR: f64 = 50.0;
const BAR_HEIGHT: f64 = 1.4;

/// Architects' scales: how many times larger the wall is, and the inches that stand for a foot.
const US: [(f64, &str); 12] = [
    (4.0, "3"),
    (8.0, "1 1/2"),
    (12.0, "1"),
    (16.0, "3/4"),
    (24.0, "1/2"),
    (32.0, "3/8"),
    (48.0, "1/4"),
    (64.0, "3/16"),
    (96.0, "1/8"),
    (128.0, "3/32"),
    (192.0, "1/16"),
    (384.0, "1/32"),
];
const METRIC: [f64; 8] = [5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0];

/// How many times larger the wall is than its drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    ratio: f64,
    units: UnitSystem,
}

impl Scale {
    /// All scales from the largest drawing to the smallest; there is no smallest.
    pub(super) fn all(units: UnitSystem) -> impl Iterator<Item = Self> {
        std::iter::successors(Some(Self::largest(units)), |scale| Some(scale.smaller()))
    }

    /// The largest scale at which a length, in metres, takes at most so much on paper.
    pub(super) fn at_most(metres: f64, paper: f64, units: UnitSystem) -> Self {
        let mut scale = Self::largest(units);
        while scale.paper(metres) > paper {
            scale = scale.smaller();
        }
        scale
    }

    fn largest(units: UnitSystem) -> Self {
        let ratio = match units {
            UnitSystem::Us => US.map(|(ratio, _)| ratio).first().copied(),
            UnitSystem::Metric => METRIC.first().copied(),
        };
        Self {
            ratio: ratio.unwrap_or(1.0),
            units,
        }
    }

    /// The next usual scale, and behind the last of them half of this one.
    fn smaller(self) -> Self {
        let next = match self.units {
            UnitSystem::Us => US
                .map(|(ratio, _)| ratio)
                .into_iter()
                .find(|of| *of > self.ratio),
            UnitSystem::Metric => METRIC.into_iter().find(|of| *of > self.ratio),
        };
        Self {
            ratio: next.unwrap_or(self.ratio * 2.0),
            ..self
        }
    }

    /// The length on paper, in millimetres, of one on the wall, in metres.
    pub(super) fn paper(self, metres: f64) -> f64 {
        metres * MILLIMETRES / self.ratio
    }

    /// In words.
    pub(super) fn words(self) -> String {
        let usual = US.iter().find(|(ratio, _)| *ratio == self.ratio);
        match (self.units, usual) {
            (UnitSystem::Us, Some((_, inches))) => format!("{inches}\" = 1'-0\""),
            _ => format!("1:{}", self.ratio),
        }
    }

    /// The bar, with its right end there.
    pub(super) fn bar(self, canvas: &mut Canvas, right: f64, y: f64) {
        let length = self.bar_length();
        let half = self.paper(length) / 2.0;
        let left = right - 2.0 * half;
        canvas.rect([left, y], [half, BAR_HEIGHT], "pd-bar");
        canvas.rect([left + half, y], [half, BAR_HEIGHT], "pd-gap");
        for share in [0.0, 0.5, 1.0] {
            let class = if share == 1.0 {
                "pd-small pd-end"
            } else {
                "pd-small pd-mid"
            };
            let text = match share {
                0.0 => "0".to_owned(),
                share => self.bar_text(length * share),
            };
            canvas.text([left + 2.0 * half * share, y - 0.9], class, &text);
        }
    }

    fn bar_text(self, metres: f64) -> String {
        match self.units {
            UnitSystem::Us => dimension(metres, self.units),
            UnitSystem::Metric => format!("{} m", round_to(metres, 3)),
        }
    }

    /// A round length that is at most [`LONGEST_BAR`] on paper, in metres.
    fn bar_length(self) -> f64 {
        let (unit, least) = match self.units {
            UnitSystem::Us => (0.3048, 0.5),
            UnitSystem::Metric => (1.0, 0.05),
        };
        let most = LONGEST_BAR / self.paper(unit);
        // 1, 2, 5, 10, and so on.
        let steps = [2.0, 2.0, 2.5];
        let mut round = least;
        for step in steps.iter().cycle() {
            if round * step > most {
                break;
            }
            round *= step;
        }
        round * unit
    }
}
