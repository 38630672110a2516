//! The revised lifting equation of NIOSH (publication 94-110): how heavy a load may be that is
//! lifted with two hands at a reach, a height and a pace.

use super::working::Working;
use super::{Outcome, PhysicsError};
use parge_base::{Dim, Function, NodeId, Operator, Span, Tape};
use std::f64::consts::PI;

/// The two forms that are published; they differ in the second digit, so each is used as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Inches and pounds, from 51 lb.
    Inch,
    /// Centimetres and kilograms, from 23 kg.
    Metric,
}

/// A lift.
#[derive(Debug, Clone, Copy)]
pub struct Lift {
    /// From the ankles forward to the hands.
    pub horizontal: NodeId,
    /// From the floor up to the hands, where the lift begins.
    pub vertical: NodeId,
    /// How far up or down it goes.
    pub travel: NodeId,
    /// The turn of the body, in radians.
    pub turn: NodeId,
    /// The multiplier for the pace: see [`frequency_multiplier`].
    pub frequency: NodeId,
    /// The multiplier for the grip, from 0.9 to 1.
    pub coupling: NodeId,
}

/// How long the lifting goes on, before a rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Duration {
    /// Up to an hour.
    Short,
    /// More than one, up to two hours.
    Moderate,
}

/// Constants of a form: the load constant in base units of mass, the unit of length in metres,
/// and the numbers of the multipliers.
struct Constants {
    load: f64,
    length: f64,
    nearest: f64,
    farthest: f64,
    height: f64,
    highest: f64,
    slope: f64,
    travel: f64,
    shortest: f64,
    longest: f64,
}

const INCH: Constants = Constants {
    load: 51.0 * 0.45359237,
    length: 0.0254,
    nearest: 10.0,
    farthest: 25.0,
    height: 30.0,
    highest: 70.0,
    slope: 0.0075,
    travel: 1.8,
    shortest: 10.0,
    longest: 70.0,
};

const METRIC: Constants = Constants {
    load: 23.0,
    length: 0.01,
    nearest: 25.0,
    farthest: 63.0,
    height: 75.0,
    highest: 175.0,
    slope: 0.003,
    travel: 4.5,
    shortest: 25.0,
    longest: 175.0,
};

impl Form {
    fn constants(self) -> &'static Constants {
        match self {
            Self::Inch => &INCH,
            Self::Metric => &METRIC,
        }
    }
}

/// The turn past which nobody should lift, in degrees.
const MOST_TURN: f64 = 135.0;

/// The weight limit that is recommended: `LC × HM × VM × DM × AM × FM × CM`.
///
/// An error where a reach, height, travel or turn is past the range of the equation, in which
/// nothing should be lifted at all.
pub fn recommended_weight(
    tape: &mut Tape,
    form: Form,
    lift: Lift,
    place: Option<Span>,
) -> Outcome<NodeId> {
    let constants = form.constants();
    let mut working = Working { tape, place };
    let multipliers = [
        working.reach(constants, lift.horizontal)?,
        working.height(constants, lift.vertical)?,
        working.travel(constants, lift.travel)?,
        working.turn(lift.turn)?,
        lift.frequency,
        lift.coupling,
    ];
    weight_of(tape, form, &multipliers, place)
}

/// The same from multipliers that somebody has read off tables: the load constant times all of
/// them.
pub fn weight_of(
    tape: &mut Tape,
    form: Form,
    multipliers: &[NodeId],
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let load = working.quantity(form.constants().load, Dim::MASS);
    multipliers.iter().try_fold(load, |weight, multiplier| {
        working.times(weight, *multiplier)
    })
}

/// The lifting index: the load over the recommended limit. Over 1 is for more hands or smaller
/// bags.
pub fn lifting_index(
    tape: &mut Tape,
    load: NodeId,
    recommended: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    Working { tape, place }.over(load, recommended)
}

