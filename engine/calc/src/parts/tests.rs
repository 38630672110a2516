//! A job gone through part by part comes to what it comes to as a whole, to the bit.

use super::*;
use crate::contract::HOOKS;
use crate::pool::pool;
use crate::stages;
use crate::testing::{SCRIPT, pack as small_pack, shown};
use parge_base::Severity;
use parge_rules::Pack;
use proptest::prelude::*;

fn standard() -> Pack {
    let files = parge_standard_packs::find("vertical-concrete").unwrap();
    parge_rules::load(&[files], HOOKS, &mut Sources::new()).unwrap()
}

/// A face with all that is said of it.
fn face_lines(part: &Takeoff) -> Vec<String> {
    let job = &part.measured.job;
    let faces = part.measured.faces.iter().zip(&part.faces).zip(0..);
    let line = |((own, taken), number): ((&crate::measure::MeasuredFace, _), usize)| {
        let face = &job.faces[own.face];
        let sizes = [own.net, own.deducted, own.shape.width, own.working_height];
        let sizes = sizes.map(|node| job.tape.value(node));
        let layouts: Vec<_> = part.used_layouts_of(number).collect();
        let structure = job.structure_name(face.structure);
        format!("{structure}.{} {sizes:?} {taken:?} {layouts:?}", face.name)
    };
    faces.map(line).collect()
}

/// All that is said of a job but for its faces.
fn said(takeoff: &Takeoff, said: Vec<Diagnostic>, pack: &Pack) -> Vec<String> {
    let mut told = said;
    let (pooled, mut more) = pool(takeoff, pack);
    told.append(&mut more);
    diagnostic::tidy(&mut told);
    let job = &takeoff.measured.job;
    let edges = job.edges.iter().zip(&takeoff.edges).map(|(edge, taken)| {
        let of = job.structure_name(edge.structure);
        format!(
            "{} of {of} {:?} {taken:?}",
            edge.kind,
            job.value(edge.length)
        )
    });
    let mut lines: Vec<String> = edges.collect();
    lines.push(format!("{:#?} {:?}", pooled, takeoff.whole));
    lines.push(format!("{:#?}", job.structures));
    lines.push(format!("{:#?} {:#?}", takeoff.cautions, takeoff.kit));
    lines.extend(takeoff.factors().iter().map(|factor| factor.name.clone()));
    if let Some(days) = &takeoff.days {
        lines.push(format!("{:#?} {:#?}", days.steps, days.planned));
        lines.push(format!("{:#?} {:#?}", days.days, takeoff.daily));
    }
    lines.push(format!("{told:#?}"));
    lines
}

/// Holds a plan in parts of so many bytes against the whole of it. Answers with the number of parts,
/// or none where there is no way by parts.
fn compare(text: &str, pack: &Pack, bytes: usize) -> Option<usize> {
    let mut sources = Sources::new();
    let file = sources.add("plan.parge", text);
    let end = Span::new(file, text.len(), text.len());
    let plan = parge_grammar::parse(file, text);
    let given = stages::Given {
        plan: &plan.plan,
        packs: Packs::of(pack),
        forecast: None,
        end,
    };
    let (whole, told) = stages::taken_off(given, &sources);
    let survey = survey(file, text, bytes, |plan| plan)?;
    let of = Given {
        survey: &survey,
        sources: &sources,
        packs: Packs::of(pack),
        forecast: None,
        end,
    };
    let (takeoff, parts, told_in_parts) = taken_off(of)?;
    let whole = whole.expect("what has a way by parts has a take-off");
    assert!(plan.diagnostics.is_empty() && !diagnostic::any_error(&told));
    let print = crate::actuals::PlanPrint::of(&parge_grammar::canonical(&plan.plan));
    assert_eq!(format!("{:?}", survey.print()), format!("{print:?}"));
    assert_eq!(
        said(&takeoff, told_in_parts, pack),
        said(&whole, told, pack),
        "{text}"
    );
    let mut faces = Vec::new();
    let all = Faces {
        of,
        parts: &parts,
        takeoff: &takeoff,
    };
    let gone = all.each(face_lines, |mut lines| {
        faces.append(&mut lines);
        Ok::<(), ()>(())
    });
    assert_eq!(gone, Some(Ok(())));
    assert_eq!(faces, face_lines(&whole), "{text}");
    Some(survey.parts())
}

