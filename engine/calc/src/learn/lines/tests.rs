use super::*;
use crate::contract::{HOOKS, Packs};
use crate::measure::measure;
use crate::resolve::resolve;
use crate::takeoff::take_off;
use parge_base::{Sources, Span};
use parge_rules::{Cell, OtherValue, Pack};

/// Two walls, one curved, wood and block, stamped and carved, with an edge.
const PLAN: &str = "parge 1
job \"Test\" { rules \"vertical-concrete\"  crew 3 }
finish stone { technique stamp  thickness 3/4in  relief 1.1  colours granite 60%, moss 40%  sealer matte, 2 coats }
finish rock { technique carve  thickness 2in  relief 1.3 }
structure \"Front\" on block {
  conditions { access tight }
  face street rect 22ft x 5ft stone { opening hatch rect 2ft x 2ft reveal 4in }
  face bow arc radius 6ft sweep 90deg x 12ft stone count 2
  edge cap 22ft
}
structure \"Rocks\" on wood {
  face left rect 9ft x 6ft rock
  face small rect 2ft x 2ft rock
}
";

fn pack(sources: &mut Sources) -> Pack {
    let files = parge_standard_packs::find("vertical-concrete").unwrap();
    parge_rules::load(&[files], HOOKS, sources).unwrap()
}

fn taken(pack: &Pack, sources: &mut Sources) -> Takeoff {
    let file = sources.add("plan.parge", PLAN);
    let parsed = parge_grammar::parse(file, PLAN);
    let end = Span::new(file, PLAN.len(), PLAN.len());
    let (job, said) = resolve(&parsed.plan, Packs::of(pack), end);
    assert!(!parge_base::diagnostic::any_error(&said), "{said:?}");
    let (measured, _) = measure(job.unwrap(), Packs::of(pack));
    let (takeoff, said) = take_off(measured, pack);
    assert!(!parge_base::diagnostic::any_error(&said), "{said:?}");
    takeoff
}

/// Every line comes to what the pool adds up, and grows with every cell by what a small change of the
/// cell does to the whole take-off.
#[test]
fn lines_grow_as_the_take_off_does() {
    const STEP: f64 = 1e-6;
    let mut sources = Sources::new();
    let pack = pack(&mut sources);
    let takeoff = taken(&pack, &mut sources);
    let all = lines(&takeoff);
    let (pooled, _) = crate::pool::pool(&takeoff, &pack);
    for material in &pooled.materials {
        let line = &all[&Line::Material(material.item.clone())];
        let amount = material.need.value + material.waste.value;
        assert!(
            (line.amount - amount).abs() < 1e-9 * amount,
            "{}",
            material.item
        );
    }
    for labour in &pooled.labour {
        let line = &all[&Line::Hours(labour.phase.clone(), Scope::Whole)];
        assert!(
            (line.amount / 3600.0 - labour.hours).abs() < 0.006,
            "{}",
            labour.phase
        );
    }
    let rests = |line: &Estimated, factor: &Factor| {
        let found = line
            .rests_on
            .iter()
            .find(|on| on.factor.span == factor.span);
        found.map_or(0.0, |on| on.slope)
    };
    let rows = pack
        .tables()
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    let used = rows.filter_map(|(table, row)| match &row.cell {
        Cell::Factor(factor) => {
            let moves = all.values().any(|line| rests(line, factor) != 0.0);
            (moves && factor.quantity.value > 0.0).then_some((table, row, factor))
        }
        Cell::Text(..) => None,
    });
    let used: Vec<_> = used.collect();
    assert!(used.len() > 40, "{}", used.len());
    // Every take-off takes its time: one in three cells is tried.
    for (table, row, factor) in used.into_iter().step_by(3) {
        let other = OtherValue {
            table: table.name.clone(),
            keys: row.keys.clone(),
            cell: row.times(1.0 + STEP).unwrap(),
        };
        let moved = lines(&taken(&pack.with_values(&[other]), &mut sources));
        for (line, before) in &all {
            let difference = moved[line].amount - before.amount;
            let slope = difference / (STEP * factor.quantity.value);
            let off = (slope - rests(before, factor)).abs();
            let share = off / (before.amount / factor.quantity.value);
            assert!(share < 1e-4, "{line:?} by {}: {share}", factor.name);
        }
    }
}

/// 1 % more waste of 10 % is 1 % of 1.1.
#[test]
fn a_waste_loads_a_line_by_one_and_the_share() {
    let mut sources = Sources::new();
    let pack = pack(&mut sources);
    let all = lines(&taken(&pack, &mut sources));
    let scaffold = &all[&Line::Material("bonding-primer".to_owned())];
    let waste = scaffold.rests_on.iter().find(|on| on.role == Role::Waste);
    assert!((waste.unwrap().load(scaffold.amount) - 1.0).abs() < 1e-9);
    let covers = scaffold
        .rests_on
        .iter()
        .filter(|on| on.role == Role::Amount);
    let covers = covers.filter(|on| on.factor.name.starts_with("coverage"));
    let sum: f64 = covers.map(|on| on.load(scaffold.amount)).sum();
    assert!((sum + 1.0).abs() < 1e-9, "{sum}");
}
