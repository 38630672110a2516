use super::super::testing::{input, near, show};
use super::*;

const WATER: (f64, &str) = (62.4, "lb/ft3");

fn batch(solids: &[(f64, f64)], water: f64, air: f64) -> Outcome<f64> {
    let mut tape = Tape::new();
    let solids: Vec<Constituent> = solids
        .iter()
        .map(|(mass, density)| Constituent {
            mass: input(&mut tape, *mass, "lb"),
            relative_density: input(&mut tape, *density, "1"),
        })
        .collect();
    let batch = Batch {
        solids: &solids,
        water: input(&mut tape, water, "lb"),
        air: input(&mut tape, air, "1"),
        water_density: input(&mut tape, WATER.0, WATER.1),
    };
    fresh_volume(&mut tape, batch, None).map(|node| show(&tape, node, "ft3"))
}

/// Y1: with the 1152 lb of fine aggregate that the example comes to, the batch is a cubic yard.
#[test]
fn the_navy_batch_fills_its_yard() {
    let solids = [(610.0, 3.15), (1735.0, 2.60), (1152.0, 2.65)];
    near(batch(&solids, 305.0, 0.05).unwrap(), 27.0, 0.01);
}

#[test]
fn air_that_leaves_no_room_is_refused() {
    for air in [1.0, 1.5, -0.1] {
        assert!(matches!(
            batch(&[(1.0, 2.0)], 1.0, air),
            Err(PhysicsError::OutOfRange(..))
        ));
    }
}

/// A 50 lb bag of solids 2.75 times as heavy as water, with 5 qt: 0.459 ft3. By hand:
/// 50 / (2.75 × 62.4) = 0.2914 and 10.428 lb / 62.4 = 0.1671 ft3.
#[test]
fn a_bag_with_its_range_of_water() {
    let mut tape = Tape::new();
    let solids = [Constituent {
        mass: input(&mut tape, 50.0, "lb/bag"),
        relative_density: input(&mut tape, 2.75, "1"),
    }];
    let high = input(&mut tape, 5.0 * 62.4 * 57.75 / 1728.0, "lb/bag");
    let low = input(&mut tape, 4.75 * 62.4 * 57.75 / 1728.0, "lb/bag");
    let bag = Batch {
        solids: &solids,
        water: high,
        air: input(&mut tape, 0.0, "1"),
        water_density: input(&mut tape, WATER.0, WATER.1),
    };
    let mut filled = |water| fresh_volume(&mut tape, Batch { water, ..bag }, None).unwrap();
    let [low, high] = [low, high].map(&mut filled);
    near(show(&tape, low, "ft3/bag"), 0.450, 0.0005);
    near(show(&tape, high, "ft3/bag"), 0.4585, 0.0005);
}

/// Y11.
#[test]
fn pigments_are_capped_each_and_together() {
    let dosed = |doses: &[(f64, f64)]| {
        let mut tape = Tape::new();
        let cement = input(&mut tape, 94.0, "lb");
        let of: Vec<Pigment> = doses
            .iter()
            .map(|(dose, cap)| Pigment {
                dose: input(&mut tape, *dose, "%"),
                cap: input(&mut tape, *cap, "%"),
            })
            .collect();
        let found = pigments(&mut tape, cement, &of, None).unwrap();
        (show(&tape, found.mass, "lb"), found.over, found.too_much)
    };
    let (mass, over, too_much) = dosed(&[(10.0, 10.0)]);
    near(mass, 9.4, 1e-9);
    assert!(over.is_empty() && !too_much, "at the cap is allowed");
    assert_eq!(dosed(&[(10.5, 10.0)]).1, [0]);
    // Each under its own cap, and together over that of the second.
    let (mass, over, too_much) = dosed(&[(4.0, 10.0), (3.0, 6.0)]);
    near(mass, 6.58, 1e-9);
    assert!(over.is_empty() && too_much);
    let mut tape = Tape::new();
    let cement = input(&mut tape, 94.0, "lb");
    assert!(pigments(&mut tape, cement, &[], None).is_err());
}
