use super::*;

fn item(name: &str) -> Item {
    Item::new(name).unwrap()
}

#[test]
fn names_of_any_length_come_back() {
    for name in ["a", "z", "bag", "pail", "bucket", "zzzzzzzz", "cartridg"] {
        let found: Vec<_> = Things::one(item(name)).all().collect();
        assert_eq!(found, [(item(name), 1)], "{name}");
    }
}

#[test]
fn packed_names_keep_the_order_of_names() {
    let mut names = ["bag", "bags", "a", "roll", "az", "pail"].map(item);
    let mut by_packed = names;
    names.sort_unstable();
    by_packed.sort_unstable_by_key(|item| packed(*item));
    assert_eq!(names, by_packed);
}

#[test]
fn exponents_of_things_add_up_and_never_wrap() {
    let bag = Things::one(item("bag"));
    let mut most = bag;
    for _ in 1..MOST {
        most = most.combined(bag, 1).unwrap();
    }
    assert_eq!(most.all().next(), Some((item("bag"), 7)));
    assert_eq!(most.combined(bag, 1), None);
    let least = Things::NONE.combined(most, -1).unwrap();
    assert_eq!(least.all().next(), Some((item("bag"), -7)));
    assert_eq!(least.combined(bag, -1), None);
    assert_eq!(least.combined(most, 1), Some(Things::NONE));
}

#[test]
fn a_third_kind_is_taken_where_another_goes() {
    let [bag, pail, roll] = ["bag", "pail", "roll"].map(|name| Things::one(item(name)));
    let two = bag.combined(roll, -1).unwrap();
    assert_eq!(two.combined(pail, 1), None);
    let instead = two.combined(bag.combined(pail, -1).unwrap(), -1).unwrap();
    let found: Vec<_> = instead.all().collect();
    assert_eq!(found, [(item("pail"), 1), (item("roll"), -1)]);
}
