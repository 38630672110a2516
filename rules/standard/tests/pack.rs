//! The pack as a whole: it loads, its tables fit its rules, and an edit changes the estimate.

// An integration test is test code from its first line.
#![allow(clippy::unwrap_used)]

mod common;

use common::{
    Asked, OF_THE_DAYS, close, edge, edited, every_day, face, files, job, load_from, pack, whole,
};
use parge_base::FactorSource;
use parge_base::trace::columns::Columns;
use parge_calc::contract::{
    CAUTIONS, CONTINGENCY, EDGES, FACE_HOOKS, GROSS_HOOK, HOOKS, KIT, MATERIALS, OPENING_HOOK,
    PHASES, PRICE_HOOK, SHAPES, SHEETS, SITE, SUBSTRATES, TECHNIQUES,
};
use parge_calc::pool::general_item;
use parge_rules::{Cell, Pack, Run};

const OF_SUBSTRATES: [&str; 8] = [
    "wood", "block", "brick", "concrete", "foam", "steel", "rebar", "gypsum",
];
const OF_TECHNIQUES: [&str; 3] = ["stamp", "carve", "texture"];

const OF_EDGES: [&str; 4] = ["corner", "cap", "joint", "drip"];
const OF_SITE: [(&str, &[&str]); 5] = [
    ("access", &["open", "tight", "carry"]),
    ("place", &["outdoors", "indoors"]),
    ("season", &["mild", "hot", "cold"]),
    ("surface", &["sound", "dirty", "painted", "damaged"]),
    ("use", &["ordinary", "fire"]),
];

/// A face under each condition that the pack knows.
fn under_every_condition() -> Vec<Asked> {
    let each = OF_SITE.iter().flat_map(|(kind, words)| {
        words
            .iter()
            .map(|word| face("block", "stamp", 0.75).conditions(&[(kind, word)]))
    });
    each.collect()
}

/// Faces and edges that together meet every rule.
fn every_kind() -> Vec<Asked> {
    let mut faces = Vec::new();
    for substrate in OF_SUBSTRATES {
        for technique in OF_TECHNIQUES {
            let plain = face(substrate, technique, 0.875).set("relief", 1.2, "1");
            let full = face(substrate, technique, 2.0)
                .set("relief", 1.1, "1")
                .set("area", 18.0, "ft2")
                .set("working_height", 12.0, "ft")
                .set("radius", 5.0, "m")
                .text("sheen", "matte")
                .colours(&[("granite", 0.6), ("moss", 0.3)]);
            faces.extend([plain, full]);
        }
    }
    faces.push(face("concrete", "texture", 0.25));
    faces.push(face("concrete", "texture", 0.25).text("sheen", "matte"));
    faces.extend(under_every_condition());
    for kind in OF_EDGES {
        faces.extend([edge(kind), edge(kind).set("working_height", 12.0, "ft")]);
    }
    // Past the limits of veneer: too high on wood, too heavy indoors.
    faces.push(face("wood", "carve", 2.0).set("working_height", 31.0, "ft"));
    faces.push(face("block", "carve", 2.5).conditions(&[("place", "indoors")]));
    faces.push(
        face("block", "texture", 0.2)
            .set("bottom", 0.0, "ft")
            .colours(&[("granite", 0.997)]),
    );
    faces
}

/// All that the pack says of a set of subjects, with what went wrong.
fn print_all(pack: &Pack, subjects: &[Asked]) -> String {
    let mut out = String::new();
    for subject in subjects {
        let run = pack.run(subject.hooks(), &subject.0);
        let errors: Vec<String> = run
            .errors
            .iter()
            .map(|error| error.message.clone())
            .collect();
        out += &errors.join("\n");
        out += &common::Answer(run).print();
        out.push('\n');
    }
    out
}

#[test]
fn loads_with_every_hook_and_without_a_diagnostic() {
    let pack = pack();
    assert_eq!(pack.manifest.name, "vertical-concrete");
    assert_eq!(pack.manifest.version, "0.2.0");
    // How openings are deducted is for packs that measure, and a price for the company.
    let elsewhere = [OPENING_HOOK, GROSS_HOOK, PRICE_HOOK];
    for hook in HOOKS.iter().filter(|hook| !elsewhere.contains(&hook.name)) {
        assert!(pack.has_hook(hook.name), "{}", hook.name);
    }
}

