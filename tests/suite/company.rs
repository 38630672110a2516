//! The example of a company pack: what it changes reaches the price.

use parge_cli::Exit;
use parge_tests::Folder;
use serde_json::Value;

fn estimate(folder: &Folder) -> Value {
    let said = folder.parge("estimate job.parge --json -");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    serde_json::from_str(&said.out).unwrap()
}

fn figure(value: &Value) -> f64 {
    value.as_str().unwrap().parse().unwrap()
}

/// A wall of 60 x 6 ft with a relief of 1.05: combing takes 0.03 h/ft2 of the company, 378 x 0.03 =
/// 11.34 h. Travel is 1.10 for every hour that is paid, and the job is over the minimum charge.
#[test]
fn own_technique_hours_and_travel_are_in_the_price() {
    let folder = Folder::with_example("heron-yard").unwrap();
    let size = "face lane rect 6ft x 3ft 4in";
    folder
        .edit("job.parge", size, "face lane rect 60ft x 6ft")
        .unwrap();
    let json = estimate(&folder);
    let hours = |line: &Value| line["hours"].as_f64().unwrap();
    let labour = json["labour"].as_array().unwrap();
    let comb = labour.iter().filter(|line| line["phase"] == "stamp");
    assert_eq!(comb.map(hours).collect::<Vec<_>>(), [11.34]);
    let all: f64 = labour.iter().map(hours).sum();
    let charges = json["content"]["charges"].as_array().unwrap();
    assert_eq!(charges.len(), 1, "{charges:?}");
    assert_eq!(charges[0]["name"], "Travel");
    assert!((figure(&charges[0]["amount"]) - all * 1.10).abs() < 0.005 + 1e-9);
    let factors = json["factors"].as_array().unwrap();
    let own = factors
        .iter()
        .filter(|factor| factor["source"] == "company");
    assert!(own.count() >= 5, "{factors:?}");
}

/// The job as it is lies under the least that the company goes out for, before tax.
#[test]
fn a_small_job_costs_the_least_that_is_charged() {
    let folder = Folder::with_example("heron-yard").unwrap();
    let json = estimate(&folder);
    let price = &json["price"];
    let before_tax = figure(&price["total"]) - figure(&price["tax"]);
    assert!((before_tax - 2150.0).abs() < 0.011, "{before_tax}");
    let charges = json["content"]["charges"].as_array().unwrap();
    let both: f64 = charges.iter().map(|charge| figure(&charge["amount"])).sum();
    assert_eq!(charges[1]["name"], "Minimum charge");
    // Together they are what the bid lacked without them, by hand from its other lines.
    assert!((both - 110.58).abs() < 0.011, "{charges:?}");
}

#[test]
fn the_pack_has_no_fault() {
    let folder = Folder::with_example("heron-yard").unwrap();
    let said = folder.parge("rules check our-rules");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let shown = folder.parge("rules show our-rules mixes");
    assert!(
        shown.out.contains("0.48") && shown.out.contains("0.45"),
        "{shown}"
    );
}

/// An amount that is added is explained down to the pack's table and the lines of the bid.
#[test]
fn the_charges_are_explained() {
    let folder = Folder::with_example("heron-yard").unwrap();
    let said = folder.parge("explain job.parge charges --depth 4");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);
}
