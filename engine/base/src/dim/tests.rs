use super::*;

fn bag() -> Dim {
    Dim::item(Item::new("bag").unwrap())
}

fn roll() -> Dim {
    Dim::item(Item::new("roll").unwrap())
}

#[test]
fn products_and_quotients_combine_exponents() {
    assert_eq!(Dim::LENGTH.times(Dim::AREA), Some(Dim::VOLUME));
    let per_bag = Dim::VOLUME.over(bag()).unwrap();
    assert_eq!(Dim::VOLUME.over(per_bag), Some(bag()));
    assert_eq!(bag().over(bag()), Some(Dim::NONE));
    assert_eq!(Dim::AREA.root(), Some(Dim::LENGTH));
    assert_eq!(Dim::VOLUME.root(), None);
}

#[test]
fn kinds_of_things_are_ordered_so_equal_dimensions_compare_equal() {
    assert_eq!(bag().times(roll()), roll().times(bag()));
    assert_ne!(bag(), roll());
    let pail = Dim::item(Item::new("pail").unwrap());
    assert_eq!(
        bag().times(roll()).unwrap().times(pail),
        None,
        "three kinds are too many"
    );
}

#[test]
fn exponents_never_wrap() {
    assert_eq!(Dim::LENGTH.power(-128), None);
    assert_eq!(Dim::LENGTH.power(33), None);
    let most = Dim::NONE.over(Dim::LENGTH.power(32).unwrap()).unwrap();
    assert_eq!(most.symbols(), "1/m32");
    assert_eq!(most.over(Dim::LENGTH), None);
}

#[test]
fn words_are_the_estimators() {
    assert_eq!(Dim::AREA.words(), "an area");
    assert_eq!(bag().words(), "a count of bags");
    assert_eq!(Dim::VOLUME.over(bag()).unwrap().words(), "a volume per bag");
    assert_eq!(
        Dim::TIME.over(Dim::AREA).unwrap().words(),
        "a time per area"
    );
    assert_eq!(
        Dim::NONE.over(Dim::AREA).unwrap().words(),
        "a rate per area"
    );
    assert_eq!(Dim::VOLUME.over(bag()).unwrap().symbols(), "m3/bag");
}

#[test]
fn names_of_things_are_short_lower_case_words() {
    assert!(Item::new("bag").is_some());
    assert!(Item::new("Bag").is_none());
    assert!(Item::new("").is_none());
    assert!(Item::new("cartridges").is_none());
}
