//! Rows that are computed together.

use super::inputs::{Column, Columns};
use super::known::holds;
use super::program::{Place, Program, Step, Work};
use crate::quantity::kernel;
use crate::trace::{Comparison, Function, Operator};
use std::cell::Cell;
use std::ops::Range;

/// Few enough that the columns of a rule stay in the cache of a processor, many enough that going
/// from node to node costs nothing beside them.
const ROWS: usize = 256;

/// Goes through some rows of inputs; those that the tape holds for, and the columns, of which the
/// lasting ones have the values of these rows.
pub(super) fn run(
    program: &Program,
    inputs: &Columns,
    rows: &[usize],
) -> (Vec<usize>, Vec<Vec<f64>>) {
    let mut held = Vec::with_capacity(rows.len());
    let mut block = Block::new(program, rows.len());
    for rows in rows.chunks(ROWS) {
        block.begin(rows, inputs.len());
        block.go_through(program, inputs);
        block.end(program);
        held.extend_from_slice(&block.rows);
    }
    let columns = block.columns.into_iter().zip(&program.lasting);
    let lasting = columns.map(|(column, lasting)| match lasting {
        true => column.values,
        false => Vec::new(),
    });
    (held, lasting.collect())
}

struct Block {
    /// Those that the tape may still hold for, and some that have dropped out.
    rows: Vec<usize>,
    /// The same, while they are one after the other.
    range: Option<Range<usize>>,
    /// For each of them, whether it is still in.
    holds: Vec<bool>,
    /// How many have dropped out.
    dropped: usize,
    columns: Vec<Values>,
}

#[derive(Default)]
struct Values {
    /// First what earlier blocks have left, then a value a row, where the column is in use.
    values: Vec<f64>,
    earlier: usize,
}

impl Block {
    fn new(program: &Program, rows: usize) -> Self {
        let column = |lasting: &bool| Values {
            values: Vec::with_capacity(if *lasting { rows } else { rows.min(ROWS) }),
            earlier: 0,
        };
        Self {
            rows: Vec::with_capacity(ROWS),
            range: None,
            holds: Vec::with_capacity(ROWS),
            dropped: 0,
            columns: program.lasting.iter().map(column).collect(),
        }
    }

    fn begin(&mut self, rows: &[usize], existing: usize) {
        self.rows.clear();
        self.rows.extend(rows.iter().filter(|row| **row < existing));
        let first = self.rows.first().copied().unwrap_or_default();
        let range = first..first.saturating_add(self.rows.len());
        self.range = range.clone().eq(self.rows.iter().copied()).then_some(range);
        self.holds.clear();
        self.holds.resize(self.rows.len(), true);
        self.dropped = 0;
    }

    fn go_through(&mut self, program: &Program, inputs: &Columns) {
        for step in &program.steps {
            if self.rows.is_empty() {
                return;
            }
            match *step {
                Step::Fill {
                    out,
                    with,
                    doubtful,
                } => {
                    self.fill(out, with, inputs);
                    if doubtful {
                        self.drop_without_value(out);
                    }
                }
                Step::Guard { a, comparison, b } => {
                    let mut holds = std::mem::take(&mut self.holds);
                    self.guard(comparison, a, b, &mut holds);
                    self.holds = holds;
                    self.take_out();
                }
            }
        }
    }

    /// Makes a column, from others or from an input.
    fn fill(&mut self, out: usize, with: Work, inputs: &Columns) {
        let Some(Values { values, earlier }) = self.columns.get_mut(out) else {
            return;
        };
        let mut made = std::mem::take(values);
        made.truncate(*earlier);
        match with {
            Work::Input(slot) => self.input(inputs.columns.get(slot), &mut made),
            Work::Apply(function, a) => self.apply(function, a, &mut made),
            Work::Combine(operator, a, b) => self.combine(operator, a, b, &mut made),
            Work::WholePower(a, exponent, whole) => {
                self.combined(a, exponent, &mut made, |a, exponent| {
                    match kernel::whole_exponent(exponent) == Some(whole) {
                        true => kernel::whole_power(a, whole),
                        false => f64::NAN,
                    }
                });
            }
        }
        if let Some(column) = self.columns.get_mut(out) {
            column.values = made;
        }
    }

    fn input(&self, column: Option<&Column>, made: &mut Vec<f64>) {
        match (column, &self.range) {
            (Some(Column::Each(values, _)), Some(range)) => {
                made.extend_from_slice(values.get(range.clone()).unwrap_or_default());
            }
            (Some(Column::Each(values, _)), None) => {
                let value = |row: &usize| values.get(*row).copied().unwrap_or(f64::NAN);
                made.extend(self.rows.iter().map(value));
            }
            (Some(Column::Same(value)), _) => made.extend(self.rows.iter().map(|_| *value)),
            (None, _) => made.extend(self.rows.iter().map(|_| f64::NAN)),
        }
    }

    fn apply(&self, function: Function, a: Place, made: &mut Vec<f64>) {
        match a {
            Place::Column(a) => made.extend(self.column(a).iter().map(|a| function.value(*a))),
            Place::Fixed(a) => made.extend(self.rows.iter().map(|_| function.value(a))),
        }
    }

    /// A loop for each operation, so that no row asks which it is.
    fn combine(&self, operator: Operator, a: Place, b: Place, made: &mut Vec<f64>) {
        match operator {
            Operator::Add => self.combined(a, b, made, kernel::sum),
            Operator::Subtract => self.combined(a, b, made, kernel::difference),
            Operator::Multiply => self.combined(a, b, made, kernel::product),
            Operator::Divide => self.combined(a, b, made, kernel::quotient),
            Operator::Power => self.combined(a, b, made, kernel::power),
            Operator::Min => self.combined(a, b, made, kernel::smaller),
            Operator::Max => self.combined(a, b, made, kernel::larger),
        }
    }

