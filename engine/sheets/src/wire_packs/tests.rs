use super::*;
use crate::sample;
use crate::wire_change::CHANGE_SCHEMA;
use parge_calc::change::compare;
use serde_json::{Value as Json, json};

fn line(pack: &str, file: &'static str, line: usize) -> LineWire<'static> {
    LineWire {
        pack: pack.to_owned(),
        file,
        line,
    }
}

fn row(value: &'static str, number: Option<f64>, unit: &'static str) -> RowWire<'static> {
    RowWire {
        value,
        number,
        unit,
        source: "company".to_owned(),
        note: "",
        place: line("ours", "ours/tables/waste.csv", 2),
    }
}

fn packs<'a>(keys: &'a [String], parameters: &'a [String]) -> PackChangesWire<'a> {
    let side = |pack, version: &str| PackWire {
        pack,
        name: "ours",
        version: version.to_owned(),
        folder: pack,
    };
    let changed = |kind, old, new| RowChangeWire {
        table: "waste",
        keys,
        kind,
        taken_away_by: (kind == Happened::TakenAway).then_some("ours"),
        old,
        new,
    };
    PackChangesWire {
        different: true,
        old: side("base", "1.0"),
        new: side("./ours", "2.0 on base 1.0"),
        rows: vec![
            changed(
                Happened::Replaced,
                Some(row("3/8", Some(0.375), "in")),
                Some(row("1/2", Some(0.5), "in")),
            ),
            changed(Happened::TakenAway, Some(row("stamp", None, "text")), None),
            changed(Happened::Added, None, Some(row("8", Some(8.0), "%"))),
        ],
        functions: vec![FunctionChangeWire {
            name: "waste",
            parameters,
            is_rule: true,
            kind: Happened::Removed,
            old: Some(line("base", "base/scripts/waste.rhai", 5)),
            new: None,
        }],
    }
}

fn written(with_plan: bool) -> String {
    let keys = ["mix".to_owned(), "any".to_owned()];
    let parameters = ["face".to_owned(), "item".to_owned()];
    let changes = compare(
        &sample::complete().estimate,
        &sample::without_lath().estimate,
    );
    let plan = with_plan.then_some(("walls.parge", &changes));
    pack_change_json(&packs(&keys, &parameters), plan)
}

#[test]
fn every_comparison_keeps_to_the_schema() {
    let schema: Json = serde_json::from_str(PACK_CHANGE_SCHEMA).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
    let validator = jsonschema::validator_for(&schema).unwrap();
    for with_plan in [false, true] {
        let json: Json = serde_json::from_str(&written(with_plan)).unwrap();
        let errors: Vec<String> = validator
            .iter_errors(&json)
            .map(|error| error.to_string())
            .collect();
        assert_eq!(errors, [""; 0]);
        assert_eq!(json["plan"].is_object(), with_plan);
    }
    // The schema does bite.
    let mut other: Json = serde_json::from_str(&written(true)).unwrap();
    other["rows"][0]["kind"] = json!("moved");
    other["functions"][0]["old"]["line"] = json!(0);
    other["plan"] = json!({});
    assert_eq!(validator.iter_errors(&other).count(), 3);
}

/// A plan is told in the form of `parge diff`, which one schema describes and the other repeats.
#[test]
fn the_plan_is_described_as_in_the_schema_of_changes() {
    let own: Json = serde_json::from_str(PACK_CHANGE_SCHEMA).unwrap();
    let changes: Json = serde_json::from_str(CHANGE_SCHEMA).unwrap();
    for key in ["type", "additionalProperties", "required", "properties"] {
        assert_eq!(own["$defs"]["plan"][key], changes[key], "{key}");
    }
    let defined = changes["$defs"].as_object().unwrap();
    assert!(defined.len() > 5);
    for (name, definition) in defined {
        assert_eq!(&own["$defs"][name], definition, "{name}");
    }
}

#[test]
fn what_differs_as_json() {
    insta::assert_snapshot!(written(false));
}

#[test]
fn its_own_json_is_known_again() {
    assert!(is_pack_change_json(written(false).as_bytes()));
    assert!(is_pack_change_json(written(true).as_bytes()));
    for other in ["", "{}", "[]", "{\"rows\": []}"] {
        assert!(!is_pack_change_json(other.as_bytes()));
    }
}
