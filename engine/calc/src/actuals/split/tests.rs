use super::*;
use parge_base::Currency;
use proptest::prelude::*;
use rust_decimal::Decimal;

fn usd(cents: i64) -> Money {
    Money::new(Decimal::new(cents, 2), Currency::from_code("USD").unwrap())
}

fn texts(split: MoneySplit) -> [String; 4] {
    [split.quantity, split.usage, split.packs, split.price].map(Money::to_text)
}

/// Pails of 5 gal at 100.00. Estimated are 12 gal, so 3 pails. Twice the area was built: 24 gal,
/// 12 gal more are 240.00. 21 gal were used: 3 gal less are 60.00 less. 5 pails are 25 gal, 4 gal
/// left over beside 3 before, so 1 gal more, 20.00. Each pail cost 8.00 less.
#[test]
fn a_material_split_by_hand() {
    let uses = Uses {
        estimated: 12.0,
        at_built: 24.0,
        recorded: 21.0,
    };
    let costs = Costs {
        estimated: usd(30_000),
        price: usd(10_000),
        paid: usd(9_200),
    };
    let split = of_material(uses, 5.0, costs).unwrap();
    assert_eq!(texts(split), ["240.00", "-60.00", "20.00", "-40.00"]);
    assert_eq!(split.whole().unwrap(), usd(5 * 9_200 - 30_000));
}

/// 10 h at 40.00; half as much was built, which took 6 h at 44.00.
#[test]
fn hours_split_by_hand() {
    let uses = Uses {
        estimated: 10.0,
        at_built: 5.0,
        recorded: 6.0,
    };
    let costs = Costs {
        estimated: usd(40_000),
        price: usd(4_000),
        paid: usd(4_400),
    };
    let split = of_hours(uses, costs).unwrap();
    assert_eq!(texts(split), ["-200.00", "40.00", "0.00", "24.00"]);
    assert_eq!(split.whole().unwrap(), usd(6 * 4_400 - 40_000));
}

fn amount() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), 0.0..2_000.0, (0_u32..500).prop_map(f64::from)]
}

proptest! {
    /// The parts add up to what was paid less what was estimated, to the last digit.
    #[test]
    fn the_parts_are_the_whole(
        uses in [amount(), amount(), amount()],
        size in prop_oneof![Just(1.0), 0.01..2_000.0],
        (cost, price, paid) in (0_i64..9_999_999, 0_i64..99_999, 0_i64..99_999),
    ) {
        let [estimated, at_built, recorded] = uses;
        let uses = Uses { estimated, at_built, recorded };
        let costs = Costs { estimated: usd(cost), price: usd(price), paid: usd(paid) };
        let split = of_material(uses, size, costs).unwrap();
        let actual = usd(paid).times(whole_up(recorded / size)).unwrap();
        prop_assert_eq!(split.whole().unwrap(), actual.minus(usd(cost)).unwrap());

        let split = of_hours(uses, costs).unwrap();
        let actual = usd(paid).times(recorded).unwrap();
        prop_assert_eq!(split.whole().unwrap(), actual.minus(usd(cost)).unwrap());
    }

    /// With the area, the use, the packs and the price as estimated, nothing differs.
    #[test]
    fn what_is_as_estimated_differs_by_nothing(packs in 1_u32..500, price in 0_i64..99_999) {
        let recorded = f64::from(packs);
        let uses = Uses { estimated: recorded, at_built: recorded, recorded };
        let cost = usd(price).times(recorded).unwrap();
        let costs = Costs { estimated: cost, price: usd(price), paid: usd(price) };
        let nothing = MoneySplit::nothing(cost);
        prop_assert_eq!(of_material(uses, 1.0, costs).unwrap(), nothing);
        prop_assert_eq!(of_hours(uses, costs).unwrap(), nothing);
    }
}