#[test]
fn has_the_substrates_and_techniques_of_the_trade() {
    let pack = pack();
    assert_eq!(pack.tables().keys(SUBSTRATES, &[]).unwrap(), OF_SUBSTRATES);
    assert_eq!(pack.tables().keys(TECHNIQUES, &[]).unwrap(), OF_TECHNIQUES);
    assert_eq!(pack.tables().keys(EDGES, &[]).unwrap(), OF_EDGES);
    assert_eq!(
        pack.tables().keys(SITE, &[]).unwrap(),
        OF_SITE.map(|(kind, _)| kind)
    );
    for (kind, words) in OF_SITE {
        assert_eq!(pack.tables().keys(SITE, &[kind]).unwrap(), words);
        for word in words {
            let described = pack.tables().text(SITE, &[kind, word, "description"]);
            assert!(described.is_some(), "{kind} {word}");
        }
    }
    for (table, keys) in [
        (SUBSTRATES, &OF_SUBSTRATES[..]),
        (TECHNIQUES, &OF_TECHNIQUES[..]),
        (EDGES, &OF_EDGES[..]),
    ] {
        for key in keys {
            assert!(
                pack.tables().text(table, &[key, "description"]).is_some(),
                "{key}"
            );
        }
    }
}

#[test]
fn every_item_phase_and_caution_said_has_its_row_and_every_row_is_said() {
    let pack = pack();
    let tables = pack.tables();
    let mut subjects = every_kind();
    subjects.push(whole(&pack));
    subjects.extend(every_day(&pack));
    let (mut items, mut phases) = (Vec::new(), Vec::new());
    let (mut cautions, mut tools) = (Vec::new(), Vec::new());
    for subject in &subjects {
        let answer = subject.ask(&pack);
        for line in &answer.0.needs {
            for unit in ["unit", "unit_metric"] {
                let text = tables
                    .text(MATERIALS, &[general_item(&line.item), unit])
                    .unwrap();
                let unit = pack.units().parse(text).unwrap();
                assert!(
                    unit.show(answer.0.tape.value(line.amount)).is_some(),
                    "{} in {text}",
                    line.item
                );
            }
            items.push(general_item(&line.item).to_owned());
        }
        phases.extend(answer.0.hours.iter().map(|line| line.phase.to_string()));
        cautions.extend(answer.0.cautions.iter().map(|line| line.key.to_string()));
        tools.extend(answer.0.tools.iter().map(|line| line.tool.to_string()));
    }
    for (table, mut said) in [
        (MATERIALS, items),
        (PHASES, phases),
        (CAUTIONS, cautions),
        (KIT, tools),
    ] {
        said.sort();
        said.dedup();
        let mut rows = tables.keys(table, &[]).unwrap();
        rows.sort_unstable();
        assert_eq!(said, rows, "{table}");
    }
    let mut orders: Vec<f64> = tables
        .keys(PHASES, &[])
        .unwrap()
        .iter()
        .map(|phase| {
            tables
                .factor(PHASES, &[phase, "order"])
                .unwrap()
                .quantity
                .value
        })
        .collect();
    orders.sort_by(f64::total_cmp);
    orders.dedup();
    assert_eq!(
        orders.len(),
        tables.keys(PHASES, &[]).unwrap().len(),
        "two phases with one order"
    );
}

#[test]
fn every_number_is_used() {
    let pack = pack();
    let mut used: Vec<String> = Vec::new();
    let mut subjects = every_kind();
    subjects.extend([whole(&pack), job().absent("crew")]);
    subjects.extend(every_day(&pack));
    for subject in &subjects {
        let answer = subject.ask(&pack);
        used.extend(answer.0.tape.factors().map(|factor| factor.name.clone()));
    }
    for table in pack.tables().iter() {
        for row in &table.rows {
            if let Cell::Factor(factor) = &row.cell {
                // The order of the phases, the sizes of sheets and the waits are what the program
                // itself reads; the rows that a lift chooses from are looked at in the tests of
                // safety.
                let chosen_from = [PHASES, SHEETS, "lifting_pace", "lifting_grip", CONTINGENCY];
                let mut read = chosen_from.iter().chain(&OF_THE_DAYS);
                assert!(
                    read.any(|name| *name == &*table.name) || used.contains(&factor.name),
                    "{}",
                    factor.name
                );
            }
        }
    }
}

