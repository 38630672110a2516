use super::*;

fn stated(name: &str, text: &str) -> Property {
    Property::of(name, Some(Value::text(text)))
}

fn names(old: &[Property], new: &[Property]) -> Vec<String> {
    let differences = differences(old, new).into_iter();
    differences.map(|difference| difference.what).collect()
}

#[test]
fn the_order_of_values_means_nothing() {
    let (a, b) = (stated("a", "1"), stated("b", "2"));
    assert!(names(&[a.clone(), b.clone()], &[b, a]).is_empty());
}

#[test]
fn values_that_came_or_went_are_told() {
    let (a, b, c) = (stated("a", "1"), stated("b", "2"), stated("c", "3"));
    assert_eq!(names(&[a.clone(), b], &[c, a]), ["c", "b"]);
    let open = Property::of("a", None);
    assert!(names(&[], std::slice::from_ref(&open)).is_empty());
    assert_eq!(names(&[open], &[stated("a", "1")]), ["a"]);
}

#[test]
fn what_is_only_assumed_is_no_change_and_not_described() {
    let assumed = |text| Property::assumed("height", Value::text(text));
    assert!(names(&[assumed("8")], &[assumed("9")]).is_empty());
    assert!(names(&[assumed("8")], &[stated("height", "8")]).is_empty());
    assert_eq!(names(&[assumed("8")], &[stated("height", "9")]), ["height"]);
    let thing = Thing::plain(vec![assumed("8"), stated("on", "block")]);
    assert_eq!(thing.words(UnitSystem::Us), "on block");
}

#[test]
fn unlike_shapes_differ_as_a_whole() {
    let shape = |kind, sizes| Thing {
        shape: Some((kind, sizes)),
        rest: Vec::new(),
    };
    let rect = shape("rect", vec![stated("width", "10"), stated("height", "8")]);
    let wide = shape("rect", vec![stated("width", "12"), stated("height", "8")]);
    let round = shape("circle", vec![stated("diameter", "10")]);
    let what = |old: &Thing, new: &Thing| -> Vec<String> {
        let differences = new.differences(old, UnitSystem::Us).into_iter();
        differences.map(|difference| difference.what).collect()
    };
    assert_eq!(what(&rect, &wide), ["width"]);
    assert_eq!(what(&rect, &round), ["shape"]);
    let whole = &round.differences(&rect, UnitSystem::Us)[0];
    assert_eq!(whole.old, Some(Value::text("rect, width 10, height 8")));
}
