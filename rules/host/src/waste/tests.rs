use crate::bounds::MAX_ASKED;
use crate::manifest::PackFiles;
use crate::pack::{Hook, Pack, load};
use crate::run::Run;
use crate::subject::Subject;
use crate::testing::{face, files, said};
use parge_base::Sources;
use proptest::prelude::*;

const HOOKS: [Hook; 2] = [
    Hook {
        name: "coats",
        parameters: &["face"],
    },
    Hook {
        name: super::WASTE_HOOK,
        parameters: &["face", "item"],
    },
];

/// A pack with a rule and, where it has a body, the hook.
fn pack_files(coats: &str, waste: &str) -> PackFiles {
    let hook = match waste {
        "" => String::new(),
        body => format!("fn waste(face, item) {{\n{body}\n}}\n"),
    };
    let mut files = files(&format!("fn coats(face) {{\n{coats}\n}}\n{hook}"));
    if !hook.is_empty() {
        let manifest = files.texts.get_mut(PackFiles::MANIFEST).unwrap();
        *manifest = manifest.replace("[\"coats\"]", "[\"coats\", \"waste\"]");
    }
    files
}

fn loaded(coats: &str, waste: &str) -> (Pack, Sources) {
    let mut sources = Sources::new();
    let loaded = load(&[pack_files(coats, waste)], &HOOKS, &mut sources);
    let pack = loaded.unwrap_or_else(|wrong| panic!("{}", said(&wrong, &sources)));
    (pack, sources)
}

fn wall(area: f64) -> Subject<'static> {
    face(area, 0.02, [0.6, 0.4])
}

fn wastes(run: &Run) -> Vec<(String, f64)> {
    let lines = run.needs.iter();
    lines
        .map(|line| (line.item.to_string(), run.tape.value(line.waste).value))
        .collect()
}

/// 10 %, and twice that for what is sprayed; the kinds of an item alike; a line that states its
/// own waste keeps it.
#[test]
fn a_need_without_a_waste_asks_the_hook() {
    let coats = "need(\"mix\", face.area); need(\"colour/red\", face.area); need(\"colour/blue\", face.area);\n\
                 need(\"mesh\", face.area, factor(\"mixes\", \"waste\") / 4);";
    let waste = "let share = factor(\"mixes\", \"waste\");\nif general(item) == \"colour\" { share * 2 } else { share }";
    let (pack, sources) = loaded(coats, waste);
    let run = pack.run(&["coats"], &wall(10.0));
    assert_eq!(said(&run.errors, &sources), "");
    let wanted = [
        ("mix", 0.1),
        ("colour/red", 0.2),
        ("colour/blue", 0.2),
        ("mesh", 0.025),
    ];
    assert_eq!(
        wastes(&run),
        wanted.map(|(item, share)| (item.to_owned(), share))
    );
}

/// It is an ordinary function as well: water is lost with the mix.
#[test]
fn a_rule_can_ask_the_hook_itself() {
    let (pack, sources) = loaded(
        "need(\"water\", face.area, waste(face, \"mix\"));",
        "if item == \"mix\" { factor(\"mixes\", \"waste\") } else { throw \"not that\" }",
    );
    let run = pack.run(&["coats"], &wall(10.0));
    assert_eq!(said(&run.errors, &sources), "");
    assert_eq!(wastes(&run), [("water".to_owned(), 0.1)]);
}

#[test]
fn what_cannot_be_asked_is_told_at_the_line_of_the_need() {
    let need = "let a = face.area;\nneed(\"mix\", a);\nneed(\"mesh\", a);";
    let told = |waste: &str| {
        let (pack, sources) = loaded(need, waste);
        let run = pack.run(&["coats"], &wall(10.0));
        assert!(run.needs.is_empty());
        format!("{waste}\n{}\n", said(&run.errors, &sources))
    };
    insta::assert_snapshot!(
        [
            "",
            "let share = factor(\"mixes\", \"waste\");",
            "if face.area > quantity(100, \"m2\") { factor(\"mixes\", \"waste\") }",
            "0.1",
            "\"10 %\"",
            "face.area",
            "factor(\"mixes\", \"waste\") * 11",
            "quantity(0, \"%\") - factor(\"mixes\", \"waste\")",
            "factor(\"mixes\", item)",
            "need(\"more\", face.area); factor(\"mixes\", \"waste\")",
            "warn(\"x\"); factor(\"mixes\", \"waste\")",
            "loop { }",
        ]
        .map(told)
        .join("\n")
    );
}

