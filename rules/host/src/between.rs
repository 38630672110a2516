//! Reading between the rows of a table: `between("pot_life", job.air)`.
//!
//! The last key of such a table is a number with its unit, as in `70F`, and its rows rise. What
//! lies between two rows is interpolated along a straight line, on the tape: the two rows are
//! factors with their sources, and which two they are is recorded as guards.

use crate::context::{Handle, ScriptError};
use crate::csv_text::number;
use crate::operators::Traced;
use crate::run::Record;
use crate::table::{Cell, Row, Table};
use parge_base::trace::Comparison;
use parge_base::{
    Code, Diagnostic, Factor, NodeId, Operator, Quantity, QuantityError, Span, Units,
};
use rhai::{Engine, ImmutableString as Text, NativeCallContext};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What is said outside of the rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outside {
    /// Nothing: an error that names the range.
    Refused,
    /// What the row at that end says.
    Held,
}

const FUNCTIONS: [(&str, Outside); 2] = [
    ("between", Outside::Refused),
    ("between_or_end", Outside::Held),
];

pub(crate) fn register(engine: &mut Engine) {
    for (name, outside) in FUNCTIONS {
        engine.register_fn(name, move |ctx: NativeCallContext, t: Text, at: Traced| {
            between(&ctx, outside, &t, &[], at)
        });
        engine.register_fn(
            name,
            move |ctx: NativeCallContext, t: Text, a: Text, at: Traced| {
                between(&ctx, outside, &t, &[&a], at)
            },
        );
        engine.register_fn(
            name,
            move |ctx: NativeCallContext, t: Text, a: Text, b: Text, at: Traced| {
                between(&ctx, outside, &t, &[&a, &b], at)
            },
        );
    }
}

/// A row as a point of a line.
#[derive(Debug, Clone)]
struct Point<'t> {
    at: Quantity,
    factor: &'t Arc<Factor>,
    row: &'t Row,
}

impl Point<'_> {
    /// The row's last key as written.
    fn written(&self) -> &str {
        self.row.keys.last().map_or("", String::as_str)
    }
}

/// Reads the last key of a row: `70F`, `1 1/2in`, `3`.
fn read_key(key: &str, units: &Units) -> Option<Quantity> {
    let in_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | ' ' | '-' | '+');
    let (figure, unit) = key.split_at(key.find(|c| !in_number(c)).unwrap_or(key.len()));
    let unit = match unit.trim() {
        "" => "1",
        unit => unit,
    };
    units.parse(unit).ok()?.quantity(number(figure)?).ok()
}

/// A row that spoils its table, and why.
struct Fault<'t> {
    row: &'t Row,
    message: String,
    help: &'static str,
}

/// The rows under some leading keys as points. They must be of one kind and rise.
fn points<'t>(
    rows: impl Iterator<Item = &'t Row>,
    units: &Units,
) -> Result<Vec<Point<'t>>, Fault<'t>> {
    let mut points: Vec<Point<'t>> = Vec::new();
    for row in rows {
        let point = point(row, units)?;
        if let Some(before) = points.last() {
            fits(before, &point)?;
        }
        points.push(point);
    }
    Ok(points)
}

fn point<'t>(row: &'t Row, units: &Units) -> Result<Point<'t>, Fault<'t>> {
    let key = row.keys.last().map_or("", String::as_str);
    let at = read_key(key, units).ok_or_else(|| Fault {
        row,
        message: format!("`{key}` is no number with a unit"),
        help: "write every last key as `70F` or `1 1/2in`, since rows are read between",
    })?;
    match &row.cell {
        Cell::Factor(factor) => Ok(Point { at, factor, row }),
        Cell::Text(..) => Err(Fault {
            row,
            message: format!("the row `{key}` says a text, and nothing lies between texts"),
            help: "write a number with its unit",
        }),
    }
}

fn fits<'t>(before: &Point<'t>, point: &Point<'t>) -> Result<(), Fault<'t>> {
    let fault = |message: String, help| Fault {
        row: point.row,
        message,
        help,
    };
    let (first, second) = (before.written(), point.written());
    if before.at.dim != point.at.dim {
        let message = format!(
            "`{second}` is {}, and the row before it is {}",
            point.at.dim.words(),
            before.at.dim.words()
        );
        return Err(fault(
            message,
            "write every key of the table in units of one kind",
        ));
    }
    if before.factor.quantity.dim != point.factor.quantity.dim {
        let message = format!(
            "the row `{second}` says {}, and the row before it {}",
            point.factor.quantity.dim.words(),
            before.factor.quantity.dim.words()
        );
        return Err(fault(
            message,
            "write every value of the table in units of one kind",
        ));
    }
    // Keys that comparisons on the tape would call equal leave no room between them.
    let size = before.at.value.abs().max(point.at.value.abs());
    if point.at.value - before.at.value <= 1e-12 * size {
        let message = format!("`{second}` is not more than `{first}` in the row before it");
        return Err(fault(
            message,
            "put the rows in rising order, each key once",
        ));
    }
    Ok(())
}

/// Looks at a table as it is loaded. One whose last keys all begin with a figure, and not all
/// without a unit, is meant to be read between its rows; plain figures may as well be names, so
/// those are looked at when a rule reads between them.
pub(crate) fn check(table: &Table, units: &Units) -> Vec<Diagnostic> {
    let lasts = || table.rows.iter().filter_map(|row| row.keys.last());
    let figure = |key: &String| {
        let digits = key.trim_start_matches(['-', '+']);
        digits.starts_with(|c: char| c.is_ascii_digit())
    };
    let with_unit = |key: &String| number(key).is_none() && read_key(key, units).is_some();
    if !lasts().all(figure) || !lasts().any(with_unit) {
        return Vec::new();
    }
    let mut groups: BTreeMap<&[String], Vec<&Row>> = BTreeMap::new();
    for row in &table.rows {
        groups.entry(head(row)).or_default().push(row);
    }
    let faults = groups
        .into_values()
        .filter_map(|rows| points(rows.into_iter(), units).err());
    faults
        .map(|fault| {
            Diagnostic::new(Code::BadTable, fault.message, fault.help).at(fault.row.span, "")
        })
        .collect()
}

