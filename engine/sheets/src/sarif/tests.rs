use super::*;
use serde_json::Value;

/// The schema of the standard (OASIS, SARIF 2.1.0), as the crate `serde-sarif` 0.8.0 carries it.
const OFFICIAL: &str = include_str!("sarif-schema-2.1.0.json");

/// Two plans with a finding of each form: with one place, with two, with none, over a line break.
fn log() -> Value {
    let mut sources = Sources::new();
    let plan = sources.add(
        "jobs/été 1.parge",
        "parge 1\nlet höhe = 2ft\nlet höhe = 3ft\n",
    );
    let other = sources.add("./b.parge", "parge 1\n");
    let said = [
        Diagnostic::new(Code::DefinedTwice, "`höhe` is defined twice", "remove one")
            .at(Span::new(plan, 28, 33), "again here")
            .at(Span::new(plan, 12, 17), "first here"),
        Diagnostic::new(Code::UnusedName, "`höhe` is not used", "write `{ }`")
            .at(Span::new(plan, 12, 24), ""),
    ];
    let more = [
        Diagnostic::new(
            Code::CannotRead,
            "prices.csv cannot be read",
            "check the name",
        ),
        Diagnostic::new(Code::DefinedTwice, "`b` is defined twice", "remove one")
            .at(Span::new(other, 8, 8), ""),
    ];
    let checked = [
        Checked {
            plan: "jobs/été 1.parge",
            diagnostics: &said,
        },
        Checked {
            plan: "./b.parge",
            diagnostics: &more,
        },
    ];
    serde_json::from_str(&sarif(&checked, &sources, &|_, name| name.into())).unwrap()
}

fn faults(log: &Value) -> Vec<String> {
    // The pattern of a language has a bracket too many, which strict readers of patterns refuse.
    let schema = OFFICIAL.replace("-[a-zA-Z]{2}]?$", "-[a-zA-Z]{2}$");
    let schema: Value = serde_json::from_str(&schema).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    validator.iter_errors(log).map(|e| e.to_string()).collect()
}

#[test]
fn a_log_keeps_to_the_schema_of_the_standard() {
    let mut log = log();
    assert_eq!(faults(&log), [""; 0]);
    let none = serde_json::from_str(&sarif(&[], &Sources::new(), &|_, name| name.into())).unwrap();
    assert_eq!(faults(&none), [""; 0]);
    // The schema does bite.
    log["runs"][0]["results"][0]["level"] = Value::from("bad");
    log["runs"][0]["results"][1]["message"] = Value::from("text");
    assert_eq!(faults(&log).len(), 2);
}

/// What the schema cannot say: a rule's number leads to the rule that is named.
#[test]
fn every_result_leads_to_its_rule() {
    let log = log();
    let run = &log["runs"][0];
    for result in run["results"].as_array().unwrap() {
        let index = result["ruleIndex"].as_u64().unwrap() as usize;
        assert_eq!(
            run["tool"]["driver"]["rules"][index]["id"],
            result["ruleId"]
        );
    }
    assert_eq!(run["tool"]["driver"]["rules"].as_array().unwrap().len(), 3);
}

#[test]
fn findings_with_their_places() {
    let results = log()["runs"][0]["results"].take();
    insta::assert_snapshot!(serde_json::to_string_pretty(&results).unwrap());
}

#[test]
fn a_rule_is_described_by_its_page() {
    let mut rule = log()["runs"][0]["tool"]["driver"]["rules"][0].take();
    assert_eq!(rule["id"], "E0203");
    assert_eq!(rule["shortDescription"]["text"], Code::DefinedTwice.title());
    assert_eq!(rule["defaultConfiguration"]["level"], "error");
    let page = rule["help"]["markdown"].take();
    assert_eq!(page, why::page(Code::DefinedTwice));
    let text = rule["help"]["text"].as_str().unwrap();
    assert!(!text.is_empty() && !text.contains(['#', '\n']), "{text}");
}

#[test]
fn paths_become_uris() {
    let pairs = [
        ("job.parge", "job.parge"),
        ("./a b/job.parge", "a%20b/job.parge"),
        ("../x/100%.parge", "../x/100%25.parge"),
        ("c:d#?.parge", "c%3Ad%23%3F.parge"),
        ("/srv/ä.parge", "file:///srv/%C3%A4.parge"),
    ];
    for (path, wanted) in pairs {
        assert_eq!(uri(Path::new(path)), wanted);
    }
}
