use super::Names;
use std::sync::Arc;

#[test]
fn a_name_has_one_number_wherever_it_comes_from() {
    let mut names = Names::default();
    let (mix, mesh): (Arc<str>, Arc<str>) = ("mix".into(), "mesh".into());
    let number = |names: &mut Names, run, line, name: &Arc<str>| names.number(run, line, name);
    assert_eq!(number(&mut names, 0, 0, &mix), 0);
    assert_eq!(number(&mut names, 0, 1, &mesh), 1);
    assert_eq!(number(&mut names, 0, 0, &mix), 0, "the same line again");
    // Another text of the same letters, from another run.
    assert_eq!(number(&mut names, 3, 0, &"mesh".into()), 1);
    let again = [mix.clone(), mesh.clone()];
    let known = |names: &Names, lines: &[Arc<str>]| {
        let known = names.known(0, lines, |name| name);
        known.map(|lines| lines.iter().map(|(_, number)| *number).collect::<Vec<_>>())
    };
    assert_eq!(known(&names, &again), Some(vec![0, 1]));
    assert_eq!(known(&names, &again[..1]), None, "a line less");
    assert_eq!(
        known(&names, &[mix.clone(), "mesh".into()]),
        None,
        "another one"
    );
    // A face left a line out, so that others stand in its place.
    assert_eq!(number(&mut names, 0, 0, &mesh), 1);
    assert_eq!(number(&mut names, 0, 0, &mix), 0);
    // What no run brings.
    assert_eq!(number(&mut names, usize::MAX, 7, &mesh), 1);
    assert_eq!(number(&mut names, usize::MAX, 7, &"ties".into()), 2);
    let all: Vec<_> = names
        .by_name()
        .map(|(name, number)| (&**name, number))
        .collect();
    assert_eq!(all, [("mesh", 1), ("mix", 0), ("ties", 2)]);
    assert_eq!(names.number_of("ties"), Some(2));
    assert_eq!(names.number_of("none"), None);
}
