use super::*;

/// A structure, and what is done there in one step with its hours.
type Read<'t> = (Option<&'t str>, Vec<(&'t str, f64)>);

fn read(takeoff: &Takeoff) -> Vec<Read<'_>> {
    let job = &takeoff.measured.job;
    let steps = plan_of(takeoff).steps.iter();
    steps
        .map(|step| {
            let phases = step.phases.iter();
            let phases = phases.map(|(phase, time)| (&**phase, hours(*time)));
            let of = step.structure.map(|number| job.structure_name(number));
            (of, phases.collect())
        })
        .collect()
}

/// 180 ft2 and 10 ft of cap: a phase `with` another is one step with it, in the order of the table,
/// and what is done for the whole job has steps of its own.
#[test]
fn hours_become_steps_in_the_order_of_the_phases() {
    let wall = "structure Wall on block { face f rect 10ft x 9ft count 2 plain\n edge cap 10ft }";
    let takeoff = taken(START, wall);
    let wall = Some("Wall");
    assert_eq!(
        read(&takeoff),
        [
            (None, vec![("mobilise", 2.0)]),
            (None, vec![("clean", 3.0)]),
            (wall, vec![("lath", 9.0)]),
            (wall, vec![("scratch", 3.6)]),
            (wall, vec![("place", 41.0), ("stamp", 18.0)]),
            (wall, vec![("seal", 3.6)]),
        ]
    );
    let placing = &plan_of(&takeoff).steps[step_of(&takeoff, wall, "place")];
    assert_eq!(hours(placing.work().unwrap()), 59.0);
    // The cap is placed in the same phase, and none of the mix goes there.
    let [mixed] = placing.mixed.as_slice() else {
        panic!("{placing:?}")
    };
    assert_eq!(
        (&*mixed.mix, unit("bag", mixed.amount)),
        ("finish-mix", 33.0)
    );
    assert_eq!(hours(mixed.placing), 36.0);
    assert_eq!(
        (unit("ft2", mixed.area), unit("ft", mixed.ground)),
        (180.0, 20.0)
    );
}

/// Two lines for one mix cover an area once; two mixes in one phase share its time by amount.
#[test]
fn mixes_of_one_phase_share_its_time() {
    let script = RULES.replace(
        "hours(\"lath\"",
        "need(\"finish-mix\", quantity(7, \"bag\"), quantity(0, \"%\")); need(\"lean-mix\", quantity(10, \"bag\"), quantity(0, \"%\")); hours(\"lath\"",
    );
    let mut files = files(&script);
    let add = |files: &mut PackFiles, table: &str, rows: &str| {
        let text = files.texts.get_mut(&format!("tables/{table}.csv")).unwrap();
        text.push_str(rows);
    };
    add(&mut files, "mixes", "lean-mix,phase,place,text,company\n");
    add(
        &mut files,
        "materials",
        "lean-mix,description,Lean mix,text,company\nlean-mix,unit,bag,text,company\nlean-mix,unit_metric,bag,text,company\n",
    );
    let (takeoff, said) = taken_by(&[files], &text_of(START, WALL));
    assert!(said.is_empty(), "{said:?}");
    let step = &plan_of(&takeoff).steps[step_of(&takeoff, Some("Wall"), "place")];
    let read = |mixed: &Mixed| {
        (
            mixed.mix.to_string(),
            unit("bag", mixed.amount),
            hours(mixed.placing),
            unit("ft2", mixed.area),
        )
    };
    let mixed: Vec<_> = step.mixed.iter().map(read).collect();
    assert_eq!(
        mixed,
        [
            ("finish-mix".to_owned(), 40.0, 28.8, 180.0),
            ("lean-mix".to_owned(), 10.0, 7.2, 180.0)
        ]
    );
}

/// What others place stands on no day of this crew, and on no card.
#[test]
fn a_mix_that_takes_no_time_is_placed_by_others() {
    let script = RULES.replace("hours(\"place\", face", "hours(\"place\", 0 * face");
    let (takeoff, said) = taken_by(&[files(&script)], &text_of(START, WALL));
    assert!(said.is_empty(), "{said:?}");
    let plan = plan_of(&takeoff);
    let stamp = &plan.steps[step_of(&takeoff, Some("Wall"), "stamp")];
    assert!(stamp.mixed.is_empty());
    assert!(plan.cards.iter().all(|card| &*card.mix == "scratch-mix"));
}
