//! Faces taken together by columns come to the bits that each comes to alone, in the classes that
//! replaying them one by one gives.

use super::*;
use crate::contract::{FACE_HOOKS, HOOKS, Packs};
use crate::measure::measure;
use crate::resolve::resolve;
use crate::takeoff::subjects::face_subject;
use crate::takeoff::{Taken, Takeoff, take_off};
use crate::testing::pack as small_pack;
use parge_base::{Code, Diagnostic, Severity, Sources, Span};
use parge_rules::Pack;
use proptest::prelude::*;
use std::collections::BTreeSet;

fn standard(name: &str) -> Pack {
    let files = parge_standard_packs::find(name).unwrap();
    parge_rules::load(&[files], HOOKS, &mut Sources::new()).unwrap()
}

/// Takes a plan off by a pack; the plan itself must be without error.
fn taken_by(text: &str, pack: &Pack) -> (Takeoff, Vec<Diagnostic>) {
    let mut sources = Sources::new();
    let file = sources.add("plan.parge", text);
    let parsed = parge_grammar::parse(file, text);
    let (job, mut said) = resolve(&parsed.plan, Packs::of(pack), Span::new(file, 0, 0));
    said.extend(parsed.diagnostics);
    assert_eq!(errors(&said), BTreeSet::new());
    let (measured, said) = measure(job.unwrap(), Packs::of(pack));
    assert_eq!(errors(&said), BTreeSet::new());
    take_off(measured, pack)
}

/// What a face takes, with figures as bits.
fn shown(taken: &Taken) -> Vec<String> {
    let bits = |quantity: Quantity| format!("{:x} {:?}", quantity.value.to_bits(), quantity.dim);
    let needs = taken.needs.iter().map(|need| {
        let (amount, waste) = (bits(need.amount), bits(need.waste));
        format!("{} {amount} {waste}", need.item)
    });
    let hours = taken.hours.iter();
    let hours = hours.map(|hours| format!("{} {}", hours.phase, bits(hours.time)));
    needs.chain(hours).collect()
}

/// The run of each face, found as the rule of classes says: one face after the other, each tried
/// on the runs of its class in the order in which they were founded.
fn one_by_one(takeoff: &Takeoff, pack: &Pack) -> Vec<usize> {
    let measured = &takeoff.measured;
    let job = &measured.job;
    let mut runs: Vec<(Option<ClassKey>, Run)> = Vec::new();
    let mut found = Vec::new();
    for (one, layouts) in measured.faces.iter().zip(&takeoff.layouts) {
        let face = &job.faces[one.face];
        let subject = face_subject(job, face, &job.finishes[face.finish], one, layouts);
        let (key, inputs) = (subject.class_key(), subject.inputs());
        let holds = |run: &Run| {
            run.tape.replay(&inputs).is_ok_and(|replay| {
                let mut nodes = run.tape.nodes();
                nodes.all(|(id, node)| replay.value(id).dim == node.value.dim)
            })
        };
        let of_class =
            |(_, (class, _)): &(usize, &(Option<ClassKey>, Run))| class.as_ref() == Some(&key);
        let mut known = runs.iter().enumerate().filter(of_class);
        let run = known.find(|(_, (_, run))| holds(run)).map(|(at, _)| at);
        let of_class = runs
            .iter()
            .filter(|(class, _)| class.as_ref() == Some(&key));
        found.push(match run {
            Some(run) => run,
            None if of_class.count() >= MAX_RUNS => usize::MAX,
            None => {
                let run = pack.run(FACE_HOOKS, &subject);
                runs.push((run.errors.is_empty().then_some(key), run));
                runs.len() - 1
            }
        });
    }
    found
}

fn errors(said: &[Diagnostic]) -> BTreeSet<&str> {
    let errors = said.iter().filter(|one| one.severity() == Severity::Error);
    errors.map(|one| one.message.as_str()).collect()
}

/// Compares faces taken together with each of them alone, and their classes with the rule of
/// classes. `plan` writes a plan of some faces. Answers with the number of runs and the errors.
fn compare(
    pack: &Pack,
    faces: &[String],
    plan: impl Fn(&str) -> String,
) -> Result<(usize, Vec<String>), TestCaseError> {
    let (together, said) = taken_by(&plan(&faces.join("\n")), pack);
    let runs: Vec<usize> = together.faces.iter().map(|taken| taken.run).collect();
    prop_assert_eq!(&runs, &one_by_one(&together, pack));
    let mut alone_said: Vec<Diagnostic> = Vec::new();
    for (face, taken) in faces.iter().zip(&together.faces) {
        let (alone, said) = taken_by(&plan(face), pack);
        prop_assert_eq!(shown(taken), shown(&alone.faces[0]), "{}", face);
        alone_said.extend(said);
    }
    prop_assert_eq!(errors(&said), errors(&alone_said));
    let errors = errors(&said).into_iter().map(str::to_owned).collect();
    Ok((runs.into_iter().collect::<BTreeSet<_>>().len(), errors))
}

