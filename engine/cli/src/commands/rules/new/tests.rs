//! The way from a new pack to the one that it extends.

use super::*;

#[test]
fn a_path_between_folders() {
    let way = |from: &str, to: &str| way(Path::new(from), Path::new(to)).unwrap();
    assert_eq!(way("/jobs/ours", "/jobs/base"), "../base");
    assert_eq!(way("/jobs/a/ours", "/packs/base"), "../../../packs/base");
    assert_eq!(way("/jobs/ours", "/jobs/ours/base"), "./base");
    assert_eq!(way("/jobs/base/ours", "/jobs/base"), "..");
}

#[test]
fn a_field_with_a_comma_or_a_quote_is_quoted() {
    assert_eq!(field("plain"), "plain");
    assert_eq!(field("4 in, \"wide\""), "\"4 in, \"\"wide\"\"\"");
}
