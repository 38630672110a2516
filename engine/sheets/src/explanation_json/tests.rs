use super::*;
use crate::sample::{self, BARE_PLAN, PRICES, Sample};
use parge_calc::explain::{Listing, explain, listing};
use serde_json::Value as Json;

fn outline(sample: &Sample, name: &str) -> Option<Outline> {
    let explanation = explain(&sample.estimate, &sample.book, &sample.sources, name);
    explanation
        .ok()
        .map(|explanation| Outline::of(&explanation))
}

fn text(sample: &Sample, name: &str) -> Option<String> {
    let job = &sample.estimate.takeoff.measured.job;
    Some(explanation_json(
        &outline(sample, name)?,
        job,
        &sample.sources,
    ))
}

/// Names of figures of every kind.
fn names(sample: &Sample) -> Vec<String> {
    let Listing {
        price,
        materials,
        phases,
        faces,
        measures,
        ..
    } = listing(&sample.estimate);
    let mut names = [price, materials.clone(), phases.clone()].concat();
    for face in faces {
        let own = measures.iter().chain(&materials).chain(&phases);
        names.extend(own.map(|name| format!("{face}.{name}")));
    }
    names
}

#[test]
fn every_explanation_keeps_to_the_schema() {
    let schema: Json = serde_json::from_str(EXPLANATION_SCHEMA).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
    let validator = jsonschema::validator_for(&schema).unwrap();
    let samples = [
        sample::complete(),
        sample::with_everything(),
        sample::without_lath(),
        sample::run(BARE_PLAN, &PRICES, "EUR"),
    ];
    let mut count = 0;
    for sample in &samples {
        for text in names(sample).iter().filter_map(|name| text(sample, name)) {
            let value: Json = serde_json::from_str(&text).unwrap();
            let errors: Vec<String> = validator
                .iter_errors(&value)
                .map(|e| e.to_string())
                .collect();
            assert_eq!(errors, [""; 0]);
            count += 1;
        }
    }
    assert!(count > 150, "{count}");
    let mut other: Json = serde_json::from_str(&text(&samples[0], "total").unwrap()).unwrap();
    other["entries"][0]["value"]["amount"] = Json::from(12.5);
    assert!(!validator.is_valid(&other), "money is never a number");
}

#[test]
fn every_property_of_the_schema_is_described() {
    fn check(schema: &Json, path: &str) {
        let Json::Object(members) = schema else {
            return;
        };
        if let Some(Json::Object(properties)) = members.get("properties") {
            assert_eq!(
                members.get("additionalProperties"),
                Some(&Json::Bool(false)),
                "{path}"
            );
            for (name, property) in properties {
                assert!(
                    property["description"].is_string(),
                    "{path}/{name} says nothing"
                );
            }
        }
        for (name, member) in members {
            check(member, &format!("{path}/{name}"));
        }
    }
    check(&serde_json::from_str(EXPLANATION_SCHEMA).unwrap(), "");
}

#[test]
fn a_small_explanation() {
    insta::assert_snapshot!(text(&sample::complete(), "ends.width").unwrap());
}
