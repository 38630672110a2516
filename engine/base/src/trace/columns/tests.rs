use super::*;
use crate::trace::{Comparison, Function, Operator};
use proptest::prelude::*;

fn metres(value: f64) -> Quantity {
    Quantity {
        value,
        dim: Dim::LENGTH,
    }
}

/// The rows of some inputs, and the numbers of all of them.
fn columns(rows: &[Vec<Quantity>]) -> (Columns, Vec<usize>) {
    let mut columns = Columns::of_kinds(rows.first().map_or(&[][..], Vec::as_slice));
    let numbers = rows.iter().map(|row| columns.push(row).unwrap()).collect();
    (columns, numbers)
}

/// `sqrt(length - 2 m)` where the length is below 9 m.
fn rooted(length: f64) -> (Tape, NodeId) {
    let mut tape = Tape::new();
    let length = tape.input("length".into(), metres(length), None);
    let [two, nine, one] = [2.0, 9.0, 1.0].map(|value| tape.literal(metres(value), None));
    let over = tape.combine(Operator::Subtract, length, two, None).unwrap();
    tape.compare(Comparison::Less, length, nine, None).unwrap();
    let plain = tape.combine(Operator::Divide, over, one, None).unwrap();
    let root = tape.apply(Function::Root, plain, None).unwrap();
    (tape, root)
}

#[test]
fn rows_drop_out_where_a_comparison_differs_or_a_node_has_no_value() {
    let (tape, root) = rooted(3.0);
    let rows = [6.0, 9.0, 1.0, 2.0, 18.0, 3.0].map(|length| vec![metres(length)]);
    let (inputs, all) = columns(&rows);
    let replayed = tape.replay_columns(&inputs, &all, &[root]).unwrap();
    assert_eq!(replayed.rows(), [0, 3, 5]);
    let values: Vec<f64> = (0..3)
        .map(|at| replayed.value(at, root).unwrap().value)
        .collect();
    assert_eq!(values, [2.0, 0.0, 1.0]);
    assert!(replayed.value(3, root).is_none());
    assert!(replayed.value(0, NodeId(0)).is_none(), "it was not kept");
}

/// More rows than a block has, of which every third holds, asked for in part.
#[test]
fn blocks_hand_over_their_rows_in_order() {
    let (tape, root) = rooted(3.0);
    let length = |row: usize| [5.0, 1.0, 11.0][row % 3] + row as f64 / 1e4;
    let rows: Vec<Vec<Quantity>> = (0..2000).map(|row| vec![metres(length(row))]).collect();
    let (inputs, _) = columns(&rows);
    let asked: Vec<usize> = (100..1900).collect();
    let replayed = tape.replay_columns(&inputs, &asked, &[root]).unwrap();
    let expected: Vec<usize> = asked.into_iter().filter(|row| row % 3 == 0).collect();
    assert_eq!(replayed.rows(), expected);
    for (at, row) in expected.iter().enumerate() {
        let value = replayed.value(at, root).unwrap().value;
        assert_eq!(value.to_bits(), (length(*row) - 2.0).sqrt().to_bits());
    }
}

#[test]
fn inputs_of_other_kinds_are_refused() {
    let (tape, root) = rooted(3.0);
    let plain = Columns::of_kinds(&[Quantity::plain(1.0)]);
    let refused = tape.replay_columns(&plain, &[], &[root]);
    assert_eq!(refused.unwrap_err(), ReplayError::OtherInputs);
    let mut lengths = Columns::of_kinds(&[metres(1.0)]);
    assert_eq!(lengths.push(&[Quantity::plain(1.0)]), None);
    assert_eq!(lengths.push(&[]), None);
    assert!(lengths.is_empty());
    assert_eq!(lengths.push(&[metres(1.0)]), Some(0));
    assert_eq!(lengths.len(), 1);
    // A row that is not there says nothing.
    let replayed = tape.replay_columns(&lengths, &[7], &[root]).unwrap();
    assert!(replayed.rows().is_empty());
}

/// A length to the power of a count of coats is an area for 2 and a volume for 3.
#[test]
fn a_row_whose_power_is_of_another_kind_drops_out() {
    let mut tape = Tape::new();
    let length = tape.input("length".into(), metres(3.0), None);
    let coats = tape.input("coats".into(), Quantity::plain(2.0), None);
    let power = tape.combine(Operator::Power, length, coats, None).unwrap();
    let rows = [2.0, 3.0, 2.5, 2.0].map(|coats| vec![metres(1.5), Quantity::plain(coats)]);
    let (inputs, all) = columns(&rows);
    let replayed = tape.replay_columns(&inputs, &all, &[power]).unwrap();
    assert_eq!(replayed.rows(), [0, 3]);
    assert_eq!(
        replayed.value(1, power).unwrap(),
        Quantity::new(2.25, Dim::AREA).unwrap()
    );
}

