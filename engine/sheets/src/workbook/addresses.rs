//! Where the cells of the live model stand, and its formulas as a spreadsheet writes them.

use super::ladder::Ladder;
use super::page::{HEAD_ROW, at};
use super::written::{push_cell, push_fixed, push_number};
use super::{classes, edges, faces, factors, sizes, workings};
use parge_base::trace::Comparison;
use parge_base::{Factor, Function, Operator, Span};
use parge_calc::live::{BidFigure, Cell, Expr, FACE_FIGURES, FaceFigure, Held, Live, NOISE};
use std::collections::{BTreeMap, HashMap};
use std::f64::consts::PI;
use std::fmt::Write as _;
use std::sync::Arc;

/// Letters that a formula may have (a bound of the common programs; ECMA-376 names none), less
/// room for what is put around it.
pub(super) const MOST_LETTERS: usize = 8_000;

/// The places of all cells.
pub(super) struct Addresses<'a> {
    pub(super) live: &'a Live<'a>,
    /// The factors of the sheet, in its order.
    pub(super) factors: Vec<Arc<Factor>>,
    factor_rows: HashMap<Span, u32>,
    /// The first row of each class on its sheet.
    pub(super) class_rows: Vec<u32>,
    /// Where the steps of the price of each version stand.
    ladders: Vec<(Ladder, String)>,
    /// The share of their size by which figures differ that are taken as equal.
    noise: String,
}

impl<'a> Addresses<'a> {
    /// Ladders come with the cell of the hours that are paid.
    pub(super) fn of(live: &'a Live<'a>, ladders: Vec<(Ladder, String)>) -> Self {
        let factors = all_factors(live);
        let rows = factors.iter().zip(HEAD_ROW + 1..);
        Self {
            live,
            factor_rows: rows.map(|(factor, row)| (factor.span, row)).collect(),
            factors,
            class_rows: classes::first_rows(live),
            ladders,
            noise: number(NOISE),
        }
    }

    /// The address of a cell.
    pub(super) fn cell(&self, cell: Cell) -> String {
        let mut text = String::new();
        self.push(cell, &mut text);
        text
    }

    /// Writes the address of a cell.
    pub(super) fn push(&self, cell: Cell, text: &mut String) {
        match cell {
            Cell::Size(number) => push_on(text, sizes::NAME, line(number), sizes::VALUE),
            Cell::Worked(number) => {
                let row = line(self.live.sizes().len() + number);
                push_on(text, sizes::NAME, row, sizes::VALUE);
            }
            Cell::Factor(number) => {
                let factor = self.live.factors().get(number);
                match factor.and_then(|factor| self.factor_rows.get(&factor.span)) {
                    Some(row) => push_on(text, factors::NAME, *row, factors::VALUE),
                    None => text.push_str("NA()"),
                }
            }
            Cell::Face(row, figure) => push_on(text, faces::NAME, line(row), face_column(figure)),
            Cell::FaceCount(row) => push_on(text, faces::NAME, line(row), faces::COUNT),
            Cell::EdgeCount(row) => push_on(text, edges::NAME, line(row), edges::COUNT),
            Cell::Term { class, row, term } => {
                let row = self.class_row(class) + row as u32;
                push_on(text, classes::NAME, row, classes::TERMS + term);
            }
            Cell::TermTotal { class, term } => {
                let row = self.total_row(class);
                push_on(text, classes::NAME, row, classes::TERMS + term);
            }
            Cell::TermColumn { class, term } => {
                let column = classes::TERMS + term;
                let (first, behind) = (self.class_row(class), self.total_row(class));
                push_on(text, classes::NAME, first, column);
                text.push(':');
                push_fixed(text, behind.saturating_sub(1), at(column));
            }
            Cell::ClassCount(class) => {
                push_on(text, classes::NAME, self.total_row(class), classes::COUNT);
            }
            Cell::Working(number) => {
                push_on(text, workings::NAME, line(number), workings::VALUE);
            }
            Cell::Bid(version, figure) => match self.ladders.get(version) {
                Some((_, hours)) if figure == BidFigure::Hours => text.push_str(hours),
                Some((ladder, _)) => text.push_str(&ladder.figure(figure)),
                None => text.push_str("NA()"),
            },
        }
    }

    fn class_row(&self, class: usize) -> u32 {
        self.class_rows.get(class).copied().unwrap_or(0)
    }

