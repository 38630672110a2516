//! A pack that extends another: rows and functions of the upper one over those of the lower.

use super::*;
use crate::compare::compare;

const RULES: &str = "// What the wall takes.\nfn coats(face) {\n  need(\"mix\", wetted(face) / factor(\"mixes\", \"yield\") * quantity(1, \"in\"), factor(\"mixes\", \"waste\"));\n}\n\n// The area that gets wet.\nprivate fn wetted(face) { face.area }\n";

fn pack_files(name: &str, manifest: &str, texts: &[(&str, &str)]) -> PackFiles {
    let manifest = format!("name = \"{name}\"\nversion = \"1\"\nsummary = \"s\"\n{manifest}");
    let texts = texts
        .iter()
        .copied()
        .chain([("pack.toml", manifest.as_str())]);
    PackFiles {
        folder: name.into(),
        texts: texts
            .map(|(path, text)| (path.to_owned(), text.to_owned()))
            .collect(),
    }
}

fn base() -> PackFiles {
    let texts = [("scripts/rules.rhai", RULES), ("tables/mixes.csv", TABLE)];
    pack_files("base", "rules = [\"coats\"]\n", &texts)
}

fn over(manifest: &str, texts: &[(&str, &str)]) -> PackFiles {
    pack_files("ours", &format!("extends = \"base\"\n{manifest}"), texts)
}

/// A pack over the base, which must be whole.
fn layered(manifest: &str, texts: &[(&str, &str)]) -> (Pack, Sources) {
    let mut sources = Sources::new();
    match load(&[base(), over(manifest, texts)], &HOOKS, &mut sources) {
        Ok(pack) => (pack, sources),
        Err(wrong) => panic!("{}", said(&wrong, &sources)),
    }
}

/// What is said of a pack over the base that cannot be loaded.
fn refused(manifest: &str, texts: &[(&str, &str)]) -> String {
    let mut sources = Sources::new();
    match load(&[base(), over(manifest, texts)], &HOOKS, &mut sources) {
        Ok(_) => "nothing is wrong".to_owned(),
        Err(wrong) => {
            let more = wrong.iter().flat_map(|one| one.labels.iter().skip(1));
            let more = more.map(|label| {
                let place = sources.place(label.span.file, label.span.start);
                let name = sources.name(label.span.file);
                format!("\n    {} at {name}:{}", label.text, place.line)
            });
            said(&wrong, &sources) + more.collect::<String>().as_str()
        }
    }
}

fn need(pack: &Pack) -> f64 {
    let run = pack.run(&["coats"], &face(0.02));
    assert!(run.errors.is_empty(), "{:?}", run.errors);
    run.tape.value(run.needs[0].amount).value
}

fn place(span: Span, sources: &Sources) -> String {
    let line = sources.place(span.file, span.start).line;
    format!("{}:{line}", sources.name(span.file))
}

const NO_RULES: &str = "rules = []\n";

#[test]
fn a_pack_that_only_extends_is_its_base() {
    let (pack, _) = layered(NO_RULES, &[]);
    let plain = load(&[base()], &HOOKS, &mut Sources::new()).unwrap();
    assert_eq!(need(&pack).to_bits(), need(&plain).to_bits());
    assert!(compare(&plain, &pack).is_empty());
    assert_eq!(
        (pack.manifest.name.as_str(), pack.layers().len()),
        ("ours", 2)
    );
}

#[test]
fn a_row_replaces_and_a_row_and_a_table_are_added() {
    let (pack, sources) = layered(
        NO_RULES,
        &[
            (
                "tables/mixes.csv",
                "item,value,unit,source\nyield,864,in3/bag,company\nextra,1,in,company\n",
            ),
            ("tables/own.csv", "what,value,unit,source\na,2,1,company\n"),
        ],
    );
    let table = pack.tables().get("mixes").unwrap();
    let keys: Vec<&str> = table.rows.iter().map(|row| row.keys[0].as_str()).collect();
    assert_eq!(keys, ["yield", "waste", "limit", "mix", "extra"]);
    let row = &table.rows[0];
    assert_eq!(place(row.span, &sources), "ours/tables/mixes.csv:2");
    assert_eq!(pack.layer_of(row.span).unwrap().manifest.name, "ours");
    let old = row.replaces.as_deref().unwrap();
    assert_eq!((old.value.as_str(), old.unit.as_str()), ("0.5", "ft3/bag"));
    assert_eq!(pack.layer_of(old.span).unwrap().manifest.name, "base");
    assert!(pack.tables().factor("own", &["a"]).is_some());
    // 864 cubic inches are half a cubic foot.
    let (plain, _) = layered(NO_RULES, &[]);
    assert!((need(&pack) / need(&plain) - 1.0).abs() < 1e-12);
}

