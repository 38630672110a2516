//! Estimate and actual as tables on the terminal.

use crate::World;
use crate::table::{grouped, number, table, visible};
use parge_base::{Money, Quantity, Unit};
use parge_calc::actuals::{
    Comparison, DaysLine, Line, MoneySplit, Of, Part, Remark, Scope, Totals, Unmatched,
};
use parge_calc::price::{Estimate, Status};
use parge_sheets::shown::print_unit;
use std::io;

/// What stands in place of an amount that nobody recorded.
const NOT_RECORDED: &str = "not recorded";
const NO_PRICE: &str = "no price";

/// All tables; those without a line are left out.
pub(super) fn show(of: &Comparison, estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    let job = visible(&of.job);
    writeln!(world.out, "{job}: estimate and actual")?;
    if !of.changed.is_empty() {
        let changed = words(&of.changed);
        writeln!(
            world.out,
            "CHANGED SINCE PRICED: {changed}; differences hold what changed as well"
        )?;
    }
    if !of.unknown.is_empty() {
        let unknown = words(&of.unknown);
        writeln!(
            world.out,
            "the record does not say what priced the job: {unknown} may have changed since"
        )?;
    }
    if estimate.status == Status::Incomplete {
        writeln!(world.out, "INCOMPLETE: lines without a price have no costs")?;
    }
    amounts(
        of,
        &of.materials,
        ["material", "used", "by yield or waste"],
        world,
    )?;
    amounts(of, &of.labour, ["hours", "worked", "by rate"], world)?;
    money(of, &of.materials, &of.material_totals, true, world)?;
    money(of, &of.labour, &of.labour_totals, false, world)?;
    sums(of, world)?;
    areas(of, world)?;
    days(&of.days, world)?;
    unmatched(of, world)?;
    remarks(of, world)
}

fn words(parts: &[Part]) -> String {
    let words: Vec<&str> = parts.iter().map(|part| part.word()).collect();
    words.join(", ")
}

/// What a line is of, in words: for hours with where they were worked.
fn what(line: &Line) -> String {
    match &line.of {
        Of::Labour(_, scope) => with_scope(&line.description, scope),
        Of::Material(_) => line.description.clone(),
    }
}

fn with_scope(words: &str, scope: &Scope) -> String {
    match scope {
        Scope::Whole => words.to_owned(),
        Scope::Structure(name) => format!("{words}: {name}"),
        Scope::Job => format!("{words}: the job"),
    }
}

fn amounts(
    of: &Comparison,
    lines: &[Line],
    [what_of, used, by_use]: [&str; 3],
    world: &mut World<'_>,
) -> io::Result<()> {
    if lines.is_empty() {
        return Ok(());
    }
    let by_area = !of.areas.is_empty();
    let (used, by_use) = (format!(">{used}"), format!(">{by_use}"));
    let mut names = vec![what_of, ">estimated", &used, ">difference", ">of it"];
    if by_area {
        names.extend([">by area", &by_use]);
    }
    let rows = lines.iter().map(|line| {
        let show = |quantity| number(line.unit.show(quantity).unwrap_or_default(), 2);
        let unit = print_unit(line.unit.text());
        let mut row = vec![
            what(line),
            format!("{} {unit}", show(line.estimated.amount)),
        ];
        match (&line.actual, line.split) {
            (Some(actual), Some(split)) => {
                let difference = line
                    .difference()
                    .unwrap_or(Quantity::zero(actual.amount.dim));
                row.extend([
                    format!("{} {unit}", show(actual.amount)),
                    signed(&line.unit, difference),
                    share(difference.value, line.estimated.amount.value),
                ]);
                if by_area {
                    let amounts = [split.amount.quantity, split.amount.usage];
                    row.extend(amounts.map(|amount| signed(&line.unit, amount)));
                }
            }
            _ => row.push(NOT_RECORDED.to_owned()),
        }
        row.resize(names.len(), String::new());
        row
    });
    let rows: Vec<Vec<String>> = rows.collect();
    writeln!(world.out, "\n{}", table(&names, rows, world.width))
}

/// A difference with its sign, in a unit.
fn signed(unit: &Unit, difference: Quantity) -> String {
    let value = unit.show(difference).unwrap_or_default();
    match number(value, 2) {
        text if text == "0.00" || text == "-0.00" => "0.00".to_owned(),
        text if value > 0.0 => format!("+{text}"),
        text => text,
    }
}

/// A difference as a share of what was estimated.
fn share(difference: f64, estimated: f64) -> String {
    match estimated > 0.0 {
        true => format!("{:+.1} %", difference / estimated * 100.0),
        false => String::new(),
    }
}

fn more(amount: Money) -> String {
    match amount.amount() {
        sum if sum.is_zero() => amount.to_text().trim_start_matches('-').to_owned(),
        sum if sum.is_sign_positive() => format!("+{}", grouped(&amount.to_text())),
        _ => grouped(&amount.to_text()),
    }
}

fn cost(amount: Option<Money>) -> String {
    amount.map_or(NO_PRICE.to_owned(), |amount| grouped(&amount.to_text()))
}

