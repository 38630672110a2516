//! What changed, as tables on the terminal.

use crate::World;
use crate::table::{grouped, number, table, visible};
use parge_base::{Money, Quantity};
use parge_calc::change::{Amount, Both, Changes, Side, Work};
use parge_sheets::shown;
use std::io;

/// All tables; those without a line are left out.
pub(super) fn show(changes: &Changes, plans: Both<&str>, world: &mut World<'_>) -> io::Result<()> {
    let Both { old, new } = plans;
    let job = &changes.sides.new.job;
    let head = visible(&format!("{job}: from {old} to {new}"));
    writeln!(world.out, "{head}")?;
    for (name, side) in [
        ("before", &changes.sides.old),
        ("after", &changes.sides.new),
    ] {
        incomplete(name, side, world)?;
    }
    if changes.is_empty() {
        return writeln!(world.out, "no difference");
    }
    lines(changes, world)?;
    areas(changes, world)?;
    materials(changes, world)?;
    labour(changes, world)?;
    price(changes, world)
}

/// Lines without a price are in no sum, and whoever reads on must know.
fn incomplete(name: &str, side: &Side, world: &mut World<'_>) -> io::Result<()> {
    match side.open_lines {
        0 => Ok(()),
        open => writeln!(world.out, "{name}: {}", shown::status(open)),
    }
}

fn lines(changes: &Changes, world: &mut World<'_>) -> io::Result<()> {
    let rows = changes.lines.iter().map(|line| {
        let words = line.words(changes.units);
        vec![words.part, words.what, words.old, words.new]
    });
    show_table(
        &["what changed", "", "before", "after"],
        rows.collect(),
        world,
    )
}

fn areas(changes: &Changes, world: &mut World<'_>) -> io::Result<()> {
    let area = |quantity: Quantity| shown::area(quantity, changes.units).0;
    let row = |name: String, both: Both<Option<f64>>| {
        let cell = |area: Option<f64>| area.map_or(String::new(), |area| number(area, 1));
        let more = both.new.unwrap_or(0.0) - both.old.unwrap_or(0.0);
        vec![
            name,
            cell(both.old),
            cell(both.new),
            signed(number(more, 1)),
        ]
    };
    let mut rows: Vec<Vec<String>> = changes
        .areas
        .iter()
        .map(|line| {
            let name = format!("{}, face {}", line.structure, line.face);
            row(name, line.area.map(|found| found.map(area)))
        })
        .collect();
    if !rows.is_empty() {
        let all = changes.area.map(|all| Some(area(all)));
        rows.push(row("all faces".to_owned(), all));
    }
    let unit = shown::print_unit(shown::area_unit(changes.units));
    let heading = format!("coated area, {unit}");
    show_table(&[&heading, ">before", ">after", ">difference"], rows, world)
}

fn materials(changes: &Changes, world: &mut World<'_>) -> io::Result<()> {
    let rows = changes.materials.iter().map(|line| {
        let amounts = line.amounts.as_ref().map(Option::as_ref);
        let need = amounts.map(|amount| {
            amount.map_or(String::new(), |amount| {
                let unit = shown::print_unit(amount.unit.text());
                format!("{} {unit}", number(amount.with_waste(), 2))
            })
        });
        let packs = amounts.map(|amount| {
            let packs = amount.map(|amount| amount.packs.map(|packs| number(packs, 0)));
            packs.map_or(String::new(), Option::unwrap_or_default)
        });
        let cost = |amount: &Amount| amount.cost;
        let costs = amounts.map(|amount| amount.map(cost));
        let mut row = vec![
            line.description.clone(),
            need.old,
            need.new,
            packs.old,
            packs.new,
        ];
        row.extend(money(costs));
        row
    });
    let names = [
        "material, with waste",
        ">need before",
        ">after",
        ">packs before",
        ">after",
        ">cost before",
        ">after",
        ">difference",
    ];
    show_table(&names, rows.collect(), world)
}

fn labour(changes: &Changes, world: &mut World<'_>) -> io::Result<()> {
    let rows = changes.labour.iter().map(|line| {
        let hours = |work: Option<Work>| work.map_or(String::new(), |work| number(work.hours, 2));
        let costs = line.work.map(|work| work.map(|work| work.cost));
        let mut row = vec![line.description.clone()];
        row.extend([hours(line.work.old), hours(line.work.new)]);
        row.extend(money(costs));
        row
    });
    let names = [
        "labour",
        ">hours before",
        ">after",
        ">cost before",
        ">after",
        ">difference",
    ];
    show_table(&names, rows.collect(), world)
}

fn price(changes: &Changes, world: &mut World<'_>) -> io::Result<()> {
    let mut rows: Vec<Vec<String>> = changes
        .steps
        .iter()
        .map(|step| price_row(step.name, step.amount))
        .collect();
    rows.push(price_row("total", changes.total));
    let currency = changes.sides.as_ref().map(|side| side.currency.code());
    let price = match changes.currency() {
        Some(currency) => format!("price, {}", currency.code()),
        None => format!("price, {}, then {}", currency.old, currency.new),
    };
    show_table(&[&price, ">before", ">after", ">difference"], rows, world)
}

fn price_row(name: &str, amount: Both<Money>) -> Vec<String> {
    let mut row = vec![name.to_owned()];
    row.extend(money(amount.map(|amount| Some(Some(amount)))));
    row
}

/// Before, after and difference: a cost for each side that has the line, which may be open.
fn money(costs: Both<Option<Option<Money>>>) -> [String; 3] {
    let cell = |cost: Option<Option<Money>>| match cost {
        None => String::new(),
        Some(None) => "no price".to_owned(),
        Some(Some(cost)) => grouped(&cost.to_text()),
    };
    let difference = match (costs.old, costs.new) {
        (Some(Some(old)), Some(Some(new))) => new.minus(old).ok(),
        (None, Some(new)) => new,
        (Some(Some(old)), None) => Money::zero(old.currency()).minus(old).ok(),
        _ => None,
    };
    let difference = difference.map(|more| signed(grouped(&more.to_text())));
    [
        cell(costs.old),
        cell(costs.new),
        difference.unwrap_or_default(),
    ]
}

/// A difference with its sign, and nothing where there is none.
fn signed(text: String) -> String {
    let nothing = text.chars().all(|letter| !matches!(letter, '1'..='9'));
    match (nothing, text.starts_with('-')) {
        (true, _) => String::new(),
        (false, true) => text,
        (false, false) => format!("+{text}"),
    }
}

fn show_table(names: &[&str], rows: Vec<Vec<String>>, world: &mut World<'_>) -> io::Result<()> {
    if rows.is_empty() {
        return Ok(());
    }
    writeln!(world.out, "\n{}", table(names, rows, world.width))
}