const HEAD: &str = "parge 1
job \"Test\" { date 2026-05-11  rules \"small\"  crew 3 }
let low = 2ft 8in
let never = 1ft
finish plain { technique stamp  thickness 1in }
finish deep { technique carve  thickness 3in }
finish spare { technique carve  thickness 1in }
template bay(width) on block { finish plain  after \"S0\"
  conditions { access tight }
  face back rect width x 8ft
  edge cap back.top }
template unused on block { face back rect 2ft x 8ft plain }
";

/// Blocks of structures, each with a number for its name.
const BLOCKS: [&str; 8] = [
    "structure \"S#\" on block { finish plain\n  face f rect 12ft x low\n  face g rect f.width x 6ft { opening door rect 3ft x 5ft reveal 4in } }\n",
    "structure \"S#\" from bay(9ft + low)\n",
    "structure \"S#\" on wood { finish deep\n  face f circle diameter 5ft count 2\n  face high rect 20ft x 14ft at 30ft }\n",
    "structure \"S#\" on block { finish plain  conditions { access tight }\n  face f rect 4ft x 4ft\n  edge corner 4ft count 3\n  edge cap f.top }\n",
    "structure \"S#\" on wood { after \"S0\"\n  face f rect 400in x 300in deep\n  face g rect 4ft x 3m plain\n  face h rect 5ft x 4ft plain\n  face i rect 5ft x 4ft plain\n  face k rect 5ft x 4ft plain }\n",
    "let more# = 3ft\nstructure \"S#\" on block { face f rect more# x more# plain { opening o rect 2ft x 17in count 2 } }\n",
    "structure \"S#\" on block { face f rect 7ft x 5ft plain { opening o rect 2ft x 3ft count 2 reveal 3in finish deep } }\n",
    "note \"of #\"\nstructure \"S#\" from bay(3ft) { face own rect 6ft x 7ft deep }\n",
];

/// What is wrong with a plan, from reading to taking off.
fn mistakes(text: &str, pack: &Pack) -> Vec<String> {
    let mut sources = Sources::new();
    let file = sources.add("plan.parge", text);
    let plan = parge_grammar::parse(file, text);
    let end = Span::new(file, text.len(), text.len());
    let given = stages::Given {
        plan: &plan.plan,
        packs: Packs::of(pack),
        forecast: None,
        end,
    };
    let (_, told) = stages::taken_off(given, &sources);
    let told = plan.diagnostics.iter().chain(&told);
    let wrong = told.filter(|told| told.severity() == Severity::Error);
    wrong.map(|told| shown(told, &sources)).collect()
}

fn plan(blocks: &[usize]) -> String {
    let blocks = blocks.iter().enumerate();
    let blocks: Vec<String> = blocks
        .map(|(number, block)| BLOCKS[*block].replace('#', &number.to_string()))
        .collect();
    format!("{HEAD}{}", blocks.concat())
}

#[test]
fn a_job_in_parts_comes_to_what_it_comes_to_as_a_whole() {
    let pack = small_pack(SCRIPT, &mut Sources::new());
    let text = plan(&[0, 1, 2, 3, 4, 6, 7, 0, 3]);
    assert_eq!(mistakes(&text, &pack), Vec::<String>::new());
    assert_eq!(compare(&text, &pack, 1), Some(9));
    assert_eq!(compare(&text, &pack, 400), Some(4));
    assert_eq!(compare(&text, &pack, 1 << 20), Some(1));
    assert_eq!(compare(&text.replace('\n', "\r\n"), &pack, 100), Some(9));
}

