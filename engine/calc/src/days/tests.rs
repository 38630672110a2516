//! The day plan, looked at through plans and a small pack with tables and rules of its own.

mod cards;
mod daily;
mod links;
mod properties;
mod refused;
mod steps;

use super::*;
use crate::contract::{HOOKS, Packs};
use crate::measure::measure;
use crate::resolve::resolve;
use crate::takeoff::{Takeoff, take_off};
use crate::testing::{pack_files, shown};
use jiff::civil::date;
use parge_base::{Sources, Span, Units};
use parge_rules::{Pack, PackFiles};

/// A bag takes 1/2 ft3 and 10 % go to waste; scratching is quick, placing slow.
const RULES: &str = r#"
fn coats(face) {
    for mix in ["scratch-mix", "finish-mix"] {
        need(mix, face.area * face.thickness / factor("mixes", mix, "yield"), quantity(10, "%"));
    }
    hours("lath", face.area * quantity(0.05, "h/ft2"));
    hours("scratch", face.area * quantity(0.02, "h/ft2"));
    hours("place", face.area * quantity(0.2, "h/ft2"));
    hours("stamp", face.area * quantity(0.1, "h/ft2"));
    hours("seal", face.area * quantity(0.02, "h/ft2"));
}
fn edges(edge) { hours("place", edge.length * quantity(0.5, "h/ft")); }
fn whole_job(job) {
    hours("mobilise", quantity(2, "h"));
    hours("clean", quantity(3, "h"));
}
fn workday(site) {
    give("people", if site.has("crew") { site.crew } else { quantity(2, "1") });
    give("productive", if site.has("on_site") { site.on_site } else { quantity(8, "h") });
}
fn weather(weather) {
    give("working_time", quantity(20, "min"));
    if weather.has("air") && weather.air <= quantity(40, "F") { give("no_coats", quantity(1, "1")); }
}
fn batches(batch) {
    let by_crew = batch.people * batch.working_time / batch.placing;
    give("most", min(quantity(2, "bag"), by_crew));
}
fn day(day) {
    hours("set-up", day.people * quantity(0.25, "h"));
    if day.has("travel") { hours("travel", day.people * day.travel * 2); }
    for phase in day.phases {
        if phase.name == "seal" { need("roller", quantity(1, "each"), quantity(0, "%")); }
    }
    if day.has("evaporation") && day.evaporation > quantity(0.2, "lb/ft2/h") {
        for lot in day.placed {
            if lot.mix == "finish-mix" {
                need("shade-cloth", lot.area, quantity(0, "%"));
                need("windbreak", lot.ground_run, quantity(0, "%"));
            }
        }
    }
}
"#;

const PHASES_TABLE: &str = "phase,property,value,unit,source\n\
    seal,description,Seal,text,company\nseal,order,6,1,company\n\
    mobilise,description,Mobilise,text,company\nmobilise,order,1,1,company\n\
    lath,description,Lath,text,company\nlath,order,2,1,company\n\
    scratch,description,Scratch,text,company\nscratch,order,3,1,company\n\
    stamp,description,Stamp,text,company\nstamp,order,5,1,company\nstamp,with,place,text,company\n\
    place,description,Place,text,company\nplace,order,4,1,company\n\
    clean,description,Clean up,text,company\nclean,order,7,1,company\n\
    set-up,description,Set up,text,company\nset-up,order,8,1,company\n\
    travel,description,Travel,text,company\ntravel,order,9,1,company\n";

