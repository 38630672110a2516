use super::*;
use crate::trace::columns::known::holds;
use proptest::prelude::*;

fn between(low: f64, high: f64) -> Span {
    Span::around(&[low, high]).unwrap()
}

#[test]
fn what_is_above_zero_stays_above_zero() {
    let area = between(2.0, 40.0);
    let factor = between(0.1, 0.1);
    let need = Span::combine(Operator::Multiply, area, factor).unwrap();
    assert_eq!(need, between(0.2, 4.0));
    assert!(Span::all(
        Comparison::GreaterOrEqual,
        need,
        between(0.0, 0.0)
    ));
    assert!(Span::all(Comparison::Greater, need, between(0.0, 0.0)));
}

/// 5/8 in and 3/8 in are 1 in: what is nearly equal is no more than a limit, and no less.
#[test]
fn what_is_nearly_equal_is_left_to_the_rows() {
    let (inch, nearly) = (between(1.0, 1.0), between(1.0 + 1e-13, 2.0));
    assert!(!Span::all(Comparison::Greater, nearly, inch));
    assert!(!Span::all(Comparison::NotEqual, nearly, inch));
    assert!(Span::all(Comparison::GreaterOrEqual, nearly, inch));
}

#[test]
fn where_a_row_may_have_no_value_nothing_is_said() {
    let (sides, large) = (between(-1.0, 2.0), between(1.0, 1e300));
    assert_eq!(Span::combine(Operator::Divide, large, sides), None);
    assert_eq!(Span::combine(Operator::Multiply, large, large), None);
    assert_eq!(Span::combine(Operator::Power, large, sides), None);
    assert_eq!(sides.apply(Function::Root), None);
    assert_eq!(large.apply(Function::Ln), None);
    assert_eq!(Span::around(&[1.0, f64::NAN]), None);
    assert_eq!(Span::around(&[]), None);
    assert_eq!(sides.with(f64::INFINITY), None);
}

type Kernel = fn(f64, f64) -> f64;

const OPERATORS: [(Operator, Kernel); 6] = [
    (Operator::Add, kernel::sum),
    (Operator::Subtract, kernel::difference),
    (Operator::Multiply, kernel::product),
    (Operator::Divide, kernel::quotient),
    (Operator::Min, kernel::smaller),
    (Operator::Max, kernel::larger),
];
const FUNCTIONS: [Function; 3] = [Function::Negate, Function::Abs, Function::Root];
const COMPARISONS: [Comparison; 6] = [
    Comparison::Less,
    Comparison::LessOrEqual,
    Comparison::Greater,
    Comparison::GreaterOrEqual,
    Comparison::Equal,
    Comparison::NotEqual,
];

fn some_value() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => prop::sample::select(vec![0.0, -0.0, 1.0, -1.0, 1e200, -1e-200, 5e-324, f64::MAX]),
        2 => -3.0..3.0f64,
        // Neighbours, and what is nearly equal.
        2 => (-40i64..40).prop_map(|steps| f64::from_bits((1.0f64.to_bits() as i64 + steps) as u64)),
        2 => (-40i32..40).prop_map(|steps| 1.0 + f64::from(steps) * 1e-13),
        1 => any::<f64>().prop_filter("finite", |value| value.is_finite()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(5000))]

    /// Whatever is computed from values of two spans lies where they say, and compares as they say.
    #[test]
    fn a_span_holds_for_all_values_in_it(
        a in prop::collection::vec(some_value(), 1..5),
        b in prop::collection::vec(some_value(), 1..5),
    ) {
        let spans = (Span::around(&a).unwrap(), Span::around(&b).unwrap());
        let lies = |span: Span, value: f64| value.is_finite() && span.low <= value && value <= span.high;
        for (operator, value) in OPERATORS {
            let Some(span) = Span::combine(operator, spans.0, spans.1) else { continue };
            for (a, b) in a.iter().flat_map(|a| b.iter().map(move |b| (*a, *b))) {
                prop_assert!(lies(span, value(a, b)), "{operator:?} {a:?} {b:?}");
            }
        }
        for function in FUNCTIONS {
            let Some(span) = spans.0.apply(function) else { continue };
            for a in &a {
                prop_assert!(lies(span, function.value(*a)), "{function:?} {a:?}");
            }
        }
        for comparison in COMPARISONS {
            if Span::all(comparison, spans.0, spans.1) {
                for (a, b) in a.iter().flat_map(|a| b.iter().map(move |b| (*a, *b))) {
                    prop_assert!(holds(comparison, kernel::sides(a, b)), "{comparison:?} {a:?} {b:?}");
                }
            }
        }
    }
}
