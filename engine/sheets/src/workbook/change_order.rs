//! The change order: one sheet that says what changed, in words, in quantities and in money.
//! Differences and sums are live formulas.

use super::clean::{clean, cut};
use super::page::{Column, Frame, Page, at};
use super::style::{self, Look};
use super::{COMPRESSION, OTHER_ROWS, SheetError, check_room, properties};
use crate::shown;
use parge_base::number::round_to;
use parge_base::{Currency, Money};
use parge_calc::change::{Amount, Both, Changes, FaceArea, MaterialChange, Side, Work};
use parge_calc::price::Estimate;
use rust_xlsxwriter::utility::row_col_to_cell;
use rust_xlsxwriter::{Format, Formula, Workbook, XlsxError};

const NAME: &str = "Change order";

const ITEM: usize = 0;
const WHAT: usize = 1;
const BEFORE: usize = 2;
const AFTER: usize = 3;
const DIFFERENCE: usize = 4;

/// The widths of the columns in characters; words are wrapped there.
const WIDTHS: [f64; 5] = [42.0, 22.0, 30.0, 30.0, 18.0];

// Rows, from 0.
const STATUS: u32 = 2;
const FACTS: u32 = 4;
const HEAD: u32 = 11;

const NOT_STATED: &str = "not stated";
const NO_PRICE: &str = "no price";

/// The change order as the bytes of an xlsx file. `plans` are the two plans as they are to be
/// named, `new` the estimate that `changes` lead to.
pub fn change_order(
    changes: &Changes,
    plans: Both<&str>,
    new: &Estimate,
) -> Result<Vec<u8>, SheetError> {
    let lines = changes.lines.len()
        + changes.areas.len()
        + 3 * changes.materials.len()
        + 2 * changes.labour.len();
    check_room(NAME, lines + 2 * OTHER_ROWS)?;
    let frame = Frame::new(new);
    let mut book = Workbook::new();
    book.set_properties(&properties(&new.takeoff.measured.job)?);
    book.set_zip_compression_level(COMPRESSION);
    let columns = ["Price", "In", "Before", "After", "Difference"];
    let columns = columns.into_iter().zip(WIDTHS);
    let columns = columns
        .map(|(head, width)| Column::text(head, width))
        .collect();
    let mut page = Page::begin(book.add_worksheet(), &frame, NAME, columns)?;
    for (column, width) in WIDTHS.into_iter().enumerate() {
        page.widen(column, width);
    }
    facts(&mut page, changes, plans, new)?;
    page.header(HEAD)?;
    // What stands at the head of every printed page: title and job, since the tables differ.
    page.sheet.set_repeat_rows(0, 1)?;
    let mut order = Order { page, changes };
    order.price()?;
    order.lines()?;
    order.areas()?;
    order.quantities()?;
    order.costs()?;
    order.page.end()?;
    Ok(crate::seal::seal(book.save_to_buffer()?))
}

fn facts(
    page: &mut Page<'_>,
    changes: &Changes,
    plans: Both<&str>,
    new: &Estimate,
) -> Result<(), XlsxError> {
    let job = &new.takeoff.measured.job;
    let Both { old, new } = &changes.sides;
    let stated = |text: &Option<String>| text.clone().unwrap_or_else(|| NOT_STATED.to_owned());
    let plan = |plan: &str, side: &Side| match side.open_lines {
        0 => plan.to_owned(),
        open => format!("{plan}, {}", shown::status(open)),
    };
    let pack = |side: &Side| format!("{} {}", side.pack.name, side.pack.version);
    let changed = |old: String, new: String| match old == new {
        true => new,
        false => format!("{new}; before: {old}"),
    };
    let facts = [
        ("Client", stated(&job.client)),
        ("Site", stated(&job.site)),
        ("Plan before", plan(plans.old, old)),
        ("Plan after", plan(plans.new, new)),
        ("Rule pack", changed(pack(old), pack(new))),
        (
            "Currency",
            changed(
                old.currency.code().to_owned(),
                new.currency.code().to_owned(),
            ),
        ),
    ];
    for (row, (name, fact)) in (FACTS..).zip(facts) {
        let fact = cut(&clean(&fact), 300);
        page.sheet
            .write_string_with_format(row, 0, name, &style::fact_name())?;
        page.sheet
            .merge_range(row, at(WHAT), row, at(DIFFERENCE), &fact, &style::fact())?;
        // A merged cell does not find its own height.
        if fact.chars().count() > 90 {
            page.sheet
                .set_row_height(row, 15 * (1 + fact.chars().count() / 90) as u32)?;
        }
    }
    Ok(())
}

