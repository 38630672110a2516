//! What needs the parser of the whole language: renamed plans are read again.

use super::{WHOLE, analysis};

#[test]
fn the_plan_of_these_tests_is_good() {
    assert_eq!(analysis(WHOLE).diagnostics(), []);
}

#[test]
fn renamed_plans_are_good() {
    super::rename::rename_each(WHOLE, "heron");
    super::rename::rename_each(WHOLE, "heron_2");
}