fn head(row: &Row) -> &[String] {
    row.keys.split_last().map_or(&[], |(_, head)| head)
}

fn between(
    ctx: &NativeCallContext,
    outside: Outside,
    name: &str,
    keys: &[&str],
    at: Traced,
) -> Result<Traced, ScriptError> {
    let handle = Handle::of(ctx)?;
    let fail = |message: String| Handle::fail(ctx, message);
    let context = Arc::clone(&handle.context);
    let table = context.tables.table(name).map_err(fail)?;
    handle.record().looked_through += table.rows.len();
    if keys.len() + 1 != table.key_columns.len() {
        let columns = table.key_columns.join(", ");
        return Err(fail(format!("table `{name}` is looked up by {columns}")));
    }
    let rows = table.rows.iter().filter(|row| head(row) == keys);
    let points = points(rows, &context.units).map_err(|fault| {
        fail(format!(
            "table `{name}` cannot be read between: {}",
            fault.message
        ))
    })?;
    let place = handle.place(ctx);
    let mut record = handle.record();
    let line = Line {
        name,
        points: &points,
        at: at.0,
        place,
    };
    line.value(&mut record, outside).map(Traced).map_err(fail)
}

/// A line through the rows of a table, and where on it a figure lies.
struct Line<'a> {
    name: &'a str,
    points: &'a [Point<'a>],
    at: NodeId,
    place: Option<Span>,
}

impl Line<'_> {
    fn value(&self, record: &mut Record, outside: Outside) -> Result<NodeId, String> {
        let ([first, ..], [.., last]) = (self.points, self.points) else {
            return Err(format!("table `{}` has no rows for these keys", self.name));
        };
        let kind = record.tape.value(self.at).dim;
        if kind != first.at.dim {
            return Err(format!(
                "table `{}` is read between its rows by {}, not by {}",
                self.name,
                first.at.dim.words(),
                kind.words()
            ));
        }
        let error = |error: QuantityError| error.to_string();
        let Some(below) = self.below(record).map_err(error)? else {
            return self.end(record, outside, first, "below");
        };
        match self.points.get(below + 1) {
            Some(above) => match self.points.get(below) {
                Some(below) => self.interpolate(record, below, above).map_err(error),
                None => Err(QuantityError::NotFinite.to_string()),
            },
            None if self
                .compare(record, Comparison::Greater, last)
                .map_err(error)? =>
            {
                self.end(record, outside, last, "above")
            }
            None => Ok(record.tape.factor_node(last.factor)),
        }
    }

    /// The last row whose key is not more than the figure. The two comparisons that part it from
    /// its neighbours are guards, so that a figure between other rows is not given this line.
    fn below(&self, record: &mut Record) -> Result<Option<usize>, QuantityError> {
        let value = record.tape.value(self.at).value;
        // The tape calls figures equal that differ by noise only; it has the last word on the two
        // rows beside the figure.
        let mut next = self.points.partition_point(|point| point.at.value <= value);
        if let Some(point) = self.points.get(next)
            && !self.compare(record, Comparison::Less, point)?
        {
            next += 1;
            if let Some(point) = self.points.get(next) {
                self.compare(record, Comparison::Less, point)?;
            }
        }
        let Some(below) = next.checked_sub(1) else {
            return Ok(None);
        };
        if let Some(point) = self.points.get(below) {
            self.compare(record, Comparison::Less, point)?;
        }
        Ok(Some(below))
    }

    fn compare(
        &self,
        record: &mut Record,
        comparison: Comparison,
        point: &Point<'_>,
    ) -> Result<bool, QuantityError> {
        let key = record.tape.literal(point.at, Some(point.row.span));
        record.tape.compare(comparison, self.at, key, self.place)
    }

    /// `below + (at - key below) / (key above - key below) * (above - below)`.
    fn interpolate(
        &self,
        record: &mut Record,
        below: &Point<'_>,
        above: &Point<'_>,
    ) -> Result<NodeId, QuantityError> {
        let tape = &mut record.tape;
        let from = tape.literal(below.at, Some(below.row.span));
        let to = tape.literal(above.at, Some(above.row.span));
        let (low, high) = (
            tape.factor_node(below.factor),
            tape.factor_node(above.factor),
        );
        let mut combine = |operator, a, b| tape.combine(operator, a, b, self.place);
        let past = combine(Operator::Subtract, self.at, from)?;
        let width = combine(Operator::Subtract, to, from)?;
        let share = combine(Operator::Divide, past, width)?;
        let rise = combine(Operator::Subtract, high, low)?;
        let more = combine(Operator::Multiply, share, rise)?;
        combine(Operator::Add, low, more)
    }

    fn end(
        &self,
        record: &mut Record,
        outside: Outside,
        end: &Point<'_>,
        side: &str,
    ) -> Result<NodeId, String> {
        if outside == Outside::Held {
            return Ok(record.tape.factor_node(end.factor));
        }
        let written = |point: Option<&Point<'_>>| {
            point.map_or(String::new(), |point| point.written().to_owned())
        };
        Err(format!(
            "the value is {side} the rows of table `{}`, which go from `{}` to `{}`; \
             `between_or_end(…)` holds what the row at the end says",
            self.name,
            written(self.points.first()),
            written(self.points.last())
        ))
    }
}

#[cfg(test)]
mod tests;