fn files(script: &str) -> PackFiles {
    let mut files = pack_files(script);
    let items = [
        ("scratch-mix", "bag"),
        ("finish-mix", "bag"),
        ("shade-cloth", "ft2"),
        ("windbreak", "ft"),
        ("roller", "each"),
    ];
    let rows = items.map(|(item, unit)| {
        format!(
            "{item},description,{item},text,company\n{item},unit,{unit},text,company\n\
             {item},unit_metric,{unit},text,company\n"
        )
    });
    let materials = format!("item,property,value,unit,source\n{}", rows.concat());
    let tables = [
        ("materials", materials.as_str()),
        ("phases", PHASES_TABLE),
        (
            "mixes",
            "mix,property,value,unit,source\nscratch-mix,yield,0.5,ft3/bag,company\n\
             scratch-mix,phase,scratch,text,company\nfinish-mix,yield,0.5,ft3/bag,company\n\
             finish-mix,phase,place,text,company\n",
        ),
        (
            "waits",
            "before,after,property,value,unit,source\nscratch,place,least,48,h,company\n\
             scratch,place,cold,lengthens,text,company\nplace,seal,least,24,h,company\n\
             stamp,place,least,5,h,company\nseal,lath,least,5,h,company\n",
        ),
        (
            "maturity",
            "what,value,unit,source\nactivation,5000,K,company\nreference,20,C,company\n",
        ),
    ];
    for (name, text) in tables {
        files
            .texts
            .insert(format!("tables/{name}.csv"), text.to_owned());
    }
    files
}

/// A plan of 2 people from Monday, 1 June 2026 on, with lines of the job and what follows it.
fn text_of(job: &str, rest: &str) -> String {
    format!(
        "parge 1\njob \"Test\" {{\n rules \"small\"\n {job}\n}}\n\
         finish plain {{ technique stamp  thickness 1in }}\n{rest}\n"
    )
}

const WALL: &str = "structure Wall on block { face f rect 20ft x 9ft plain }";
const START: &str = "crew 2  start 2026-06-01";

fn measured_by(text: &str, pack: &Pack, sources: &mut Sources) -> Measured {
    let file = sources.add("plan.parge", text);
    let parsed = parge_grammar::parse(file, text);
    let packs = Packs::of(pack);
    let (job, said) = resolve(&parsed.plan, packs, Span::new(file, text.len(), text.len()));
    let all = parsed.diagnostics.iter().chain(&said);
    let errors: Vec<String> = all
        .filter(|said| said.severity() == parge_base::Severity::Error)
        .map(|said| shown(said, sources))
        .collect();
    assert!(errors.is_empty(), "{}", errors.join("\n"));
    measure(job.unwrap(), packs).0
}

/// The take-off of a plan by a pack's files, with all that is said of it.
fn taken_by(files: &[PackFiles], text: &str) -> (Takeoff, Vec<String>) {
    let mut sources = Sources::new();
    let pack = parge_rules::load(files, HOOKS, &mut sources).unwrap();
    let measured = measured_by(text, &pack, &mut sources);
    let (takeoff, said) = take_off(measured, &pack);
    let said = said.iter().map(|said| shown(said, &sources));
    (takeoff, said.collect())
}

/// A take-off by the small pack of these tests, of which nothing may be said.
fn taken(job: &str, rest: &str) -> Takeoff {
    let (takeoff, said) = taken_by(&[files(RULES)], &text_of(job, rest));
    assert!(said.is_empty(), "{}", said.join("\n"));
    takeoff
}

fn plan_of(takeoff: &Takeoff) -> &DayPlan {
    takeoff.days.as_ref().expect("a day plan")
}

fn hours(quantity: Quantity) -> f64 {
    parge_base::number::round_to(quantity.value / 3600.0, 6)
}

fn unit(text: &str, quantity: Quantity) -> f64 {
    let unit = Units::standard().parse(text).unwrap();
    parge_base::number::round_to(unit.show(quantity).unwrap(), 6)
}

/// The number of the step of a structure that does a phase.
fn step_of(takeoff: &Takeoff, structure: Option<&str>, phase: &str) -> usize {
    let job = &takeoff.measured.job;
    let found = plan_of(takeoff).steps.iter().position(|step| {
        step.structure.map(|number| job.structure_name(number)) == structure && step.does(phase)
    });
    found.unwrap_or_else(|| panic!("no step `{phase}`"))
}

/// The sum of what the days take of an item, and of a phase in hours.
fn of_days(takeoff: &Takeoff, item: &str, phase: &str) -> (f64, f64) {
    let needs = takeoff.daily.iter().flat_map(|taken| &taken.needs);
    let amounts = needs
        .filter(|need| &*need.item == item)
        .map(|need| need.amount.value);
    let lines = takeoff.daily.iter().flat_map(|taken| &taken.hours);
    let times = lines
        .filter(|line| &*line.phase == phase)
        .map(|line| hours(line.time));
    (amounts.sum(), times.sum())
}
