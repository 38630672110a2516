use super::super::testing::{input, near, show};
use super::*;

/// W10: an average carve coat of 1 1/2 in is over the 15 lb/ft2 of adhered units (W5).
#[test]
fn a_carved_coat_is_past_the_limit_of_adhered_units() {
    for (density, expected) in [(125.0, 15.6), (142.0, 17.75)] {
        let mut tape = Tape::new();
        let thickness = input(&mut tape, 1.5, "in");
        let density = input(&mut tape, density, "lb/ft3");
        let load = dead_load(&mut tape, thickness, density, None).unwrap();
        near(show(&tape, load, "lb/ft2"), expected, 0.05);
        assert!(show(&tape, load, "lb/ft2") > 15.0);
    }
}
