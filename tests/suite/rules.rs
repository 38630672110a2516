//! A company pack over a pack of the program: made, checked, edited, looked at, compared.

use parge_cli::Exit;
use parge_tests::Folder;
use serde_json::Value;
use std::process::Command;

/// The demo with a new company pack, which its plan asks for.
fn with_company_pack() -> Folder {
    let folder = Folder::with_demo().unwrap();
    let said = folder.parge("rules new our-rules");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    folder
        .edit("job.parge", "\"vertical-concrete\"", "\"./our-rules\"")
        .unwrap();
    folder
}

/// The same with a row, a rule and a helper of its own, and a row and a table that are new.
fn with_edited_pack() -> Folder {
    let folder = with_company_pack();
    let row = "item,condition,value,unit,source\nfinish-mix,stamp,12,%,company\ncolour,texture,15,%,company\n";
    folder.write("our-rules/tables/waste.csv", row).unwrap();
    let own = "work,value,unit,source\nphotos,1/2,h,company\n";
    folder.write("our-rules/tables/office.csv", own).unwrap();
    let script = "// A third person helps on the scaffold.\nprivate fn scaffold_face(face) {\n    face.width * face.working_height * factor(\"settings\", \"crew\") / 2\n}\n\nfn edges(edge) {\n    hours(\"place\", factor(\"office\", \"photos\"));\n}\n\nprivate fn ours(face) {\n    face.area\n}\n";
    folder.write("our-rules/scripts/ours.rhai", script).unwrap();
    folder
        .edit("our-rules/pack.toml", "rules = []", "rules = [\"edges\"]")
        .unwrap();
    folder
}

fn estimate(folder: &Folder, plan: &str) -> Value {
    let said = folder.parge(&format!("estimate {plan} --json -"));
    assert_eq!(said.exit, Exit::Fine, "{said}");
    serde_json::from_str(&said.out).unwrap()
}

/// A folder with small packs, by their names and the ends of their manifests.
fn with_packs(packs: &[(&str, &str)]) -> Folder {
    let folder = Folder::new().unwrap();
    for (name, rest) in packs {
        let manifest = format!(
            "name = \"{name}\"\nversion = \"1.0.0\"\nsummary = \"For a test\"\nrules = []\n{rest}\n"
        );
        folder
            .write(&format!("{name}/pack.toml"), manifest)
            .unwrap();
    }
    folder
}

fn git(folder: &Folder, arguments: &[&str]) {
    let identity = [
        "-c",
        "user.name=Estimator",
        "-c",
        "user.email=e@example.com",
    ];
    let mut command = Command::new("git");
    let command = command.current_dir(folder.path(".")).args(identity);
    assert!(command.args(arguments).status().unwrap().success());
}

#[test]
fn a_new_pack_estimates_as_its_base_at_once() {
    let folder = Folder::with_demo().unwrap();
    let new = folder.parge("rules new our-rules");
    let check = folder.parge("rules check our-rules");
    let files = [
        "pack.toml",
        "README.md",
        "scripts/ours.rhai",
        "tables/waste.csv",
    ]
    .map(|name| {
        let text = folder.read(&format!("our-rules/{name}")).unwrap();
        format!("== {name}\n{text}")
    });
    insta::assert_snapshot!(format!("{new}\n\n{check}\n\n{}", files.join("\n")));

    let standard = estimate(&folder, "job.parge");
    let own = estimate(&with_company_pack(), "job.parge");
    for part in ["materials", "labour", "price", "faces", "cautions"] {
        assert_eq!(own[part], standard[part], "{part}");
    }
    // Which numbers a bid rests on is told down to the base.
    let version = &own["job"]["rules"]["version"];
    assert!(version.as_str().unwrap().contains("on vertical-concrete "));
}

#[test]
fn what_is_in_force_and_where_it_comes_from() {
    let folder = with_edited_pack();
    let said = folder.parge("rules check our-rules");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(folder.parge("rules show our-rules"));
}