/// A sum of a thousand terms, none of which is needed later, takes room for two.
#[test]
fn a_long_tape_takes_little_room() {
    let mut tape = Tape::new();
    let mut sum = tape.input("length".into(), metres(1.0), None);
    for _ in 0..1000 {
        let one = tape.literal(metres(1.0), None);
        sum = tape.combine(Operator::Add, sum, one, None).unwrap();
    }
    let (inputs, all) = columns(&[vec![metres(5.0)], vec![metres(6.0)]]);
    let program = Program::new(&tape, &inputs, &[sum]).unwrap();
    assert_eq!(program.lasting.len(), 3, "of which one is kept");
    let replayed = tape.replay_columns(&inputs, &all, &[sum]).unwrap();
    assert_eq!(replayed.value(0, sum).unwrap().value, 1005.0);
}

/// What a script may do next: the numbers choose an operation and the nodes it works on.
#[derive(Debug, Clone, Copy)]
enum Line {
    Literal(f64, usize),
    Apply(usize, usize),
    Combine(usize, usize, usize),
    Compare(usize, usize, usize),
}

const FUNCTIONS: [Function; 8] = [
    Function::Negate,
    Function::Abs,
    Function::Root,
    Function::ArcSine,
    Function::Exp,
    Function::Ln,
    Function::WholeUp,
    Function::Round,
];
const OPERATORS: [Operator; 8] = [
    Operator::Add,
    Operator::Subtract,
    Operator::Multiply,
    Operator::Divide,
    Operator::Power,
    Operator::Power,
    Operator::Min,
    Operator::Max,
];
const COMPARISONS: [Comparison; 6] = [
    Comparison::Less,
    Comparison::LessOrEqual,
    Comparison::Greater,
    Comparison::GreaterOrEqual,
    Comparison::Equal,
    Comparison::NotEqual,
];
const KINDS: [Dim; 3] = [Dim::NONE, Dim::LENGTH, Dim::AREA];

/// The kinds of the inputs of made-up tapes.
const INPUTS: [Dim; 5] = [Dim::NONE, Dim::NONE, Dim::LENGTH, Dim::LENGTH, Dim::AREA];

fn pick<T: Copy>(from: &[T], number: usize) -> T {
    from[number % from.len()]
}

/// A script run for some inputs: its tape and which lines could be done. With `only`, the lines
/// that must be done; none where one of them cannot.
fn built(lines: &[Line], row: &[Quantity], only: Option<&[bool]>) -> Option<(Tape, Vec<bool>)> {
    let mut tape = Tape::new();
    let mut nodes: Vec<NodeId> = Vec::new();
    for (slot, input) in row.iter().enumerate() {
        nodes.push(tape.input(format!("input{slot}").into(), *input, None));
    }
    let mut done = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        if only.is_some_and(|only| !only[at]) {
            done.push(false);
            continue;
        }
        let made = match *line {
            Line::Literal(value, kind) => {
                let dim = pick(&KINDS, kind);
                Ok(Some(tape.literal(Quantity { value, dim }, None)))
            }
            Line::Apply(function, a) => tape
                .apply(pick(&FUNCTIONS, function), pick(&nodes, a), None)
                .map(Some),
            Line::Combine(operator, a, b) => tape
                .combine(
                    pick(&OPERATORS, operator),
                    pick(&nodes, a),
                    pick(&nodes, b),
                    None,
                )
                .map(Some),
            Line::Compare(comparison, a, b) => tape
                .compare(
                    pick(&COMPARISONS, comparison),
                    pick(&nodes, a),
                    pick(&nodes, b),
                    None,
                )
                .map(|_| None),
        };
        if made.is_err() && only.is_some() {
            return None;
        }
        done.push(made.is_ok());
        nodes.extend(made.ok().flatten());
    }
    Some((tape, done))
}

/// Whether two runs of one script are of one class: comparisons turned out the same, and figures
/// are of the same kinds.
fn of_one_class(tape: &Tape, fresh: &Tape) -> bool {
    let held =
        |tape: &Tape| -> Vec<bool> { tape.guards().iter().map(|guard| guard.held).collect() };
    let kinds =
        |tape: &Tape| -> Vec<Dim> { tape.nodes().map(|(_, node)| node.value.dim).collect() };
    held(tape) == held(fresh) && kinds(tape) == kinds(fresh)
}

