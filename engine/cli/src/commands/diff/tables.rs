//! What changed, as tables on the terminal.

use crate::World;
use crate::table::{grouped, number, table, visible};
use parge_base::{Money, Quantity};
use parge_calc::change::{Both, Changes, Cost, Side};
use parge_sheets::shown;
use std::io;

/// All tables; those without a line are left out.
pub(crate) fn show(changes: &Changes, plans: Both<&str>, world: &mut World<'_>) -> io::Result<()> {
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
    show_all(changes, ["before", "after"], world)
}

/// The tables alone, with the words for the two sides.
pub(crate) fn show_all(
    changes: &Changes,
    sides: [&str; 2],
    world: &mut World<'_>,
) -> io::Result<()> {
    lines(changes, sides, world)?;
    areas(changes, sides, world)?;
    materials(changes, sides, world)?;
    labour(changes, sides, world)?;
    costs(changes, sides, world)?;
    price(changes, sides, world)
}

/// Lines without a price are in no sum, and whoever reads on must know.
pub(crate) fn incomplete(name: &str, side: &Side, world: &mut World<'_>) -> io::Result<()> {
    match side.open_lines {
        0 => Ok(()),
        open => writeln!(world.out, "{name}: {}", shown::status(open)),
    }
}

fn lines(changes: &Changes, sides: [&str; 2], world: &mut World<'_>) -> io::Result<()> {
    let rows = changes.lines.iter().map(|line| {
        let words = line.words(changes.units);
        vec![words.part, words.what, words.old, words.new]
    });
    show_table(
        &["what changed", "", sides[0], sides[1]],
        rows.collect(),
        world,
    )
}

fn areas(changes: &Changes, sides: [&str; 2], world: &mut World<'_>) -> io::Result<()> {
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
    show_sums(&heading, sides, rows, world)
}

fn materials(changes: &Changes, sides: [&str; 2], world: &mut World<'_>) -> io::Result<()> {
    let rows = changes.materials.iter().map(|line| {
        let amounts = line.amounts.as_ref().map(Option::as_ref);
        let need = amounts.map(|amount| {
            amount.map_or(String::new(), |amount| {
                let unit = shown::print_unit(amount.unit.text());
                format!("{} {unit}", number(amount.with_waste(), 2))
            })
        });
        let packs = amounts.map(|amount| {
            let packs = amount.and_then(|amount| amount.packs);
            packs.map_or(String::new(), |packs| number(packs, 0))
        });
        let name = line.description.clone();
        vec![name, need.old, need.new, packs.old, packs.new]
    });
    let [old, new] = sides;
    let names = [
        "material, with waste".to_owned(),
        format!(">{old}"),
        format!(">{new}"),
        format!(">packs {old}"),
        format!(">packs {new}"),
    ];
    show_table(&names, rows.collect(), world)
}

fn labour(changes: &Changes, sides: [&str; 2], world: &mut World<'_>) -> io::Result<()> {
    let rows = changes.labour.iter().map(|line| {
        let hours = line.work.map(|work| work.map(|work| work.hours));
        let cell = |hours: Option<f64>| hours.map_or(String::new(), |hours| number(hours, 2));
        let more = hours.new.unwrap_or(0.0) - hours.old.unwrap_or(0.0);
        let name = line.description.clone();
        vec![
            name,
            cell(hours.old),
            cell(hours.new),
            signed(number(more, 2)),
        ]
    });
    show_sums("labour, hours", sides, rows.collect(), world)
}

fn costs(changes: &Changes, sides: [&str; 2], world: &mut World<'_>) -> io::Result<()> {
    let rows = changes
        .costs()
        .into_iter()
        .map(|line| money_row(line.description, line.cost));
    let heading = format!("cost of what changed, {}", currency(changes));
    show_sums(&heading, sides, rows.collect(), world)
}

fn price(changes: &Changes, sides: [&str; 2], world: &mut World<'_>) -> io::Result<()> {
    let steps = changes.steps.iter().map(|step| (step.name, step.amount));
    let rows = steps
        .chain([("total", changes.total)])
        .map(|(name, amount)| money_row(name, amount.map(Cost::Priced)));
    let heading = format!("price, {}", currency(changes));
    show_sums(&heading, sides, rows.collect(), world)
}

fn currency(changes: &Changes) -> String {
    let Both { old, new } = changes.sides.as_ref().map(|side| side.currency.code());
    match old == new {
        true => new.to_owned(),
        false => format!("{old}, then {new}"),
    }
}

/// Before, after and difference; none of the last where a price is missing or the currencies
/// differ.
fn money_row(name: &str, cost: Both<Cost>) -> Vec<String> {
    let cell = |cost: Cost| match cost {
        Cost::None => String::new(),
        Cost::Open => "no price".to_owned(),
        Cost::Priced(cost) => grouped(&cost.to_text()),
    };
    let more = match (cost.old, cost.new) {
        (Cost::Priced(old), Cost::Priced(new)) => new.minus(old).ok(),
        (Cost::None, Cost::Priced(new)) => Some(new),
        (Cost::Priced(old), Cost::None) => Money::zero(old.currency()).minus(old).ok(),
        _ => None,
    };
    let more = more.map_or(String::new(), |more| signed(grouped(&more.to_text())));
    vec![name.to_owned(), cell(cost.old), cell(cost.new), more]
}

/// A difference with its sign, and nothing where there is none.
pub(crate) fn signed(text: String) -> String {
    let nothing = text.chars().all(|letter| !matches!(letter, '1'..='9'));
    match (nothing, text.starts_with('-')) {
        (true, _) => String::new(),
        (false, true) => text,
        (false, false) => format!("+{text}"),
    }
}

/// A table of numbers of both sides, and how much more the second is.
fn show_sums(
    heading: &str,
    [old, new]: [&str; 2],
    rows: Vec<Vec<String>>,
    world: &mut World<'_>,
) -> io::Result<()> {
    let (old, new) = (format!(">{old}"), format!(">{new}"));
    show_table(&[heading, &old, &new, ">difference"], rows, world)
}

fn show_table(
    names: &[impl AsRef<str>],
    rows: Vec<Vec<String>>,
    world: &mut World<'_>,
) -> io::Result<()> {
    if rows.is_empty() {
        return Ok(());
    }
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    writeln!(world.out, "\n{}", table(&names, rows, world.width))
}
