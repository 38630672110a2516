use super::*;
use crate::learn::model::Group;

fn line(loads: &[(usize, f64)]) -> Observation {
    Observation {
        job: 0,
        group: Group::Hours,
        y: 0.0,
        coarse: 0.0,
        loads: loads.to_vec(),
    }
}

/// 0 and 1 stand in the same shares on every line; 2 stands by itself on one of them.
#[test]
fn cells_that_no_line_tells_apart_move_together() {
    let lines = [
        line(&[(0, 0.5), (1, 0.4), (2, 0.1)]),
        line(&[(0, 0.4), (1, 0.35), (2, 0.25)]),
        line(&[(2, 1.0)]),
    ];
    assert_eq!(apart(&[Kind::Rate; 3], &lines), [vec![0, 1], vec![2]]);
}

#[test]
fn cells_of_two_kinds_never_move_together() {
    let lines = [line(&[(0, 1.0), (1, 1.0)])];
    let kinds = [Kind::Waste, Kind::Cover];
    assert_eq!(apart(&kinds, &lines), [vec![0], vec![1]]);
}

/// A line of the standard pack with the cells that it rests on.
fn of(item: &str, wanted: &[CellName]) -> Vec<String> {
    use crate::contract::HOOKS;
    let mut sources = parge_base::Sources::new();
    let files = parge_standard_packs::find("vertical-concrete").unwrap();
    let pack = parge_rules::load(&[files], HOOKS, &mut sources).unwrap();
    let rest = |name: &str, role: Role| {
        let (table, keys) = name.split_once('.').unwrap();
        let keys: Vec<&str> = keys.split('.').collect();
        RestsOn {
            factor: Arc::clone(pack.tables().factor(table, &keys).unwrap()),
            role,
            slope: 1.0,
        }
    };
    let rests_on = vec![
        rest("coats.scratch.thickness", Role::Amount),
        rest("coverage.sealer.surface", Role::Amount),
        rest("mixes.finish-mix.yield", Role::Amount),
        rest("waste.finish-mix.stamp", Role::Waste),
        rest("waste.sealer.any", Role::Waste),
    ];
    let line = Line::Material(item.to_owned());
    let amount = 1.0;
    let lines = BTreeMap::from([(line.clone(), Estimated { amount, rests_on })]);
    let chosen = chosen(&lines, &Cells::of(&pack), wanted);
    chosen[&line]
        .iter()
        .map(|load| load.cell.to_string())
        .collect()
}

/// Bags are put down to their waste, what has a coverage to it, water to nothing.
#[test]
fn a_line_is_put_down_to_its_own_cells() {
    assert_eq!(of("finish-mix", &[]), ["waste.finish-mix.stamp"]);
    assert_eq!(of("sealer/matte", &[]), ["coverage.sealer.surface"]);
    assert_eq!(of("water", &[]), [""; 0]);
    let named = CellName {
        table: "mixes".to_owned(),
        keys: vec!["finish-mix".to_owned(), "yield".to_owned()],
    };
    assert_eq!(of("finish-mix", &[named]), ["mixes.finish-mix.yield"]);
}
