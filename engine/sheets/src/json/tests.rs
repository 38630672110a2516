use super::*;
use crate::sample::{self, BARE_PLAN, PRICES, Sample};
use serde_json::Value;

fn text(sample: &Sample) -> String {
    json(
        &sample.estimate,
        &sample::fingerprint(),
        &sample.sources,
        &sample.diagnostics,
    )
}

fn value(sample: &Sample) -> Value {
    serde_json::from_str(&text(sample)).unwrap()
}

fn samples() -> [Sample; 10] {
    [
        sample::with_terms("minimum 9000 USD  round up to 10 USD"),
        sample::with_terms("round to 5 USD"),
        sample::complete(),
        sample::with_everything(),
        sample::without_lath(),
        sample::laid_out(),
        sample::on_days(),
        sample::on_undated_days(),
        sample::run(BARE_PLAN, &[], "JPY"),
        sample::run(BARE_PLAN, &PRICES, "EUR"),
    ]
}

#[test]
fn every_estimate_keeps_to_the_schema() {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
    let validator = jsonschema::validator_for(&schema).unwrap();
    for sample in samples() {
        let value = value(&sample);
        let errors: Vec<String> = validator
            .iter_errors(&value)
            .map(|e| e.to_string())
            .collect();
        assert_eq!(errors, [""; 0]);
    }
    // The schema does bite.
    let mut other = value(&sample::complete());
    other["price"]["total"] = Value::from(12.5);
    other["faces"][0]["area"] = Value::from(1);
    assert_eq!(validator.iter_errors(&other).count(), 2);
}