/// Numbers that choose a face.
type Chosen = (u32, u32, u32, u32, u32);

fn chosen() -> impl Strategy<Value = Vec<Chosen>> {
    let one = (1u32..480, 1u32..240, 1u32..4, 0u32..4, 0u32..1000);
    prop::collection::vec(one, 1..14)
}

fn face(
    at: usize,
    (width, height, count, up, kind): &Chosen,
    substrates: &[&str],
    finishes: &[&str],
) -> String {
    let kind = *kind as usize;
    let substrate = substrates[kind % substrates.len()];
    let finish = finishes[kind / 7 % finishes.len()];
    let up = 5 + up * 5;
    format!(
        "face f{at} rect {width}in x {height}in count {count} at {up}ft on {substrate} {finish}"
    )
}

fn plan_by(rules: &str, finishes: &str, faces: &str) -> String {
    format!(
        "parge 1\njob \"Test\" {{\n  rules \"{rules}\"\n  crew 3\n}}\n{finishes}\nstructure \"Wall\" on block {{\n{faces}\n}}\n"
    )
}

fn every_face(chosen: &[Chosen], substrates: &[&str], finishes: &[&str]) -> Vec<String> {
    let faces = chosen.iter().enumerate();
    faces
        .map(|(at, one)| face(at, one, substrates, finishes))
        .collect()
}

/// Scripts written to carry a figure past the tape.
const HANDLED: [&str; 14] = [
    "if face.area > 50 * ft2 { need(\"mix\", face.area, w); } else { hours(\"place\", h); }",
    "let n = 0; while face.width > n * ft * 8 && n < 9 { n += 1; hours(\"place\", h * n); }",
    "for i in 0..9 { if face.height <= i * ft { break; } need(\"mix\", face.area * i, w); }",
    "if face.height < 5 * ft { return; } need(\"mix\", face.area, w);",
    "let n = if face.area > 50 * ft2 { 1 } else { 0 }; hours(\"place\", h * factor(\"mixes\", \"mix\", [\"waste\", \"yield\"][n]) / factor(\"mixes\", \"mix\", [\"waste\", \"yield\"][n]));",
    "let key = \"\"; if face.width > 9 * ft { key += \"waste\"; } else { key += \"yield\"; } need(\"mix\", face.area * factor(\"mixes\", \"mix\", key), w);",
    "let kept = [face.area > 50 * ft2, face.height > 6 * ft]; let n = 0; for k in kept { if k { n += 1; } } warn(\"n\" + n.to_string()); hours(\"place\", h * n);",
    "warn([face.area].to_string()); need(\"mix\", face.area, w);",
    "need(\"mix\", min(face.area, 50 * ft2) + max(face.area, 60 * ft2), w);",
    "need(\"mix\", whole_up(face.area / ft2) * ft2 + round(face.area / ft2 / 3) * ft2, w);",
    "need(\"mix\", face.height ** whole_up(face.width / (20 * ft)), w);",
    "need(\"mix\", (face.area / ft2) ** (face.height / ft / 10) * ft2, w);",
    "if whole_up(face.width / ft) == 9 { hours(\"place\", h); } if round(face.height / ft) != 5 { need(\"mix\", face.area, w); }",
    "need(\"mix\", abs(face.area - 50 * ft2), min(face.area / (1000 * ft2), face.relief / 2));",
];

/// Scripts that have no answer for some faces, or for none.
const REFUSED: [&str; 8] = [
    "need(\"mix\", sqrt(face.area - 20 * ft2) * ft, w);",
    "hours(\"place\", h / (whole_up(face.width / ft) - 9));",
    "need(\"mix\", face.area - 50 * ft2, w);",
    "need(\"mix\", face.area, face.area / (100 * ft2));",
    "need(\"mix\", face.area ** (face.width / ft), w);",
    "let s = face.area.to_string(); need(s, face.area, w);",
    "need(\"mix\", face.area * [1, 2, 3][face.width / ft], w);",
    "for i in 0..face.width { hours(\"place\", h); }",
];

fn hostile(body: &str) -> Pack {
    let start = "let ft = quantity(1, \"ft\"); let ft2 = quantity(1, \"ft2\"); let h = quantity(1, \"h\"); let w = factor(\"mixes\", \"mix\", \"waste\");";
    let script = format!("fn coats(face) {{ {start} {body} }}\nfn whole_job(job) {{ }}");
    small_pack(&script, &mut Sources::new())
}

