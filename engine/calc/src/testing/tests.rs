//! A small pack and short ways through the stages, for the tests of this crate. Its path is
//! named `tests` where it is included, so nothing of it reaches the program.

use crate::contract::{HOOKS, Packs};
use crate::job::Job;
use crate::measure::{Measured, measure};
use crate::resolve::resolve;
use crate::takeoff::{Takeoff, take_off};
use parge_base::{Diagnostic, Sources, Span};
use parge_rules::{Pack, PackFiles};

/// The scripts of the small pack; tests may give others.
pub(crate) const SCRIPT: &str = r#"
fn coats(face) {
    let volume = face.area * face.thickness;
    need("mix", volume / factor("mixes", "mix", "yield"), factor("mixes", "mix", "waste"));
    // Large faces take a second pair of hands.
    if face.area > quantity(100, "ft2") {
        hours("place", face.area * factor("rates", "place") * 1.5);
    } else {
        hours("place", face.area * factor("rates", "place"));
    }
    if face.working_height > quantity(10, "ft") { caution("fall"); }
    if face.thickness > quantity(2, "in") { warn("thicker than two inches"); }
}
fn edges(edge) {
    let slow = 1;
    for state in edge.conditions {
        if has("site", state.condition, state.word, "labour") {
            slow = slow * factor("site", state.condition, state.word, "labour");
        }
    }
    hours("place", slow * edge.length * factor("rates", "edge"));
}
fn whole_job(job) {
    hours("clean", job.hours * factor("rates", "clean"));
}
"#;

const TABLES: [(&str, &str); 10] = [
    (
        "substrates",
        "substrate,property,value,unit,source\nblock,description,Block,text,company\nwood,description,Wood,text,company\n",
    ),
    (
        "techniques",
        "technique,property,value,unit,source\nstamp,description,Stamped,text,company\ncarve,description,Carved,text,company\n",
    ),
    (
        "materials",
        "item,property,value,unit,source\nmix,description,Finish mix,text,company\nmix,unit,bag,text,company\nmix,unit_metric,bag,text,company\n",
    ),
    (
        "phases",
        "phase,property,value,unit,source\nclean,description,Clean up,text,company\nclean,order,9,1,company\n\
         place,description,Place,text,company\nplace,order,1,1,company\n",
    ),
    (
        "cautions",
        "caution,property,value,unit,source\nfall,text,Work above 10 ft,text,29 CFR 1926.451\nfall,audience,crew,text,company\n\
         heavy,text,It weighs {}.,text,company\nheavy,unit,lb,text,company\nheavy,unit_metric,kg,text,company\n\
         plain,text,Nothing to say.,text,company\nodd,text,For whom?,text,company\nodd,audience,crow,text,company\n\
         mute,audience,crew,text,company\n",
    ),
    (
        "kit",
        "tool,property,value,unit,source\nmixer,description,Mixer,text,company\nmixer,from,hire,text,company\n\
         hawk,description,Hawk,text,company\nhawk,from,own,text,company\nlent,from,lend,text,company\n\
         bare,description,Bare,text,company\n",
    ),
    (
        "mixes",
        "item,property,value,unit,source\nmix,yield,0.5,ft3/bag,company\nmix,waste,10,%,company\n",
    ),
    (
        "rates",
        "phase,value,unit,source\nplace,0.1,h/ft2,company\nclean,5,%,company\nedge,0.5,h/ft,company\n",
    ),
    (
        "edges",
        "edge,property,value,unit,source\ncap,description,Cap,text,company\ncorner,description,Corner,text,company\n",
    ),
    (
        "site",
        "condition,word,property,value,unit,source\naccess,open,description,Open,text,company\n\
         access,tight,description,Tight,text,company\naccess,tight,labour,2,1,company\n",
    ),
];

pub(crate) fn pack_files(script: &str) -> PackFiles {
    let has = |hook: &&parge_rules::Hook| script.contains(&format!("fn {}(", hook.name));
    let rules: Vec<&str> = HOOKS.iter().filter(has).map(|hook| hook.name).collect();
    let manifest = format!(
        "name = \"small\"\nversion = \"1.0.0\"\nsummary = \"for tests\"\nrules = {rules:?}\n"
    );
    let tables = TABLES.map(|(name, text)| (format!("tables/{name}.csv"), text.to_owned()));
    let texts = [
        ("pack.toml".to_owned(), manifest),
        ("scripts/rules.rhai".to_owned(), script.to_owned()),
    ];
    PackFiles {
        folder: "small".into(),
        texts: texts.into_iter().chain(tables).collect(),
    }
}