#[test]
fn every_property_of_the_schema_is_described() {
    fn check(schema: &Value, path: &str) {
        let Value::Object(members) = schema else {
            return;
        };
        if let Some(Value::Object(properties)) = members.get("properties") {
            assert_eq!(
                members.get("additionalProperties"),
                Some(&Value::Bool(false)),
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
    check(&serde_json::from_str(SCHEMA).unwrap(), "");
}

/// What is written line by line is what is made in memory, and it is asked of the writer alone.
#[test]
fn what_is_written_is_the_same_text() {
    for sample in samples() {
        let mut written = Vec::new();
        write_json(
            &sample.estimate,
            &sample::fingerprint(),
            &sample.sources,
            &sample.diagnostics,
            &mut written,
        )
        .unwrap();
        assert_eq!(String::from_utf8(written).unwrap(), text(&sample));
        let full = &mut [0; 100][..];
        let print = sample::fingerprint();
        write_json(&sample.estimate, &print, &sample.sources, &[], full).unwrap_err();
    }
}

#[test]
fn the_whole_estimate() {
    insta::assert_snapshot!(text(&sample::complete()));
}

#[test]
fn an_open_line_is_null_and_never_nothing() {
    let value = value(&sample::without_lath());
    assert_eq!(value["status"], "incomplete");
    let lath = &value["materials"][1];
    assert_eq!(lath["item"], "lath");
    for member in ["packs", "pack", "unit_price", "cost"] {
        assert_eq!(lath[member], Value::Null, "{member}");
    }
}

#[test]
fn what_is_not_stated_is_null() {
    let value = value(&sample::run(BARE_PLAN, &[], "JPY"));
    for member in ["client", "site", "date"] {
        assert_eq!(value["job"][member], Value::Null, "{member}");
    }
    for term in ["burden", "overhead", "profit", "tax"] {
        assert_eq!(value["price"]["terms"][term], Value::Null, "{term}");
    }
    assert_eq!(value["price"]["wage"], Value::Null);
    assert_eq!(value["price"]["total"], "0");
    assert_eq!(value["faces"][0]["net_area"]["value"], 10.0);
    assert_eq!(value["faces"][0]["net_area"]["unit"], "m2");
}

#[test]
fn diagnostics_alone() {
    let sample = sample::without_lath();
    insta::assert_snapshot!(diagnostics_json(&sample.diagnostics, &sample.sources));
    assert_eq!(
        diagnostics_json(&[], &sample.sources),
        "{\n  \"diagnostics\": []\n}"
    );
}

#[test]
fn what_is_laid_out_stands_beside_the_count_by_area() {
    let value = value(&sample::laid_out());
    let layouts = value["layouts"].as_array().unwrap();
    assert_eq!(layouts.len(), 1);
    assert_eq!(layouts[0]["item"], "lath");
    let count = |name: &str| layouts[0][name]["value"].as_f64().unwrap();
    assert!(count("laid_out") > count("by_area"));
}

#[test]
fn the_days_and_their_batches() {
    let value = value(&sample::on_days());
    let days = &value["days"];
    insta::assert_snapshot!(serde_json::to_string_pretty(days).unwrap());
    // Every step is done, and its work is on days that are listed.
    let steps = days["steps"].as_array().unwrap();
    for (number, step) in steps.iter().enumerate() {
        let work = days["days"].as_array().unwrap().iter();
        let work = work.flat_map(|day| day["work"].as_array().unwrap());
        let of_step = work.filter(|work| work["step"] == number);
        let share: f64 = of_step.map(|work| work["share"].as_f64().unwrap()).sum();
        assert!((share - 1.0).abs() < 1e-6, "{step}");
    }
}

#[test]
fn days_without_a_first_day_have_no_dates() {
    let undated = value(&sample::on_undated_days());
    let days = &undated["days"];
    assert_eq!(days["dated"], false);
    assert_eq!(days["days"][0]["label"], "day 1");
    assert_eq!(days["days"][0]["date"], Value::Null);
    assert!(!days.to_string().contains("2001"), "{days}");
    // A pack without rules for days plans none.
    assert_eq!(value(&sample::complete())["days"], Value::Null);
}

#[test]
fn offers_and_terms_of_the_bid() {
    let value = value(&sample::with_terms("minimum 9000 USD  round up to 10 USD"));
    let chosen: Vec<_> = ["from_packs", "taxed", "reason"]
        .map(|name| &value["materials"][0][name])
        .into();
    let shown = serde_json::json!({
        "price": value["price"],
        "purchases": value["purchases"],
        "chosen": chosen,
    });
    insta::assert_snapshot!(serde_json::to_string_pretty(&shown).unwrap());
}

/// What faces, edges, the whole job and the days take adds up to the lines of the estimate.
#[test]
fn what_is_taken_adds_up() {
    for sample in samples() {
        let value = value(&sample);
        let all = |name: &str| value[name].as_array().cloned().unwrap_or_default();
        let days = value["days"]["days"]
            .as_array()
            .cloned()
            .unwrap_or_default();
        let of_parts = [all("faces"), all("edges"), days].concat();
        let mut takes: Vec<Value> = of_parts.iter().map(|part| part["takes"].clone()).collect();
        takes.push(value["whole_job"].clone());
        let sum = |list: &str, key: &str, name: &Value, figure: fn(&Value) -> &Value| {
            let lines = takes.iter().filter_map(|of| of[list].as_array()).flatten();
            let of_it = lines.filter(|line| line[key] == *name);
            of_it
                .map(|line| figure(line).as_f64().unwrap())
                .sum::<f64>()
        };
        for material in all("materials") {
            let item = &material["item"];
            let need = sum("needs", "item", item, |line| &line["need"]["value"]);
            let waste = sum("needs", "item", item, |line| &line["waste"]["value"]);
            assert!(
                (need - material["need"]["value"].as_f64().unwrap()).abs() < 1e-6,
                "{item}"
            );
            assert!(
                (waste - material["waste"]["value"].as_f64().unwrap()).abs() < 1e-6,
                "{item}"
            );
        }
        for labour in all("labour") {
            let hours = sum("hours", "phase", &labour["phase"], |line| &line["hours"]);
            assert!((hours - labour["hours"].as_f64().unwrap()).abs() <= 0.005 + 1e-6);
        }
    }
}
