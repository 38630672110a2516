use super::*;

/// Names with a letter for what they look like: `street=a`.
fn paired(old: &[&str], new: &[&str]) -> Pairs {
    let split = |list: &[&str]| -> (Vec<String>, Vec<String>) {
        let parts = list.iter().map(|text| text.split_once('=').unwrap());
        parts
            .map(|(name, looks)| (name.to_owned(), looks.to_owned()))
            .unzip()
    };
    let ((old, looked), (new, looks)) = (split(old), split(new));
    pair(
        &old,
        &new,
        [&|at| looked[at].clone(), &|at| looks[at].clone()],
        |old, new| looked[old] == looks[new],
    )
}

fn pairs(old_of: &[Option<usize>], removed: &[usize]) -> Pairs {
    Pairs {
        old_of: old_of.to_vec(),
        removed: removed.to_vec(),
    }
}

#[test]
fn names_are_matched_whatever_their_order() {
    let found = paired(&["a=1", "b=2"], &["b=2", "a=9"]);
    assert_eq!(found, pairs(&[Some(1), Some(0)], &[]));
}

#[test]
fn equal_names_are_matched_in_their_order() {
    let found = paired(&["a=1", "a=2"], &["a=1", "a=2", "a=3"]);
    assert_eq!(found, pairs(&[Some(0), Some(1), None], &[]));
}

#[test]
fn what_only_has_another_name_is_found_by_its_looks() {
    let found = paired(&["a=1", "b=2", "c=2"], &["a=1", "d=2", "e=3", "f=2", "g=2"]);
    assert_eq!(found, pairs(&[Some(0), Some(1), None, Some(2), None], &[]));
}

#[test]
fn what_is_gone_is_told() {
    assert_eq!(paired(&["a=1", "b=2"], &["c=3"]), pairs(&[None], &[0, 1]));
}
