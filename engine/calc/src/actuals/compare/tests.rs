use super::*;
use crate::actuals::tests::{built, estimate, record, usd, used, worked};
use crate::actuals::{Paid, held};
use parge_base::actuals::Fingerprint;
use proptest::prelude::*;

fn compared(actuals: &Actuals) -> (Comparison, Vec<Diagnostic>) {
    let estimate = estimate();
    let now = Fingerprint::default();
    let held = held(estimate, &now, actuals, false);
    let (comparison, said) = compare(estimate, actuals, &held);
    (comparison.unwrap(), said)
}

fn shown(line: &Line, quantity: Quantity) -> f64 {
    let value = line.unit.show(quantity).unwrap();
    parge_base::number::round_to(value, 6)
}

/// 40 and 120 ft2 an inch thick are 13.333 ft3, at 0.5 ft3 a bag 26.667 bags, with a tenth of waste
/// 29.333: 30 bags at 20. 33 bags were used.
#[test]
fn a_material_beside_its_record() {
    let mut record = record();
    record.materials.push(used("mix", 33.0, "bag"));
    let (of, said) = compared(&record);
    assert_eq!(said, []);
    let [mix] = of.materials.as_slice() else {
        panic!("{:?}", of.materials);
    };
    assert_eq!(shown(mix, mix.estimated.amount), 29.333333);
    assert_eq!(mix.estimated.cost, Some(usd("600.00")));
    let actual = mix.actual.as_ref().unwrap();
    assert_eq!(
        (actual.packs, actual.cost),
        (Some(33.0), Some(usd("660.00")))
    );
    let split = mix.split.unwrap();
    assert_eq!(shown(mix, split.amount.quantity), 0.0);
    assert_eq!(shown(mix, split.amount.usage), 3.666667);
    let money = split.money.unwrap();
    assert_eq!(money.usage.to_text(), "73.33");
    assert_eq!(money.packs.to_text(), "-13.33");
    // The hours are not recorded, and count on neither side.
    assert!(of.labour.iter().all(|line| line.actual.is_none()));
    assert_eq!(of.totals.estimated, usd("600.00"));
    assert_eq!(of.totals.missing, 2);
    assert!(of.totals.not_recorded.amount() > rust_decimal::Decimal::ZERO);
}

/// `High` takes three quarters of all: with 30 ft2 more of 120 a quarter more of that.
#[test]
fn an_area_as_built_is_quantity() {
    let mut record = record();
    record.materials.push(used("mix", 33.0, "bag"));
    record
        .hours
        .push(worked("place", Scope::Structure("High".into()), 20.0));
    record.areas.push(built("High", None, 150.0));
    let (of, _) = compared(&record);
    let mix = &of.materials[0];
    let split = mix.split.unwrap().amount;
    assert_eq!(shown(mix, split.quantity), 5.5);
    assert_eq!(
        shown(mix, split.usage),
        parge_base::number::round_to(33.0 - 29.333333333 - 5.5, 6)
    );
    // 120 ft2 at 0.15 h are 18 h; a quarter more is 4.5 h.
    let high = of.labour.iter().find(|line| line.actual.is_some()).unwrap();
    assert_eq!(shown(high, high.estimated.amount), 18.0);
    assert_eq!(shown(high, high.split.unwrap().amount.quantity), 4.5);
    assert_eq!(shown(high, high.split.unwrap().amount.usage), -2.5);
    assert_eq!(of.areas.len(), 1);
    // A face of one's own says the same.
    record.areas = vec![built("High", Some("b"), 150.0)];
    assert_eq!(compared(&record).0.materials, of.materials);
}