#[test]
fn a_rule_is_replaced_and_another_added() {
    let script = "fn labour(face) { hours(\"place\", quantity(1, \"h\")); }\nfn coats(face) { need(\"mix\", wetted(face) * 3, factor(\"mixes\", \"waste\")); }\n";
    let (pack, sources) = layered(
        "rules = [\"coats\", \"labour\"]\n",
        &[("scripts/ours.rhai", script)],
    );
    // The helper is the base's.
    assert!((need(&pack) - 30.0).abs() < 1e-9);
    let run = pack.run(&["coats", "labour"], &face(0.02));
    let place_of_need = run.needs[0].place.unwrap();
    assert_eq!(place(place_of_need, &sources), "ours/scripts/ours.rhai:2");
    assert!(sources.slice(place_of_need).starts_with("need("));
    assert_eq!(run.hours.len(), 1);
    let shown: Vec<String> = pack
        .functions()
        .iter()
        .map(|one| {
            let old = one.replaces.as_deref();
            let old = old.map_or(String::new(), |old| {
                format!(" for {}", place(old.place, &sources))
            });
            format!("{} {}{old}", one.name, place(one.place, &sources))
        })
        .collect();
    assert_eq!(
        shown,
        [
            "coats ours/scripts/ours.rhai:2 for base/scripts/rules.rhai:2",
            "wetted base/scripts/rules.rhai:7",
            "labour ours/scripts/ours.rhai:1",
        ]
    );
}

/// A rule of the base calls the helper that is in force, and keeps its own place.
#[test]
fn a_helper_is_replaced_under_the_rules_of_the_base() {
    let script = "\n\nprivate fn wetted(face) {\n  face.area * 2\n}\n";
    let (pack, sources) = layered(NO_RULES, &[("scripts/ours.rhai", script)]);
    let (plain, _) = layered(NO_RULES, &[]);
    assert!((need(&pack) / need(&plain) - 2.0).abs() < 1e-12);
    let run = pack.run(&["coats"], &face(0.02));
    let at = run.needs[0].place.unwrap();
    assert_eq!(place(at, &sources), "base/scripts/rules.rhai:3");
    let changes = compare(&plain, &pack);
    assert_eq!((changes.rows.len(), changes.functions.len()), (0, 1));
    assert!(changes.functions[0].new.unwrap().text.contains("* 2"));
}

#[test]
fn the_text_of_a_function_comes_with_its_comment() {
    let (pack, _) = layered(NO_RULES, &[]);
    let texts: Vec<&str> = pack
        .functions()
        .iter()
        .map(|one| one.text.as_str())
        .collect();
    assert!(texts[0].starts_with("// What the wall takes.\nfn coats") && texts[0].ends_with("}"));
    assert_eq!(
        texts[1],
        "// The area that gets wet.\nprivate fn wetted(face) { face.area }"
    );
}

/// Three packs: the uppermost wins, and what it replaced tells its own history.
#[test]
fn layers_add_up() {
    let row = |value: &str| format!("item,value,unit,source\nwaste,{value},%,company\n");
    let (middle, top) = (row("12"), row("15"));
    let layers = [
        base(),
        over(NO_RULES, &[("tables/mixes.csv", &middle)]),
        pack_files(
            "site",
            "extends = \"ours\"\nrules = []\n",
            &[("tables/mixes.csv", &top)],
        ),
    ];
    let pack = load(&layers, &HOOKS, &mut Sources::new()).unwrap();
    let row = pack.tables().find("mixes", &["waste"]).unwrap();
    let mut values = vec![row.value.as_str()];
    let mut at = row;
    while let Some(old) = at.replaces.as_deref() {
        values.push(&old.value);
        at = old;
    }
    assert_eq!(values, ["15", "12", "10"]);
}

