use super::*;

fn told(script: &str, job: &str) -> (Takeoff, String) {
    let (takeoff, said) = taken_by(&[files(script)], &text_of(job, WALL));
    (takeoff, said.join("\n"))
}

/// What cannot be planned is said, and the estimate stands without days.
#[test]
fn what_cannot_be_planned_leaves_the_estimate() {
    let nobody = RULES.replace("{ site.crew }", "{ quantity(0, \"1\") }");
    let no_time = RULES.replace("{ site.on_site }", "{ site.on_site - quantity(8, \"h\") }");
    let cold: String = (1..=28)
        .map(|day| format!("weather 2027-02-{day:02} {{ air 20F }} "))
        .collect();
    for (script, job, why) in [
        (
            RULES,
            format!("{START}  hours 1min  workdays mon"),
            "there is work for 76 h of one person, and the whole crew has 8 h",
        ),
        (&nobody, START.to_owned(), "nobody to work"),
        (&no_time, format!("{START}  hours 8h"), "no time to work"),
    ] {
        let (takeoff, said) = told(script, &job);
        assert!(said.starts_with("W0311"), "{said}");
        assert!(said.contains(why), "{said}");
        assert!(takeoff.days.is_none() && takeoff.daily.is_empty());
        assert!(!takeoff.faces[0].hours.is_empty());
    }
    // Many cold days are only waited for.
    let (takeoff, said) = told(RULES, &format!("crew 2  start 2027-02-01  {cold}"));
    assert_eq!(said, "");
    let plan = plan_of(&takeoff);
    let cards = plan.cards.iter().map(|card| plan.days[card.day].date);
    assert!(cards.min().unwrap() >= date(2027, 3, 1));
}

#[test]
fn a_pack_that_gives_no_workday_is_at_fault() {
    let (takeoff, said) = told(&RULES.replace("give(\"people\"", "give(\"persons\""), START);
    assert!(takeoff.days.is_none());
    assert!(said.contains("rule `workday` must give `people`"), "{said}");
}

#[test]
fn a_batch_without_a_size_is_a_fault_of_the_pack() {
    let (_, said) = told(&RULES.replace("give(\"most\"", "give(\"least\""), START);
    assert!(
        said.contains("gives no size for a batch of `scratch-mix`"),
        "{said}"
    );
}

/// A pack without the rule `workday` has no days, and nothing is said of it.
#[test]
fn a_pack_without_days_has_no_plan() {
    let start = RULES.find("fn workday").unwrap();
    let end = RULES.find("fn weather").unwrap();
    let (takeoff, said) = told(&format!("{}{}", &RULES[..start], &RULES[end..]), START);
    assert_eq!(said, "");
    assert!(takeoff.days.is_none() && takeoff.daily.is_empty());
}

#[test]
fn phases_named_in_a_circle_are_planned() {
    let mut files = files(RULES);
    let phases = files.texts.get_mut("tables/phases.csv").unwrap();
    phases.push_str("place,with,stamp,text,company\n");
    let (takeoff, _) = taken_by(&[files], &text_of(START, WALL));
    assert!(takeoff.days.is_some());
}
