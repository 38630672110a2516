//! The pack of portland cement plaster. What is published has the number of the project's list
//! of published check values and its source beside it; all else is common practice, no source.

// An integration test is test code from its first line.
#![allow(clippy::unwrap_used)]

mod common;

use common::{
    Answer, Asked, OF_THE_DAYS, batch, close, day, drying_day, edge, every_day, face, files_of,
    job, laid_out, load_from, near, quantity, weather, whole,
};
use parge_base::FactorSource;
use parge_calc::contract::{
    BATCH_HOOK, CAUTIONS, CONTINGENCY, DAY_HOOK, EDGE_HOOKS, EDGES, FACE_HOOKS, JOB_HOOKS, KIT,
    MATERIALS, PHASES, SHAPES, SHEETS, SITE, SUBSTRATES, TECHNIQUES, WAITS, WEATHER_HOOK,
    WORKDAY_HOOK,
};
use parge_calc::pool::general_item;
use parge_rules::{Cell, Pack, Subject};

const ON_LATH: [&str; 3] = ["wood", "steel", "sheathing"];
const OF_SUBSTRATES: [&str; 6] = ["wood", "steel", "sheathing", "block", "brick", "concrete"];
const OF_TECHNIQUES: [&str; 5] = ["float", "trowel", "dash", "lace", "scraped"];
const OF_EDGES: [&str; 5] = ["corner", "casing", "joint", "drip", "weep"];
const OF_SITE: [(&str, &[&str]); 5] = [
    ("access", &["open", "tight", "carry"]),
    ("place", &["outdoors", "indoors"]),
    ("season", &["mild", "hot", "cold"]),
    (
        "surface",
        &["sound", "uneven", "dirty", "painted", "damaged"],
    ),
    ("use", &["ordinary", "fire"]),
];

fn pack() -> Pack {
    changed(&[])
}

/// The pack after texts in its files were replaced; each must stand there once.
fn changed(edits: &[(&str, &str, &str)]) -> Pack {
    let mut files = files_of("portland-plaster");
    for (path, from, to) in edits {
        let text = files.texts.get_mut(*path).unwrap();
        assert_eq!(text.matches(from).count(), 1, "`{from}` in {path}");
        *text = text.replace(from, to);
    }
    load_from(&files)
}

/// A floated wall of some area; its edges stay those of 10 x 10 ft.
fn wall(substrate: &str, ft2: f64, inches: f64) -> Asked {
    face(substrate, "float", inches)
        .set("area", ft2, "ft2")
        .set("gross_area", ft2, "ft2")
}

/// 100 ft2 with a floated finish coat of 1/8 in.
fn nominal(substrate: &str) -> Answer {
    wall(substrate, 100.0, 0.125).ask(&pack())
}

fn under_every_condition() -> Vec<Asked> {
    let each = OF_SITE.iter().flat_map(|(kind, words)| {
        words
            .iter()
            .map(|word| face("block", "float", 0.125).conditions(&[(kind, word)]))
    });
    each.collect()
}

/// Faces, edges and jobs that together meet every rule.
fn every_kind() -> Vec<Asked> {
    let mut all = under_every_condition();
    for substrate in OF_SUBSTRATES {
        for technique in OF_TECHNIQUES {
            all.push(face(substrate, technique, 0.25));
            all.push(
                face(substrate, technique, 0.75)
                    .set("relief", 1.1, "1")
                    .set("area", 18.0, "ft2")
                    .set("working_height", 12.0, "ft")
                    .set("radius", 5.0, "m")
                    .text("sheen", "matte")
                    .colours(&[("sand", 0.6), ("clay", 0.3)]),
            );
        }
    }
    // A panel within its area and length, for the limit of its shape.
    all.push(
        face("wood", "float", 0.125)
            .set("width", 4.0, "ft")
            .set("height", 12.0, "ft"),
    );
    for kind in OF_EDGES {
        all.extend([edge(kind), edge(kind).set("working_height", 12.0, "ft")]);
    }
    all.extend([whole(&pack()), job().absent("crew")]);
    all.extend(every_day(&pack()));
    all
}

fn print_all(pack: &Pack, subjects: &[Asked]) -> String {
    let mut out = String::new();
    for subject in subjects {
        let run = pack.run(subject.hooks(), &subject.0);
        for error in &run.errors {
            out += &error.message;
        }
        out += &Answer(run).print();
        out.push('\n');
    }
    out
}

// The pack as a whole

#[test]
fn loads_with_every_hook_and_the_words_of_the_trade() {
    let pack = pack();
    assert_eq!(pack.manifest.name, "portland-plaster");
    let of_days = [WORKDAY_HOOK, WEATHER_HOOK, BATCH_HOOK, DAY_HOOK];
    let hooks = FACE_HOOKS.iter().chain(EDGE_HOOKS).chain(JOB_HOOKS);
    for hook in hooks.chain(&of_days) {
        assert!(pack.has_hook(hook), "{hook}");
    }
    for (table, keys) in [
        (SUBSTRATES, &OF_SUBSTRATES[..]),
        (TECHNIQUES, &OF_TECHNIQUES[..]),
        (EDGES, &OF_EDGES[..]),
    ] {
        assert_eq!(pack.tables().keys(table, &[]).unwrap(), keys);
        for key in keys {
            let described = pack.tables().text(table, &[key, "description"]);
            assert!(described.is_some(), "{key}");
        }
    }
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
}

