use super::*;
use crate::sample::{self, BARE_PLAN, PLAN, PRICES, Sample};
use parge_calc::change::compare;
use serde_json::{Value as Json, json};

const PLANS: Both<&str> = Both {
    old: "HEAD~1:walls.parge",
    new: "walls.parge",
};

/// The sample with a wider face, a finish renamed, an opening taken out and a face added.
fn revised() -> Sample {
    let edits = [
        ("22ft 4in", "24ft"),
        ("stone", "rubble"),
        (
            "opening vent rect 12in x 8in reveal 4in count 2\n",
            "opening door rect 3ft x 7ft\n",
        ),
        (
            "finish bark  {",
            "finish slab { technique stamp  thickness 1in }\nfinish bark  {",
        ),
        ("client \"=1+1\"", ""),
    ];
    let mut plan = PLAN.to_owned();
    for (from, to) in edits {
        assert!(plan.contains(from), "{from}");
        plan = plan.replace(from, to);
    }
    sample::run(&plan, &PRICES, "USD")
}

fn changes(old: &Sample, new: &Sample) -> Json {
    let changes = compare(&old.estimate, &new.estimate);
    serde_json::from_str(&change_json(&changes, PLANS)).unwrap()
}

#[test]
fn every_comparison_keeps_to_the_schema() {
    let schema: Json = serde_json::from_str(CHANGE_SCHEMA).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
    let validator = jsonschema::validator_for(&schema).unwrap();
    let samples = [
        sample::complete(),
        sample::with_everything(),
        revised(),
        sample::without_lath(),
        sample::run(BARE_PLAN, &[], "JPY"),
        sample::run(BARE_PLAN, &PRICES, "EUR"),
    ];
    for old in &samples {
        for new in &samples {
            let errors: Vec<String> = validator
                .iter_errors(&changes(old, new))
                .map(|error| error.to_string())
                .collect();
            assert_eq!(errors, [""; 0]);
        }
    }
    // The schema does bite.
    let mut other = changes(&samples[0], &samples[1]);
    other["total"]["old"] = json!(12.5);
    other["changes"][0]["kind"] = json!("moved");
    assert_eq!(validator.iter_errors(&other).count(), 2);
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
                Some(&json!(false)),
                "{path}"
            );
            let required = members["required"].as_array().map(Vec::len);
            assert_eq!(required, Some(properties.len()), "{path}");
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
    check(&serde_json::from_str(CHANGE_SCHEMA).unwrap(), "");
}

#[test]
fn what_changed_as_json() {
    let changes = compare(&sample::complete().estimate, &revised().estimate);
    insta::assert_snapshot!(change_json(&changes, PLANS));
}

#[test]
fn nothing_changed_as_json() {
    let same = changes(&sample::complete(), &sample::complete());
    assert_eq!(same["different"], json!(false));
    for list in ["changes", "areas", "materials", "labour"] {
        assert_eq!(same[list], json!([]), "{list}");
    }
    assert_eq!(same["total"]["difference"], json!("0.00"));
}

/// Amounts in two currencies have no difference, and a line without a price has no cost.
#[test]
fn what_cannot_be_told_is_null() {
    let euros = sample::run(PLAN, &PRICES, "EUR");
    let other = changes(&sample::complete(), &euros);
    assert_eq!(other["total"]["difference"], Json::Null);
    let open = changes(&sample::complete(), &sample::without_lath());
    let lath = &open["materials"][0];
    assert_eq!(lath["item"], json!("lath"));
    assert!(lath["old"]["cost"].is_string());
    assert_eq!(lath["new"]["cost"], Json::Null);
    assert_eq!(open["new"]["status"], json!("incomplete"));
}

#[test]
fn its_own_json_is_known_again() {
    let same = compare(&sample::complete().estimate, &sample::complete().estimate);
    assert!(is_change_json(change_json(&same, PLANS).as_bytes()));
    for other in ["", "{}", "[]", "{\"changes\": []}"] {
        assert!(!is_change_json(other.as_bytes()));
    }
}