pub(crate) fn pack(script: &str, sources: &mut Sources) -> Pack {
    parge_rules::load(&[pack_files(script)], HOOKS, sources).unwrap_or_else(|wrong| {
        let said: Vec<String> = wrong.iter().map(|d| shown(d, sources)).collect();
        panic!("{}", said.join("\n"))
    })
}

/// `E0205 at "10ft2": message | help`
pub(crate) fn shown(diagnostic: &Diagnostic, sources: &Sources) -> String {
    let places: Vec<String> = diagnostic
        .labels
        .iter()
        .map(|label| format!("`{}`", sources.slice(label.span)))
        .collect();
    let at = if places.is_empty() {
        String::new()
    } else {
        format!(" at {}", places.join(", "))
    };
    format!(
        "{}{at}: {} | {}",
        diagnostic.code.id(),
        diagnostic.message,
        diagnostic.help
    )
}

fn job(text: &str, sources: &mut Sources) -> (Option<Job>, Vec<Diagnostic>, Pack) {
    let pack = pack(SCRIPT, sources);
    let file = sources.add("plan.parge", text);
    let parsed = parge_grammar::parse(file, text);
    let mut diagnostics = parsed.diagnostics;
    let end = Span::new(file, text.len(), text.len());
    let (job, mut said) = resolve(&parsed.plan, Packs::of(&pack), end);
    diagnostics.append(&mut said);
    (job, diagnostics, pack)
}

/// Everything that is said of a plan up to its take-off, one line each.
pub(crate) fn said(text: &str) -> String {
    let mut sources = Sources::new();
    let (job, mut diagnostics, pack) = job(text, &mut sources);
    if let Some(job) = job {
        let (measured, mut said) = measure(job, Packs::of(&pack));
        diagnostics.append(&mut said);
        let (_, mut said) = take_off(measured, &pack);
        diagnostics.append(&mut said);
    }
    diagnostics
        .iter()
        .map(|d| shown(d, &sources))
        .collect::<Vec<_>>()
        .join("\n")
}

/// A plan of one structure, with a finish `plain`, around the lines of its block.
pub(crate) fn plan(faces: &str) -> String {
    format!(
        "parge 1\njob \"Test\" {{\n  rules \"small\"\n}}\nfinish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on block {{\n{faces}\n}}\n"
    )
}

/// Measures a plan that must be without fault.
pub(crate) fn measured(text: &str) -> Measured {
    let mut sources = Sources::new();
    let (job, diagnostics, pack) = job(text, &mut sources);
    let (measured, said) = measure(job.expect("a job"), Packs::of(&pack));
    let all: Vec<String> = diagnostics
        .iter()
        .chain(&said)
        .map(|d| shown(d, &sources))
        .collect();
    assert!(all.is_empty(), "{}", all.join("\n"));
    measured
}

/// The net areas of all faces in square feet, each of one of its equal faces, free of noise.
pub(crate) fn feet_of(measured: &Measured) -> Vec<f64> {
    let feet = |net| measured.job.tape.value(net).value / 0.09290304;
    let areas = measured.faces.iter().map(|face| feet(face.net));
    areas.map(|area| (area * 1e9).round() / 1e9).collect()
}

/// Takes off a plan that must be without error.
pub(crate) fn taken(text: &str, script: &str) -> Takeoff {
    let mut sources = Sources::new();
    let pack = pack(script, &mut sources);
    let (takeoff, said) = take_off(measured(text), &pack);
    let all: Vec<String> = said.iter().map(|d| shown(d, &sources)).collect();
    assert!(
        !parge_base::diagnostic::any_error(&said),
        "{}",
        all.join("\n")
    );
    takeoff
}

/// Area, perimeter, width, height, top, bottom, sides, in feet.
pub(crate) fn feet(shape: &str) -> [f64; 7] {
    let measured = measured(&plan(&format!("face f {shape} plain")));
    let face = measured.faces[0].shape;
    let ft = |node, power: i32| measured.job.tape.value(node).value / 0.3048f64.powi(power);
    [
        ft(face.area, 2),
        ft(face.perimeter, 1),
        ft(face.width, 1),
        ft(face.height, 1),
        ft(face.top, 1),
        ft(face.bottom, 1),
        ft(face.sides, 1),
    ]
}

/// Whether all seven figures are the wanted ones.
pub(crate) fn near(got: [f64; 7], wanted: [f64; 7]) {
    for (got, wanted) in got.iter().zip(wanted) {
        assert!(
            (got - wanted).abs() <= 1e-9 * wanted.abs().max(1.0),
            "{got} is not {wanted}"
        );
    }
}
