//! Packs by name and by path, exported, edited and used without a rebuild.

use parge_cli::Exit;
use parge_tests::Folder;
use serde_json::Value;

/// The demo in a folder with the exported pack, which its plan asks for by path.
fn with_own_pack() -> Folder {
    let folder = Folder::with_demo().unwrap();
    let said = folder.parge("rules export packs");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    folder
        .edit(
            "job.parge",
            "\"vertical-concrete\"",
            "\"./packs/vertical-concrete\"",
        )
        .unwrap();
    folder
}

fn estimate(folder: &Folder) -> Value {
    let said = folder.parge("estimate job.parge --json -");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    serde_json::from_str(&said.out).unwrap()
}

fn material(json: &Value, item: &str, part: &str) -> f64 {
    let line = json["materials"]
        .as_array()
        .unwrap()
        .iter()
        .find(|line| line["item"] == item)
        .unwrap();
    line[part]["value"].as_f64().unwrap()
}

#[test]
fn an_exported_pack_estimates_as_the_one_in_the_program() {
    let own = estimate(&with_own_pack());
    let standard = estimate(&Folder::with_demo().unwrap());
    for part in ["materials", "labour", "price", "faces", "cautions"] {
        assert_eq!(own[part], standard[part], "{part}");
    }
}

/// Half the yield is twice the bags.
#[test]
fn a_number_changed_in_a_table_changes_the_result() {
    let folder = with_own_pack();
    let before = material(&estimate(&folder), "finish-mix", "need");
    folder
        .edit(
            "packs/vertical-concrete/tables/mixes.csv",
            "finish-mix,yield,0.45",
            "finish-mix,yield,0.225",
        )
        .unwrap();
    let after = material(&estimate(&folder), "finish-mix", "need");
    assert!(
        (after / before - 2.0).abs() < 1e-9,
        "{before} became {after}"
    );
}

#[test]
fn a_line_changed_in_a_script_changes_the_result() {
    let folder = with_own_pack();
    let before = material(&estimate(&folder), "curing-cover", "need");
    let script = "packs/vertical-concrete/scripts/materials.rhai";
    folder
        .edit(
            script,
            "need(\"curing-cover\", face.area)",
            "need(\"curing-cover\", face.area * 3)",
        )
        .unwrap();
    let after = material(&estimate(&folder), "curing-cover", "need");
    assert!(
        (after / before - 3.0).abs() < 1e-9,
        "{before} became {after}"
    );
}

#[test]
fn a_pack_beside_the_plan_is_found_by_its_name() {
    let folder = Folder::with_demo().unwrap();
    let _ = folder.parge("rules export .");
    std::fs::rename(folder.path("vertical-concrete"), folder.path("our-rules")).unwrap();
    folder
        .edit("job.parge", "\"vertical-concrete\"", "\"our-rules\"")
        .unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
}

#[test]
fn an_edited_pack_is_not_written_over() {
    let folder = with_own_pack();
    let said = folder.parge("rules export packs");
    assert_eq!(said.exit, Exit::Failed);
    insta::assert_snapshot!(said);
}

#[test]
fn faults_of_a_pack_are_shown_in_its_files() {
    let folder = with_own_pack();
    folder
        .edit(
            "packs/vertical-concrete/tables/mixes.csv",
            "0.45,ft3/bag",
            "0.45,ft3/bga",
        )
        .unwrap();
    folder
        .edit(
            "packs/vertical-concrete/scripts/labour.rhai",
            "fn labour(face)",
            "fn labuor(face)",
        )
        .unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
}

#[test]
fn the_packs_in_the_program_are_listed() {
    insta::assert_snapshot!(Folder::new().unwrap().parge("rules list"));
}

/// A script that is lost, or a rule made private, would leave its figures out without a word.
#[test]
fn a_rule_that_is_not_there_is_noticed() {
    let folder = with_own_pack();
    std::fs::remove_file(folder.path("packs/vertical-concrete/scripts/labour.rhai")).unwrap();
    folder
        .edit(
            "packs/vertical-concrete/scripts/coats.rhai",
            "fn coats(",
            "private fn coats(",
        )
        .unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    insta::assert_snapshot!(said);
}

#[test]
fn values_that_cannot_be_are_refused() {
    let folder = with_own_pack();
    let tables = "packs/vertical-concrete/tables/";
    folder
        .edit(
            &format!("{tables}waste.csv"),
            "finish-mix,stamp,10,%",
            "finish-mix,stamp,10,1",
        )
        .unwrap();
    assert!(
        folder
            .parge("check job.parge")
            .err
            .contains("the waste of `finish-mix` is 1000 %")
    );
    folder
        .edit(
            &format!("{tables}labour.csv"),
            "place,surface,0.05",
            "place,surface,-0.05",
        )
        .unwrap();
    assert!(
        folder
            .parge("check job.parge")
            .err
            .contains("`-0.05` is less than nothing")
    );
}

/// A file that is passed over is figures passed over.
#[test]
fn what_is_no_script_or_table_is_refused() {
    for (name, change) in [
        ("labour.RHAI", "labour.rhai"),
        ("labour.rhai.bak", "labour.rhai"),
    ] {
        let folder = with_own_pack();
        let scripts = folder.path("packs/vertical-concrete/scripts");
        std::fs::rename(scripts.join(change), scripts.join(name)).unwrap();
        let said = folder.parge("check job.parge");
        assert!(
            said.err
                .contains(&format!("scripts/{name} is no plain file")),
            "{said}"
        );
    }
}

/// Files are counted and weighed before they are read.
#[test]
fn too_many_and_too_large_files_are_refused() {
    let folder = with_own_pack();
    let tables = folder.path("packs/vertical-concrete/tables");
    std::fs::write(tables.join("large.csv"), vec![b'x'; (4 << 20) + 1]).unwrap();
    let said = folder.parge("check job.parge");
    assert!(
        said.err
            .contains("tables/large.csv cannot be read: it is too large"),
        "{said}"
    );
    std::fs::remove_file(tables.join("large.csv")).unwrap();
    for at in 0..=500 {
        std::fs::write(tables.join(format!("t{at}.csv")), "").unwrap();
    }
    let said = folder.parge("check job.parge");
    assert!(
        said.err.contains("tables holds more than 500 files"),
        "{said}"
    );
}

#[cfg(unix)]
#[test]
fn links_out_of_a_pack_are_refused() {
    let folder = with_own_pack();
    let script = folder.path("packs/vertical-concrete/scripts/labour.rhai");
    std::fs::rename(&script, folder.path("elsewhere.rhai")).unwrap();
    std::os::unix::fs::symlink(folder.path("elsewhere.rhai"), &script).unwrap();
    let said = folder.parge("check job.parge");
    assert!(
        said.err.contains("scripts/labour.rhai is no plain file"),
        "{said}"
    );
    let folder = with_own_pack();
    let tables = folder.path("packs/vertical-concrete/tables");
    std::fs::rename(&tables, folder.path("elsewhere")).unwrap();
    std::os::unix::fs::symlink(folder.path("elsewhere"), &tables).unwrap();
    assert!(
        folder
            .parge("check job.parge")
            .err
            .contains("tables is no plain folder")
    );
}