/// An edge is no face: what its waste rests on, it must say itself.
#[test]
fn another_subject_states_its_waste() {
    let (pack, sources) = loaded("need(\"bead\", face.area);", "factor(\"mixes\", \"waste\")");
    let mut edge = wall(10.0);
    edge.kind = "edge".into();
    let run = pack.run(&["coats"], &edge);
    let said = said(&run.errors, &sources);
    assert!(
        said.starts_with(
            "E0406 at p/scripts/rules.rhai:2:1: rule `waste(face, item)` is asked for a face"
        ),
        "{said}"
    );
    assert!(run.needs.is_empty());
}

#[test]
fn the_hook_must_take_what_it_is_given() {
    let told = ["item", "item, face", "face, item, more", "wall, thing"].map(|parameters| {
        let mut files = pack_files("let a = 1;", "factor(\"mixes\", \"waste\")");
        let script = files.texts.get_mut("scripts/rules.rhai").unwrap();
        *script = script.replace("face, item", parameters);
        let mut sources = Sources::new();
        match load(&[files], &HOOKS, &mut sources) {
            Ok(_) => String::new(),
            Err(wrong) => said(&wrong, &sources),
        }
    });
    insta::assert_snapshot!(told.join("\n"));
}

#[test]
fn more_items_than_an_honest_face_takes_are_not_asked_for() {
    let coats =
        |most: usize| format!("for i in 0..{most} {{ need(\"i\" + i.to_string(), face.area); }}");
    let (pack, _) = loaded(&coats(MAX_ASKED), "factor(\"mixes\", \"waste\")");
    let run = pack.run(&["coats"], &wall(10.0));
    assert_eq!((run.needs.len(), run.errors.len()), (MAX_ASKED, 0));
    let (pack, sources) = loaded(&coats(MAX_ASKED + 5), "factor(\"mixes\", \"waste\")");
    let said = said(&pack.run(&["coats"], &wall(10.0)).errors, &sources);
    assert!(
        said.starts_with("E0407 at p/scripts/rules.rhai:2:"),
        "{said}"
    );
    assert_eq!(said.lines().count(), 1, "{said}");
}

proptest! {
    /// A waste that rests on a size parts classes, and is played as it is run.
    #[test]
    fn a_waste_is_played_as_it_is_run(areas in prop::collection::vec(0.5f64..20.0, 2..12)) {
        let waste = "let small = face.area < quantity(5, \"m2\");\n\
                     let share = factor(\"mixes\", \"waste\");\n\
                     if small { share * 2 } else { share + face.area / quantity(1000, \"m2\") }";
        let (pack, _) = loaded("need(\"mix\", face.area);", waste);
        let runs: Vec<Run> = areas.iter().map(|area| pack.run(&["coats"], &wall(*area))).collect();
        for run in &runs {
            prop_assert!(run.errors.is_empty());
            for (area, direct) in areas.iter().zip(&runs) {
                let is_small = |run: &Run| run.tape.value(run.needs[0].amount).value < 5.0;
                match run.tape.replay(&wall(*area).inputs()) {
                    Ok(replay) => {
                        let (got, wanted) = (
                            replay.value(run.needs[0].waste).value,
                            direct.tape.value(direct.needs[0].waste).value,
                        );
                        prop_assert_eq!(got.to_bits(), wanted.to_bits());
                    }
                    Err(_) => prop_assert_ne!(is_small(run), is_small(direct)),
                }
            }
        }
    }
}
