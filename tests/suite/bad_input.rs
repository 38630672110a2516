//! Bad input: each a clear diagnostic with a code and a help line, no panic, no output file.

use parge_cli::Exit;
use parge_tests::{Folder, Said};
use proptest::prelude::*;

/// Runs an estimate that must fail, and looks that nothing was written.
fn refused(folder: &Folder) -> Said {
    let before = folder.names().unwrap();
    let said = folder.parge("estimate job.parge -o out.xlsx --json out.json");
    assert_ne!(said.exit, Exit::Fine, "{said}");
    assert_eq!(folder.names().unwrap(), before, "something was written");
    assert!(
        said.err.contains("error[E") && said.err.contains("help: "),
        "{said}"
    );
    assert_eq!(said.out, "", "figures of a plan with a fault");
    said
}

fn changed(from: &str, to: &str) -> Said {
    let folder = Folder::with_demo().unwrap();
    folder.edit("job.parge", from, to).unwrap();
    refused(&folder)
}

#[test]
fn a_misspelt_name() {
    insta::assert_snapshot!(changed("height planter_h\n", "height plantr_h\n"));
}

#[test]
fn a_missing_unit() {
    insta::assert_snapshot!(changed("rect 14ft x 7ft 6in", "rect 14 x 7ft 6in"));
}

#[test]
fn an_area_added_to_a_length() {
    insta::assert_snapshot!(changed("at ridge + 1ft ", "at ridge + 1ft2 "));
}

#[test]
fn an_opening_larger_than_its_face() {
    insta::assert_snapshot!(changed(
        "opening entry arch 5ft x 6ft 6in",
        "opening entry arch 5ft x 9ft 6in"
    ));
}

#[test]
fn an_unknown_substrate() {
    insta::assert_snapshot!(changed("on gypsum", "on gypsm"));
}

#[test]
fn a_missing_price_book() {
    insta::assert_snapshot!(changed("\"prices.csv\"", "\"prises.csv\""));
}

#[test]
fn an_unknown_pack() {
    insta::assert_snapshot!(changed("\"vertical-concrete\"", "\"vertical-concret\""));
}

#[test]
fn a_script_that_loops_forever() {
    let folder = Folder::with_demo().unwrap();
    let _ = folder.parge("rules export .");
    folder
        .edit(
            "vertical-concrete/scripts/coats.rhai",
            "fn coats(face) {",
            "fn coats(face) {\n    loop { }",
        )
        .unwrap();
    folder
        .edit(
            "job.parge",
            "\"vertical-concrete\"",
            "\"./vertical-concrete\"",
        )
        .unwrap();
    insta::assert_snapshot!(refused(&folder));
}

#[test]
fn a_plan_that_is_not_utf_8() {
    let folder = Folder::with_demo().unwrap();
    let mut bytes = std::fs::read(folder.path("job.parge")).unwrap();
    bytes.splice(40..41, [0xe9]);
    folder.write("job.parge", bytes).unwrap();
    insta::assert_snapshot!(refused(&folder));
}

#[test]
fn an_empty_file() {
    let folder = Folder::with_demo().unwrap();
    folder.write("job.parge", "").unwrap();
    insta::assert_snapshot!(refused(&folder));
}

#[test]
fn a_plan_that_is_not_there() {
    let folder = Folder::new().unwrap();
    let said = refused(&folder);
    assert_eq!(said.exit, Exit::Failed);
    insta::assert_snapshot!(said);
}

#[test]
fn a_price_book_with_faults() {
    let folder = Folder::with_demo().unwrap();
    folder
        .edit("prices.csv", "1,bag,bag,24.80", "1,bga,bag,24.80")
        .unwrap();
    folder.edit("prices.csv", "142.00", "142 dollars").unwrap();
    insta::assert_snapshot!(refused(&folder));
}