    pub(super) fn total_row(&self, class: usize) -> u32 {
        let rows = self
            .live
            .classes
            .get(class)
            .map_or(0, |class| class.rows.len());
        self.class_row(class) + rows as u32
    }

    /// A formula, without the sign that begins it.
    pub(super) fn formula(&self, expr: &Expr) -> String {
        let mut text = String::new();
        self.push_formula(expr, &mut text);
        text
    }

    /// Writes a formula, without the sign that begins it.
    pub(super) fn push_formula(&self, expr: &Expr, text: &mut String) {
        self.write(expr, SUM, text);
    }

    /// Writes a formula, in brackets where it binds less closely than asked for.
    fn write(&self, expr: &Expr, least: u8, text: &mut String) {
        match expr {
            Expr::Number(value) => push_figure(text, *value),
            Expr::At(cell) => self.push(*cell, text),
            Expr::Apply(function, a) => self.write_function(*function, a, text),
            Expr::Combine(Operator::Min, sides) => self.write_call("MIN", sides.iter(), text),
            Expr::Combine(Operator::Max, sides) => self.write_call("MAX", sides.iter(), text),
            Expr::Largest(of) => self.write_call("MAX", of.iter(), text),
            Expr::Sum(of) if of.is_empty() => text.push('0'),
            Expr::Sum(of) => self.bracketed(SUM < least, text, |text| {
                for (number, part) in of.iter().enumerate() {
                    if number > 0 {
                        text.push('+');
                    }
                    self.write(part, SUM, text);
                }
            }),
            Expr::Combine(operator, sides) => {
                let [a, b] = sides.as_ref();
                let (sign, binds, right) = match operator {
                    Operator::Add => ('+', SUM, SUM),
                    Operator::Subtract => ('-', SUM, PRODUCT),
                    Operator::Multiply => ('*', PRODUCT, PRODUCT),
                    Operator::Divide => ('/', PRODUCT, POWER),
                    _ => ('^', POWER, WHOLE),
                };
                // A power of a power is read from the left in some programs only.
                let left = if binds == POWER { WHOLE } else { binds };
                self.bracketed(binds < least, text, |text| {
                    self.write(a, left, text);
                    text.push(sign);
                    self.write(b, right, text);
                });
            }
        }
    }

    fn bracketed(&self, brackets: bool, text: &mut String, write: impl FnOnce(&mut String)) {
        if brackets {
            text.push('(');
        }
        write(text);
        if brackets {
            text.push(')');
        }
    }

    fn write_function(&self, function: Function, a: &Expr, text: &mut String) {
        let name = match function {
            Function::Negate => "(-",
            Function::Abs => "ABS(",
            Function::Root => "SQRT(",
            Function::ArcSine => "ASIN(",
            Function::Exp => "EXP(",
            Function::Ln => "LN(",
            // Rounded up, below nothing too; `ROUNDUP` goes away from nothing.
            Function::WholeUp => "(-INT(-ROUND(",
            Function::Round => "ROUND(",
        };
        text.push_str(name);
        self.write(
            a,
            if function == Function::Negate {
                WHOLE
            } else {
                SUM
            },
            text,
        );
        text.push_str(match function {
            Function::WholeUp => ",9)))",
            Function::Round => ",0)",
            _ => ")",
        });
    }