fn money(
    of: &Comparison,
    lines: &[Line],
    totals: &Totals,
    is_material: bool,
    world: &mut World<'_>,
) -> io::Result<()> {
    let recorded = || lines.iter().filter(|line| line.actual.is_some());
    if recorded().next().is_none() {
        return Ok(());
    }
    let parts = |split: &MoneySplit| match is_material {
        true => vec![split.quantity, split.usage, split.packs, split.price],
        false => vec![split.quantity, split.usage, split.price],
    };
    let (what_of, names) = match is_material {
        true => (
            "material",
            vec![">quantity", ">yield or waste", ">packs", ">price"],
        ),
        false => ("hours", vec![">quantity", ">rate", ">wage"]),
    };
    let code = of.currency.code();
    let head = format!("{what_of}, {code}");
    let mut all = vec![head.as_str(), ">estimated", ">actual", ">difference"];
    all.extend(&names);
    let mut rows: Vec<Vec<String>> = recorded()
        .map(|line| {
            let actual = line.actual.as_ref().and_then(|actual| actual.cost);
            let mut row = vec![what(line), cost(line.estimated.cost), cost(actual)];
            if let Some(split) = line.split.and_then(|split| split.money) {
                row.push(split.whole().map_or(String::new(), more));
                row.extend(parts(&split).into_iter().map(more));
            }
            row.resize(all.len(), String::new());
            row
        })
        .collect();
    let mut sum = vec![
        "all recorded".to_owned(),
        cost(Some(totals.estimated)),
        cost(Some(totals.actual)),
        totals.split.whole().map_or(String::new(), more),
    ];
    sum.extend(parts(&totals.split).into_iter().map(more));
    rows.push(sum);
    writeln!(world.out, "\n{}", table(&all, rows, world.width))
}

/// Both together, and what is in none of the sums.
fn sums(of: &Comparison, world: &mut World<'_>) -> io::Result<()> {
    let code = of.currency.code();
    let row = |name: &str, totals: &Totals| {
        let difference = totals.split.whole().map_or(String::new(), more);
        vec![
            name.to_owned(),
            cost(Some(totals.estimated)),
            cost(Some(totals.actual)),
            difference,
            cost(Some(totals.not_recorded)),
        ]
    };
    let rows = vec![
        row("materials", &of.material_totals),
        row("labour before burden", &of.labour_totals),
        row("both", &of.totals),
    ];
    let head = format!("direct cost, {code}");
    let names = [
        &head,
        ">estimated",
        ">actual",
        ">difference",
        ">not recorded",
    ];
    writeln!(world.out, "\n{}", table(&names, rows, world.width))?;
    let Totals { missing, open, .. } = of.totals;
    if missing > 0 {
        writeln!(
            world.out,
            "{} of the estimate not recorded: in neither estimated nor actual above",
            counted(missing, "line")
        )?;
    }
    if open > 0 {
        writeln!(
            world.out,
            "{} without a price: in no sum",
            counted(open, "line")
        )?;
    }
    Ok(())
}

fn counted(count: usize, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        many => format!("{many} {what}s"),
    }
}

fn areas(of: &Comparison, world: &mut World<'_>) -> io::Result<()> {
    if of.areas.is_empty() {
        return Ok(());
    }
    let unit = &of.area_unit;
    let show = |area| number(unit.show(area).unwrap_or_default(), 2);
    let rows = of.areas.iter().map(|line| {
        let name = match &line.face {
            Some(face) => format!("{}/{face}", line.structure),
            None => line.structure.clone(),
        };
        let more = line.built.value - line.estimated.value;
        vec![
            name,
            show(line.estimated),
            show(line.built),
            share(more, line.estimated.value),
        ]
    });
    let (as_estimated, as_built) = (
        format!(">estimated, {}", print_unit(unit.text())),
        format!(">built, {}", print_unit(unit.text())),
    );
    let names = ["area", &as_estimated, &as_built, ">difference"];
    writeln!(
        world.out,
        "\n{}",
        table(&names, rows.collect(), world.width)
    )
}

fn days(days: &DaysLine, world: &mut World<'_>) -> io::Result<()> {
    let actual = match (days.actual, days.first.zip(days.last)) {
        (None, None) => return Ok(()),
        (days, ends) => vec![
            "actual".to_owned(),
            days.map_or(NOT_RECORDED.to_owned(), |days| number(days, 1)),
            ends.map_or(String::new(), |(first, last)| format!("{first} to {last}")),
        ],
    };
    let estimated = vec![
        "estimated".to_owned(),
        days.estimated
            .map_or("not planned".to_owned(), |days| number(days as f64, 1)),
        days.planned
            .map_or(String::new(), |(first, last)| format!("{first} to {last}")),
    ];
    let rows = vec![estimated, actual];
    let names = ["on site", ">days of work", "from and to"];
    writeln!(world.out, "\n{}", table(&names, rows, world.width))
}

fn unmatched(of: &Comparison, world: &mut World<'_>) -> io::Result<()> {
    if of.unmatched.is_empty() {
        return Ok(());
    }
    let row = |one: &Unmatched| {
        let name = match &one.scope {
            Some(scope) => with_scope(&one.name, scope),
            None => one.name.clone(),
        };
        let amount = one.unit.show(one.amount).unwrap_or_default();
        let unit = print_unit(one.unit.text());
        vec![
            one.kind.word().to_owned(),
            name,
            format!("{} {unit}", number(amount, 2)),
            cost(one.cost),
        ]
    };
    let head = format!(">cost, {}", of.currency.code());
    let names = ["matches no line", "", ">recorded", &head];
    let rows = of.unmatched.iter().map(row).collect();
    writeln!(world.out, "\n{}", table(&names, rows, world.width))
}

fn remarks(of: &Comparison, world: &mut World<'_>) -> io::Result<()> {
    let row = |kind: &str, remark: &Remark| {
        let day = remark.day.map_or(String::new(), |day| day.to_string());
        vec![kind.to_owned(), day, remark.text.clone()]
    };
    let weather = of.weather.iter().map(|remark| row("weather", remark));
    let remarks = of.remarks.iter().map(|remark| row("remark", remark));
    let rows: Vec<Vec<String>> = weather.chain(remarks).collect();
    if rows.is_empty() {
        return Ok(());
    }
    writeln!(
        world.out,
        "\n{}",
        table(&["", "day", "noted"], rows, world.width)
    )
}