/// The sheet, written from the top down.
struct Order<'w, 'c> {
    page: Page<'w>,
    changes: &'c Changes,
}

/// What a cell before or after holds.
#[derive(Clone, Copy)]
enum Figure {
    Number(f64),
    /// Needed, and without a price.
    Open,
}

impl Figure {
    /// A figure of something: nothing of it is zero, and what has no figure is open.
    fn of<T>(found: Option<T>, figure: impl Fn(T) -> Option<f64>) -> Self {
        match found.map(figure) {
            None => Self::Number(0.0),
            Some(Some(number)) => Self::Number(number),
            Some(None) => Self::Open,
        }
    }
}

/// A line of figures.
struct Line<'l> {
    item: &'l str,
    /// What the figures are in; two that differ leave no difference.
    units: Both<&'l str>,
    /// What is said behind the unit.
    note: &'l str,
    figures: Both<Figure>,
    look: Look,
}

impl Order<'_, '_> {
    /// From cost to price. The totals are the sums of the lines above them.
    fn price(&mut self) -> Result<(), XlsxError> {
        let changes = self.changes;
        self.head("Price", ["In", "Before", "After", "Difference"], true)?;
        let first = self.page.row();
        for step in &changes.steps {
            let item = match step.name {
                "materials" => "Materials",
                "labour" => "Labour",
                "burden" => "Burden on wages",
                "overhead" => "Overhead",
                "profit" => "Profit",
                _ => "Tax",
            };
            self.money(
                item,
                step.amount.map(|amount| Figure::Number(amount.to_f64())),
            )?;
        }
        let total = self.page.row();
        self.total("Total", first, changes.total)?;
        self.status(total)
    }

    /// What the change order does to the price; it follows the total.
    fn status(&mut self, total: u32) -> Result<(), XlsxError> {
        let sheet = &mut self.page.sheet;
        let Both { old, new } = &self.changes.sides;
        sheet.set_row_height(STATUS, 22)?;
        if old.open_lines + new.open_lines > 0 {
            let text = "INCOMPLETE: lines without a price are in no sum";
            sheet.write_string_with_format(STATUS, 0, text, &style::alarm())?;
            return Ok(());
        }
        let Some(currency) = self.changes.currency() else {
            let text = "The two estimates are in different currencies: there is no difference";
            sheet.write_string_with_format(STATUS, 0, text, &style::alarm())?;
            return Ok(());
        };
        let cell = row_col_to_cell(total, at(DIFFERENCE));
        let [adds, takes, same] = [
            "Adds to the price",
            "Takes off the price",
            "Leaves the price as it was",
        ];
        let formula = format!("=IF({cell}>0,\"{adds}\",IF({cell}<0,\"{takes}\",\"{same}\"))");
        let Both { old, new } = self.changes.total;
        let result = match new.minus(old).unwrap_or(Money::zero(currency)).to_f64() {
            more if more > 0.0 => adds,
            less if less < 0.0 => takes,
            _ => same,
        };
        let formula = Formula::new(formula).set_result(result);
        sheet.write_formula_with_format(STATUS, 0, formula, &style::status())?;
        Ok(())
    }

    /// What changed, in words.
    fn lines(&mut self) -> Result<(), XlsxError> {
        let changes = self.changes;
        self.head(
            "What changed",
            ["Which value", "Before", "After", ""],
            false,
        )?;
        for line in &changes.lines {
            let words = line.words(changes.units);
            self.page.blank()?;
            let cells = [words.part, words.what, words.old, words.new];
            for (column, text) in cells.iter().enumerate() {
                self.page.text(column, text)?;
            }
            self.page.next()?;
        }
        if changes.lines.is_empty() {
            self.page
                .nothing("nothing in the plan, the rules or the prices")?;
        }
        Ok(())
    }

