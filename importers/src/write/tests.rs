use super::*;
use crate::faces::import;
use crate::grid::open;
use crate::profile::Profile;
use parge_base::Sources;
use proptest::prelude::*;

fn words() -> PlanWords {
    PlanWords {
        name: "Beech Lane".to_owned(),
        rules: "vertical-concrete".to_owned(),
        prices: "prices.csv".to_owned(),
    }
}

fn written(csv: &str, answers: &[(&str, &str)]) -> (String, Vec<Sum>) {
    let book = open("rooms.csv", csv.as_bytes()).unwrap();
    let mut profile = Profile::default();
    for (key, value) in answers {
        profile.answer(key, value).unwrap();
    }
    profile.job.on = Some("block".to_owned());
    profile.job.finish = Some("drystone".to_owned());
    let import = import(&book, &profile);
    assert_eq!(import.questions, []);
    let text = plan_text(&book, &import, &profile, &words()).unwrap();
    let file = Sources::new().add("plan", "");
    let sums = reconcile(&import, file, &text).unwrap();
    (text, sums)
}

#[test]
fn a_plan_with_everything() {
    let csv = "Room,Wall,L (ft),H (ft),Qty,ddt (SF),Finish,Remarks\n\
               Hall,North \"A\",12,8,1,21,,\nHall,South,10.5,8' 6\",2,,bark,\n\
               Kitchen,East,9,8,1,-,,\nKitchen,West,TBC,8,1,,,ask\n";
    let (text, sums) = written(csv, &[]);
    insta::assert_snapshot!(text);
    assert!(sums.iter().all(Sum::agrees), "{sums:?}");
}

#[test]
fn areas_alone_with_a_count() {
    let csv = "Item,Area (m2),Qty\nFeature wall,24,2\nFront,10.5,1\n";
    let answers = [("height", "2.4m"), ("areas_are", "all")];
    let (text, sums) = written(csv, &answers);
    insta::assert_snapshot!(text);
    assert!(sums.iter().all(Sum::agrees), "{sums:?}");
}

proptest! {
    /// Whatever the sizes, what is written says what the sheet says.
    #[test]
    fn nothing_is_lost_doubled_or_invented(
        rows in prop::collection::vec(
            ("[A-Za-z \"#\\\\{}]{0,8}", 1u32..4000, 0u32..100, 1u32..900, 1u32..9), 1..20,
        )
    ) {
        let mut csv = csv::Writer::from_writer(Vec::new());
        csv.write_record(["Wall", "Length (m)", "Height (mm)", "Nos"]).unwrap();
        for (name, whole, hundredths, height, count) in &rows {
            let length = format!("{whole}.{hundredths:02}");
            csv.write_record([
                format!("w {name}"),
                length,
                format!("{height}"),
                format!("{count}"),
            ])
            .unwrap();
        }
        let csv = String::from_utf8(csv.into_inner().unwrap()).unwrap();
        let (_, sums) = written(&csv, &[]);
        for sum in sums {
            prop_assert!(sum.agrees(), "{sum:?}");
            if sum.what == "faces" {
                prop_assert_eq!(sum.plan, rows.len() as f64);
            }
        }
    }
}
