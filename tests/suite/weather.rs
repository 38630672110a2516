//! Weather that a plan states, from the reading to the priced line and its explanation.

use parge_cli::Exit;
use parge_tests::{Folder, Said};

/// The demo with its finishes in weather.
fn demo(weather: &str) -> Folder {
    let folder = Folder::with_demo().unwrap();
    let [every_day, one_day] = [
        "weather { air 76F  humidity 55%  wind 6mph  mix 72F }",
        "weather 2026-06-09 { air 97F  humidity 18%  wind 18mph  mix 88F }",
    ];
    let with = format!("weather {{ {weather} }}");
    folder.edit("job.parge", every_day, &with).unwrap();
    folder.edit("job.parge", one_day, "").unwrap();
    folder
}

fn explained(folder: &Folder, figure: &str) -> Said {
    let said = folder.parge_with(&["explain", "job.parge", figure]);
    assert_eq!(said.exit, Exit::Fine, "{said}");
    said
}

const HOT: &str = "air 80F  humidity 50%  wind 12mph  mix 87F";

/// E3 in a plan: 0.24 lb/ft2/h, and the lines that come of it.
#[test]
fn drying_weather_is_priced_and_says_why() {
    let folder = demo(HOT);
    let said = folder.parge("estimate job.parge --json -");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(!said.err.contains("W0217"), "{said}");
    assert!(said.out.contains("about 0.24 lb/ft2/h of water"), "{said}");
    let texts = ["evaporation", "dew_point"].map(|figure| explained(&folder, figure).to_string());
    insta::assert_snapshot!(texts.join("\n\n"));
    for figure in ["shade-cloth.need", "windbreak.need", "hours.protect"] {
        let said = explained(&folder, figure);
        let text: Vec<&str> = said.out.split(['│', ' ', '\n']).collect();
        let text: Vec<&str> = text.into_iter().filter(|word| !word.is_empty()).collect();
        let reason = "because evaporation 0.243 lb/ft2/h > limit 0.1 lb/ft2/h";
        assert!(text.join(" ").contains(reason), "{said}");
    }
}

/// Nothing that is stated is passed over in silence.
#[test]
fn half_of_the_weather_is_said() {
    let said = demo("air 91F  humidity 25%").parge("check job.parge");
    assert_eq!(said.exit, Exit::Fine);
    insta::assert_snapshot!(said);
}

#[test]
fn cold_and_damp_weather_is_said() {
    let said = demo("air 3C  humidity 95%").parge("check job.parge");
    assert_eq!(said.exit, Exit::Fine);
    insta::assert_snapshot!(said);
}

/// D7: no dew point without moisture.
#[test]
fn air_without_moisture_is_refused() {
    let said = demo("air 91F  humidity 0%").parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(said.err.contains("over 0%"), "{said}");
}

/// A company that declares a yield which its bag cannot fill bids on half of the bags.
#[test]
fn a_wrong_yield_of_a_company_is_said() {
    let folder = Folder::with_example("heron-yard").unwrap();
    let before = folder.parge("check job.parge");
    assert!(!before.err.contains("absolute volumes"), "{before}");
    folder
        .edit("our-rules/tables/mixes.csv", "yield,0.48,", "yield,0.80,")
        .unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Fine);
    assert!(said.err.contains("the yield of `finish-mix`"), "{said}");
}
