use super::*;
use parge_base::number::whole_up;

fn sum(plan: &DayPlan, mix: &str, value: impl Fn(&Card) -> f64) -> f64 {
    let cards = plan.cards.iter().filter(|card| &*card.mix == mix);
    cards.map(value).sum()
}

/// 33.183 bags with waste over days and finishes: 34 are bought, and 34 stand on the cards.
#[test]
fn the_cards_add_up_to_the_bags_that_are_bought() {
    let rest = "finish rough { technique carve  thickness 1in }\n\
        structure Wall on block { face f rect 13ft 7in x 9ft plain  face g rect 6ft 6in x 9ft rough }";
    let takeoff = taken(START, rest);
    let plan = plan_of(&takeoff);
    for mix in ["scratch-mix", "finish-mix"] {
        let needs = takeoff.faces.iter().flat_map(|taken| &taken.needs);
        let of_mix = needs.filter(|need| &*need.item == mix);
        let bought: f64 = of_mix
            .map(|need| need.amount.value + need.waste.value)
            .sum();
        assert_eq!(sum(plan, mix, |card| card.bags), whole_up(bought));
        assert!((sum(plan, mix, |card| card.placed) - bought).abs() < 1e-9);
        assert!(bought.fract() > 0.1);
    }
    let finishes = plan.cards.iter().map(|card| card.finish);
    assert_eq!(finishes.collect::<std::collections::BTreeSet<_>>().len(), 2);
}

/// Scratching takes 6.5 min a bag: two people put up 6 in 20 min, and the mixer holds 2. Placing
/// takes 1.09 h a bag: they put up 0.611 of one.
#[test]
fn a_batch_is_what_the_mixer_holds_or_what_is_placed_in_time() {
    let takeoff = taken(START, WALL);
    let plan = plan_of(&takeoff);
    let rounded = |x| parge_base::number::round_to(x, 3);
    for card in &plan.cards {
        let batch = if &*card.mix == "scratch-mix" {
            2.0
        } else {
            rounded(40.0 * 33.0 / 2160.0)
        };
        assert_eq!((card.people, rounded(card.batch)), (2, batch));
        assert_eq!(card.batches, whole_up(card.placed / card.batch));
    }
    // Two people have mobilised, lathed and scratched 7.3 h into the Monday. 48 h later 0.7 h are
    // left of the Wednesday for 27 h of placing and stamping: 0.7 + 8 + 8 + 8 + 2.3.
    let days: Vec<usize> = plan
        .cards
        .iter()
        .filter(|card| &*card.mix == "finish-mix")
        .map(|card| card.day)
        .collect();
    assert_eq!(days.len(), 5);
    assert_eq!(sum(plan, "finish-mix", |card| card.bags), 33.0);
}

/// A day that only uses up a bag of the day before still mixes it.
#[test]
fn what_is_left_of_a_bag_is_mixed_on_the_next_day() {
    let rest = "structure Wall on block { face f rect 5ft 6in x 9ft plain }";
    let takeoff = taken("crew 1  start 2026-06-01  hours 1h", rest);
    let cards = &plan_of(&takeoff).cards;
    assert!(cards.iter().any(|card| card.bags == 0.0));
    assert!(
        cards
            .iter()
            .all(|card| card.placed > 0.0 && card.batches >= 1.0)
    );
}