#[test]
fn errors_while_running_are_told_in_the_layer_that_they_are_in() {
    let fails = |script: &str| {
        let (pack, sources) = layered(NO_RULES, &[("scripts/ours.rhai", script)]);
        said(&pack.run(&["coats"], &face(0.02)).errors, &sources)
    };
    insta::assert_snapshot!(
        [
            // In the upper script, called from the lower.
            "// é\nprivate fn wetted(face) {\n  /* 漢字 */ face.aera\n}\n",
            // In the lower script, by what the upper handed it.
            "private fn wetted(face) { \"wet\" }\n",
        ]
        .map(fails)
        .join("\n")
    );
}

#[test]
fn what_does_not_fit_the_pack_under_it_is_refused() {
    let table = |text: &str| refused(NO_RULES, &[("tables/mixes.csv", text)]);
    let script = |text: &str| refused(NO_RULES, &[("scripts/ours.rhai", text)]);
    insta::assert_snapshot!(
        [
            table("item,value,unit,source\nyield,50,lb/bag,company\n"),
            table("item,value,unit,source\nyield,much,text,company\n"),
            table("item,value,unit,source\nmix,1,in,company\n"),
            table("item,property,value,unit,source\nmix,yield,1,in,company\n"),
            table("item,value,unit,source\nyield,1,ft3/bag,company\nyield,2,ft3/bag,company\n"),
            table("item,value,unit,source\nyield,1,ft3/bga,company\n"),
            script("private fn wetted(face, more) { face.area }\n"),
            script("private fn coats(face) { }\n"),
            script("fn wetted(face) { }\n"),
            script("fn coats(face) { }\n"),
            script("private fn own(face { }\n"),
            script("private fn own(face) { nothing_known + 1 }\n"),
            script("private fn own(face) { 1 }\nown(1);\n"),
            script("private fn own(face) { `${face}` }\n"),
            script("private fn own(face) { switch face { 1 => 2, _ => 3 } }\n"),
            script("private fn own(a) { 1 }\nprivate fn own(b) { 1 }\n"),
            refused(
                NO_RULES,
                &[
                    ("scripts/a.rhai", "private fn wetted(face) { 1 }\n"),
                    ("scripts/b.rhai", "\nprivate fn wetted(face) { 2 }\n"),
                ],
            ),
            refused("rules = [\"coats\"]\n", &[]),
            refused("rules = []\nengine = \"7\"\nnews = 3\n", &[]),
        ]
        .join("\n")
    );
}

#[test]
fn a_pack_without_the_one_that_it_extends_is_refused() {
    let mut sources = Sources::new();
    let wrong = load(&[over(NO_RULES, &[])], &HOOKS, &mut sources).unwrap_err();
    assert!(said(&wrong, &sources).starts_with("E0401 at ours/pack.toml:4:1"));
}

/// The script engine counts lines no further than that.
#[test]
fn more_lines_than_can_be_counted_are_refused() {
    let script = "\n".repeat(31_000);
    let scripts = [
        ("scripts/a.rhai", script.as_str()),
        ("scripts/b.rhai", &script),
    ];
    assert!(refused(NO_RULES, &scripts).contains("have over 60000 lines"));
}

#[test]
fn compared_packs_tell_rows_that_came_changed_and_went() {
    let mut fewer = base();
    let text = "item,value,unit,source\nyield,1/2,ft3/bag,company\nwaste,20,%,common practice\nnew,1,in,company\n";
    fewer.texts.insert("tables/mixes.csv".into(), text.into());
    let mut sources = Sources::new();
    let old = load(&[base()], &HOOKS, &mut sources).unwrap();
    let new = load(&[fewer], &HOOKS, &mut sources).unwrap();
    let changes = compare(&old, &new);
    let words: Vec<String> = changes
        .rows
        .iter()
        .map(|change| {
            let value =
                |row: Option<&crate::Row>| row.map_or("none".into(), |row| row.value.clone());
            let row = change.old.or(change.new).unwrap();
            format!(
                "{} {} {}",
                row.keys[0],
                value(change.old),
                value(change.new)
            )
        })
        .collect();
    assert_eq!(
        words,
        [
            "waste 10 20",
            "limit 1 none",
            "mix quick none",
            "new none 1"
        ]
    );
}

const HEAD: &str = "item,value,unit,source,note\n";

