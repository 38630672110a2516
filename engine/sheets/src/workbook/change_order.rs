//! The change order: one sheet that says what changed, in words, in quantities and in money.
//! Differences and sums are live formulas.

mod order;

use super::clean::{clean, cut};
use super::page::{Column, Frame, Page, at};
use super::rows::COMPRESSION;
use super::style::{self, Look};
use super::{OTHER_ROWS, SheetError, check_room, properties};
use crate::shown;
use order::{DIFFERENCE, Figure, Line, Order, WHAT};
use parge_base::Money;
use parge_calc::change::{Amount, Both, Changes, Cost, FaceArea, MaterialChange, Side, Work};
use parge_calc::price::Estimate;
use rust_xlsxwriter::utility::row_col_to_cell;
use rust_xlsxwriter::{Formula, Workbook, XlsxError};

const NAME: &str = "Change order";

/// The widths of the columns in characters; words are wrapped there.
const WIDTHS: [f64; 5] = [42.0, 22.0, 30.0, 30.0, 18.0];

// Rows, from 0.
const STATUS: u32 = 2;
const FACTS: u32 = 4;
const HEAD: u32 = 11;

const NOT_STATED: &str = "not stated";

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

impl Order<'_, '_> {
    /// From cost to price. The totals are the sums of the lines above them.
    fn price(&mut self) -> Result<(), XlsxError> {
        let changes = self.changes;
        self.head("Price", ["In", "Before", "After", "Difference"], true)?;
        let first = self.page.row();
        for step in &changes.steps {
            let item = match step.name {
                "materials" => "Materials",
                "freight" => "Freight",
                "labour" => "Labour",
                "burden" => "Burden on wages",
                "overhead" => "Overhead",
                "contingency" => "Contingency",
                "profit" => "Profit",
                "allowances" => "Allowances",
                "charges" => "Charges",
                "minimum" => "Up to the minimum",
                "rounding" => "Rounding",
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

    /// Materials with their waste, packs where their number changed, hours.
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
        let packs = amounts.map(|amount| Figure::of(amount, |a| a.packs));
        if packs.old == packs.new {
            return Ok(());
        }
        self.line(&Line {
            item: &change.description,
            units: Both {
                old: "packs",
                new: "packs",
            },
            note: " to buy",
            figures: packs,
            look: Look::Count,
        })
    }

    /// The lines whose cost changed.
    fn costs(&mut self) -> Result<(), XlsxError> {
        let costs = self.changes.costs();
        if costs.is_empty() {
            return Ok(());
        }
        let heads = ["In", "Before", "After", "Difference"];
        self.head("Cost of what changed", heads, true)?;
        let first = self.page.row();
        let sides = self.changes.sides.as_ref();
        let mut sums = sides.map(|side| Money::zero(side.currency));
        for line in &costs {
            for (sum, cost) in [
                (&mut sums.old, line.cost.old),
                (&mut sums.new, line.cost.new),
            ] {
                if let Cost::Priced(cost) = cost {
                    *sum = sum.plus(cost).unwrap_or(*sum);
                }
            }
            let figure = |cost| match cost {
                Cost::None => Figure::Number(0.0),
                Cost::Open => Figure::Open,
                Cost::Priced(cost) => Figure::Number(cost.to_f64()),
            };
            self.money(line.description, line.cost.map(figure))?;
        }
        self.total("Materials and labour that changed", first, sums)
    }
}

#[cfg(test)]
mod tests;