/// Parts of a phase add up to the phase, in hours and in money.
#[test]
fn the_parts_of_a_phase_are_the_phase() {
    let estimate = estimate();
    let mut record = record();
    record
        .hours
        .push(worked("place", Scope::Structure("Low".into()), 10.0));
    let (of, _) = compared(&record);
    let parts: Vec<&Line> = of
        .labour
        .iter()
        .filter(|line| line.name == "place")
        .collect();
    let scopes: Vec<&Of> = parts.iter().map(|line| &line.of).collect();
    let at = |name: &str| Of::Labour(0, Scope::Structure(name.into()));
    assert_eq!(scopes, [&at("Low"), &at("High")]);
    let hours: f64 = parts
        .iter()
        .map(|line| shown(line, line.estimated.amount))
        .sum();
    assert_eq!(hours, estimate.labour[0].labour.hours);
    let costs = parts.iter().filter_map(|line| line.estimated.cost);
    let cost = costs.reduce(|a, b| a.plus(b).unwrap());
    assert_eq!(cost, estimate.labour[0].cost);
    assert!(parts[1].actual.is_none());
}

/// Nothing that a record states is dropped.
#[test]
fn what_matches_no_line_is_listed_and_warned_about() {
    let mut record = record();
    record.materials.push(used("mox", 3.0, "bag"));
    record.materials.push(MaterialUsed {
        paid: Some(Paid {
            price: usd("11.50"),
            pack: estimate().materials[0].pack.clone().unwrap(),
        }),
        ..used("plank", 6.0, "bag")
    });
    record
        .hours
        .push(worked("place", Scope::Structure("Hihg".into()), 3.0));
    record.hours.push(worked("place", Scope::Whole, 3.0));
    record
        .hours
        .push(worked("clean", Scope::Structure("Low".into()), 3.0));
    record.areas.push(built("Lou", None, 3.0));
    let (of, said) = compared(&record);
    let listed: Vec<(&str, &str)> = of
        .unmatched
        .iter()
        .map(|one| (one.kind.word(), one.name.as_str()))
        .collect();
    let wanted = [
        ("area", "Lou"),
        ("material", "mox"),
        ("material", "plank"),
        ("hours", "place"),
        ("hours", "place"),
        ("hours", "clean"),
    ];
    assert_eq!(listed, wanted);
    assert_eq!(of.unmatched[2].cost, Some(usd("69.00")));
    let said: Vec<String> = said
        .iter()
        .map(|said| format!("{}: {} | {}", said.code.id(), said.message, said.help))
        .collect();
    insta::assert_snapshot!(said.join("\n"));
}

proptest! {
    /// Whatever is recorded, the parts of every line and of the totals add up to the difference.
    #[test]
    fn parts_add_up_line_by_line_and_over_all(
        (bags, low, high, area) in (0.0..90.0_f64, 0.0..30.0_f64, 0.0..40.0_f64, 1.0..400.0_f64),
        whole in any::<bool>(),
        paid in proptest::option::of(1_i64..9_000),
    ) {
        let mut record = record();
        record.materials.push(MaterialUsed {
            paid: paid.map(|cents| Paid {
                price: Money::new(rust_decimal::Decimal::new(cents, 2), usd("0").currency()),
                pack: estimate().materials[0].pack.clone().unwrap(),
            }),
            ..used("mix", bags, "bag")
        });
        match whole {
            true => record.hours.push(worked("place", Scope::Whole, low + high)),
            false => {
                record.hours.push(worked("place", Scope::Structure("Low".into()), low));
                record.hours.push(worked("place", Scope::Structure("High".into()), high));
            }
        }
        record.areas.push(built("High", None, area));
        let (of, said) = compared(&record);
        prop_assert_eq!(said, vec![]);
        let mut estimated = usd("0");
        for line in of.materials.iter().chain(&of.labour) {
            let Some(actual) = &line.actual else { continue };
            let split = line.split.unwrap();
            let sum = split.amount.quantity.value + split.amount.usage.value;
            let whole = line.difference().unwrap().value;
            prop_assert!((sum - whole).abs() <= 1e-9 * actual.amount.value.max(line.estimated.amount.value));
            let difference = actual.cost.unwrap().minus(line.estimated.cost.unwrap()).unwrap();
            prop_assert_eq!(split.money.unwrap().whole().unwrap(), difference);
            estimated = estimated.plus(line.estimated.cost.unwrap()).unwrap();
        }
        prop_assert_eq!(of.totals.estimated, estimated);
        let difference = of.totals.actual.minus(of.totals.estimated).unwrap();
        prop_assert_eq!(of.totals.split.whole().unwrap(), difference);
    }
}