const SMALL: &str = "finish plain { technique stamp  thickness 1in }\nfinish deep { technique carve  thickness 2in }";

fn small_plan(faces: &str) -> String {
    plan_by("small", SMALL, faces)
}

/// Faces around the limits of the scripts.
fn hostile_faces() -> Vec<String> {
    let sizes = [
        (96, 60),
        (100, 72),
        (200, 96),
        (108, 12),
        (600, 40),
        (240, 120),
        (107, 59),
    ];
    let chosen: Vec<Chosen> = sizes.map(|(w, h)| (w, h, 2, 1, 0)).to_vec();
    every_face(&chosen, &["block"], &["plain"])
}

#[test]
fn hostile_scripts_are_handled() {
    for body in HANDLED {
        let (runs, errors) = compare(&hostile(body), &hostile_faces(), small_plan).unwrap();
        assert!(errors.is_empty(), "{body}: {errors:?}");
        assert!(runs < hostile_faces().len(), "{body}: nothing was replayed");
    }
}

#[test]
fn what_has_no_answer_is_refused_with_a_reason() {
    for body in REFUSED {
        let (_, errors) = compare(&hostile(body), &hostile_faces(), small_plan).unwrap();
        assert!(!errors.is_empty(), "{body}: nothing is said");
        for said in errors {
            assert!(said.starts_with("rule `coats` stopped: "), "{body}: {said}");
        }
    }
}

/// Faces of one class beyond the runs that it may have are refused, and those that one of the runs
/// holds for are still taken.
#[test]
fn a_class_has_so_many_runs_and_no_more() {
    let body = "for i in 0..200 { if face.width <= i * ft { break; } hours(\"place\", h); }";
    let pack = hostile(body);
    let face = |at: usize, width: usize| format!("face f{at} rect {width}ft x 1ft plain");
    let mut faces: Vec<String> = (1..=70).map(|at| face(at, at)).collect();
    faces.push(face(71, 10));
    faces.push(face(72, 70));
    let (takeoff, said) = taken_by(&small_plan(&faces.join("\n")), &pack);
    let runs: Vec<usize> = takeoff.faces.iter().map(|taken| taken.run).collect();
    let mut expected: Vec<usize> = (0..64).collect();
    expected.extend([usize::MAX; 6]);
    expected.extend([9, usize::MAX]);
    assert_eq!(runs, expected);
    assert_eq!(runs, one_by_one(&takeoff, &pack));
    assert_eq!(
        said.iter()
            .filter(|one| one.code == Code::RuleLimit)
            .count(),
        1
    );
}

#[test]
fn the_reference_of_rules_says_how_many_runs_a_class_has() {
    let row = format!("| ways in which rules may part equal faces by their sizes | {MAX_RUNS} |\n");
    assert!(include_str!("../../../../../rules/REFERENCE.md").contains(&row));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn any_faces_together_are_what_they_are_alone_by_hostile_scripts(
        chosen in chosen(), body in prop::sample::select([&HANDLED[..], &REFUSED[..]].concat()),
    ) {
        let faces = every_face(&chosen, &["block", "wood"], &["plain", "deep"]);
        compare(&hostile(body), &faces, small_plan)?;
    }
}

const CONCRETE: &str = "finish drystone { technique stamp  thickness 3/4in  relief 1.1  colours granite 60%, moss 40%  sealer matte, 2 coats }\n\
    finish bark { technique carve  thickness 2in  relief 1.25 }\n\
    finish rolled { technique texture  thickness 1/2in  sealer matte }";
const PLASTER: &str = "finish floated { technique float  thickness 1/4in }\n\
    finish smooth { technique trowel  thickness 1/8in  sealer matte }\n\
    finish dashed { technique dash  thickness 3/8in }";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    #[test]
    fn any_faces_together_are_what_they_are_alone_by_the_concrete_pack(chosen in chosen()) {
        let substrates = ["block", "wood", "concrete", "steel", "foam"];
        let faces = every_face(&chosen, &substrates, &["drystone", "bark", "rolled"]);
        let plan = |faces: &str| plan_by("vertical-concrete", CONCRETE, faces);
        compare(&standard("vertical-concrete"), &faces, plan)?;
    }

    #[test]
    fn any_faces_together_are_what_they_are_alone_by_the_plaster_pack(chosen in chosen()) {
        let substrates = ["block", "wood", "concrete", "steel"];
        let faces = every_face(&chosen, &substrates, &["floated", "smooth", "dashed"]);
        let plan = |faces: &str| plan_by("portland-plaster", PLASTER, faces);
        compare(&standard("portland-plaster"), &faces, plan)?;
    }
}
