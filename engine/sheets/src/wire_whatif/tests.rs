use super::*;
use crate::CHANGE_SCHEMA;
use crate::sample;
use parge_base::{Code, Currency, Diagnostic, Money};
use parge_calc::change::compare;
use parge_calc::takeoff::{Audience, Caution};
use rust_decimal::Decimal;
use serde_json::{Value, json};

fn schema(text: &str) -> Value {
    let schema: Value = serde_json::from_str(text).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
    schema
}

fn faults(schema: &Value, json: &Value) -> Vec<String> {
    let validator = jsonschema::validator_for(schema).unwrap();
    let faults = validator.iter_errors(json);
    faults.map(|error| error.to_string()).collect()
}

fn caution(key: &str) -> Caution {
    Caution {
        key: key.to_owned(),
        text: format!("Mind {key}."),
        audience: Audience::Crew,
        faces: 2,
    }
}

fn compared() -> String {
    let (old, new) = (sample::complete(), sample::without_lath());
    let set = |name: &str, old: &str, new: &str, same| SetLine {
        name: name.to_owned(),
        old: old.to_owned(),
        new: new.to_owned(),
        same,
        used: true,
    };
    let compared = Compared {
        sets: vec![
            set("waste.mix", "10%", "12%", false),
            set("bid.tax", "", "8% on total", false),
            set("crew", "3", "3", true),
        ],
        changes: compare(&old.estimate, &new.estimate),
        cautions: Both {
            old: vec![caution("heat")],
            new: vec![caution("wind"), caution("cold")],
        },
        said: Both {
            old: vec![Diagnostic::new(Code::NoDate, "no date", "add one")],
            new: vec![],
        },
    };
    whatif_json(&compared, "walls.parge", &new.sources)
}

fn most() -> String {
    let usd = Currency::from_code("USD").unwrap();
    let money = |cents| Money::new(Decimal::new(cents, 2), usd);
    let moved = |name: &str, down, up| Moved {
        name: name.to_owned(),
        value: "0.45 ft3/bag".to_owned(),
        down,
        up,
        source: "company".to_owned(),
        place: None,
    };
    let skipped = |name: &str, why| Skipped {
        name: name.to_owned(),
        value: "0".to_owned(),
        why,
    };
    let most = Most {
        by: Decimal::new(5, 2),
        total: money(125_000),
        moved: vec![
            moved(
                "a",
                Way::Difference(money(-1250)),
                Way::Difference(money(1300)),
            ),
            moved(
                "b",
                Way::Unknown("no such wall".into()),
                Way::Difference(money(1)),
            ),
            moved("c", Way::Difference(money(0)), Way::Difference(money(0))),
        ],
        skipped: vec![
            skipped("d", Why::Zero),
            skipped("e", Why::Count),
            skipped("f", Why::Thermometer),
            skipped("g", Why::NoFigures("too large".into())),
        ],
    };
    let sample = sample::complete();
    most_json(&most, &sample.estimate, 2, &sample.sources)
}

#[test]
fn both_keep_to_their_schemas() {
    for (text, json, spoilt) in [
        (WHATIF_SCHEMA, compared(), "set"),
        (MOST_SCHEMA, most(), "inputs"),
    ] {
        let schema = schema(text);
        let mut json: Value = serde_json::from_str(&json).unwrap();
        assert_eq!(faults(&schema, &json), [""; 0]);
        // The schema does bite.
        json[spoilt][0]["name"] = json!(3);
        assert_eq!(faults(&schema, &json).len(), 1);
    }
}

/// What is shared with another schema says the same in both.
#[test]
fn changes_are_those_of_the_schema_of_changes() {
    let (whatif, change) = (schema(WHATIF_SCHEMA), schema(CHANGE_SCHEMA));
    for (name, definition) in change["$defs"].as_object().unwrap() {
        assert_eq!(&whatif["$defs"][name], definition, "{name}");
    }
    assert_eq!(
        whatif["$defs"]["changes"]["properties"],
        change["properties"]
    );
    let estimate = schema(crate::SCHEMA);
    for name in ["caution", "diagnostic"] {
        assert_eq!(whatif["$defs"][name], estimate["$defs"][name], "{name}");
    }
}

#[test]
fn every_property_of_the_schemas_is_described() {
    fn check(schema: &Value, path: &str) {
        let Value::Object(members) = schema else {
            return;
        };
        if let Some(Value::Object(properties)) = members.get("properties") {
            assert_eq!(members["additionalProperties"], json!(false), "{path}");
            let required = members["required"].as_array().map(Vec::len);
            assert_eq!(required, Some(properties.len()), "{path}");
            for (name, property) in properties {
                assert!(property["description"].is_string(), "{path}/{name}");
            }
        }
        for (name, member) in members {
            check(member, &format!("{path}/{name}"));
        }
    }
    for text in [WHATIF_SCHEMA, MOST_SCHEMA] {
        check(&schema(text), "");
    }
}

#[test]
fn what_moves_the_total_as_json() {
    insta::assert_snapshot!(most());
}

#[test]
fn what_is_set_as_json() {
    let json: Value = serde_json::from_str(&compared()).unwrap();
    let parts = ["set", "cautions", "diagnostics"].map(|part| json[part].clone());
    insta::assert_snapshot!(serde_json::to_string_pretty(&json!(parts)).unwrap());
}