fn a_value() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => prop::sample::select(vec![
            0.0, -0.0, 1.0, -1.0, 2.0, 3.0, 0.5, 1.5, -2.5, 1.0 + 1e-13, 1.0 - 1e-11, 1e200, 1e-200, -1e300,
        ]),
        3 => -10.0..10.0f64,
        2 => 0.1..1.0f64,
    ]
}

fn a_line() -> impl Strategy<Value = Line> {
    let any = 0..1000usize;
    prop_oneof![
        1 => (a_value(), any.clone()).prop_map(|(value, kind)| Line::Literal(value, kind)),
        2 => (any.clone(), any.clone()).prop_map(|(f, a)| Line::Apply(f, a)),
        6 => (any.clone(), any.clone(), any.clone()).prop_map(|(o, a, b)| Line::Combine(o, a, b)),
        1 => (any.clone(), any.clone(), any).prop_map(|(c, a, b)| Line::Compare(c, a, b)),
    ]
}

/// Rows that share most of their values, so that many are of one class. Some inputs are the same
/// for all of them, but perhaps not for the first.
fn some_rows() -> impl Strategy<Value = Vec<Vec<Quantity>>> {
    let row = |base: Vec<f64>| {
        let others = prop::collection::vec((0..INPUTS.len(), a_value(), 0.5..1.5f64), 1..40);
        let same = prop::collection::vec(prop::option::weighted(0.4, a_value()), INPUTS.len());
        let as_first = prop::collection::vec(any::<bool>(), INPUTS.len());
        (others, same, as_first).prop_map(move |(others, same, as_first)| {
            let mut rows = vec![base.clone()];
            for (slot, value, factor) in others {
                let mut row: Vec<f64> = base.iter().map(|value| value * factor).collect();
                row[slot] = value;
                for (slot, same) in same.iter().enumerate() {
                    if let Some(same) = same {
                        row[slot] = if as_first[slot] { base[slot] } else { *same };
                    }
                }
                rows.push(row);
            }
            let kinds = |row: Vec<f64>| -> Vec<Quantity> {
                let pairs = row.into_iter().zip(INPUTS);
                pairs.map(|(value, dim)| Quantity { value, dim }).collect()
            };
            rows.into_iter().map(kinds).collect()
        })
    };
    prop::collection::vec(a_value(), INPUTS.len()).prop_flat_map(row)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    /// Columns say of every row what a replay of the row alone and a fresh run say, to the last
    /// bit, and leave out those for which the tape does not hold.
    #[test]
    fn columns_equal_replay_and_a_fresh_run(
        lines in prop::collection::vec(a_line(), 1..40),
        rows in some_rows(),
        keep in prop::collection::vec(any::<bool>(), 45),
    ) {
        let (tape, done) = built(&lines, &rows[0], None).unwrap();
        let nodes: Vec<NodeId> = tape.nodes().map(|(id, _)| id).collect();
        let kept: Vec<NodeId> = nodes.iter().zip(&keep).filter(|(_, keep)| **keep).map(|(id, _)| *id).collect();
        let (inputs, all) = columns(&rows);
        let replayed = tape.replay_columns(&inputs, &all, &kept).unwrap();
        prop_assert_eq!(replayed.rows().first(), Some(&0), "the row that the tape was made for");
        // The same without that row, so that more is the same for all.
        let (inputs, others) = columns(&rows[1..]);
        let of_others = tape.replay_columns(&inputs, &others, &kept).unwrap();
        let without_first: Vec<usize> = replayed.rows()[1..].iter().map(|row| row - 1).collect();
        prop_assert_eq!(of_others.rows(), without_first);
        for (number, row) in rows.iter().enumerate() {
            let fresh = built(&lines, row, Some(&done)).map(|(tape, _)| tape);
            let fresh = fresh.filter(|fresh| of_one_class(&tape, fresh));
            let alone = tape.replay(row).ok();
            let alone = alone.filter(|alone| tape.nodes().all(|(id, node)| alone.value(id).dim == node.value.dim));
            let position = replayed.rows().iter().position(|row| *row == number);
            prop_assert_eq!(position.is_some(), fresh.is_some());
            prop_assert_eq!(position.is_some(), alone.is_some());
            let (Some(position), Some(fresh), Some(alone)) = (position, fresh, alone) else { continue };
            for node in &kept {
                let together = replayed.value(position, *node).unwrap();
                let among_others = position.checked_sub(1).map(|at| of_others.value(at, *node).unwrap());
                let own = [fresh.value(*node), alone.value(*node)];
                for other in own.into_iter().chain(among_others) {
                    prop_assert_eq!(together.value.to_bits(), other.value.to_bits());
                    prop_assert_eq!(together.dim, other.dim);
                }
            }
        }
    }
}