/// Every word is taken out once, and the estimate must change. The tables left out are those of
/// words that the program itself reads, and the kit; other tests look at them.
#[test]
fn every_word_is_used() {
    let substrates = OF_SUBSTRATES.map(|substrate| face(substrate, "stamp", 0.875));
    let edges = OF_EDGES.map(edge);
    let conditions = under_every_condition();
    let subjects: Vec<Asked> = substrates
        .into_iter()
        .chain(edges)
        .chain(conditions)
        .chain([whole(&pack())])
        .chain(every_day(&pack()))
        .collect();
    let whole = print_all(&pack(), &subjects);
    for (path, text) in &files().texts {
        if [MATERIALS, PHASES, CAUTIONS, SHAPES, KIT]
            .iter()
            .chain(&OF_THE_DAYS)
            .any(|table| *path == format!("tables/{table}.csv"))
        {
            continue;
        }
        let words = text.lines().filter(|line| line.contains(",text,"));
        // The program reads in which phase a mix is placed.
        let words = words.filter(|line| !line.contains(",phase,") || path != "tables/mixes.csv");
        for word in
            words.filter(|line| path.starts_with("tables/") && !line.contains(",description,"))
        {
            let pack = edited(path, &format!("\n{word}"), "");
            assert_ne!(print_all(&pack, &subjects), whole, "{path}: {word}");
        }
    }
}

#[test]
fn sources_are_named_and_weak_ones_say_so() {
    let pack = pack();
    for table in pack.tables().iter() {
        for row in &table.rows {
            let source = match &row.cell {
                Cell::Factor(factor) => &factor.source,
                Cell::Text(_, source) => source,
            };
            // A company's own values have no place in a pack that is handed out.
            assert_ne!(
                *source,
                FactorSource::Company,
                "{}: {:?}",
                table.name,
                row.keys
            );
        }
    }
    let source = |table, keys: &[&str]| pack.tables().factor(table, keys).unwrap().source.clone();
    assert!(matches!(
        source("settings", &["veneer_thickness"]),
        FactorSource::FromMemory(_)
    ));
    assert!(matches!(
        source("settings", &["dead_load"]),
        FactorSource::Published(_)
    ));
    assert_eq!(
        source("mixes", &["finish-mix", "yield"]),
        FactorSource::CommonPractice
    );
}

#[test]
fn an_edited_cell_changes_the_estimate() {
    // 6.25 ft3 / 0.5 ft3 per bag = 12.5 bags instead of 13.9.
    let pack = edited(
        "tables/mixes.csv",
        "finish-mix,yield,0.45,",
        "finish-mix,yield,0.5,",
    );
    close(
        face("foam", "stamp", 0.75)
            .ask(&pack)
            .need("finish-mix", "bag"),
        12.5,
    );
    // A unit that is no volume a bag stops the rule instead of giving another number.
    let pack = edited(
        "tables/mixes.csv",
        "finish-mix,yield,0.45,ft3/bag",
        "finish-mix,yield,0.45,ft2/bag",
    );
    let run = pack.run(FACE_HOOKS, &face("foam", "stamp", 0.75).0);
    assert!(!run.errors.is_empty());
}

#[test]
fn an_edited_script_line_changes_the_estimate() {
    // Masking along the top only: 10 ft instead of 30 ft.
    let pack = edited(
        "scripts/helpers.rhai",
        "face.top + face.sides + face.opening_edges",
        "face.top + face.opening_edges",
    );
    close(
        face("foam", "stamp", 0.75).ask(&pack).need("masking", "ft"),
        10.0,
    );
}

#[test]
fn a_substrate_can_be_added_in_the_tables_alone() {
    let mut files = files();
    let text = files.texts.get_mut("tables/substrates.csv").unwrap();
    text.push_str("adobe,description,Adobe,text,company,\nadobe,scratch_mix,scratch-mix,text,company,\nadobe,lath,always,text,company,\nadobe,lath_fixing,lath-fastener,text,company,\n");
    let answer = face("adobe", "stamp", 0.75).ask(&load_from(&files));
    assert!(answer.has("metal-lath") && !answer.has("building-paper"));
}

#[test]
fn a_slip_in_a_word_of_the_tables_stops_the_rule() {
    let pack = edited(
        "tables/substrates.csv",
        "steel,lath,always,",
        "steel,lath,alwys,",
    );
    let run = pack.run(FACE_HOOKS, &face("steel", "stamp", 0.75).0);
    assert!(
        run.errors
            .iter()
            .any(|error| error.message.contains("alwys"))
    );
    let pack = edited(
        "tables/conditions.csv",
        "high,above,",
        "tall,labour,1.1,1,company,\nhigh,above,",
    );
    let run = pack.run(FACE_HOOKS, &face("steel", "stamp", 0.75).0);
    assert!(
        run.errors
            .iter()
            .any(|error| error.message.contains("tall"))
    );
}

/// Numbers between 0 and 1 that look random and come out the same every time.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