#[test]
fn rows_and_functions_are_shown_with_what_they_replace() {
    let folder = with_edited_pack();
    let shown = ["waste", "edges", "scaffold_face", "office"].map(|word| {
        folder
            .parge(&format!("rules show our-rules {word}"))
            .to_string()
    });
    insta::assert_snapshot!(shown.join("\n\n"));
}

#[test]
fn packs_are_compared_in_rows_functions_and_money() {
    let folder = with_edited_pack();
    let command = "rules diff vertical-concrete our-rules --plan job.parge";
    insta::assert_snapshot!(folder.parge(command));
    // The other way round, what was added is removed.
    let back = folder.parge("rules diff our-rules vertical-concrete");
    assert_eq!(back.exit, Exit::Fine, "{back}");
    assert_eq!(back.out.matches("removed").count(), 3, "{back}");
}

/// The money of the comparison is that of the two estimates.
#[test]
fn a_pack_counts_in_a_job_as_in_a_comparison() {
    let folder = with_edited_pack();
    let said = folder.parge("rules diff vertical-concrete our-rules --plan job.parge");
    let plain = estimate(&Folder::with_demo().unwrap(), "job.parge");
    let own = estimate(&folder, "job.parge");
    let totals = [plain, own].map(|json| {
        let total: f64 = json["price"]["total"].as_str().unwrap().parse().unwrap();
        assert!(total > 1000.0);
        format!("{},{:06.2}", (total / 1000.0).floor(), total % 1000.0)
    });
    let line = said.out.lines().find(|line| line.starts_with(" total "));
    for total in &totals {
        assert!(line.unwrap().contains(total), "{totals:?}: {said}");
    }
    assert_ne!(totals[0], totals[1]);
}

#[test]
fn the_commands_of_a_job_take_a_company_pack() {
    let folder = with_edited_pack();
    std::fs::copy(folder.path("job.parge"), folder.path("before.parge")).unwrap();
    folder
        .edit("before.parge", "\"./our-rules\"", "\"vertical-concrete\"")
        .unwrap();
    for command in [
        "check job.parge",
        "takeoff job.parge",
        "estimate job.parge",
        "diff before.parge job.parge",
    ] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Fine, "{command}: {said}");
    }
}

/// A pack of a site over the company's, beside it.
#[test]
fn a_chain_of_packs_by_paths() {
    let folder = with_edited_pack();
    let said = folder.parge("rules new jobs/site --extends our-rules");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let manifest = folder.read("jobs/site/pack.toml").unwrap();
    assert!(manifest.contains("extends = \"../../our-rules\""));
    let said = folder.parge("rules check jobs/site");
    assert_eq!(
        said.out,
        "site 0.1.0 on our-rules 0.1.0 on vertical-concrete 0.2.0: no errors\n"
    );
    // What the company's pack says, the site's says too.
    let said = folder.parge("rules diff our-rules jobs/site");
    assert!(said.out.ends_with("the packs say the same\n"), "{said}");
}

#[test]
fn faults_are_shown_in_the_pack_that_they_are_in() {
    let folder = with_edited_pack();
    let _ = folder.parge("rules new site --extends our-rules");
    folder
        .edit("our-rules/tables/waste.csv", "12,%", "12,h")
        .unwrap();
    folder
        .edit(
            "our-rules/scripts/ours.rhai",
            "scaffold_face(face)",
            "scaffold_face(face, more)",
        )
        .unwrap();
    folder
        .edit("site/pack.toml", "rules = []", "rules = [\"coats\"]")
        .unwrap();
    let job = folder.parge("check job.parge");
    assert_eq!(job.exit, Exit::Problems);
    let site = folder.parge("rules check site");
    assert_eq!(site.exit, Exit::Problems);
    insta::assert_snapshot!(format!("{job}\n\n{site}"));
}

