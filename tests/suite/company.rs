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

/// Four sides of 6 x 5 ft and a well of 4 ft by 2 1/2 ft: 120 + 31.416 ft2, with a relief of 1.1.
/// Scoring takes 0.08 h/ft2 of the company, 1.3 times on the curve: (132 + 34.558 x 1.3) x 0.08 =
/// 14.15 h. The hour's travel is 1.10 for each of 66.62 h.
#[test]
fn own_technique_hours_and_charges_are_in_the_price() {
    let folder = Folder::with_example("marsh-company").unwrap();
    let json = estimate(&folder);
    let carve = json["labour"].as_array().unwrap().iter();
    let carve: Vec<f64> = carve
        .filter(|line| line["phase"] == "carve")
        .map(|line| line["hours"].as_f64().unwrap())
        .collect();
    assert_eq!(carve, [14.15]);
    let charges = &json["content"]["charges"];
    assert_eq!(
        charges,
        &serde_json::json!([{ "name": "Travel", "amount": "73.28" }])
    );
    let factors = json["factors"].as_array().unwrap();
    let own = factors
        .iter()
        .filter(|factor| factor["source"] == "company");
    assert!(own.count() >= 5, "{factors:?}");
}

/// A smaller job is filled up to the least that the company goes out for, before tax.
#[test]
fn a_small_job_costs_the_least_that_is_charged() {
    let folder = Folder::with_example("marsh-company").unwrap();
    folder.edit("job.parge", "count 4", "count 1").unwrap();
    let json = estimate(&folder);
    let price = &json["price"];
    let before_tax = figure(&price["total"]) - figure(&price["tax"]);
    assert!((before_tax - 4500.0).abs() < 0.011, "{before_tax}");
    assert_eq!(json["content"]["charges"][1]["name"], "Minimum charge");
}

#[test]
fn the_pack_has_no_fault() {
    let folder = Folder::with_example("marsh-company").unwrap();
    let said = folder.parge("rules check rules");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let shown = folder.parge("rules show rules mixes");
    assert!(
        shown.out.contains("0.46") && shown.out.contains("0.45"),
        "{shown}"
    );
}
