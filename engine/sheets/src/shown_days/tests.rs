use super::*;
use crate::sample;

#[test]
fn work_and_batches_in_words() {
    let mut text = String::new();
    for sample in [sample::on_days(), sample::on_undated_days()] {
        assert!(sample.diagnostics.is_empty(), "{:?}", sample.diagnostics);
        let takeoff = &sample.estimate.takeoff;
        let plan = takeoff.days.as_ref().unwrap();
        for line in work(takeoff, plan) {
            text += &format!("{line:?}\n");
        }
        for card in cards(takeoff, plan) {
            let CardShown {
                day, mix, finish, ..
            } = card;
            text += &format!(
                "{} {mix} {finish}, {} bags, {} batches, {}, {:?}\n",
                day.label,
                card.card.bags,
                card.batches,
                card.largest(),
                card.given
            );
        }
    }
    insta::assert_snapshot!(text);
}

/// What a rule may give: each in the unit it is read in, never a bare number with a unit lost.
#[test]
fn figures_of_a_card_in_the_units_of_the_site() {
    let units = parge_base::Units::standard();
    let shown = |value: f64, unit: &str, system| {
        let quantity = units.parse(unit).unwrap().quantity(value).unwrap();
        let (value, unit) = in_words(quantity, system);
        format!("{} {unit}", round_to(value, NOISE_DECIMALS))
            .trim()
            .to_owned()
    };
    let both = |value, unit| [UnitSystem::Us, UnitSystem::Metric].map(|of| shown(value, unit, of));
    assert_eq!(both(20.0, "min"), ["20 min", "20 min"]);
    assert_eq!(both(5.0, "qt/bag"), ["5 qt/bag", "4.73176473 L/bag"]);
    assert_eq!(both(5.0, "qt"), ["5 qt", "4.73176473 L"]);
    assert_eq!(both(2.0, "lb/bag"), ["2 lb/bag", "0.90718474 kg/bag"]);
    assert_eq!(both(1.0, "in"), ["1 in", "25.4 mm"]);
    assert_eq!(both(80.0, "F"), ["80 F", "26.666666667 C"]);
    assert_eq!(both(2.0, "1"), ["2", "2"]);
    assert_eq!(both(2.0, "bag"), ["2 bag", "2 bag"]);
    // Neither of these has a unit of its own here: SI units say what they are.
    assert_eq!(both(1.0, "ft2"), ["0.09290304 m2", "0.09290304 m2"]);
    assert_eq!(
        both(6.0, "bag/h"),
        ["0.001666667 bag/s", "0.001666667 bag/s"]
    );
}

/// A part of a bag is rounded down: more of it could not be placed in time.
#[test]
fn the_largest_batch_in_words() {
    let sample = sample::on_days();
    let takeoff = &sample.estimate.takeoff;
    let mut plan = takeoff.days.clone().unwrap();
    plan.cards.truncate(1);
    let mut said = |batch| {
        plan.cards.iter_mut().for_each(|card| card.batch = batch);
        cards(takeoff, &plan).next().unwrap().largest()
    };
    assert_eq!(said(0.998), "part of a bag, 0.99");
    assert_eq!(said(0.57), "part of a bag, 0.57");
    assert_eq!(said(1.0), "1 bag");
    assert_eq!(said(3.0), "3 bags");
}
