use super::*;

const BASE: &str = "parge 1\n\nstructure \"Hall\" on block {\n  finish drystone\n  face \"North\" rect 12ft x 8ft from \"Rooms!A5\" {\n    opening \"door\" rect 3ft x 7ft from \"Rooms!A6\"\n  }\n  face \"South\" rect 10ft x 8ft count 2 from \"Rooms!A7\"\n  face \"East\" rect 9ft x 8ft from \"Rooms!A8\"\n}\n";

fn merged(edit: &[(&str, &str)], revise: &[(&str, &str)]) -> String {
    let change = |changes: &[(&str, &str)]| {
        changes.iter().fold(BASE.to_owned(), |text, (from, to)| {
            assert!(text.contains(from), "{from}");
            text.replacen(from, to, 1)
        })
    };
    let (plan, revised) = (change(edit), change(revise));
    let merge = merge(Texts {
        base: BASE,
        plan: &plan,
        revised: &revised,
    })
    .unwrap();
    let conflicts = merge
        .conflicts
        .iter()
        .map(|conflict| format!("conflict: {conflict:?}"));
    let deleted = merge.deleted.iter().map(|what| format!("deleted: {what}"));
    let kept = merge.kept.iter().map(|what| format!("kept: {what}"));
    let changes = merge.changes.iter().cloned();
    let said = changes.chain(kept).chain(deleted).chain(conflicts);
    let said: Vec<String> = said.collect();
    format!("{}\n----\n{}", merge.text, said.join("\n"))
}

#[test]
fn edits_stay_and_changes_come() {
    insta::assert_snapshot!(merged(
        &[
            ("12ft x 8ft from", "12ft x 8ft bark at 14ft from"),
            (
                "  face \"East\"",
                "  # seen on site\n  edge cap 9ft\n  face \"East\""
            ),
            ("3ft x 7ft", "3ft x 7ft reveal 4in"),
        ],
        &[
            ("rect 12ft", "rect 13ft 6in"),
            ("count 2", "count 3"),
            ("A8", "A9"),
            (
                "  face \"East\"",
                "  face \"West\" rect 4ft x 8ft from \"Rooms!A8\"\n  face \"East\""
            ),
            ("}\n", "}\n"),
        ],
    ));
}

/// What the estimator made of a size stays, and whoever signs the sums of the sheet is told.
#[test]
fn sizes_that_the_plan_has_otherwise_are_told() {
    insta::assert_snapshot!(merged(
        &[
            ("12ft x 8ft", "12ft x 8.5ft"),
            (" count 2", ""),
            (
                "  face \"East\" rect 9ft x 8ft from \"Rooms!A8\"\n",
                "  face \"East\" rect 9ft x 8ft from \"Rooms!A8\" { opening \"vent\" rect 1ft x 1ft }\n  \
                 face \"Pier\" rect 2ft x 8ft\n"
            ),
        ],
        &[("9ft x 8ft", "9.5ft x 8ft")],
    ));
}

#[test]
fn what_both_changed_is_a_conflict_and_changes_nothing() {
    insta::assert_snapshot!(merged(
        &[("rect 12ft", "rect 11ft"), ("9ft x 8ft", "9ft x 8ft bark")],
        &[
            ("rect 12ft", "rect 13ft"),
            ("  face \"East\" rect 9ft x 8ft from \"Rooms!A8\"\n", ""),
        ],
    ));
}

#[test]
fn faces_and_openings_come_and_go() {
    insta::assert_snapshot!(merged(
        &[],
        &[
            (
                " {\n    opening \"door\" rect 3ft x 7ft from \"Rooms!A6\"\n  }",
                ""
            ),
            (
                "count 2 from \"Rooms!A7\"",
                "count 2 from \"Rooms!A7\" { opening \"gate\" rect 3ft x 6ft }"
            ),
            (
                "  face \"East\" rect 9ft x 8ft from \"Rooms!A8\"\n}",
                "}\nstructure \"Bar\" on wood {\n  face \"Front\" rect 5ft x 4ft\n}"
            ),
        ],
    ));
}

#[test]
fn nothing_changed_changes_nothing() {
    let said = merged(&[("12ft", "12ft 1in")], &[]);
    let kept =
        "----\nkept: Hall, North: rect 12ft 1in x 8ft in the plan, rect 12ft x 8ft in the sheet";
    assert!(said.contains("rect 12ft 1in x 8ft from"), "{said}");
    assert!(said.ends_with(kept), "{said}");
}

#[test]
fn what_was_deleted_stays_so_unless_the_sheet_changed_it() {
    let east = "  face \"East\" rect 9ft x 8ft from \"Rooms!A8\"\n";
    let door = "    opening \"door\" rect 3ft x 7ft from \"Rooms!A6\"\n";
    let said = merged(&[(east, ""), (door, "")], &[("A8", "A9")]);
    let wanted = "----\ndeleted: Hall, East, rect 9ft x 8ft\n\
                  deleted: Hall, North, opening \"door\" rect 3ft x 7ft";
    assert!(said.ends_with(wanted), "{said}");
    let said = merged(&[(east, "")], &[("rect 9ft", "rect 10ft")]);
    assert!(
        said.contains("conflict: Conflict { what: \"Hall, East\""),
        "{said}"
    );
}