    /// Coated areas, all equal faces together.
    fn areas(&mut self) -> Result<(), XlsxError> {
        let changes = self.changes;
        self.head("Coated area", ["In", "Before", "After", "Difference"], true)?;
        let unit = shown::print_unit(shown::area_unit(changes.units));
        let area = |quantity| Some(shown::area(quantity, changes.units).0);
        let mut line = |item: &str, area: Both<Figure>| {
            self.line(&Line {
                item,
                units: Both {
                    old: &unit,
                    new: &unit,
                },
                note: "",
                figures: area,
                look: Look::Decimals(1),
            })
        };
        for FaceArea {
            structure,
            face,
            area: found,
        } in &changes.areas
        {
            let item = format!("{structure}, face {face}");
            line(&item, found.map(|found| Figure::of(found, area)))?;
        }
        let all = changes.area.map(|all| Figure::of(Some(all), area));
        line("All faces", all)
    }

    /// Materials with their waste, packs, hours.
    fn quantities(&mut self) -> Result<(), XlsxError> {
        let changes = self.changes;
        if changes.materials.is_empty() && changes.labour.is_empty() {
            return Ok(());
        }
        self.head("Quantities", ["In", "Before", "After", "Difference"], true)?;
        for change in &changes.materials {
            self.material(change)?;
        }
        for change in &changes.labour {
            let hours = |work: Work| Some(work.hours);
            self.line(&Line {
                item: &change.description,
                units: Both {
                    old: "hours",
                    new: "hours",
                },
                note: "",
                figures: change.work.map(|work| Figure::of(work, hours)),
                look: Look::Decimals(2),
            })?;
        }
        Ok(())
    }

    fn material(&mut self, change: &MaterialChange) -> Result<(), XlsxError> {
        let amounts = change.amounts.as_ref().map(Option::as_ref);
        let unit = |amount: &Amount| shown::print_unit(amount.unit.text());
        let units = amounts.map(|amount| amount.map(unit));
        // What is not needed is not needed in any unit.
        let either = units.new.clone().or(units.old.clone()).unwrap_or_default();
        let units = units.map(|unit| unit.unwrap_or_else(|| either.clone()));
        self.line(&Line {
            item: &change.description,
            units: units.as_ref().map(String::as_str),
            note: ", with waste",
            figures: amounts.map(|amount| Figure::of(amount, |a| Some(a.with_waste()))),
            look: Look::Decimals(2),
        })?;
        self.line(&Line {
            item: &change.description,
            units: Both {
                old: "packs",
                new: "packs",
            },
            note: " to buy",
            figures: amounts.map(|amount| Figure::of(amount, |a| a.packs)),
            look: Look::Count,
        })
    }

    /// What the lines that changed cost.
    fn costs(&mut self) -> Result<(), XlsxError> {
        let changes = self.changes;
        if changes.materials.is_empty() && changes.labour.is_empty() {
            return Ok(());
        }
        let heads = ["In", "Before", "After", "Difference"];
        self.head("Cost of what changed", heads, true)?;
        let first = self.page.row();
        let materials = changes.materials.iter().map(|change| {
            let amounts = change.amounts.as_ref().map(Option::as_ref);
            let costs = amounts.map(|amount| amount.map(|amount| amount.cost));
            (change.description.as_str(), costs)
        });
        let labour = changes.labour.iter().map(|change| {
            let costs = change.work.map(|work| work.map(|work| work.cost));
            (change.description.as_str(), costs)
        });
        let mut sums = changes
            .sides
            .as_ref()
            .map(|side| Money::zero(side.currency));
        for (item, costs) in materials.chain(labour) {
            for (sum, cost) in [(&mut sums.old, costs.old), (&mut sums.new, costs.new)] {
                if let Some(Ok(more)) = cost.flatten().map(|cost| sum.plus(cost)) {
                    *sum = more;
                }
            }
            let figure = |cost: Option<Money>| cost.map(Money::to_f64);
            self.money(item, costs.map(|cost| Figure::of(cost, figure)))?;
        }
        self.total("Materials and labour that changed", first, sums)
    }