/// The multiplier for so many lifts a minute (94-110, table 5, seen in a reproduction; hands not
/// above 30 in at the start for the slower paces of more than 15 a minute, which are left out).
/// Between two rows the lower one holds. `None` past what the table has here.
pub fn frequency_multiplier(lifts_per_minute: f64, duration: Duration) -> Option<f64> {
    const SHORT: [(f64, f64); 8] = [
        (0.2, 1.00),
        (0.5, 0.97),
        (1.0, 0.94),
        (2.0, 0.91),
        (3.0, 0.88),
        (4.0, 0.84),
        (5.0, 0.80),
        (6.0, 0.75),
    ];
    const MODERATE: [(f64, f64); 5] = [
        (0.2, 0.95),
        (0.5, 0.92),
        (1.0, 0.88),
        (2.0, 0.84),
        (3.0, 0.79),
    ];
    let rows = match duration {
        Duration::Short => &SHORT[..],
        Duration::Moderate => &MODERATE[..],
    };
    let row = rows.iter().find(|(pace, _)| lifts_per_minute <= *pace);
    row.map(|(_, multiplier)| *multiplier)
}

impl Working<'_> {
    /// `nearest / H`, and 1 for what is nearer.
    fn reach(&mut self, of: &Constants, node: NodeId) -> Outcome<NodeId> {
        let reach = self.in_units(node, of.length, Dim::LENGTH)?;
        self.within(
            reach,
            of.farthest,
            "the reach forward",
            "no more than 25 in (63 cm)",
        )?;
        let nearest = self.number(of.nearest);
        let reach = self.combine(Operator::Max, reach, nearest)?;
        self.over(nearest, reach)
    }

    /// `1 - slope × |V - height|`.
    fn height(&mut self, of: &Constants, node: NodeId) -> Outcome<NodeId> {
        let height = self.in_units(node, of.length, Dim::LENGTH)?;
        self.within(
            height,
            of.highest,
            "the height of the hands",
            "no more than 70 in (175 cm)",
        )?;
        let best = self.number(of.height);
        let away = self.minus(height, best)?;
        let away = self.apply(Function::Abs, away)?;
        self.one_less(of.slope, away)
    }

    /// `0.82 + travel / D`, and 1 for what is shorter.
    fn travel(&mut self, of: &Constants, node: NodeId) -> Outcome<NodeId> {
        let travel = self.in_units(node, of.length, Dim::LENGTH)?;
        self.within(
            travel,
            of.longest,
            "the travel of the load",
            "no more than 70 in (175 cm)",
        )?;
        let shortest = self.number(of.shortest);
        let travel = self.combine(Operator::Max, travel, shortest)?;
        let (start, part) = (self.number(0.82), self.number(of.travel));
        let part = self.over(part, travel)?;
        self.plus(start, part)
    }

    /// `1 - 0.0032 A`, with degrees.
    fn turn(&mut self, node: NodeId) -> Outcome<NodeId> {
        let degree = self.number(PI / 180.0);
        let turn = self.over(node, degree)?;
        self.within(
            turn,
            MOST_TURN,
            "the turn of the body",
            "no more than 135 degrees",
        )?;
        self.one_less(0.0032, turn)
    }

    fn one_less(&mut self, slope: f64, times: NodeId) -> Outcome<NodeId> {
        let (one, slope) = (self.number(1.0), self.number(slope));
        let less = self.times(slope, times)?;
        self.minus(one, less)
    }

    fn within(
        &self,
        node: NodeId,
        most: f64,
        what: &'static str,
        range: &'static str,
    ) -> Outcome<()> {
        // What is written in metres and read in inches may pass its limit by binary noise.
        if (0.0..=most * (1.0 + 1e-12)).contains(&self.value(node)) {
            Ok(())
        } else {
            Err(PhysicsError::OutOfRange(what, range))
        }
    }
}

#[cfg(test)]
mod tests;