#[test]
fn a_row_is_taken_away_and_told_by_whom() {
    let away = format!("{HEAD}waste,none,none,company,by weight now\n");
    let (pack, sources) = layered(NO_RULES, &[("tables/mixes.csv", &away)]);
    let table = pack.tables().get("mixes").unwrap();
    let keys: Vec<&str> = table.rows.iter().map(|row| row.keys[0].as_str()).collect();
    assert_eq!(keys, ["yield", "limit", "mix"]);
    // Those behind it are still found.
    assert_eq!(pack.tables().text("mixes", &["mix"]), Some("quick"));
    assert_eq!(pack.tables().has("mixes", &["waste"]), Ok(false));
    assert_eq!(pack.tables().keys("mixes", &[]).unwrap(), keys);
    let [taken] = table.taken.as_slice() else {
        panic!("one row")
    };
    assert_eq!(
        (taken.by.as_str(), taken.note.as_str()),
        ("ours", "by weight now")
    );
    assert_eq!(taken.was.value, "10");
    assert_eq!(place(taken.span, &sources), "ours/tables/mixes.csv:2");
    // The rule that needs it stops, and says who took it.
    assert_eq!(
        said(&pack.run(&["coats"], &face(0.02)).errors, &sources),
        "E0406 at base/scripts/rules.rhai:3:76 `factor(\"mixes\", \"waste\"));`: rule `coats` stopped: \
         table `mixes` has no row `waste`: pack `ours` takes it away | mend the rule or the table \
         it reads; figures of this rule are missing until then"
    );
    let plain = load(&[base()], &HOOKS, &mut Sources::new()).unwrap();
    let changes = compare(&plain, &pack);
    let told: Vec<Option<&str>> = changes
        .rows
        .iter()
        .map(|change| change.taken.map(|taken| taken.by.as_str()))
        .collect();
    assert_eq!(told, [Some("ours")]);
}

/// A text that says `none` is a text.
#[test]
fn a_text_none_is_no_row_taken_away() {
    let text = format!("{HEAD}mix,none,text,company,\n");
    let (pack, _) = layered(NO_RULES, &[("tables/mixes.csv", &text)]);
    assert_eq!(pack.tables().text("mixes", &["mix"]), Some("none"));
}

/// It then stands last, keeps its kind, and tells what it replaces.
#[test]
fn a_row_taken_away_can_be_written_anew_above() {
    let away = format!("{HEAD}waste,none,none,company,\n");
    let of_site = |row: &str| {
        let text = format!("{HEAD}{row}");
        let layers = [
            base(),
            over(NO_RULES, &[("tables/mixes.csv", &away)]),
            pack_files(
                "site",
                "extends = \"ours\"\nrules = []\n",
                &[("tables/mixes.csv", &text)],
            ),
        ];
        let mut sources = Sources::new();
        load(&layers, &HOOKS, &mut sources).map_err(|wrong| said(&wrong, &sources))
    };
    let pack = of_site("waste,7,%,company,\n").unwrap();
    let table = pack.tables().get("mixes").unwrap();
    assert!(table.taken.is_empty());
    let last = table.rows.last().unwrap();
    assert_eq!(last.value, "7");
    assert_eq!(last.replaces.as_deref().unwrap().value, "10");
    assert!(
        of_site("waste,7,lb,company,\n")
            .unwrap_err()
            .starts_with("E0412 at site/tables")
    );
    assert!(
        of_site("waste,none,none,company,\n")
            .unwrap_err()
            .contains("by pack `ours` already")
    );
}

#[test]
fn what_is_not_there_cannot_be_taken_away() {
    let table = |name: &str, rows: &str| refused(NO_RULES, &[(name, &format!("{HEAD}{rows}"))]);
    let mut told = [
        "yeild,none,none,company,\n",
        "yield,none,none,,\n",
        "yield,none,in,company,\n",
        "yield,0.5,none,company,\n",
        "yield,none,none,company,\nyield,1,ft3/bag,company,\n",
        "yield,none,none,company,\nyield,none,none,company,\n",
    ]
    .map(|rows| format!("{rows}{}\n", table("tables/mixes.csv", rows)))
    .to_vec();
    let own = "yield,none,none,company,\n";
    told.push(table("tables/own.csv", own));
    insta::assert_snapshot!(told.join("\n"));
}

/// The names of parameters are free; a rule that is private would never be called.
#[test]
fn a_private_rule_is_refused_in_a_pack_of_its_own_too() {
    let mut files = base();
    let script = "private fn coats(face) { 1 }\n".to_owned();
    files.texts.insert("scripts/rules.rhai".into(), script);
    let said = load_said(&files);
    assert!(
        said.contains("E0408 at base/scripts/rules.rhai:1:9"),
        "{said}"
    );
}