    /// The header row of a table, with a line of room above all but the first.
    fn head(&mut self, item: &str, rest: [&str; 4], figures: bool) -> Result<(), XlsxError> {
        if self.page.row() > HEAD + 1 {
            self.page.next()?;
        }
        let row = match self.page.row() {
            // The first header is there already, as the page wants it.
            first if first == HEAD + 1 => HEAD,
            row => row,
        };
        for (column, text) in [item].into_iter().chain(rest).enumerate() {
            let format = match figures && column >= BEFORE {
                true => style::head(Look::Count),
                false if column > 0 => style::head(Look::Text).set_indent(1),
                false => style::head(Look::Text),
            };
            self.page
                .sheet
                .write_string_with_format(row, at(column), text, &format)?;
        }
        if row > HEAD {
            self.page.next()?;
        }
        Ok(())
    }

    fn money(&mut self, item: &str, figures: Both<Figure>) -> Result<(), XlsxError> {
        let currency = self.changes.sides.as_ref().map(|side| side.currency);
        self.line(&Line {
            item,
            units: currency.map(Currency::code),
            note: "",
            figures,
            look: Look::money(currency.new),
        })
    }

    /// A line with its difference, which is a formula.
    fn line(&mut self, line: &Line<'_>) -> Result<(), XlsxError> {
        let Both { old, new } = line.units;
        let one_unit = old == new;
        let unit = match one_unit {
            true => format!("{new}{}", line.note),
            false => format!("{old}, then {new}{}", line.note),
        };
        self.page.blank()?;
        self.page.text(ITEM, line.item)?;
        self.page.text(WHAT, &unit)?;
        let format = style::body(line.look);
        self.figure(BEFORE, line.figures.old, &format)?;
        self.figure(AFTER, line.figures.new, &format)?;
        match (line.figures.old, line.figures.new) {
            (Figure::Number(old), Figure::Number(new)) if one_unit => {
                self.difference(new - old, line.look, &format)?;
            }
            _ => {}
        }
        self.page.next()
    }

    fn figure(&mut self, column: usize, figure: Figure, format: &Format) -> Result<(), XlsxError> {
        let (row, column) = (self.page.row(), at(column));
        let sheet = &mut self.page.sheet;
        match figure {
            Figure::Number(number) => {
                sheet.write_number_with_format(row, column, number, format)?
            }
            Figure::Open => sheet.write_string_with_format(row, column, NO_PRICE, format)?,
        };
        Ok(())
    }

    /// After less before, rounded to what is shown so that no binary noise is left of it.
    fn difference(&mut self, result: f64, look: Look, format: &Format) -> Result<(), XlsxError> {
        let [before, after] = [BEFORE, AFTER].map(|column| self.page.here(column));
        let digits = match look {
            Look::Decimals(digits) => digits,
            _ => 0,
        };
        let formula = Formula::new(format!("=ROUND({after}-{before},{digits})"))
            .set_result(round_to(result, digits).to_string());
        self.page.sheet.write_formula_with_format(
            self.page.row(),
            at(DIFFERENCE),
            formula,
            format,
        )?;
        Ok(())
    }

    /// The sums of the lines from `first` on, with their difference.
    fn total(&mut self, label: &str, first: u32, sums: Both<Money>) -> Result<(), XlsxError> {
        let row = self.page.row();
        let last = row.saturating_sub(1);
        let words = style::total(Look::Text);
        let currency = sums.map(Money::currency);
        let look = Look::money(currency.new);
        let format = style::total(look);
        let unit = match currency.old == currency.new {
            true => currency.new.code().to_owned(),
            false => format!("{}, then {}", currency.old.code(), currency.new.code()),
        };
        let sheet = &mut self.page.sheet;
        sheet.write_string_with_format(row, at(ITEM), label, &words)?;
        sheet.write_string_with_format(row, at(WHAT), unit, &words.clone().set_indent(1))?;
        sheet.write_blank(row, at(DIFFERENCE), &format)?;
        for (column, sum) in [(BEFORE, sums.old), (AFTER, sums.new)] {
            let [from, to] = [first, last].map(|row| row_col_to_cell(row, at(column)));
            let formula =
                Formula::new(format!("=SUM({from}:{to})")).set_result(sum.to_f64().to_string());
            sheet.write_formula_with_format(row, at(column), formula, &format)?;
        }
        if let Ok(difference) = sums.new.minus(sums.old) {
            self.difference(difference.to_f64(), look, &format)?;
        }
        self.page.next()
    }
}

#[cfg(test)]
mod tests;