/// A rule that stops is told in the script that it stops in, whichever pack calls it.
#[test]
fn a_rule_that_stops_is_told_at_its_line() {
    let folder = with_edited_pack();
    folder
        .edit(
            "our-rules/scripts/ours.rhai",
            "\"settings\", \"crew\"",
            "\"settings\", \"crw\"",
        )
        .unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(
        said.err.contains("our-rules/scripts/ours.rhai:3:"),
        "{said}"
    );
}

#[test]
fn packs_that_rest_on_nothing_or_on_themselves() {
    let chain: Vec<(String, String)> = (1..=9)
        .map(|at| (format!("p{at}"), format!("extends = \"../p{}\"", at + 1)))
        .collect();
    let mut chain: Vec<(&str, &str)> = chain
        .iter()
        .map(|(name, rest)| (name.as_str(), rest.as_str()))
        .collect();
    chain.push(("p10", ""));
    let folders = [
        with_packs(&[("a", "extends = \"../a\"")]),
        with_packs(&[
            ("a", "extends = \"../b\""),
            ("b", "extends = \"../c\""),
            ("c", "extends = \"../b\""),
        ]),
        with_packs(&[("a", "extends = \"vertical-concreet\"")]),
        with_packs(&[("a", "extends = \"../b\"")]),
        with_packs(&[("a", "extends = \"b\""), ("b", "")]),
        with_packs(&[("a", "engine = \"0.9\"")]),
        with_packs(&[("a", "engine = \"soon\"")]),
        with_packs(&[("a", "extends = \"../b\""), ("b", "engine = \"3.1.4\"")]),
    ];
    let mut told: Vec<String> = folders
        .iter()
        .map(|folder| folder.parge("rules check a").to_string())
        .collect();
    told.push(with_packs(&chain).parge("rules check p1").to_string());
    insta::assert_snapshot!(told.join("\n\n"));
    // Eight are fine.
    assert_eq!(with_packs(&chain).parge("rules check p3").exit, Exit::Fine);
}

/// The place in the manifest, and the line of the plan that asks for the pack.
#[test]
fn a_missing_base_is_told_with_the_way_to_it() {
    let folder = with_company_pack();
    folder
        .edit(
            "our-rules/pack.toml",
            "\"vertical-concrete\"",
            "\"../base\"",
        )
        .unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
}

#[cfg(unix)]
#[test]
fn links_out_of_a_base_are_refused() {
    let folder = with_packs(&[("a", "extends = \"../b\""), ("b", "")]);
    folder
        .write("elsewhere/t.csv", "a,value,unit,source\n")
        .unwrap();
    std::os::unix::fs::symlink(folder.path("elsewhere"), folder.path("b/tables")).unwrap();
    let said = folder.parge("rules check a");
    assert!(said.err.contains("b/tables is no plain folder"), "{said}");
    assert_eq!(said.exit, Exit::Failed);
}

