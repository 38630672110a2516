use super::*;
use proptest::prelude::*;

fn metres(value: f64) -> Quantity {
    Quantity {
        value,
        dim: Dim::LENGTH,
    }
}

/// Width times height, less one tenth where the area is over 4 m².
fn wall(width: f64, height: f64) -> (Tape, NodeId) {
    let mut tape = Tape::new();
    let w = tape.input("width".into(), metres(width), None);
    let h = tape.input("height".into(), metres(height), None);
    let area = tape.combine(Operator::Multiply, w, h, None).unwrap();
    let limit = tape.literal(
        Quantity {
            value: 4.0,
            dim: Dim::AREA,
        },
        None,
    );
    let out = if tape
        .compare(Comparison::Greater, area, limit, None)
        .unwrap()
    {
        let share = tape.literal(Quantity::plain(0.9), None);
        tape.combine(Operator::Multiply, area, share, None).unwrap()
    } else {
        area
    };
    (tape, out)
}

#[test]
fn a_guard_that_turns_out_differently_refuses_the_replay() {
    let (tape, _) = wall(1.0, 2.0);
    let replay = tape.replay(&[metres(3.0), metres(2.0)]);
    assert_eq!(replay.unwrap_err(), ReplayError::GuardFailed);
}

#[test]
fn inputs_of_another_kind_are_refused() {
    let (tape, _) = wall(1.0, 2.0);
    assert_eq!(
        tape.replay(&[metres(1.0)]).unwrap_err(),
        ReplayError::OtherInputs
    );
    let wrong = [metres(1.0), Quantity::plain(1.0)];
    assert_eq!(tape.replay(&wrong).unwrap_err(), ReplayError::OtherInputs);
}

#[test]
fn lengths_have_no_whole_values_but_counts_have() {
    assert!(Function::WholeUp.of(metres(1.5)).is_err());
    assert_eq!(
        Function::WholeUp.of(Quantity::plain(1.5)).unwrap().value,
        2.0
    );
}

#[test]
fn sources_are_read_from_their_column() {
    assert_eq!(FactorSource::parse(" "), None);
    assert_eq!(
        FactorSource::parse("common practice"),
        Some(FactorSource::CommonPractice)
    );
    let memory = FactorSource::parse("from memory: IS 1200").unwrap();
    assert_eq!(memory.to_string(), "from memory: IS 1200");
    assert_eq!(
        FactorSource::parse("Common Practice"),
        Some(FactorSource::CommonPractice)
    );
    assert_eq!(
        FactorSource::parse("From memory: X"),
        Some(FactorSource::FromMemory("X".into()))
    );
    let published = FactorSource::parse("ASTM C926 Table 1").unwrap();
    assert_eq!(
        published,
        FactorSource::Published("ASTM C926 Table 1".into())
    );
}

#[test]
fn a_limit_met_exactly_is_not_passed_by_binary_noise() {
    let mut tape = Tape::new();
    let [a, b, limit] = [0.1, 0.2, 0.3].map(|value| tape.literal(metres(value), None));
    let sum = tape.combine(Operator::Add, a, b, None).unwrap();
    assert!(tape.value(sum).value > 0.3, "the noise this is about");
    assert!(!tape.compare(Comparison::Greater, sum, limit, None).unwrap());
    assert!(tape.compare(Comparison::Equal, sum, limit, None).unwrap());
}

proptest! {
    #[test]
    fn replay_equals_a_fresh_run_to_the_bit(a in 0.1..9.0f64, b in 0.1..9.0f64, c in 0.1..9.0f64) {
        let (tape, out) = wall(a, b);
        let (fresh, fresh_out) = wall(c, b);
        match tape.replay(&[metres(c), metres(b)]) {
            Ok(replay) => prop_assert_eq!(
                replay.value(out).value.to_bits(),
                fresh.value(fresh_out).value.to_bits()
            ),
            Err(error) => prop_assert_eq!(error, ReplayError::GuardFailed),
        }
    }
}

/// `limit = 2 ft`; what is longer counts half. Taken over for another length, the figure rests on
/// the nodes of the tape that took it, to the same bits as a replay.
#[test]
fn a_tape_takes_over_what_another_one_says() {
    let feet = |number: f64| Quantity::new(number * 0.3048, Dim::LENGTH).unwrap();
    let mut rule = Tape::new();
    let length = rule.input("length".into(), feet(9.0), None);
    let limit = rule.literal(feet(2.0), None);
    assert!(
        rule.compare(Comparison::Greater, length, limit, None)
            .unwrap()
    );
    let two = rule.literal(Quantity::plain(2.0), None);
    let half = rule.combine(Operator::Divide, length, two, None).unwrap();

    let mut plan = Tape::new();
    let a = plan.literal(feet(4.0), None);
    let b = plan.literal(feet(3.1), None);
    let sum = plan.combine(Operator::Add, a, b, None).unwrap();
    let grafted = plan.graft(&rule, &[sum]).unwrap();
    let node = grafted.node(half).unwrap();
    let replayed = rule.replay(&[plan.value(sum)]).unwrap().value(half);
    assert_eq!(plan.value(node).value.to_bits(), replayed.value.to_bits());
    assert!(
        matches!(plan.node(node).unwrap().op, Op::Combine(Operator::Divide, left, _) if left == sum)
    );

    let before = plan.len();
    let short = plan.literal(feet(1.0), None);
    assert_eq!(
        plan.graft(&rule, &[short]).unwrap_err(),
        ReplayError::GuardFailed
    );
    assert_eq!(
        plan.len(),
        before + 1,
        "nothing is taken over when a comparison turns out otherwise"
    );
}

/// Exponential and logarithm undo each other, and take plain numbers only.
#[test]
fn exponential_and_logarithm_are_of_plain_numbers() {
    let mut tape = Tape::new();
    let number = tape.literal(Quantity::plain(2.5), None);
    let log = tape.apply(Function::Ln, number, None).unwrap();
    let back = tape.apply(Function::Exp, log, None).unwrap();
    assert!((tape.value(back).value - 2.5).abs() < 1e-15);
    let length = Quantity::new(2.5, Dim::LENGTH).unwrap();
    for function in [Function::Exp, Function::Ln] {
        assert_eq!(
            function.of(length),
            Err(QuantityError::NotPlain(Dim::LENGTH))
        );
    }
    for nothing in [0.0, -1.0] {
        let error = Function::Ln.of(Quantity::plain(nothing));
        assert_eq!(error, Err(QuantityError::NotFinite));
    }
    let error = Function::Exp.of(Quantity::plain(1e6));
    assert_eq!(error, Err(QuantityError::NotFinite));
}

#[test]
fn a_tape_made_again_is_the_one_of_a_first_run() {
    let tape = |length: f64| {
        let mut tape = Tape::new();
        let input = tape.input("length".into(), Quantity::plain(length), None);
        let two = tape.literal(Quantity::plain(2.0), None);
        tape.compare(Comparison::Greater, input, two, None).unwrap();
        tape.combine(Operator::Multiply, input, two, None).unwrap();
        tape
    };
    let again = |length: f64| tape(3.0).again(&[(Quantity::plain(length), None)]);
    let nodes = |tape: &Tape| format!("{:?}", tape.nodes().collect::<Vec<_>>());
    assert_eq!(nodes(&again(7.1).unwrap()), nodes(&tape(7.1)));
    assert_eq!(again(1.0).unwrap_err(), ReplayError::GuardFailed);
}
