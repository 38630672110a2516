//! The days of work: shown, written for other programs, and where they cannot be planned.

use parge_cli::Exit;
use parge_tests::Folder;

const PLAN: &str = r#"parge 1

job "Fern Court" {
  date      2026-05-11
  units     us
  rules     "vertical-concrete"
  prices    "prices.csv"
  crew      2
  start     2026-06-01
  workdays  mon tue wed thu
  travel    45min
  weather   { air 72F  humidity 55%  wind 4mph  mix 72F }
  weather   2026-06-03 { air 97F  humidity 20%  wind 18mph  mix 90F }
  bid       { burden 34%  overhead 12%  profit margin 18%  tax 0% on materials }
}

finish ashlar { technique stamp  thickness 3/4in  colours sandstone 100%  sealer matte, 1 coat }

structure "Entry wall" on block { face front rect 14ft x 4ft ashlar }
structure "=Bench" on block { face seat rect 8ft x 2ft ashlar }
"#;

/// A folder with the plan, in which some of it stands otherwise.
fn folder(changes: &[(&str, &str)]) -> Folder {
    let folder = Folder::with_demo().unwrap();
    folder.write("job.parge", PLAN).unwrap();
    for (from, to) in changes {
        folder.edit("job.parge", from, to).unwrap();
    }
    folder
}

const UNDATED: [(&str, &str); 2] = [
    ("  start     2026-06-01\n", ""),
    (
        "  weather   2026-06-03 { air 97F  humidity 20%  wind 18mph  mix 90F }\n",
        "",
    ),
];

#[test]
fn days_and_batches_are_shown() {
    let said = folder(&[]).parge("days job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);
}

#[test]
fn days_without_dates_are_counted() {
    let said = folder(&UNDATED).parge("days job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(said.out.contains("day 3"), "{said}");
    for no in ["2001", "2026", "Mon", "Tue"] {
        assert!(!said.out.contains(no), "{said}");
    }
}

/// The hot and windy day has a shorter working time, so smaller batches, and its own line of the
/// explanation.
#[test]
fn a_hot_day_has_smaller_batches_that_are_explained() {
    let folder = folder(&[]);
    let list = folder.parge("explain job.parge");
    assert!(
        list.out.contains("batch.2026-06-03.finish-mix.ashlar"),
        "{list}"
    );
    let most = |day: &str| {
        let figure = format!("batch.{day}.finish-mix.ashlar");
        folder.parge_with(&["explain", "job.parge", &figure])
    };
    let [mild, hot] = ["2026-06-02", "2026-06-03"].map(most);
    assert_eq!(
        (mild.exit, hot.exit),
        (Exit::Fine, Exit::Fine),
        "{mild}\n{hot}"
    );
    insta::assert_snapshot!(hot);
    let undated = self::folder(&UNDATED);
    let said = undated.parge_with(&["explain", "job.parge", "batch.\"day 2\".finish-mix.ashlar"]);
    assert_eq!(said.exit, Exit::Fine, "{said}");
}

#[test]
fn each_form_is_written_whole() {
    let folder = folder(&[]);
    for (name, first, last) in [
        ("days.ics", "BEGIN:VCALENDAR\r\n", "END:VCALENDAR\r\n"),
        ("days.svg", "<svg ", "</svg>\n"),
        ("days.csv", "\u{feff}day,weekday,structure,", "\r\n"),
    ] {
        // Twice: a file that says the same is no one's work.
        for _ in 0..2 {
            let said = folder.parge(&format!("days job.parge -o {name}"));
            assert_eq!(said.exit, Exit::Fine, "{said}");
        }
        let text = folder.read(name).unwrap();
        assert!(text.starts_with(first) && text.ends_with(last), "{text}");
        assert!(text.contains("Entry wall"), "{text}");
    }
    let csv = folder.read("days.csv").unwrap();
    assert!(
        csv.contains(",'=Bench,") && !csv.contains(",=Bench"),
        "{csv}"
    );
    let names = [
        "days.csv",
        "days.ics",
        "days.svg",
        "job.parge",
        "prices.csv",
    ];
    assert_eq!(folder.names().unwrap(), names);
}

#[test]
fn a_file_that_was_worked_in_is_replaced_only_when_told_to() {
    let folder = folder(&[]);
    for name in ["days.ics", "days.svg", "days.csv"] {
        let said = folder.parge(&format!("days job.parge -o {name}"));
        assert_eq!(said.exit, Exit::Fine, "{said}");
        let own = folder.read(name).unwrap();
        let edited = own.replace("Entry wall", "Gate wall");
        folder.write(name, &edited).unwrap();
        let said = folder.parge(&format!("days job.parge -o {name}"));
        assert_eq!(said.exit, Exit::Failed, "{said}");
        assert!(said.err.contains("--force"), "{said}");
        assert_eq!(folder.read(name).unwrap(), edited);
        let said = folder.parge(&format!("days job.parge -o {name} --force"));
        assert_eq!(said.exit, Exit::Fine, "{said}");
        assert_eq!(folder.read(name).unwrap(), own);
    }
}

/// Forced or not: the plan and its price book are no target, and the ending names the form.
#[test]
fn targets_that_cannot_be_meant_are_refused() {
    let folder = folder(&[]);
    folder.write("plan.csv", PLAN).unwrap();
    let before = ["plan.csv", "prices.csv"].map(|name| folder.read(name).unwrap());
    for command in [
        "days job.parge -o prices.csv --force",
        "days plan.csv -o plan.csv --force",
        "days job.parge -o days.pdf",
        "days job.parge -o days",
        "days job.parge -o nowhere/days.csv",
    ] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Failed, "{command}: {said}");
    }
    let after = ["plan.csv", "prices.csv"].map(|name| folder.read(name).unwrap());
    assert_eq!(before, after);
    assert_eq!(
        folder.names().unwrap(),
        ["job.parge", "plan.csv", "prices.csv"]
    );
}

