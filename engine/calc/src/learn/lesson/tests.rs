use super::*;
use crate::actuals::Scope;
use crate::learn::lines;
use crate::testing::{SCRIPT, pack, plan, taken};
use parge_base::{Sources, Units};

/// Jobs with one wall of the small pack each, that used so many times the mix and the hours that were
/// estimated.
fn jobs(times: &[(f64, f64)]) -> Vec<PastJob> {
    let job = |(number, (mix, hours)): (usize, &(f64, f64))| {
        let size = 4 + number;
        let takeoff = taken(&plan(&format!("face f rect {size}ft x 6ft plain")), SCRIPT);
        let lines = lines(&takeoff);
        let used = [
            (Line::Material("mix".to_owned()), "bag", *mix),
            (Line::Hours("place".to_owned(), Scope::Whole), "h", *hours),
        ];
        let used = used.map(|(line, unit, times)| {
            let unit = Units::standard().parse(unit).unwrap();
            let (value, dim) = (lines[&line].amount, unit.dim());
            let of = |times: f64| Quantity {
                value: value * times,
                dim,
            };
            Used {
                words: format!("{line:?}"),
                line,
                unit: unit.clone(),
                expected: of(1.0),
                used: of(times),
                pack: None,
            }
        });
        PastJob {
            name: format!("job {number}"),
            days: None,
            lines: lines.clone(),
            used: used.to_vec(),
        }
    };
    times.iter().enumerate().map(job).collect()
}

fn cell(table: &str, keys: &[&str]) -> CellName {
    CellName {
        table: table.to_owned(),
        keys: keys.iter().map(|key| (*key).to_owned()).collect(),
    }
}

fn proposals(times: &[(f64, f64)], wanted: &[CellName]) -> Vec<(String, f64, Verdict)> {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let learned = learn(&jobs(times), &pack, wanted, &Beliefs::default());
    let cells = learned.lessons.iter().flat_map(|lesson| &lesson.cells);
    let told = |cell: &Proposed| (cell.cell.to_string(), cell.value, cell.verdict);
    cells.map(told).collect()
}

/// A fifth more mix at a waste of 10 % is a waste of 32 %, and the hours are as estimated.
#[test]
fn a_line_moves_its_waste_and_its_rate() {
    let found = proposals(&[(1.2, 1.0); 12], &[]);
    let [(waste, value, moves), (rate, hours, stays)] = found.as_slice() else {
        panic!("{found:?}");
    };
    assert_eq!(
        (waste.as_str(), *moves),
        ("mixes.mix.waste", Verdict::Moves)
    );
    assert!((26.0..32.0).contains(value), "{value}");
    assert_eq!(
        (rate.as_str(), *hours, *stays),
        ("rates.place", 0.1, Verdict::Stays)
    );
}

/// The same put down to the yield: 0.5 / 1.2 ft3 of a bag, and the waste is no matter any more.
#[test]
fn a_line_moves_the_row_that_is_named() {
    let found = proposals(&[(1.2, 1.0); 12], &[cell("mixes", &["mix", "yield"])]);
    let (name, value, verdict) = &found[0];
    assert_eq!(
        (name.as_str(), *verdict),
        ("mixes.mix.yield", Verdict::Moves)
    );
    assert!((0.41..0.45).contains(value), "{value}");
    assert_eq!(found.len(), 2);
}

/// A fifth less than estimated is less than without any waste.
#[test]
fn no_waste_falls_below_nothing() {
    let found = proposals(&[(0.8, 1.0); 12], &[]);
    assert_eq!(found[0].2, Verdict::BelowNothing);
}

/// What nobody used any of has no share of the estimate, and is listed.
#[test]
fn what_teaches_nothing_is_listed() {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let mut jobs = jobs(&[(0.0, 1.0)]);
    jobs[0]
        .lines
        .remove(&Line::Hours("place".to_owned(), Scope::Whole));
    let learned = learn(&jobs, &pack, &[], &Beliefs::default());
    assert!(learned.lessons.is_empty());
    let why: Vec<&str> = learned.silent.iter().map(|silent| silent.why).collect();
    assert_eq!(
        why,
        [
            "none of it was used, and nothing has no share",
            "no cell of the pack is to say it alone",
        ]
    );
}
