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