#[test]
fn a_calendar_or_chart_without_dates_says_what_to_write() {
    let folder = folder(&UNDATED);
    let said = ["days.ics", "days.svg"].map(|name| {
        let said = folder.parge(&format!("days job.parge -o {name}"));
        assert_eq!(said.exit, Exit::Failed, "{said}");
        said.err
    });
    insta::assert_snapshot!(said.join("\n"));
    let said = folder.parge("days job.parge -o days.csv");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert_eq!(
        folder.names().unwrap(),
        ["days.csv", "job.parge", "prices.csv"]
    );
}

/// More work than five years hold: it is said once, the estimate stands, and no file is written.
#[test]
fn work_that_cannot_be_planned_is_still_estimated() {
    let folder = folder(&[
        ("14ft x 4ft", "9000ft x 900ft"),
        ("crew      2", "crew      1"),
    ]);
    let said = folder.parge("estimate job.parge --json out.json");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(said.err.contains("W0311"), "{said}");
    assert!(folder.read("out.json").unwrap().contains("\"days\": null"));
    let said = folder.parge("days job.parge");
    assert_eq!((said.exit, said.out.as_str()), (Exit::Fine, ""));
    insta::assert_snapshot!(said.err);
    let said = folder.parge("days job.parge -o days.csv");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert!(said.err.contains("days.csv is not written"), "{said}");
    assert_eq!(
        folder.names().unwrap(),
        ["job.parge", "out.json", "prices.csv"]
    );
}

#[test]
fn a_pack_without_days_is_said() {
    let folder = folder(&[("rules     \"vertical-concrete\"", "rules     \"./plain\"")]);
    let head = "property,value,unit,source,note\n";
    let files = [
        ("pack.toml", "name = \"plain\"\nversion = \"1.0.0\"\nsummary = \"Without days\"\nrules = [\"labour\"]\n".to_owned()),
        ("scripts/labour.rhai", "fn labour(face) { hours(\"place\", face.area * factor(\"labour\", \"place\")); }\n".to_owned()),
        ("tables/labour.csv", "phase,value,unit,source,note\nplace,0.1,h/ft2,company,\n".to_owned()),
        ("tables/phases.csv", format!("phase,{head}place,description,Place,text,company,\nplace,order,1,1,company,\n")),
        ("tables/substrates.csv", format!("substrate,{head}block,description,Block,text,company,\n")),
        ("tables/techniques.csv", format!("technique,{head}stamp,description,Stamped,text,company,\n")),
    ];
    for (path, text) in files {
        folder.write(&format!("plain/{path}"), text).unwrap();
    }
    let said = folder.parge("days job.parge -o days.csv");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    insta::assert_snapshot!(said);
    assert!(!folder.names().unwrap().contains(&"days.csv".to_owned()));
}

#[test]
fn weather_too_cold_for_any_coat_is_said() {
    let folder = folder(&[("air 72F", "air 30F"), ("mix 72F", "mix 50F")]);
    let said = folder.parge("days job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(said.out.contains("days of work for a crew of 2"), "{said}");
    insta::assert_snapshot!(said.err);
    // A cold day of its own is only a day without coats.
    let cold_day = "weather   2026-06-03 { air 25F  humidity 20%  wind 18mph  mix 40F }";
    let hot_day = "weather   2026-06-03 { air 97F  humidity 20%  wind 18mph  mix 90F }";
    let said = self::folder(&[(hot_day, cold_day)]).parge("days job.parge");
    assert_eq!((said.exit, said.err.as_str()), (Exit::Fine, ""));
    let (_, batches) = said.out.split_once("\nbatches\n").unwrap();
    assert!(!batches.contains("2026-06-03"), "{said}");
}