    fn combined(&self, a: Place, b: Place, made: &mut Vec<f64>, value: impl Fn(f64, f64) -> f64) {
        match (a, b) {
            (Place::Column(a), Place::Column(b)) => {
                let rows = self.column(a).iter().zip(self.column(b));
                made.extend(rows.map(|(a, b)| value(*a, *b)));
            }
            (Place::Column(a), Place::Fixed(b)) => {
                made.extend(self.column(a).iter().map(|a| value(*a, b)));
            }
            (Place::Fixed(a), Place::Column(b)) => {
                made.extend(self.column(b).iter().map(|b| value(a, *b)));
            }
            (Place::Fixed(a), Place::Fixed(b)) => {
                made.extend(self.rows.iter().map(|_| value(a, b)));
            }
        }
    }

    /// Has those rows drop out that have no value in a column.
    fn drop_without_value(&mut self, column: usize) {
        let mut holds = std::mem::take(&mut self.holds);
        let values = self.column(column);
        let all_finite = values
            .iter()
            .fold(true, |all, value| all & value.is_finite());
        if !all_finite {
            let rows = holds.iter_mut().zip(values);
            rows.for_each(|(holds, value)| *holds &= value.is_finite());
        }
        self.holds = holds;
        if !all_finite {
            self.take_out();
        }
    }

    /// Has those rows drop out for which a comparison does not hold. A loop for each comparison,
    /// without a branch in it.
    fn guard(&self, comparison: Comparison, a: Place, b: Place, rows: &mut [bool]) {
        use Comparison as C;
        match comparison {
            C::Less => self.tried(a, b, rows, |a, b| holds(C::Less, kernel::sides(a, b))),
            C::LessOrEqual => {
                self.tried(a, b, rows, |a, b| {
                    holds(C::LessOrEqual, kernel::sides(a, b))
                });
            }
            C::Greater => self.tried(a, b, rows, |a, b| holds(C::Greater, kernel::sides(a, b))),
            C::GreaterOrEqual => {
                self.tried(a, b, rows, |a, b| {
                    holds(C::GreaterOrEqual, kernel::sides(a, b))
                });
            }
            C::Equal => self.tried(a, b, rows, |a, b| holds(C::Equal, kernel::sides(a, b))),
            C::NotEqual => self.tried(a, b, rows, |a, b| holds(C::NotEqual, kernel::sides(a, b))),
        }
    }

    fn tried(&self, a: Place, b: Place, holds: &mut [bool], same: impl Fn(f64, f64) -> bool) {
        match (a, b) {
            (Place::Column(a), Place::Column(b)) => {
                let rows = self.column(a).iter().zip(self.column(b));
                let rows = holds.iter_mut().zip(rows);
                rows.for_each(|(holds, (a, b))| *holds &= same(*a, *b));
            }
            (Place::Column(a), Place::Fixed(b)) => {
                let rows = holds.iter_mut().zip(self.column(a));
                rows.for_each(|(holds, a)| *holds &= same(*a, b));
            }
            (Place::Fixed(a), Place::Column(b)) => {
                let rows = holds.iter_mut().zip(self.column(b));
                rows.for_each(|(holds, b)| *holds &= same(a, *b));
            }
            (Place::Fixed(a), Place::Fixed(b)) => {
                holds.iter_mut().for_each(|holds| *holds &= same(a, b));
            }
        }
    }

    /// Once half of the rows have dropped out, they are taken out of all columns: those that
    /// belong to another run mostly do so early, and cost no more from then on.
    fn take_out(&mut self) {
        self.dropped = self.holds.iter().filter(|holds| !**holds).count();
        if self.dropped * 2 >= self.rows.len() {
            self.close_up();
        }
    }

    fn close_up(&mut self) {
        if self.dropped == 0 {
            return;
        }
        let numbered = self.holds.iter().enumerate();
        let left: Vec<usize> = numbered
            .filter_map(|(row, holds)| holds.then_some(row))
            .collect();
        // A column that is out of use may be shorter or longer; nobody reads it again.
        for column in &mut self.columns {
            column.close_up(&left);
        }
        let mut each = self.holds.iter();
        self.rows.retain(|_| each.next() == Some(&true));
        self.range = None;
        self.holds.retain(|holds| *holds);
        self.dropped = 0;
    }

    /// The values of the rows in a column.
    fn column(&self, number: usize) -> &[f64] {
        let column = self.columns.get(number);
        let values = column.and_then(|column| column.values.get(column.earlier..));
        values.unwrap_or_default()
    }

    /// Leaves what is left of the block in the lasting columns.
    fn end(&mut self, program: &Program) {
        self.close_up();
        for (column, lasting) in self.columns.iter_mut().zip(&program.lasting) {
            if *lasting {
                column.earlier = column.values.len();
            }
        }
    }
}

impl Values {
    /// Leaves the rows with these numbers, which are in their order.
    fn close_up(&mut self, left: &[usize]) {
        let rows = self.values.get_mut(self.earlier..).unwrap_or_default();
        let rows = Cell::from_mut(rows).as_slice_of_cells();
        let found = left.iter().map_while(|row| rows.get(*row));
        let places = rows.iter().zip(found);
        let kept = places.map(|(place, row)| place.set(row.get())).count();
        self.values.truncate(self.earlier + kept);
    }
}