fn any_face(numbers: &mut Numbers, substrate: &str, technique: &str) -> Asked {
    let (width, height) = (numbers.between(0.2, 60.0), numbers.between(0.2, 20.0));
    let mut face = face(substrate, technique, numbers.between(0.1, 4.0))
        .set("relief", numbers.between(1.0, 2.0), "1")
        .set("area", width * height, "ft2")
        .set("gross_area", width * height, "ft2")
        .set("width", width, "ft")
        .set("height", height, "ft")
        .set("perimeter", 2.0 * (width + height), "ft")
        .set("top", width, "ft")
        .set("bottom", width, "ft")
        .set("sides", 2.0 * height, "ft")
        .set("opening_edges", numbers.between(0.0, 30.0), "ft")
        .set("working_height", height + numbers.between(0.0, 4.0), "ft");
    if numbers.next() < 0.4 {
        face = face.set("radius", numbers.between(0.5, 12.0), "m");
    }
    if numbers.next() < 0.5 {
        face = face.text("sheen", "matte");
    }
    if numbers.next() < 0.5 {
        face = face.set("sealer_coats", numbers.between(0.0, 4.0).round(), "1");
    }
    if numbers.next() < 0.5 {
        face = face.colours(&[("granite", numbers.next()), ("moss", numbers.next())]);
    }
    face
}

/// Faces of all substrates and techniques and of any size: no rule stops, and a tape played
/// again for another face of the class says what the scripts say of that face.
#[test]
fn any_face_has_an_answer_and_tapes_replay() {
    let pack = pack();
    let mut numbers = Numbers(7);
    let mut replayed = 0;
    let said = |run: &Run| -> Vec<String> {
        let cautions = run.cautions.iter().map(|line| line.key.to_string());
        let warnings = run.warnings.iter().map(|said| said.text.to_string());
        cautions.chain(warnings).collect()
    };
    for substrate in OF_SUBSTRATES {
        for technique in OF_TECHNIQUES {
            let faces: Vec<Asked> = (0..24)
                .map(|_| any_face(&mut numbers, substrate, technique))
                .collect();
            let runs: Vec<Run> = faces.iter().map(|face| face.ask(&pack).0).collect();
            for (face, run) in faces.iter().zip(&runs) {
                assert!(
                    run.needs
                        .iter()
                        .all(|line| run.tape.value(line.amount).value >= 0.0)
                );
                let same_class: Vec<&Run> = faces
                    .iter()
                    .zip(&runs)
                    .filter(|(other, _)| other.0.class_key() == face.0.class_key())
                    .map(|(_, run)| run)
                    .collect();
                let mut columns = Columns::of_kinds(&face.0.inputs());
                let rows: Vec<usize> = faces
                    .iter()
                    .filter(|other| other.0.class_key() == face.0.class_key())
                    .map(|other| columns.push(&other.0.inputs()).unwrap())
                    .collect();
                let replay = run
                    .tape
                    .replay_columns(&columns, &rows, &run.line_nodes())
                    .unwrap();
                for (position, row) in replay.rows().iter().enumerate() {
                    let expected = same_class[*row];
                    replayed += 1;
                    assert_eq!(run.needs.len(), expected.needs.len());
                    assert_eq!(run.hours.len(), expected.hours.len());
                    assert_eq!(said(run), said(expected));
                    let same = |node, wanted| {
                        let got = replay.value(position, node).unwrap();
                        let wanted = expected.tape.value(wanted);
                        assert_eq!(got.value.to_bits(), wanted.value.to_bits());
                        assert_eq!(got.dim, wanted.dim);
                    };
                    for (line, wanted) in run.needs.iter().zip(&expected.needs) {
                        assert_eq!(line.item, wanted.item);
                        same(line.amount, wanted.amount);
                        same(line.waste, wanted.waste);
                    }
                    for (line, wanted) in run.cautions.iter().zip(&expected.cautions) {
                        if let (Some(figure), Some(wanted)) = (line.figure, wanted.figure) {
                            same(figure, wanted);
                        }
                    }
                    for (line, wanted) in run.hours.iter().zip(&expected.hours) {
                        assert_eq!(line.phase, wanted.phase);
                        same(line.time, wanted.time);
                    }
                }
            }
        }
    }
    // 576 faces replay on themselves; some must have found others of their class as well.
    assert!(replayed > 700, "{replayed}");
}

#[test]
fn the_readme_names_every_table_and_script() {
    let files = files();
    let readme = files.texts.get("README.md").unwrap();
    for path in files.texts.keys() {
        let name = path.rsplit('/').next().unwrap();
        assert!(
            readme.contains(&format!("`{name}`")) || name == "README.md",
            "{name}"
        );
    }
}
