use super::*;

const SCRIPT: &str = "fn coats(face) {
    let bags = face.area / 2; // one; two
    need(\"mix\", bags * 3, 1);
}
private fn mean(face) {
    let thick = 1;
    if face.lath {
        thick = thick + 2;
    }
    thick
}
private fn equal(a) { a == 4 }
";

fn at(text: &str) -> Naming<'static> {
    naming(SCRIPT, SCRIPT.find(text).unwrap())
}

#[test]
fn names_are_read_off_the_script() {
    let bags = at("/ 2");
    assert_eq!(bags.function, Some("coats"));
    assert_eq!(bags.variable, Some("bags"));
    assert!(!bags.is_last);
    let need = at("* 3");
    assert_eq!((need.function, need.variable), (Some("coats"), None));
    let mean = at("+ 2");
    assert_eq!(
        (mean.function, mean.variable, mean.is_last),
        (Some("mean"), Some("thick"), true)
    );
    let equal = at("== 4");
    assert_eq!((equal.function, equal.variable), (Some("equal"), None));
}

#[test]
fn any_text_and_any_place_is_read() {
    assert_eq!(
        naming("", 9),
        Naming {
            is_last: true,
            ..Naming::default()
        }
    );
    assert_eq!(naming("é = 1", 1).variable, None);
}

#[test]
fn a_line_stands_in_the_block_that_its_condition_opens() {
    let script = "fn a(job) {\n  let b = job.air > c;\n  need(0);\n  if job.air < limit {\n    say(\"}\"); // }\n    if x { y() }\n    need(1);\n  } else { need(2) }\n  need(3);\n}\n";
    let at = |text: &str| script.find(text).unwrap();
    let opened = at("< limit");
    assert!(encloses(script, opened, at("need(1)")));
    assert!(encloses(script, opened, at("y()")));
    for outside in ["need(2)", "need(3)"] {
        assert!(!encloses(script, opened, at(outside)), "{outside}");
    }
    assert!(!encloses(script, at("> c"), at("need(0)")));
    assert!(!encloses(script, at("> c"), at("need(1)")));
    // What stands above a condition is not in its block, and beyond the text is nothing.
    assert!(!encloses(script, opened, at("need(0)")));
    assert!(!encloses(script, opened, script.len() + 9));
}