#[test]
fn what_does_not_fall_into_parts_has_no_way_by_parts() {
    let pack = small_pack(SCRIPT, &mut Sources::new());
    let own = plan(&[0, 0, 3]);
    let no_way = [
        // A mistake: of writing, in a structure, in the order, and two of one name.
        format!("{own}finish odd {{ technique stump }}\n"),
        own.replace("circle", "cirkle")
            .replace("4ft x 4ft", "4ft x 4lb"),
        format!("{own}structure \"X\" on block {{ after \"Y\"  face f rect 1ft x 1ft plain }}\n"),
        format!("{own}structure \"S1\" on block {{ face f rect 1ft x 1ft plain }}\n"),
        own.replace('}', ")"),
        // One structure asks for a measure of another, or the plan does of one.
        format!("{own}structure \"X\" on block {{ face f rect \"S0\".f.width x 1ft plain }}\n"),
        format!(
            "{own}let wide = sum(\"S0\".area) / 1ft\nstructure \"X\" on block {{ face f rect wide x 1ft plain }}\n"
        ),
        format!("{own}let wide = g.width\n"),
        format!("{own}alternate \"Less\" {{ omit \"S1\" }}\n"),
    ];
    for text in no_way {
        for bytes in [1, 1 << 20] {
            let ways = compare(&text, &pack, bytes);
            // In one part nothing is tied to what stands outside of it but by a measure.
            assert_eq!(ways, None, "{text}");
        }
    }
}

#[test]
fn what_changed_after_the_rules_ran_is_noticed() {
    let pack = small_pack(SCRIPT, &mut Sources::new());
    let text = plan(&[0, 0, 2]);
    let mut sources = Sources::new();
    let file = sources.add("plan.parge", text.as_str());
    let survey = survey(file, &text, 1, |plan| plan).unwrap();
    let of = |sources| Given {
        survey: &survey,
        sources,
        packs: Packs::of(&pack),
        forecast: None,
        end: Span::new(file, 0, 0),
    };
    let (takeoff, parts, _) = taken_off(of(&sources)).unwrap();
    let mut others = Sources::new();
    others.add("plan.parge", text.replace("12ft x low", "92ft x low"));
    let other = Faces {
        of: of(&others),
        parts: &parts,
        takeoff: &takeoff,
    };
    // Above 100 ft2 the rules say something else, for which they never ran with block.
    assert_eq!(other.each(|_| (), |()| Ok::<(), ()>(())), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_job_in_any_parts_comes_to_what_it_comes_to_as_a_whole(
        blocks in prop::collection::vec(0..BLOCKS.len(), 1..9), bytes in 1usize..1500,
    ) {
        let pack = small_pack(SCRIPT, &mut Sources::new());
        let mut blocks = blocks;
        blocks.insert(0, 0);
        prop_assert!(compare(&plan(&blocks), &pack, bytes).is_some());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    #[test]
    fn so_does_one_by_the_concrete_pack(
        sizes in prop::collection::vec((12u32..400, 12u32..200, 0usize..6), 2..12),
        bytes in 1usize..900,
    ) {
        let pack = standard();
        let faces = sizes.iter().map(|(width, height, kind)| {
            let finish = ["drystone", "bark"][kind % 2];
            let substrate = ["block", "wood", "foam"][kind / 2];
            format!("rect {width}in x {height}in on {substrate} {finish}")
        });
        let structures = faces.enumerate().map(|(at, face)| format!(
            "structure \"S{at}\" {{ face f {face}\n  face c cylinder diameter {}in x 6ft on block bark }}\n",
            at + 20,
        ));
        let structures: Vec<String> = structures.collect();
        let text = format!(
            "parge 1\njob \"Test\" {{ rules \"vertical-concrete\"  crew 3  date 2026-05-11 }}\n\
             finish drystone {{ technique stamp  thickness 3/4in  relief 1.1  colours granite 60%, moss 40%  sealer matte, 2 coats }}\n\
             finish bark {{ technique carve  thickness 2in  relief 1.25 }}\n{}",
            structures.concat(),
        );
        prop_assert!(compare(&text, &pack, bytes).is_some());
    }
}
