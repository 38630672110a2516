use super::*;

#[test]
fn the_handbook_pack_loads() {
    assert!(handbook().is_some());
}

#[test]
fn a_value_outside_the_rounding_fails() {
    let check = Check {
        id: "X1",
        what: "",
        expected: 10.5,
        tolerance: 0.05,
        source: "",
        how_sure: "",
        computed: Some(10.56),
    };
    assert!(!check.passes());
    assert!(
        !Check {
            computed: None,
            ..check.clone()
        }
        .passes(),
        "no value is no pass"
    );
    assert!(
        Check {
            computed: Some(10.55),
            ..check
        }
        .passes()
    );
}

#[test]
fn a_plan_that_cannot_be_read_gives_no_value() {
    assert_eq!(expression("2ft + 3ft2"), None);
    assert_eq!(expression("2ft +"), None);
    assert_eq!(
        net_area("rect 1ft x 1ft { opening o rect 2ft x 2ft }"),
        None
    );
}

/// The numbers of the list of published values, by group; those of a letter that are left out
/// here are on no list.
const LISTED: [(char, &[u32]); 9] = [
    ('P', &[1, 2, 3, 5, 6, 7, 8, 9, 10, 11, 13]),
    (
        'V',
        &[
            1, 2, 3, 5, 6, 7, 8, 9, 11, 12, 13, 14, 15, 16, 17, 18, 19, 21, 22, 23, 24, 27, 29, 30,
            31, 32,
        ],
    ),
    (
        'L',
        &[1, 2, 3, 5, 6, 7, 8, 9, 10, 11, 12, 14, 15, 18, 19, 22],
    ),
    ('Y', &[1, 2, 6, 7, 8, 9, 10, 11]),
    (
        'C',
        &[
            1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 21, 22, 23, 24, 25,
            26, 27, 29, 30, 31,
        ],
    ),
    ('E', &[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 13]),
    ('T', &[1, 2, 3, 4, 5, 7]),
    ('D', &[1, 2, 4, 5, 6, 7]),
    ('W', &[2, 4, 5, 6, 7, 8, 10, 11]),
];
const SAFETY: [u32; 11] = [1, 2, 4, 5, 6, 7, 8, 11, 12, 15, 16];

/// Every published value of these groups is checked, or said to be used by nothing.
#[test]
fn no_published_value_is_forgotten() {
    let checked: Vec<&str> = rows::GROUPS
        .iter()
        .flat_map(|rows| *rows)
        .map(|row| row.id)
        .collect();
    let known = |id: &str| checked.contains(&id) || unused().iter().any(|unused| unused.id == id);
    for (letter, numbers) in LISTED.into_iter().chain([('S', &SAFETY[..]), ('S', &[17])]) {
        for number in numbers {
            let id = format!("{letter}{number}");
            assert!(known(&id), "{id} is neither checked nor said to be unused");
        }
    }
}

/// Every check and every unused value names who published it and how sure it is.
#[test]
fn every_value_has_its_source() {
    for row in rows::GROUPS.iter().flat_map(|rows| *rows) {
        assert!(
            !row.source.is_empty() && !row.how_sure.is_empty(),
            "{}",
            row.id
        );
        assert!(row.tolerance >= 0.0, "{}", row.id);
    }
    for unused in unused() {
        assert!(
            !unused.source.is_empty() && !unused.why.is_empty(),
            "{}",
            unused.id
        );
    }
}

#[test]
fn numbers_are_read_out_of_texts() {
    use shipped::number_between;
    assert_eq!(
        number_between("up to 4 h a shift", ["up to ", " h"]),
        Some(4.0)
    );
    assert_eq!(
        number_between("in weight, 2 5/8 in", ["weight, ", " in"]),
        Some(2.625)
    );
    assert_eq!(number_between("by 1/4 in", ["by ", " in"]), Some(0.25));
    assert_eq!(
        number_between("by some in", ["by ", " in"]),
        None,
        "no number"
    );
    assert_eq!(
        number_between("by 4 ft", ["by ", " in"]),
        None,
        "another phrase"
    );
    assert_eq!(
        number_between("by  in", ["by ", " in"]),
        None,
        "nothing between"
    );
}

#[test]
fn a_pack_that_is_not_there_gives_no_value() {
    let checks = all(&|_| None);
    for check in checks
        .iter()
        .filter(|check| check.id == "C8" || check.id == "F1")
    {
        assert_eq!(check.computed, None, "{}", check.id);
    }
}

#[test]
fn figures_are_shown_without_noise() {
    let check = |computed| Check {
        id: "X1",
        what: "",
        expected: 2.0,
        tolerance: 0.5,
        source: "",
        how_sure: "",
        computed,
    };
    assert_eq!(difference(&check(Some(2.0 + 1e-15))), "0");
    assert_eq!(difference(&check(Some(2.25))), "+0.25");
    assert_eq!(difference(&check(Some(1.9))), "-0.1");
    assert_eq!(difference(&check(Some(2.000_002))), "+2e-6");
    assert_eq!(difference(&check(None)), "none");
    for (value, shown) in [
        (0.0, "0"),
        (1e-9, "1e-9"),
        (0.00005, "0.00005"),
        (324.0, "324"),
    ] {
        assert_eq!(plain(value), shown);
    }
}

#[test]
fn checks_stand_by_letter_and_number() {
    let checks = all(&|_| None);
    let count = checks.len();
    let groups = grouped(checks);
    let ids: Vec<&str> = groups
        .iter()
        .flat_map(|group| &group.checks)
        .map(|check| check.id)
        .collect();
    assert_eq!(ids.len(), count, "every letter has its group");
    let of_v: Vec<u32> = ids
        .iter()
        .filter_map(|id| id.strip_prefix('V')?.parse().ok())
        .collect();
    assert!(of_v.is_sorted());
}
