//! What follows from the weather: evaporation and dew point, on the plan's own tape.

use crate::job::Weather;
use crate::physics::dew_point::dew_point;
use crate::physics::evaporation::{Readings, inch_pound};
use parge_base::Tape;

impl Weather {
    /// Reckons what the stated readings are enough for. Nothing is taken for a reading that is
    /// not stated, and nothing comes of air or mix below 0 °F, where the formula ends.
    pub(super) fn reckon(&mut self, tape: &mut Tape) {
        let (Some(air), Some(humidity)) = (self.air, self.humidity) else {
            return;
        };
        let place = Some(air.span);
        self.dew_point = dew_point(tape, air.node, humidity.node, place).ok();
        let (Some(wind), Some(mix)) = (self.wind, self.mix) else {
            return;
        };
        let readings = Readings {
            mix: mix.node,
            air: air.node,
            humidity: humidity.node,
            wind: wind.node,
        };
        self.evaporation = inch_pound(tape, readings, place).ok();
    }
}
