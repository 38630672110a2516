use super::*;
use crate::actuals::tests::{estimate, place, record};
use parge_base::actuals::PackStated;

fn now() -> Fingerprint<String> {
    let of = |text: &str| text.to_owned();
    Fingerprint {
        plan: of("aaaaaaaaaaaa"),
        rules: of("bbbbbbbbbbbb"),
        prices: of("cccccccccccc"),
    }
}

fn citing(plan: &str, rules: &str, prices: &str) -> Actuals {
    let print = |text: &str| (!text.is_empty()).then(|| (text.to_owned(), place()));
    Actuals {
        priced: Fingerprint {
            plan: print(plan),
            rules: print(rules),
            prices: print(prices),
        },
        ..record()
    }
}

fn of(actuals: &Actuals, anyway: bool) -> (Held, Vec<String>) {
    let held = held(estimate(), &now(), actuals, anyway);
    let said = held
        .said
        .iter()
        .map(|said| format!("{}: {}", said.code.id(), said.message));
    let said = said.collect();
    (held, said)
}

#[test]
fn what_priced_the_job_still_does() {
    let (held, said) = of(
        &citing("AAAAAAAAAAAA", "bbbbbbbbbbbb", "cccccccccccc"),
        false,
    );
    assert_eq!((held.changed, held.unknown), (vec![], vec![]));
    assert_eq!(said, Vec::<String>::new());
}

#[test]
fn what_changed_is_named() {
    let (held, said) = of(&citing("111111111111", "bbbbbbbbbbbb", ""), false);
    assert_eq!(held.changed, [Part::Plan]);
    assert_eq!(held.unknown, [Part::Prices]);
    assert_eq!(
        said,
        ["E0804: the plan is not what it was when the job was priced"]
    );

    let (held, said) = of(&citing("111111111111", "2", "3"), true);
    assert_eq!(held.changed, [Part::Plan, Part::Rules, Part::Prices]);
    assert_eq!(
        said,
        [
            "W0805: the plan, the rules and the prices are not what they were when the job was priced"
        ]
    );
}

/// A record that cites no fingerprint may still name its pack.
#[test]
fn another_version_of_the_pack_is_a_change_of_the_rules() {
    let named = |version: &str| Actuals {
        packs: vec![PackStated {
            name: "small".into(),
            version: version.into(),
            place: place(),
        }],
        ..record()
    };
    let (held, said) = of(&named("0.9.0"), false);
    assert_eq!(held.changed, [Part::Rules]);
    assert_eq!(held.unknown, [Part::Plan, Part::Prices]);
    assert_eq!(
        said,
        [
            "E0804: the rules are not what they were when the job was priced: priced with `small 0.9.0`, now `small 1.0.0`"
        ]
    );
    let (held, said) = of(&named("1.0.0"), false);
    assert_eq!(
        (held.changed.len(), held.unknown.len(), said.len()),
        (0, 3, 0)
    );
}

#[test]
fn a_record_of_another_job_is_refused_in_any_case() {
    let named = |name: &str| Actuals {
        job: Some((name.to_owned(), place())),
        ..record()
    };
    let (_, said) = of(&named("Other"), true);
    assert_eq!(
        said,
        ["E0807: the record is of job `Other`, and the plan of job `Test`"]
    );
    assert_eq!(of(&named(" test"), false).1, Vec::<String>::new());
}
