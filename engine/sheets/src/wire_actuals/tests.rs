use super::*;

#[test]
fn an_own_file_is_known() {
    assert!(!is_actuals_json(b"{}"));
    assert!(!is_actuals_json(b"no json"));
    let own = r#"{"job":"","record":"","fingerprint":{},"unmatched":[],"totals":{}}"#;
    assert!(is_actuals_json(own.as_bytes()));
}

/// Real comparisons are held to it by the tests of the program.
#[test]
fn the_schema_is_one() {
    let schema: serde_json::Value = serde_json::from_str(ACTUALS_SCHEMA).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
}