    fn write_call<'e>(&self, name: &str, of: impl Iterator<Item = &'e Expr>, text: &mut String) {
        text.push_str(name);
        text.push('(');
        for (number, part) in of.enumerate() {
            if number > 0 {
                text.push(',');
            }
            self.write(part, SUM, text);
        }
        text.push(')');
    }

    /// Whether a comparison turns out as it did, as a condition.
    pub(super) fn condition(&self, held: &Held) -> String {
        let mut text = String::new();
        self.push_condition(held, &mut text);
        text
    }

    fn push_condition(&self, held: &Held, text: &mut String) {
        let (mut a, mut b) = (String::new(), String::new());
        self.write(&held.left, PRODUCT, &mut a);
        self.write(&held.right, PRODUCT, &mut b);
        let (a, b) = (a.as_str(), b.as_str());
        let mut push = |parts: &[&str]| parts.iter().for_each(|part| text.push_str(part));
        let is_over = match held.comparison {
            Comparison::Less => {
                push(&[b, "-", a]);
                held.held
            }
            Comparison::GreaterOrEqual => {
                push(&[b, "-", a]);
                !held.held
            }
            Comparison::Greater => {
                push(&[a, "-", b]);
                held.held
            }
            Comparison::LessOrEqual => {
                push(&[a, "-", b]);
                !held.held
            }
            Comparison::Equal => {
                push(&["ABS(", a, "-", b, ")"]);
                !held.held
            }
            Comparison::NotEqual => {
                push(&["ABS(", a, "-", b, ")"]);
                held.held
            }
        };
        push(&[if is_over { ">" } else { "<=" }]);
        // Nothing is exact beside nothing, so no noise is allowed for there.
        push(&[&self.noise, "*MAX(ABS(", a, "),ABS(", b, "))"]);
    }

    /// A mark that is 0 while all comparisons turn out as they did, and 1 as soon as one does not.
    /// None where that is more than a cell can hold.
    pub(super) fn mark(&self, all: &[Held]) -> Option<String> {
        if all.is_empty() {
            return Some("0".to_owned());
        }
        let mut text = "IF(AND(".to_owned();
        for (number, held) in all.iter().enumerate() {
            if number > 0 {
                text.push(',');
            }
            self.push_condition(held, &mut text);
        }
        text.push_str("),0,1)");
        (text.len() <= MOST_LETTERS && all.len() <= MOST_ARGUMENTS).then_some(text)
    }
}

/// Arguments that a function takes in every program.
const MOST_ARGUMENTS: usize = 250;

// How closely an operation binds what it works on.
const SUM: u8 = 1;
const PRODUCT: u8 = 2;
const POWER: u8 = 3;
const WHOLE: u8 = 4;

/// A number as a formula writes it: with all its digits, and in brackets where it has a sign.
pub(super) fn number(value: f64) -> String {
    let mut text = String::new();
    push_figure(&mut text, value);
    text
}

/// Writes a number as a formula does.
pub(super) fn push_figure(text: &mut String, value: f64) {
    if value == PI {
        return text.push_str("PI()");
    }
    if value == 2.0 * PI {
        return text.push_str("(2*PI())");
    }
    let has_sign = value < 0.0;
    if has_sign {
        text.push('(');
    }
    match value == 0.0 || (1e-6..1e15).contains(&value.abs()) {
        true => push_number(text, value),
        // A text takes whatever is written to it.
        false => drop(write!(text, "{value:E}")),
    }
    if has_sign {
        text.push(')');
    }
}

/// The row of a line of a table.
pub(super) fn line(number: usize) -> u32 {
    HEAD_ROW + 1 + u32::try_from(number).unwrap_or(u32::MAX / 2)
}

/// A cell on a sheet.
pub(super) fn on(sheet: &str, row: u32, column: usize) -> String {
    let mut text = String::new();
    push_on(&mut text, sheet, row, column);
    text
}

/// Writes a cell on a sheet.
pub(super) fn push_on(text: &mut String, sheet: &str, row: u32, column: usize) {
    text.push_str(sheet);
    text.push('!');
    push_fixed(text, row, at(column));
}

/// A cell on the same sheet.
pub(super) fn here(row: u32, column: usize) -> String {
    let mut text = String::new();
    push_cell(&mut text, row, at(column));
    text
}

/// All lines of a column of a sheet.
pub(super) fn column(sheet: &str, column: usize, lines: usize) -> String {
    super::page::lines_of(sheet, column, lines)
}

fn face_column(figure: FaceFigure) -> usize {
    let number = FACE_FIGURES.iter().position(|known| *known == figure);
    faces::FIGURES + number.unwrap_or(0)
}

/// What the figures rest on, each once, in the order of their names.
fn all_factors(live: &Live<'_>) -> Vec<Arc<Factor>> {
    let mut all: BTreeMap<(String, Span), Arc<Factor>> = BTreeMap::new();
    let mut add = |factor: &Arc<Factor>| {
        all.entry((factor.name.clone(), factor.span))
            .or_insert_with(|| Arc::clone(factor));
    };
    for version in &live.versions {
        version
            .estimate
            .takeoff
            .factors()
            .into_iter()
            .for_each(&mut add);
        let charging = version.estimate.charging.iter();
        charging
            .flat_map(|run| run.tape.factors())
            .for_each(&mut add);
    }
    live.factors().iter().for_each(&mut add);
    all.into_values().collect()
}

#[cfg(test)]
mod tests;