/// A plan of the past is estimated with its company pack of that time.
#[test]
fn a_company_pack_comes_out_of_a_revision() {
    let folder = with_edited_pack();
    git(&folder, &["init", "-q", "."]);
    git(&folder, &["add", "."]);
    git(&folder, &["commit", "-qm", "first bid"]);
    folder
        .edit("our-rules/tables/waste.csv", "stamp,12", "stamp,20")
        .unwrap();
    let said = folder.parge("diff HEAD:job.parge job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(said.out.contains("waste: finish-mix, stamp"), "{said}");
    let said = folder.parge("rules diff HEAD:our-rules our-rules");
    insta::assert_snapshot!(said);
    // A base beside the pack comes out of the same revision.
    let _ = folder.parge("rules new site --extends our-rules");
    git(&folder, &["add", "."]);
    git(&folder, &["commit", "-qm", "a pack for the site"]);
    folder
        .edit("our-rules/tables/waste.csv", "stamp,20", "stamp,30")
        .unwrap();
    folder
        .write(
            "site/tables/waste.csv",
            "item,condition,value,unit,source\n",
        )
        .unwrap();
    let said = folder.parge("rules show HEAD:site waste");
    assert!(said.out.contains("20 % (company)"), "{said}");
}

#[test]
fn what_is_not_there_and_what_is_there_already() {
    let folder = with_company_pack();
    let told = [
        "rules new our-rules",
        "rules new other --extends nothing",
        "rules new other --extends ./nothing",
        "rules show nothing",
        "rules show our-rules wastes",
        "rules show our-rules xylophone",
        "rules diff our-rules nothing",
        "rules diff our-rules HEAD:our-rules",
        "rules check",
    ]
    .map(|command| format!("== {command}\n{}", folder.parge(command)));
    insta::assert_snapshot!(told.join("\n\n"));
    assert!(!folder.path("other").exists());
}

/// What is wrong with the plan is told once, and the packs are compared all the same.
#[test]
fn a_fault_of_the_plan_is_told_once() {
    let folder = with_edited_pack();
    folder.edit("job.parge", "14ft", "14fd").unwrap();
    let said = folder.parge("rules diff vertical-concrete our-rules --plan job.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert_eq!(said.err.matches("error[").count(), 1, "{said}");
    assert!(said.out.contains("finish-mix, stamp"), "{said}");
}

/// The edited pack without the row of small faces in the waste of colours.
fn with_row_taken_away() -> Folder {
    let folder = with_edited_pack();
    folder
        .edit(
            "our-rules/tables/waste.csv",
            "colour,texture,15,%,company\n",
            "colour,texture,15,%,company\ncolour,small-face,none,none,company\n",
        )
        .unwrap();
    folder
}

#[test]
fn a_row_taken_away_is_shown_with_its_pack() {
    let folder = with_row_taken_away();
    let told = [
        "rules check our-rules",
        "rules show our-rules waste",
        "rules diff vertical-concrete our-rules",
    ]
    .map(|command| format!("== {command}\n{}", folder.parge(command)));
    insta::assert_snapshot!(told.join("\n\n"));
    let all = folder.parge("rules show our-rules").out;
    assert!(all.contains("taken away"), "{all}");
    let page = folder.parge("rules doc our-rules").out;
    let line = "| colour | small-face | none | none | company | taken away by our-rules:4 | 10 % (common practice) |";
    assert!(page.contains(line), "{page}");
    // What is taken away counts no more: less colour, and so less money.
    let total = |folder: &Folder| {
        let total = estimate(folder, "job.parge")["price"]["total"].clone();
        total.as_str().unwrap().parse::<f64>().unwrap()
    };
    assert!(total(&folder) <= total(&with_edited_pack()));
}

/// The rule that needs the row stops at its line, and says who took it.
#[test]
fn a_rule_that_needs_a_row_taken_away_says_by_whom() {
    let folder = with_edited_pack();
    folder
        .edit(
            "our-rules/tables/waste.csv",
            "colour,texture,15,%,company\n",
            "masking,any,none,none,company\n",
        )
        .unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    for words in [
        "table `waste` has no row `masking, any`: pack `our-rules` takes it away",
        "vertical-concrete/scripts/waste.rhai:",
        "asked for this need",
        "vertical-concrete/scripts/materials.rhai:",
    ] {
        assert!(said.err.contains(words), "{words}: {said}");
    }
}

#[test]
fn what_packs_have_otherwise_is_told_as_json() {
    let schema: Value = serde_json::from_str(parge_sheets::PACK_CHANGE_SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let folder = with_row_taken_away();
    let json = |command: &str| -> Value {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Fine, "{said}");
        let json = serde_json::from_str(&said.out).unwrap();
        let errors: Vec<String> = validator
            .iter_errors(&json)
            .map(|error| error.to_string())
            .collect();
        assert_eq!(errors, [""; 0]);
        json
    };
    let both = "rules diff vertical-concrete our-rules";
    let packs = json(&format!("{both} --json -"));
    assert_eq!(
        (&packs["different"], &packs["plan"]),
        (&true.into(), &Value::Null)
    );
    let of = |keys: &[&str]| {
        let rows = packs["rows"].as_array().unwrap();
        let row = rows
            .iter()
            .find(|row| row["keys"] == serde_json::json!(keys));
        row.unwrap().clone()
    };
    let stamp = of(&["finish-mix", "stamp"]);
    assert_eq!(stamp["kind"], "replaced");
    assert_eq!(
        (&stamp["old"]["number"], &stamp["new"]["number"]),
        (&10.0.into(), &12.0.into())
    );
    assert_eq!(stamp["new"]["place"]["file"], "our-rules/tables/waste.csv");
    assert_eq!(
        (
            &stamp["new"]["place"]["line"],
            &stamp["new"]["place"]["pack"]
        ),
        (&2.into(), &"our-rules".into())
    );
    let gone = of(&["colour", "small-face"]);
    assert_eq!(
        (&gone["kind"], &gone["taken_away_by"]),
        (&"taken_away".into(), &"our-rules".into())
    );
    assert_eq!(
        (&gone["new"], &gone["old"]["value"]),
        (&Value::Null, &"10".into())
    );
    assert_eq!(of(&["photos"])["kind"], "added");
    let functions = packs["functions"].as_array().unwrap();
    assert_eq!(functions.len(), 3);
    let edges = functions.iter().find(|one| one["name"] == "edges").unwrap();
    assert_eq!(
        (&edges["kind"], &edges["is_rule"]),
        (&"replaced".into(), &true.into())
    );
    // With a plan, its money is that of the two estimates.
    let with_plan = json(&format!("{both} --plan job.parge --json -"));
    let plain = estimate(&Folder::with_demo().unwrap(), "job.parge");
    let own = estimate(&folder, "job.parge");
    assert_eq!(with_plan["plan"]["total"]["old"], plain["price"]["total"]);
    assert_eq!(with_plan["plan"]["total"]["new"], own["price"]["total"]);
    assert_eq!(with_plan["plan"]["old"]["plan"], "job.parge");
    assert_eq!(with_plan["rows"], packs["rows"]);
    // A pack and itself.
    let same = json("rules diff our-rules our-rules --json -");
    assert_eq!(same["different"], false);
}

#[test]
fn the_json_of_packs_is_written_and_nothing_else_written_over() {
    let folder = with_edited_pack();
    let command = "rules diff vertical-concrete our-rules --json changes.json";
    for _ in 0..2 {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Fine, "{said}");
        assert!(said.out.contains("finish-mix, stamp"), "{said}");
    }
    let written = folder.read("changes.json").unwrap();
    let printed = folder.parge("rules diff vertical-concrete our-rules --json -");
    assert_eq!(printed.out.trim_end(), written);
    folder.write("changes.json", "{\"ours\": 1}").unwrap();
    let said = folder.parge(command);
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert_eq!(folder.read("changes.json").unwrap(), "{\"ours\": 1}");
    let said = folder.parge(&format!("{command} --force"));
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert_eq!(folder.read("changes.json").unwrap(), written);
    // Neither a pack nor a plan is written over, not even when told to.
    for file in ["our-rules/pack.toml", "job.parge"] {
        let command = format!(
            "rules diff vertical-concrete our-rules --plan job.parge --json {file} --force"
        );
        let before = folder.read(file).unwrap();
        assert_eq!(folder.parge(&command).exit, Exit::Failed, "{file}");
        assert_eq!(folder.read(file).unwrap(), before);
    }
    // Without figures there is no JSON.
    folder.edit("job.parge", "14ft", "14fd").unwrap();
    let said = folder.parge("rules diff vertical-concrete our-rules --plan job.parge --json -");
    assert_eq!((said.exit, said.out.as_str()), (Exit::Problems, ""));
}
