use crate::takeoff::{Takeoff, take_off};
use crate::testing::{measured, pack, plan, shown};
use parge_base::Sources;

/// Takes off a wall with a rule `kit`; what is said stands beside it.
fn with(kit: &str) -> (Takeoff, String) {
    let mut sources = Sources::new();
    let script = format!("fn kit(job) {{\n{kit}\n}}\n");
    let pack = pack(&script, &mut sources);
    let wall = measured(&plan("face f rect 10ft x 10ft plain"));
    let (takeoff, said) = take_off(wall, &pack);
    let said: Vec<String> = said.iter().map(|said| shown(said, &sources)).collect();
    (takeoff, said.join("\n"))
}

#[test]
fn the_largest_count_stands_with_every_reason() {
    let (takeoff, said) = with(
        "tool(\"hawk\", \"any job\", quantity(1, \"1\"));\n\
         tool(\"hawk\", \"stamp\", quantity(2.2, \"1\"));\n\
         tool(\"hawk\", \"any job\", quantity(2, \"1\"));\n\
         tool(\"mixer\", \"any job\", quantity(1.0000000000001, \"1\"));",
    );
    assert_eq!(said, "");
    let [mixer, hawk] = takeoff.kit.as_slice() else {
        panic!("two tools, in the order of the table: {:?}", takeoff.kit)
    };
    assert_eq!((mixer.count, mixer.hire), (1.0, true));
    assert_eq!((hawk.count, hawk.hire), (3.0, false));
    assert_eq!(hawk.reasons, ["any job", "stamp"]);
    assert_eq!(hawk.description, "Hawk");
}

#[test]
fn none_of_a_tool_is_left_out() {
    let (takeoff, said) = with("tool(\"hawk\", \"any job\", quantity(0, \"1\"));");
    assert_eq!((takeoff.kit.len(), &*said), (0, ""));
}

#[test]
fn rules_see_what_the_job_contains() {
    let kit = "for list in [job.techniques, job.substrates] {\n\
         for thing in list { tool(\"hawk\", thing.name, quantity(1, \"1\")); } }\n\
         for state in job.conditions { tool(\"hawk\", state.condition + \" \" + state.word, job.faces); }";
    let script = format!(
        "fn coats(face) {{ need(\"mix\", quantity(1, \"bag\"), quantity(0, \"1\")); hours(\"place\", quantity(1, \"h\")); }}\n\
         fn kit(job) {{\n{kit}\n\
         for list in [job.phases, job.items] {{ for thing in list {{ tool(\"mixer\", thing.name, quantity(1, \"1\")); }} }}\n}}"
    );
    let mut sources = Sources::new();
    let pack = pack(&script, &mut sources);
    let walls = plan(
        "conditions { access tight }\nface f rect 10ft x 10ft plain\nface g rect 5ft x 5ft plain on wood",
    );
    let (takeoff, said) = take_off(measured(&walls), &pack);
    assert!(said.is_empty(), "{said:?}");
    let reasons: Vec<&[String]> = takeoff.kit.iter().map(|tool| &*tool.reasons).collect();
    let mixer = ["place", "mix"].map(str::to_owned);
    let hawk = ["stamp", "block", "wood", "access tight"].map(str::to_owned);
    assert_eq!(reasons, [&mixer[..], &hawk[..]]);
}

#[test]
fn what_cannot_be_taken_is_told() {
    let all = [
        "tool(\"hwak\", \"any job\", quantity(1, \"1\"));",
        "tool(\"lent\", \"any job\", quantity(1, \"1\"));",
        "tool(\"bare\", \"any job\", quantity(1, \"1\"));",
        "tool(\"hawk\", \"any job\", job.area);",
        "tool(\"hawk\", \"any job\", quantity(1, \"1\") - 2);",
    ];
    let told = all.map(|kit| format!("{kit}\n    {}\n", with(kit).1));
    insta::assert_snapshot!(told.join("\n"));
}