/// One concept has one word: what vertical concrete calls by a word is not called otherwise here.
#[test]
fn kinds_of_conditions_are_those_of_vertical_concrete() {
    let (ours, others) = (pack(), common::pack());
    assert_eq!(
        ours.tables().keys(SITE, &[]).unwrap(),
        others.tables().keys(SITE, &[]).unwrap()
    );
    for kind in others.tables().keys(SITE, &[]).unwrap() {
        for word in others.tables().keys(SITE, &[kind]).unwrap() {
            let words = ours.tables().keys(SITE, &[kind]).unwrap();
            assert!(words.contains(&word), "{kind} {word}");
        }
    }
}

#[test]
fn every_item_phase_and_caution_said_has_its_row_and_every_row_is_said() {
    let pack = pack();
    let tables = pack.tables();
    let (mut items, mut phases) = (Vec::new(), Vec::new());
    let (mut cautions, mut tools) = (Vec::new(), Vec::new());
    for subject in every_kind() {
        let answer = subject.ask(&pack);
        for line in &answer.0.needs {
            let item = general_item(&line.item);
            for unit in ["unit", "unit_metric"] {
                let text = tables.text(MATERIALS, &[item, unit]).unwrap();
                let unit = pack.units().parse(text).unwrap();
                let shown = unit.show(answer.0.tape.value(line.amount));
                assert!(shown.is_some(), "{item} in {text}");
            }
            items.push(item.to_owned());
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
    let order = |phase: &&str| tables.factor(PHASES, &[phase, "order"]).unwrap();
    let orders: Vec<f64> = tables
        .keys(PHASES, &[])
        .unwrap()
        .iter()
        .map(|phase| order(phase).quantity.value)
        .collect();
    assert!(orders.windows(2).all(|pair| pair[0] < pair[1]));
}

#[test]
fn every_number_is_used() {
    let pack = pack();
    let mut used: Vec<String> = Vec::new();
    for subject in every_kind().into_iter().chain([cornice()]) {
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

/// A bag of 94 lb of white cement with 4 % of pigment, three quarters of it sand: 2.82 lb a bag in the
/// finish coat, and none in the others.
#[test]
fn a_batch_of_the_finish_coat_has_its_dose_of_pigment() {
    let dose = |mix: &str| {
        let answer = batch(mix, 1.0).ask(&pack());
        let line = answer.0.given("pigment sand")?;
        Some(answer.0.tape.value(line.value).value)
    };
    close(dose("finish").unwrap(), quantity(2.82, "lb").value);
    assert_eq!(dose("scratch"), None);
}

/// 40 ft of a cornice with a girth of 8 in, two internal angles and one external.
fn cornice() -> Asked {
    let start = Asked(Subject {
        kind: "shape".into(),
        values: Vec::new(),
    });
    start
        .text("name", "cornice")
        .set("run", 40.0, "ft")
        .set("girth", 8.0, "in")
        .set("inner", 2.0, "1")
        .set("outer", 1.0, "1")
}

/// M19: 40 + 2 x 1 + 1 x 2 = 44 ft, and 12 in for the 8.
#[test]
fn a_cornice_is_measured_with_its_angles() {
    let answer = cornice().ask(&pack());
    let given = |name: &str| {
        let line = answer.0.given(name).unwrap();
        answer.0.tape.value(line.value).value
    };
    close(given("area"), quantity(44.0, "ft2").value);
    close(given("top"), quantity(44.0, "ft").value);
    close(given("height"), quantity(1.0, "ft").value);
    close(given("bottom"), 0.0);
}

/// Every word is taken out once, and the estimate must change. The tables left out are those of
/// words that the program itself reads, and the kit; other tests look at them.
#[test]
fn every_word_is_used() {
    let mut subjects = under_every_condition();
    subjects.extend(OF_SUBSTRATES.map(|substrate| face(substrate, "float", 0.125)));
    subjects.extend(OF_EDGES.map(edge));
    subjects.push(whole(&pack()));
    subjects.extend(every_day(&pack()));
    let whole = print_all(&pack(), &subjects);
    for (path, text) in &files_of("portland-plaster").texts {
        let read_by_the_program = [MATERIALS, PHASES, CAUTIONS, KIT, SHAPES]
            .iter()
            .chain(&OF_THE_DAYS)
            .any(|table| *path == format!("tables/{table}.csv"));
        if read_by_the_program || !path.starts_with("tables/") {
            continue;
        }
        for word in text
            .lines()
            .filter(|line| line.contains(",text,") && !line.contains(",description,"))
            // The program reads in which phase a mix is placed.
            .filter(|line| !line.contains(",phase,") || path != "tables/mixes.csv")
        {
            let pack = changed(&[(path, &format!("\n{word}"), "")]);
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
        source("bags", &["hydrated-lime", "density"]),
        FactorSource::FromMemory(_)
    ));
    assert!(matches!(
        source("coats", &["three-coat-lath", "scratch"]),
        FactorSource::Published(_)
    ));
}

#[test]
fn the_readme_names_every_table_and_script() {
    let files = files_of("portland-plaster");
    let readme = files.texts.get("README.md").unwrap();
    for path in files.texts.keys() {
        let name = path.rsplit('/').next().unwrap();
        assert!(
            ["README.md", "pack.toml"].contains(&name) || readme.contains(&format!("`{name}`")),
            "{name}"
        );
    }
}

/// Faces of all substrates, techniques and sizes: no rule stops, no need is less than nothing.
#[test]
fn any_face_has_an_answer() {
    let pack = pack();
    for substrate in OF_SUBSTRATES {
        for technique in OF_TECHNIQUES {
            for (ft2, inches, radius) in [(0.5, 0.05, 0.3), (90.0, 0.3, 9.0), (4000.0, 2.0, 40.0)] {
                let asked = face(substrate, technique, inches)
                    .set("area", ft2, "ft2")
                    .set("radius", radius, "m")
                    .set("bottom", 0.0, "ft");
                let run = asked.ask(&pack).0;
                let all = run.needs.iter().map(|line| run.tape.value(line.amount));
                assert!(all.into_iter().all(|amount| amount.value >= 0.0));
            }
        }
    }
}

// Coats and their thickness

/// Plaster of a coat in ft3 from its sand, at 1.07 ft3 of sand a ft3 of plaster.
fn sand_as_plaster(answer: &Answer, item: &str) -> f64 {
    answer.need(item, "ft3") / 1.07
}

/// C1: 3/8 + 3/8 + 1/8 = 7/8 in on metal lath (ASTM C926 thickness table, seen in a reproduction).
/// V5: and 0.107 in for the key (Estimating in Building Construction, fig. 16.7).
#[test]
fn three_coats_on_lath() {
    for substrate in ON_LATH {
        let answer = wall(substrate, 1200.0, 0.125).ask(&pack());
        // 1200 ft2 are 100 ft3 an inch.
        close(
            sand_as_plaster(&answer, "sand"),
            100.0 * (0.375 + 0.107 + 0.375),
        );
        close(sand_as_plaster(&answer, "finish-sand"), 12.5);
        for coat in ["scratch", "brown", "finish"] {
            assert!(answer.hours(coat) > 0.0, "{substrate} {coat}");
        }
        close(answer.hours("base"), 0.0);
        assert!(answer.warnings().is_empty());
    }
    // V5 as printed: 8 ft3 per 900 ft2, of which 0.107 in is 8.025 rounded.
    let key = changed(&[("tables/settings.csv", "lath_key,0.107,", "lath_key,0,")]);
    let at = |pack: &Pack| sand_as_plaster(&wall("wood", 900.0, 0.125).ask(pack), "sand");
    near(at(&pack()) - at(&key), 8.0, 0.05);
}

/// C2: 3/8 + 1/8 = 1/2 in on unit masonry; C3: 1/4 + 1/8 = 3/8 in on cast concrete (ASTM C926,
/// seen in a reproduction). C15: two coats at least there, three on lath (IBC 2512.1).
#[test]
fn two_coats_on_masonry_and_concrete() {
    for (substrate, base) in [("block", 37.5), ("brick", 37.5), ("concrete", 25.0)] {
        let answer = wall(substrate, 1200.0, 0.125).ask(&pack());
        close(sand_as_plaster(&answer, "sand"), base);
        close(sand_as_plaster(&answer, "finish-sand"), 12.5);
        assert!(answer.hours("base") > 0.0);
        close(answer.hours("scratch") + answer.hours("brown"), 0.0);
        assert!(!answer.has("metal-lath") && !answer.has("building-paper"));
        assert!(!answer.cautions("solid-base"));
    }
}

/// C4: 1/4 + 1/4 + 1/8 = 5/8 in in three coats on a solid base, above which lath is required
/// (ASTM C926 Table 1 / 5.2.3, seen in a reproduction). C13: a solid base in plane within 1/4 in
/// in 10 ft (ASTM C926 5.2, seen in a reproduction) is what `uneven` goes by.
#[test]
fn three_coats_on_an_uneven_solid_base() {
    let uneven = |substrate: &str, inches: f64| {
        wall(substrate, 1200.0, inches)
            .conditions(&[("surface", "uneven")])
            .ask(&pack())
    };
    for substrate in ["block", "brick", "concrete"] {
        let answer = uneven(substrate, 0.125);
        close(sand_as_plaster(&answer, "sand"), 50.0);
        close(sand_as_plaster(&answer, "finish-sand"), 12.5);
        assert!(answer.hours("scratch") > 0.0 && answer.hours("brown") > 0.0);
        // 5/8 in exactly is not above it.
        assert!(!answer.cautions("solid-base"));
        assert!(uneven(substrate, 0.126).cautions("solid-base"));
    }
    // On masonry 3/8 + 1/4 = 5/8 in; written in mm as well.
    let said = |number: f64, unit: &str| {
        wall("block", 100.0, 0.0)
            .set("thickness", number, unit)
            .ask(&pack())
            .cautions("solid-base")
    };
    assert!(!said(0.25, "in") && !said(6.35, "mm"));
    assert!(said(0.2501, "in"));
    // Lath has its three coats anyway, with its key.
    close(
        uneven("wood", 0.125).need("sand", "ft3"),
        wall("wood", 1200.0, 0.125).ask(&pack()).need("sand", "ft3"),
    );
    assert!(!uneven("wood", 0.5).cautions("solid-base"));
}

/// V1: volume is thickness times net area (NAVEDTRA 14044 ch. 7). V3: 1 yd3 covers 324/t ft2
/// (weak page; derived).
#[test]
fn one_cubic_yard_of_finish_covers() {
    for (inches, ft2) in [(0.125, 2592.0), (0.25, 1296.0), (0.375, 864.0)] {
        let answer = wall("block", ft2, inches).ask(&pack());
        close(sand_as_plaster(&answer, "finish-sand"), 27.0);
    }
}

#[test]
fn a_finish_coat_out_of_its_range_is_said() {
    let said = |technique: &str, inches: f64| {
        face("block", technique, inches)
            .ask(&pack())
            .warnings()
            .len()
    };
    assert_eq!(said("float", 0.125), 0);
    assert_eq!(said("float", 0.124), 1);
    assert_eq!(said("float", 0.375), 0);
    assert_eq!(said("float", 0.376), 1);
    assert_eq!(said("scraped", 0.125), 1);
    assert_eq!(said("scraped", 0.25), 0);
}

// Mixes

/// V13 to V17: 1.07 m3 of sand a m3 of plaster, and 1.07/n of cement: parts in all 1.427, 1.338,
/// 1.284, 1.248 for 1:3 to 1:6; 0.178 m3 of cement at 1:6 (CPWD DAR 2019 vol. 1, SH 3, seen in a
/// reproduction; recomputes the published price).
#[test]
fn sand_and_cement_of_a_mix() {
    for (parts, all) in [(3, 1.427), (4, 1.338), (5, 1.284), (6, 1.248)] {
        let plain = changed(&[
            ("tables/mixes.csv", "base,lime,3/4,", "base,lime,0,"),
            (
                "tables/mixes.csv",
                "base,sand,3,",
                &format!("base,sand,{parts},"),
            ),
        ]);
        // 864 ft2 at 3/8 in are 27 ft3; a bag is a cubic foot.
        let answer = wall("block", 864.0, 0.125).ask(&plain);
        let cement = answer.need("portland-cement", "bag") / 27.0;
        let sand = answer.need("sand", "ft3") / 27.0;
        near(cement + sand, all, 1e-3);
        if parts == 6 {
            near(cement, 0.178, 5e-4);
        }
        if parts == 3 {
            // V6: Rule 38 (NAVEDTRA 14043, 14045) has 9.5 sacks and 28.5 ft3 of sand a yd3. It
            // is a rule of thumb (V7), and 1.4 % below.
            near(cement * 27.0 / 9.5, 1.0, 0.015);
            near(sand * 27.0 / 28.5, 1.0, 0.015);
        }
    }
}

/// V31: sand to cement and lime 2 1/2 to 4, 3 to 5 and 1 1/2 to 3 (IRC 2018 Table R702.1(3), seen
/// in the primary text); lime to cement 3/4 to 1 1/2, and 1 1/2 to 2 in the finish coat (the same
/// table, seen in a reproduction).
#[test]
fn proportions_are_within_the_code_and_said_where_they_are_not() {
    let pack = pack();
    let limits = |coat, ends: [&str; 2]| {
        ends.map(|key| {
            let factor = pack.tables().factor("mixes", &[coat, key]).unwrap();
            factor.quantity.value
        })
    };
    for (coat, lime, sand) in [
        ("scratch", [0.75, 1.5], [2.5, 4.0]),
        ("base", [0.75, 1.5], [2.5, 4.0]),
        ("brown", [0.75, 1.5], [3.0, 5.0]),
        ("finish", [1.5, 2.0], [1.5, 3.0]),
    ] {
        assert_eq!(limits(coat, ["lime_low", "lime_high"]), lime);
        assert_eq!(limits(coat, ["sand_low", "sand_high"]), sand);
    }
    for (from, to) in [
        ("finish,sand,3,", "finish,sand,3.1,"),
        ("base,sand,3,", "base,sand,2.4,"),
        ("base,lime,3/4,", "base,lime,0.7,"),
        ("finish,lime,1 1/2,", "finish,lime,2.1,"),
    ] {
        let pack = changed(&[("tables/mixes.csv", from, to)]);
        let answer = wall("block", 100.0, 0.125).ask(&pack);
        assert_eq!(answer.warnings().len(), 1, "{to}");
    }
}

// Lath, paper, fasteners

/// C17, C21, C22: sheets of 27 x 96 in lapping 1/2 and 1 in cover 17.483 ft2 (NAVEDTRA 14044;
/// ASTM C847-95; derived): 300 ft2 take 17.16, so 18; without laps 16.67, so 17. A sheet's 18 ft2
/// take 1.0296. What is laid out goes into the need.
#[test]
fn lath_sheets_with_laps() {
    let flush = changed(&[
        (
            "tables/sheets.csv",
            "\nmetal-lath,side_lap,1/2,",
            "\nmetal-lath,side_lap,0,",
        ),
        (
            "tables/sheets.csv",
            "\nmetal-lath,end_lap,1,",
            "\nmetal-lath,end_lap,0,",
        ),
    ]);
    let by_area = |pack: &Pack, item: &str, face: &str| {
        let found = laid_out(pack, "wood", "float", face);
        let one = found.iter().find(|one| &*one.sheet.item == item);
        one.unwrap().by_area.value
    };
    for (pack, sheets, whole) in [(pack(), 17.16, 18.0), (flush, 16.67, 17.0)] {
        let count = by_area(&pack, "metal-lath", "rect 20ft x 15ft");
        near(count, sheets, 5e-3);
        close(count.ceil(), whole);
    }
    near(
        by_area(&pack(), "self-furring-lath", "rect 20ft x 15ft"),
        17.16,
        5e-3,
    );
    near(
        by_area(&pack(), "metal-lath", "rect 9ft x 2ft"),
        1.0296,
        5e-5,
    );
    for (substrate, item, laid) in [
        ("wood", "metal-lath", 6.0),
        ("sheathing", "self-furring-lath", 7.0),
    ] {
        close(nominal(substrate).need(item, "sheet"), laid);
        close(nominal(substrate).waste(item), 0.03);
    }
}

/// C18, C19: 7 in along studs 16 in on centre, 1.286 per ft2 (Phila. R-R703.7.1); at 6 in, 1.5
/// (NAVEDTRA 14044). For steel studs the 7 in are from memory: ASTM C1063.
#[test]
fn fasteners_by_spacing() {
    for (substrate, fastener) in [
        ("wood", "lath-fastener"),
        ("sheathing", "lath-fastener"),
        ("steel", "lath-screw"),
    ] {
        near(nominal(substrate).need(fastener, "each"), 128.6, 0.05);
    }
    let navy = changed(&[(
        "tables/fixings.csv",
        "lath-fastener,along,7,",
        "lath-fastener,along,6,",
    )]);
    close(
        wall("wood", 100.0, 0.125)
            .ask(&navy)
            .need("lath-fastener", "each"),
        150.0,
    );
}

/// C25, C26: laps of 2 and 6 in (IRC R703.2 via Minn. R. 1309.0703): 36/34 = 1.0588 before end
/// laps (derived). Two layers over sheathing are from memory: IRC R703.7.3.
#[test]
fn paper_with_laps() {
    let rolls = |pack: &Pack| {
        let found = laid_out(pack, "wood", "float", "rect 48ft x 9ft");
        let paper = found
            .iter()
            .find(|one| &*one.sheet.item == "building-paper");
        paper.unwrap().by_area.value
    };
    let no_ends = changed(&[(
        "tables/sheets.csv",
        "building-paper,end_lap,6,",
        "building-paper,end_lap,0,",
    )]);
    // A roll is 432 ft2.
    near(rolls(&no_ends), 1.0588, 5e-5);
    // 432 / (34/12 x 143.5) = 1.06251.
    near(rolls(&pack()), 1.06251, 1e-5);
    // A quarter of a roll is laid out for each layer.
    for (substrate, laid) in [("wood", 0.25), ("steel", 0.25), ("sheathing", 0.5)] {
        close(nominal(substrate).need("building-paper", "roll"), laid);
    }
}

/// C27: at most 144 ft2, 18 ft, 2 1/2 to 1 between control joints (ASTM C1063 7.11.4, seen in a
/// reproduction).
#[test]
fn faces_past_a_panel_between_control_joints() {
    let panel = |substrate: &str, width: f64, height: f64| {
        wall(substrate, width * height, 0.125)
            .set("width", width, "ft")
            .set("height", height, "ft")
    };
    let said = |width: f64, height: f64| {
        panel("wood", width, height)
            .ask(&pack())
            .cautions("control-joints")
    };
    assert!(!said(12.0, 12.0));
    assert!(said(12.01, 12.0));
    assert!(!said(18.0, 8.0));
    assert!(said(18.01, 7.9));
    assert!(said(7.9, 18.01));
    assert!(!said(10.0, 4.0));
    assert!(said(10.01, 4.0));
    assert!(
        !panel("block", 40.0, 10.0)
            .ask(&pack())
            .cautions("control-joints")
    );
    let reveal = panel("wood", 0.3, 20.0).text("part", "reveal");
    assert!(!reveal.ask(&pack()).cautions("control-joints"));
}

// Curing and weather

/// C8: first coat moist 48 h and the next after 48 h, second coat moist 48 h and the next after 7
/// days (IBC 2018 Table 2512.6). C9: finish on day 9 (derived). C6: the finish coat is fogged for
/// 48 h (UFGS 09225).
#[test]
fn coats_are_kept_moist_and_wait() {
    let pack = pack();
    let hours = |table: &str, keys: &[&str]| {
        let factor = pack.tables().factor(table, keys).unwrap();
        factor.quantity.value / 3600.0
    };
    for coat in ["scratch", "brown", "base", "finish"] {
        close(hours("curing", &[coat, "moist"]), 48.0);
    }
    let waits = [
        ("scratch", "brown", 2.0),
        ("brown", "finish", 7.0),
        ("base", "finish", 7.0),
    ];
    for (before, after, days) in waits {
        close(hours(WAITS, &[before, after, "least"]), 24.0 * days);
    }
    let text = pack
        .tables()
        .text(CAUTIONS, &["coat-waits", "text"])
        .unwrap();
    for part in ["48 h", "7 days", "day 9"] {
        assert!(text.contains(part), "{part}");
    }
    assert!(job().ask(&pack).cautions("coat-waits"));

    // 48 h are four foggings of 0.02 gal/ft2: three coats 24 gal on 100 ft2, two coats 16.
    close(nominal("wood").need("curing-water", "gal"), 24.0);
    close(nominal("block").need("curing-water", "gal"), 16.0);
    // C6: 72 h for the coats below are six.
    let longer = changed(&[("tables/curing.csv", "base,moist,48,", "base,moist,72,")]);
    close(
        wall("block", 100.0, 0.125)
            .ask(&longer)
            .need("curing-water", "gal"),
        20.0,
    );
    assert!(nominal("wood").warnings().is_empty());
    let hasty = changed(&[(
        "tables/waits.csv",
        "scratch,brown,least,48,",
        "scratch,brown,least,24,",
    )]);
    let answer = wall("wood", 100.0, 0.125).ask(&hasty);
    assert_eq!(answer.warnings().len(), 1);
}

/// C10: warmer than 40 F (4 C) during the work and for 48 h after (IBC 2018 2512.4).
#[test]
fn cold_is_said() {
    let said = |number: f64, unit: &str| {
        let placing = day()
            .placed(&[("base", 100.0, 10.0)])
            .set("air", number, unit);
        let said = placing.ask(&pack()).cautions("cold-weather");
        // What is said of a day is what keeps coats off it.
        let kept = weather().set("air", number, unit).ask(&pack());
        assert_eq!(kept.0.given("no_coats").is_some(), said, "{number} {unit}");
        said
    };
    assert!(said(40.0, "F") && said(4.0, "C") && said(-5.0, "C"));
    assert!(!said(40.1, "F") && !said(5.0, "C"));
    assert!(!day().ask(&pack()).cautions("cold-weather"));
    // Without a coat on the day nothing can freeze.
    assert!(
        !day()
            .set("air", 30.0, "F")
            .ask(&pack())
            .cautions("cold-weather")
    );
    let text = pack();
    let text = text
        .tables()
        .text(CAUTIONS, &["cold-weather", "text"])
        .unwrap();
    assert!(text.contains("40 F (4 C)") && text.contains("48 h"));
    // Stated for the site it is said as well, and the plaster is covered.
    for (season, caution) in [("cold", "cold-weather"), ("hot", "hot-weather")] {
        let answer = wall("block", 100.0, 0.125)
            .conditions(&[("season", season)])
            .ask(&pack());
        assert!(answer.cautions(caution));
        close(answer.need("curing-cover", "ft2"), 100.0);
    }
    assert!(!nominal("block").has("curing-cover"));
}

/// C29: used within 2.5 h of first mixing (ASTM C270 / TMS 602; primary text, weak page and memory
/// disagree on how free it may be tempered), sooner in great heat.
#[test]
fn plaster_is_used_within_its_pot_life() {
    let pack = pack();
    close(weather().ask(&pack).given("working_time", "h"), 2.5);
    for (air, hours) in [
        (20.0, 2.5),
        (90.0, 2.5),
        (95.0, 2.25),
        (100.0, 2.0),
        (115.0, 2.0),
    ] {
        let answer = weather().set("air", air, "F").ask(&pack);
        close(answer.given("working_time", "h"), hours);
    }
}

/// C30: two plasterers who place 405 ft2 at 3/8 in in 8 h put up 3.96 ft3 in 2.5 h (derived from a
/// published output and C29). A bag of cement, 1 ft3, makes 1.75 x 3 / 1.07 = 4.9065 ft3 of the
/// scratch coat.
#[test]
fn a_batch_is_no_larger_than_what_is_placed_in_time() {
    let pack = pack();
    let plaster = 1.75 * 3.0 / 1.07;
    let bags = 405.0 * 0.375 / 12.0 / plaster;
    let two = batch("scratch", 2.0 * 8.0 / bags)
        .set("people", 2.0, "1")
        .set("working_time", 2.5, "h");
    let answer = two.ask(&pack);
    near(answer.given("most", "bag") * plaster, 3.96, 0.005);
    // 3/4 part of lime; 3 parts of sand to 1 3/4; 7 gal to a bag.
    near(answer.given("lime", "ft3/bag"), 0.75, 1e-9);
    near(answer.given("sand", "ft3/bag"), 5.25, 1e-9);
    close(answer.given("water", "gal/bag"), 7.0);
    // Whoever is faster is held by the mixer.
    close(
        two.set("people", 20.0, "1").ask(&pack).given("most", "bag"),
        2.0,
    );
}

/// What is placed in batches is the cement of the coat with its waste.
#[test]
fn a_coat_is_told_in_bags_of_cement() {
    let answer = nominal("block");
    close(
        answer.given("base", "bag"),
        answer.order("portland-cement", "bag"),
    );
    close(
        answer.given("finish", "bag"),
        answer.order("white-cement", "bag"),
    );
    let lath = nominal("wood");
    let both = lath.given("scratch", "bag") + lath.given("brown", "bag");
    close(both, lath.order("portland-cement", "bag"));
}

/// E8: from half of 0.2 lb/ft2/h on (ACI 305R as reported), and exactly there not yet. Covers are
/// counted for a stated season only.
#[test]
fn fresh_plaster_that_dries_too_fast_is_said() {
    let pack = pack();
    for coat in ["scratch", "brown", "base", "finish"] {
        for (evaporation, said) in [(0.1, false), (0.101, true)] {
            let answer = drying_day(coat, evaporation).ask(&pack);
            assert_eq!(answer.cautions("evaporation"), said, "{coat} {evaporation}");
            assert!(answer.0.needs.is_empty() && answer.warnings().is_empty());
        }
    }
    close(
        drying_day("base", 0.3)
            .ask(&pack)
            .figure("evaporation", "lb/ft2/h"),
        0.3,
    );
    assert!(
        !drying_day("base", 0.3)
            .placed(&[])
            .ask(&pack)
            .cautions("evaporation")
    );
}

/// Three people, half an hour each, and half an hour there and back.
#[test]
fn each_day_is_set_up_and_travelled_to() {
    let answer = day().set("travel", 30.0, "min").ask(&pack());
    close(answer.hours("set-up"), 1.5);
    close(answer.hours("travel"), 3.0);
    close(day().ask(&pack()).hours("travel"), 0.0);
}

/// S6: strictly more than 10 ft (29 CFR 1926.451(g)(1), seen in a reproduction).
#[test]
fn fall_protection_over_ten_feet() {
    let at = |feet: f64| {
        face("wood", "float", 0.125)
            .set("working_height", feet, "ft")
            .ask(&pack())
    };
    assert!(!at(10.0).cautions("fall-protection") && !at(10.0).has("scaffold"));
    assert!(at(10.01).cautions("fall-protection"));
    close(at(12.0).need("scaffold", "ft2"), 120.0);
}

#[test]
fn cautions_of_the_substrates_and_of_the_job() {
    for substrate in OF_SUBSTRATES {
        let answer = nominal(substrate);
        let lath = ON_LATH.contains(&substrate);
        assert_eq!(answer.cautions("hidden-services"), lath, "{substrate}");
        assert_eq!(answer.cautions("old-coatings"), !lath, "{substrate}");
    }
    for caution in ["silica", "wet-cement", "lifting", "electrical"] {
        let bagged = job().names("items", &["portland-cement"]);
        assert!(bagged.ask(&pack()).cautions(caution));
        assert!(!job().ask(&pack()).cautions(caution));
    }
    // Each defers to local codes, data sheets and licensed trades.
    for key in pack().tables().keys(CAUTIONS, &[]).unwrap() {
        let text = pack();
        let text = text.tables().text(CAUTIONS, &[key, "text"]).unwrap();
        assert!(
            text.contains("Local codes") && text.contains("licensed trades"),
            "{key}"
        );
    }
}

// Worked by hand

#[test]
fn a_wall_on_wood_studs() {
    let answer = nominal("wood");
    // Scratch: 100 x 0.482/12 = 4.01667 ft3; sand x 1.07 = 4.29783; cement / 3 / 1.75 = 0.818635.
    // Brown: 3.125 ft3; sand 3.34375; cement / 4 / 1.75 = 0.477679.
    near(answer.need("sand", "ft3"), 4.29783 + 3.34375, 1e-5);
    near(
        answer.need("portland-cement", "bag"),
        0.818635 + 0.477679,
        2e-6,
    );
    // Finish: 1.04167 ft3; sand 1.11458; cement / 3 / 2.5 = 0.148611.
    near(answer.need("finish-sand", "ft3"), 1.11458, 5e-6);
    near(answer.need("white-cement", "bag"), 0.148611, 1e-6);
    // Lime, 40 of 50 lb a ft3: 0.8 x (0.75 x 1.296314 + 1.5 x 0.148611).
    near(answer.need("hydrated-lime", "bag"), 0.956121, 2e-6);
    // 7 gal to a bag: 7 x (1.296314 + 0.148611).
    near(answer.need("water", "gal"), 10.11447, 2e-5);
    // As laid out: a quarter of a roll, 6 sheets. 100 / (7 x 16 / 144).
    close(answer.need("building-paper", "roll"), 0.25);
    close(answer.need("metal-lath", "sheet"), 6.0);
    near(answer.need("lath-fastener", "each"), 128.571, 5e-4);
    close(answer.need("sheeting", "ft2"), 60.0);
    close(answer.need("masking", "ft"), 30.0);
    // V32: 10 % on top (Army subcourse EN5466; NAVEDTRA 14071 p. 17-10).
    near(answer.order("portland-cement", "bag"), 1.425946, 2e-6);
    assert!(!answer.has("bonding-agent") && !answer.has("scaffold"));

    close(answer.hours("prepare"), 0.6);
    close(answer.hours("lath"), 3.0);
    close(answer.hours("scratch"), 6.0);
    // 100 ft2 = 9.290304 m2; x (0.536 + 0.60) h.
    near(answer.hours("brown"), 10.55379, 5e-6);
    // Three coats of four foggings, x 0.002 h/ft2.
    for coat in ["scratch", "brown", "finish"] {
        close(answer.hours(&format!("cure-{coat}")), 0.8);
    }
}

#[test]
fn a_wall_on_block() {
    let answer = nominal("block");
    // Base: 3.125 ft3; sand 3.34375; cement / 3 / 1.75 = 0.636905. Finish as on lath.
    near(answer.need("sand", "ft3"), 3.34375, 1e-9);
    near(answer.need("portland-cement", "bag"), 0.636905, 1e-6);
    near(answer.need("white-cement", "bag"), 0.148611, 1e-6);
    // 0.8 x (0.75 x 0.636905 + 1.5 x 0.148611).
    near(answer.need("hydrated-lime", "bag"), 0.560476, 2e-6);
    near(answer.need("water", "gal"), 5.49861, 1e-5);
    assert_eq!(
        answer.items(),
        [
            "portland-cement",
            "hydrated-lime",
            "sand",
            "water",
            "white-cement",
            "finish-sand",
            "curing-water",
            "sheeting",
            "masking"
        ]
    );
    // 10 x 0.03 + 30 x 0.015; 100 x 0.012; 100 x 0.01.
    close(answer.hours("protect"), 0.75);
    close(answer.hours("prepare"), 1.2);
    close(answer.hours("clean"), 1.0);
    // 4.16667 ft3 x 6.56 h/m3 x 0.0283168 m3/ft3.
    near(
        answer.hours("mix-base") + answer.hours("mix-finish"),
        0.773994,
        1e-6,
    );
    near(answer.hours("base"), 10.55379, 5e-6);
    // 9.290304 x (0.432 + 0.432).
    near(answer.hours("finish"), 8.02682, 5e-6);
}

#[test]
fn cast_concrete_gets_a_bonding_agent() {
    let answer = nominal("concrete");
    close(answer.need("bonding-agent", "gal"), 0.5);
    close(answer.hours("prepare"), 1.8);
    assert!(!nominal("block").has("bonding-agent"));
}

/// L5 and L15: mason 0.67 d, labourer 0.75 d of 8 h per 10 m2 of one 12 mm coat. L8: two coats
/// 1.21 and 1.29 d. L9: a floating coat 0.27 d more. L19: mixing 0.82 d per m3. (CPWD DAR 2019;
/// IS 7272 Pt 1; seen in a reproduction.)
#[test]
fn hours_by_coat_are_the_published_ones() {
    let ten_m2 = |technique: &str| {
        face("block", technique, 0.125)
            .set("area", 10.0, "m2")
            .ask(&pack())
    };
    close(ten_m2("float").hours("base"), 8.0 * (0.67 + 0.75));
    let two_coats = ten_m2("float").hours("base") + ten_m2("float").hours("finish");
    close(two_coats, 8.0 * (1.21 + 1.29));
    let more = ten_m2("trowel").hours("finish") - ten_m2("float").hours("finish");
    close(more, 8.0 * 0.27);
    // 10 m2 at 3/8 + 1/8 in are 0.127 m3.
    let mixing = ["mix-base", "mix-finish"].map(|phase| ten_m2("float").hours(phase));
    close(mixing[0] + mixing[1], 0.127 * 8.0 * 0.82);
    // L14: 30 % more at a radius of 6 m or less (CPWD DAR 13.23, seen in a reproduction).
    let bent = |m: f64| {
        let face = face("block", "float", 0.125).set("area", 10.0, "m2");
        face.set("radius", m, "m").ask(&pack()).hours("base")
    };
    close(bent(6.0), 1.3 * 11.36);
    close(bent(6.01), 11.36);
}

/// Y11: pigment at most 10 % of the weight of the cement (ASTM C979 sec. 1.4).
#[test]
fn pigment_by_the_weight_of_the_cement() {
    let coloured = face("block", "float", 0.125).colours(&[("sand", 0.75), ("clay", 0.25)]);
    let answer = coloured.ask(&pack());
    // 0.148611 bags of 94 lb are 13.9694 lb; 4 % of it 0.558778 lb.
    near(answer.need("pigment", "lb"), 0.558778, 5e-6);
    near(answer.need("pigment/clay", "lb"), 0.139694, 5e-6);
    let too_much = changed(&[("tables/settings.csv", "pigment_dose,4,", "pigment_dose,11,")]);
    assert_eq!(coloured.ask(&too_much).warnings().len(), 1);
    let short = face("block", "float", 0.125).colours(&[("sand", 0.9)]);
    assert_eq!(short.ask(&pack()).warnings().len(), 1);
}

#[test]
fn edges_job_and_sealer() {
    for (kind, item, hours) in [
        ("corner", "corner-bead", 0.4),
        ("casing", "casing-bead", 0.3),
        ("joint", "control-joint", 0.5),
        ("drip", "drip-bead", 0.4),
        ("weep", "weep-screed", 0.4),
    ] {
        let answer = edge(kind).ask(&pack());
        close(answer.need(item, "ft"), 10.0);
        close(answer.hours("lath"), hours);
        let high = edge(kind).set("working_height", 12.0, "ft").ask(&pack());
        close(high.hours("lath"), 1.15 * hours);
    }
    // Three people, three times, two structures: 9 x (1 + 2 x 0.1).
    close(job().ask(&pack()).hours("mobilise"), 10.8);
    // 100 ft2 x 2 coats / 150.
    let sealed = face("block", "float", 0.125).text("sheen", "matte");
    near(
        sealed.ask(&pack()).need("sealer/matte", "gal"),
        4.0 / 3.0,
        1e-9,
    );
}

#[test]
fn an_edit_changes_the_estimate() {
    // Two sheets lapped at the sides by 2 in: 25 x 95 in.
    let lapped = changed(&[(
        "tables/sheets.csv",
        "\nmetal-lath,side_lap,1/2,",
        "\nmetal-lath,side_lap,2,",
    )]);
    let found = laid_out(&lapped, "wood", "float", "rect 25ft x 95ft");
    let lath = found.iter().find(|one| &*one.sheet.item == "metal-lath");
    near(lath.unwrap().by_area.value, 144.0, 1e-9);
    // A substrate is added in the tables alone.
    let adobe = changed(&[(
        "tables/substrates.csv",
        "\nbrick,description,",
        "\nadobe,description,Adobe,text,company,\nadobe,work,three-coat-solid,text,company,\nbrick,description,",
    )]);
    assert!(face("adobe", "float", 0.125).ask(&adobe).hours("scratch") > 0.0);
}