/// One run tells all mistakes of a plan, and each cause once.
#[test]
fn many_mistakes_in_one_run() {
    let folder = Folder::with_demo().unwrap();
    for (from, to) in [
        ("let planter_h = 2ft 8in", "let planter_h = 2 ft 8in"),
        (
            "technique carve\n  thickness 1 1/2in",
            "technique carve\n  thicknes 1 1/2in",
        ),
        ("face ends rect", "face ends rekt"),
        (
            "face bow arc radius 6ft sweep 90deg",
            "face bow arc radius 6ft sweep 90",
        ),
        ("on rebar", "on reber"),
        (
            "opening window rect 30in x 42in",
            "opening window rect 30in y 42in",
        ),
    ] {
        folder.edit("job.parge", from, to).unwrap();
    }
    insta::assert_snapshot!(refused(&folder));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is cut out of, or put into, a plan: the program says what is wrong or goes on.
    #[test]
    fn a_damaged_plan_never_panics(at in 0usize..3000, cut in 0usize..40, put in "[\\PC\n\"{}()]{0,12}") {
        let folder = Folder::with_demo().unwrap();
        let text: Vec<char> = folder.read("job.parge").unwrap().chars().collect();
        let at = at.min(text.len());
        let end = (at + cut).min(text.len());
        let damaged: String = text[..at].iter().copied().chain(put.chars()).chain(text[end..].iter().copied()).collect();
        folder.write("job.parge", damaged).unwrap();
        let said = folder.parge("check job.parge");
        prop_assert!(said.exit == Exit::Fine || said.exit == Exit::Problems || said.exit == Exit::Failed);
    }
}

#[test]
fn powers_beyond_measure_are_refused() {
    let folder = Folder::with_demo().unwrap();
    for power in [
        "1ft ^ -128",
        "1 / (1ft ^ 32) / (1ft ^ 32)",
        "1ft ^ 127 * 1ft ^ 127",
    ] {
        folder.write("job.parge", format!("parge 1\njob \"J\" {{ rules \"vertical-concrete\"  prices \"prices.csv\" }}\nlet a = {power}\n")).unwrap();
        let said = refused(&folder);
        assert!(said.err.contains("E0207"), "{power}: {said}");
    }
}

/// Many faults, or faults in a line that nobody wrote, are told in bounded time.
#[test]
fn a_flood_of_faults_is_cut_short() {
    let folder = Folder::with_demo().unwrap();
    let faces: String = (0..3000)
        .map(|at| format!("face f{at} rect 1ft x 1ft nothing{at}  "))
        .collect();
    let plan = format!(
        "parge 1\njob \"J\" {{ rules \"vertical-concrete\"  prices \"prices.csv\" }}\nstructure \"S\" on block {{\n{faces}\n}}\n"
    );
    folder.write("job.parge", plan).unwrap();
    let said = refused(&folder);
    assert!(
        said.err.contains("more are not shown"),
        "{}",
        said.err.len()
    );
    assert!(said.err.len() < 300_000);
}

/// A plan of more than forty faces with ten mistakes of ten kinds, and all of them told in one
/// run, each once.
#[test]
fn ten_mistakes_among_forty_faces() {
    let folder = Folder::with_example("tern-quay").unwrap();
    let faces = |said: &Said| {
        let json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
        let counts = json["faces"].as_array().unwrap().iter();
        counts
            .map(|face| face["count"].as_u64().unwrap())
            .sum::<u64>()
    };
    let said = folder.parge("estimate job.parge --json -");
    assert!(said.exit == Exit::Fine && faces(&said) >= 40, "{said}");
    let mistakes = [
        ("crew 4", "crew 4.5"),
        ("season cold", "season chilly"),
        ("let coping = 1ft 2in", "let coping = 1ft2"),
        ("face cheek rect 3ft x high", "face cheek rect 3ft x hihg"),
        ("bay(12ft 6in, wall_h)", "bay(12ft 6in)"),
        ("on concrete", "on concret"),
        ("reveal 9in finish boulder", "reveal 9in finish bolder"),
        (
            "(8ft, 4ft) (3ft, 5ft 6in)",
            "(3ft, 5ft 6in) (8ft, 4ft) (0ft, 3ft)",
        ),
        ("hatch rect 6ft x 3ft 6in", "hatch rect 6ft x 9ft 6in"),
        ("omit \"Mooring rocks\"", "omit \"Morring rocks\""),
    ];
    for (from, to) in mistakes {
        folder.edit("job.parge", from, to).unwrap();
    }
    let said = refused(&folder);
    assert!(said.err.contains("10 errors, 0 warnings"), "{said}");
    insta::assert_snapshot!(said);
}
