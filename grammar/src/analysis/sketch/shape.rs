//! Shapes with their sizes.

use super::Slot;
use super::line::Line;
use crate::analysis::token::Kind;
use crate::analysis::words::{self, Home};
use parge_base::suggest::nearest;

/// A part of a shape.
#[derive(Clone, Copy)]
enum Part {
    Size,
    /// `x`
    Times,
    Comma,
    /// A word between sizes.
    Word(&'static [&'static str]),
    /// Any number of points in brackets.
    Points,
    /// A quoted text.
    Reason,
}

/// Parts that stand together or not at all.
struct Group {
    parts: &'static [Part],
    /// Whether the shape may do without.
    optional: bool,
}

const fn must(parts: &'static [Part]) -> Group {
    Group {
        parts,
        optional: false,
    }
}

const fn may(parts: &'static [Part]) -> Group {
    Group {
        parts,
        optional: true,
    }
}

use Part::{Comma, Points, Reason, Size, Times, Word};

const BY: Group = must(&[Times, Size]);
/// The height, which the structure may state for all of its faces.
const BY_HEIGHT: Group = may(&[Times, Size]);
const ONE: Group = must(&[Size]);
const TO: Group = must(&[Word(&["to"]), Size]);
const DIAMETER: Group = must(&[Word(&["diameter"]), Size]);

/// What follows the word of a shape.
fn groups(shape: &str) -> &'static [Group] {
    match shape {
        "rect" => const { &[ONE, BY_HEIGHT] },
        "triangle" | "ellipse" => const { &[ONE, BY] },
        "arch" => const { &[ONE, BY, may(&[Word(&["rise"]), Size])] },
        "trapezoid" => const { &[ONE, TO, BY] },
        "frustum" => const { &[ONE, TO, BY_HEIGHT] },
        "ring" => const { &[ONE, TO] },
        // The name and its sizes are written like a function.
        "shape" => const { &[ONE] },
        "polygon" => const { &[must(&[Points])] },
        "stations" => const { &[may(&[Word(&["stepped"])]), must(&[Points])] },
        "circle" => const { &[DIAMETER] },
        "cone" | "dome" => const { &[DIAMETER, BY] },
        "cylinder" => const { &[DIAMETER, may(&[Word(&["sweep"]), Size]), BY_HEIGHT] },
        "arc" => {
            const {
                &[
                    must(&[Word(&["radius"]), Size]),
                    must(&[Word(&["sweep"]), Size]),
                    BY_HEIGHT,
                ]
            }
        }
        "measured" => {
            const {
                &[
                    ONE,
                    must(&[Word(&["around"]), Size]),
                    must(&[Word(&["high"]), Size]),
                    must(&[Reason]),
                ]
            }
        }
        _ => &[],
    }
}

/// `triangle sides A, B, C`
const THREE_SIDES: &[Group] = &[must(&[Size, Comma, Size, Comma, Size])];

impl Line<'_, '_> {
    /// Passes over a shape, as far as it is one.
    pub(super) fn shape(&mut self) {
        self.need(Slot::Shape);
        let Some(word) = self.peek_word() else {
            return;
        };
        let shape = if words::find(word, Home::Shape).is_some() {
            self.mark(Home::Shape);
            word
        } else {
            // A misspelt shape has sizes as well.
            let shapes = words::at(Home::Shape).map(|shape| shape.word);
            let Some(shape) = nearest(word, shapes) else {
                return;
            };
            self.skip();
            shape
        };
        // `triangle sides x 3ft`: a value may have that name.
        let is_value = matches!(self.peek_second(), Some(Kind::Times | Kind::Dot));
        let three = shape == "triangle" && !is_value && self.word(Home::Size, &["sides"]).is_some();
        let groups = if three { THREE_SIDES } else { groups(shape) };
        for group in groups {
            if !self.group(group) {
                return;
            }
        }
    }

    /// Says whether the shape goes on.
    fn group(&mut self, group: &Group) -> bool {
        for (index, part) in group.parts.iter().enumerate() {
            if !self.shape_part(*part) {
                let left_out = group.optional && index == 0;
                if !left_out {
                    self.close();
                }
                return left_out;
            }
        }
        true
    }

    fn shape_part(&mut self, part: Part) -> bool {
        match part {
            Size => {
                self.expression();
                true
            }
            Word(words) => self.word(Home::Size, words).is_some(),
            Times => {
                self.offer(Slot::Words(Home::Size, &["x"]));
                let times = self.peek_kind() == Some(Kind::Times);
                if times {
                    self.mark(Home::Size);
                }
                times
            }
            Comma => self.eat(Kind::Comma),
            Points => {
                self.close();
                while self.peek_kind() == Some(Kind::OpenParen) {
                    self.expression();
                }
                true
            }
            Reason => {
                self.text();
                true
            }
        }
    }
}
