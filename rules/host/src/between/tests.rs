use crate::pack::Pack;
use crate::subject::Subject;
use crate::testing::{files, loaded, of, rule};
use parge_base::{Dim, Units};

const POT_LIFE: &str = "temperature,value,unit,source,note\n70F,60,min,company,\n80F,40,min,data sheet,\n100F,10,min,company,\n";

fn pack(table: &str, body: &str) -> Result<Pack, String> {
    let mut files = files(&rule(body));
    files
        .texts
        .insert("tables/pot_life.csv".into(), table.into());
    loaded(&files).map(|(pack, _)| pack)
}

fn job(fahrenheit: f64) -> Subject<'static> {
    let air = Units::standard()
        .parse("F")
        .unwrap()
        .quantity(fahrenheit)
        .unwrap();
    Subject {
        kind: "face".into(),
        values: vec![
            ("air".into(), of(air.value, Dim::TEMPERATURE)),
            ("area".into(), of(10.0, Dim::AREA)),
        ],
    }
}

/// Minutes at a temperature, or what is said instead.
fn minutes(pack: &Pack, fahrenheit: f64) -> Result<f64, String> {
    let run = pack.run(&["coats"], &job(fahrenheit));
    match run.errors.first() {
        Some(error) => Err(error.message.clone()),
        None => Ok(run.tape.value(run.hours[0].time).value / 60.0),
    }
}

const BODY: &str = "hours(\"place\", between(\"pot_life\", face.air));";

/// By hand: 75 °F is halfway from 60 to 40 min; 90 °F halfway from 40 to 10; a row says itself.
#[test]
fn lies_on_the_line_between_two_rows() {
    let pack = pack(POT_LIFE, BODY).unwrap();
    for (air, wanted) in [
        (70.0, 60.0),
        (75.0, 50.0),
        (80.0, 40.0),
        (90.0, 25.0),
        (98.0, 13.0),
        (100.0, 10.0),
    ] {
        let got = minutes(&pack, air).unwrap();
        assert!((got - wanted).abs() < 1e-9, "{air}: {got}");
    }
}

#[test]
fn both_rows_are_factors_with_their_sources() {
    let pack = pack(POT_LIFE, BODY).unwrap();
    let run = pack.run(&["coats"], &job(75.0));
    let names: Vec<&str> = run
        .tape
        .factors()
        .map(|factor| factor.name.as_str())
        .collect();
    assert_eq!(names, ["pot_life: 70F", "pot_life: 80F"]);
    assert!(run.tape.guards().len() >= 2);
}

#[test]
fn outside_of_the_rows_the_range_is_named_or_the_end_held() {
    let refused = pack(POT_LIFE, BODY).unwrap();
    insta::assert_snapshot!(
        [69.9, 100.1]
            .map(|air| minutes(&refused, air).unwrap_err())
            .join("\n")
    );
    let held = pack(POT_LIFE, &BODY.replace("between(", "between_or_end(")).unwrap();
    assert_eq!(
        [69.9, 20.0, 100.1].map(|air| minutes(&held, air).unwrap()),
        [60.0, 60.0, 10.0]
    );
}

/// Every tape played for every temperature says what a run for it says, or declines: on both
/// sides of a row, on the row, a hair beside it, and outside.
#[test]
fn replay_is_a_direct_run() {
    let hair = 80.0 * (1.0 + 1e-15);
    let airs = [
        60.0,
        70.0,
        70.0 + 1e-12,
        75.0,
        79.9,
        80.0,
        hair,
        80.0 - 1e-12,
        80.1,
        90.0,
        100.0,
        100.0 + 1e-12,
        110.0,
    ];
    for body in [BODY.to_owned(), BODY.replace("between(", "between_or_end(")] {
        let pack = pack(POT_LIFE, &body).unwrap();
        let mut replayed = 0;
        for first in airs {
            let run = pack.run(&["coats"], &job(first));
            if !run.errors.is_empty() {
                continue;
            }
            for second in airs {
                let Ok(replay) = run.tape.replay(&job(second).inputs()) else {
                    continue;
                };
                replayed += 1;
                let direct = pack.run(&["coats"], &job(second));
                assert!(direct.errors.is_empty(), "{first} for {second}");
                assert_eq!(
                    replay.value(run.hours[0].time).value.to_bits(),
                    direct.tape.value(direct.hours[0].time).value.to_bits(),
                    "{first} for {second}"
                );
            }
        }
        assert!(replayed > airs.len(), "{replayed}");
    }
}

#[test]
fn keys_before_the_last_choose_the_line() {
    let table = "mix,thickness,value,unit,source\nfast,1/2in,1,h,company\nfast,1in,2,h,company\nslow,1/2in,10,h,company\nslow,1in,20,h,company\n";
    let body = "hours(\"place\", between(\"pot_life\", \"slow\", quantity(0.75, \"in\")));";
    let got = minutes(&pack(table, body).unwrap(), 70.0).unwrap();
    assert!((got - 15.0 * 60.0).abs() < 1e-9, "{got}");
}

#[test]
fn plain_numbers_can_be_keys() {
    let table = "people,value,unit,source\n1,1,h,company\n3,5,h,company\n";
    let body = "hours(\"place\", between(\"pot_life\", quantity(2, \"1\")));";
    assert_eq!(minutes(&pack(table, body).unwrap(), 70.0).unwrap(), 180.0);
}

#[test]
fn faults_are_told() {
    let table = |rows: &str| format!("temperature,value,unit,source\n{rows}");
    let on_loading = [
        "70F,1,h,company\n7OF,2,h,company\n",
        "70F,1,h,company\n1in,2,h,company\n",
        "70F,1,h,company\n60F,2,h,company\n",
        "70F,1,h,company\n70.0F,2,h,company\n",
        "70F,1,h,company\n80F,2,ft,company\n",
        "70F,1,h,company\n80F,fast,text,company\n",
    ]
    .map(|rows| format!("{rows}  {}", pack(&table(rows), BODY).unwrap_err()));
    let running = [
        (POT_LIFE.to_owned(), "between(\"pot_life\", face.area);"),
        (POT_LIFE.to_owned(), "between(\"pot_lif\", face.air);"),
        (
            POT_LIFE.to_owned(),
            "between(\"pot_life\", \"x\", face.air);",
        ),
        (POT_LIFE.to_owned(), "between(\"pot_life\", 70);"),
        (POT_LIFE.to_owned(), "between(\"mixes\", face.air);"),
        (
            table("3,1,h,company\n2,2,h,company\n"),
            "between(\"pot_life\", quantity(2, \"1\"));",
        ),
        (table(""), "between(\"pot_life\", face.air);"),
    ]
    .map(|(table, body)| {
        let pack = pack(&table, body).unwrap();
        format!("{body}\n  {}", minutes(&pack, 70.0).unwrap_err())
    });
    insta::assert_snapshot!(
        on_loading
            .into_iter()
            .chain(running)
            .collect::<Vec<_>>()
            .join("\n")
    );
}

/// Names that begin with a figure are no range of numbers, and stay in any order.
#[test]
fn other_tables_are_left_alone() {
    for rows in [
        "b,1,h,company\n20lb,2,h,company\n10lb,2,h,company\n",
        "80,1,h,company\n60,2,h,company\n",
    ] {
        assert!(
            pack(&format!("item,value,unit,source\n{rows}"), "").is_ok(),
            "{rows}"
        );
    }
}
