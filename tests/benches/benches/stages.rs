//! What each stage costs, beside what it would cost at best, measured in the same run.
//!
//! `cargo bench -p parge-benches` goes through plans of 30 to 1,000,000 faces, and takes some
//! minutes; `cargo bench -p parge-benches -- 30 1000` through those sizes only. The times are
//! medians. Memory is that of a process of its own, which goes through the stages once.
#![allow(clippy::print_stdout, reason = "a bench says what it measured")]

use parge_benches::edit::edit_a_line;
use parge_benches::floor::{Cells, Class, read_into_nothing, scan};
use parge_benches::stages::{Fault, Site};
use parge_benches::table::{HEAD, Line};
use parge_benches::timed::median;
use parge_benches::{memory, program};
use std::process::{Command, ExitCode};
use std::time::Duration;
use std::{env, thread};

const SIZES: [usize; 5] = [30, 1_000, 10_000, 100_000, 1_000_000];
/// Larger workbooks than of so many faces no spreadsheet program opens.
const LARGEST_WORKBOOK: usize = 100_000;
/// What a process of its own goes through once, to say its memory: the stages one after the other,
/// an import, the program as a whole.
const STAGES: &str = "--stages";
const IMPORT: &str = "--import";
const PROGRAM: &str = "--program";

fn main() -> ExitCode {
    let words: Vec<String> = env::args().skip(1).collect();
    let sizes: Vec<usize> = words.iter().filter_map(|word| word.parse().ok()).collect();
    let asked = |word: &str| words.iter().any(|known| known == word);
    let outcome = match sizes.as_slice() {
        [faces] if asked(STAGES) => stages_once(*faces),
        [faces] if asked(IMPORT) => import_once(*faces),
        [faces] if asked(PROGRAM) => program_once(*faces),
        [] => all(&SIZES),
        sizes => all(sizes),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            println!("{fault}");
            ExitCode::FAILURE
        }
    }
}

fn all(sizes: &[usize]) -> Result<(), Fault> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    println!("{cores} cores\n{HEAD}");
    for faces in sizes {
        stages(*faces, cores as u32)?;
    }
    Ok(())
}

/// Says how much memory the process has needed so far, in bytes.
fn say() {
    println!("{}", memory::most().unwrap_or_default());
}

fn import_once(faces: usize) -> Result<(), Fault> {
    program::Import::of(faces)?.run()?;
    say();
    Ok(())
}

fn program_once(faces: usize) -> Result<(), Fault> {
    program::Estimate::of(&Site::of(faces)?)?.run()?;
    say();
    Ok(())
}

/// Goes through the stages once and says how much memory each needed up to its end.
fn stages_once(faces: usize) -> Result<(), Fault> {
    let site = Site::of(faces)?;
    let plan = site.parse()?;
    say();
    let measured = site.measure(&plan)?;
    drop(plan);
    say();
    let takeoff = site.take_off(measured)?;
    say();
    let estimate = site.price(takeoff)?;
    say();
    site.json(&estimate)?;
    say();
    if faces <= LARGEST_WORKBOOK {
        site.workbook(&estimate)?;
        say();
    }
    Ok(())
}

/// The memory of what is gone through, from a process of its own.
fn memories(faces: usize, what: &str) -> Vec<u64> {
    let output = env::current_exe().and_then(|program| {
        Command::new(program)
            .args([&faces.to_string(), what])
            .output()
    });
    let text = output.map(|output| String::from_utf8_lossy(&output.stdout).into_owned());
    let text = text.unwrap_or_default();
    let figures = text.lines().filter_map(|line| line.parse().ok());
    figures.filter(|bytes| *bytes > 0).collect()
}

/// What an editor waits for after a line was changed.
fn edits(
    site: &Site,
    say: impl Fn(&'static str, Duration, Option<u64>, Option<(Duration, &'static str)>),
) -> Result<(), Fault> {
    let mut draft = site.draft()?;
    let edited = median(|| Ok(()), |()| edit_a_line(&mut draft))?;
    say("a line edited", edited, None, None);
    let priced = median(|| Ok(()), |()| draft.price().ok_or("no price"))?;
    say("its price", priced, None, None);
    Ok(())
}

fn stages(faces: usize, cores: u32) -> Result<(), Fault> {
    let of_stages = memories(faces, STAGES);
    let mut memory = of_stages.into_iter();
    let alone = |what| memories(faces, what).first().copied();
    let say = |stage, time, memory, floor| {
        let line = Line {
            stage,
            faces,
            time,
            memory,
            floor,
        };
        println!("{line}");
    };
    let none = || Ok::<_, Fault>(());
    let site = Site::of(faces)?;

    let scanned = median(none, |()| Ok(scan(site.text())))?;
    say("scan the text", scanned, None, None);
    let pest = median(none, |()| Ok(parge_grammar::tokens(site.file, site.text())))?;
    say(
        "pest alone, 1 core",
        pest,
        None,
        Some((scanned, "the scan")),
    );
    let parsed = median(none, |()| site.parse())?;
    let floor = Some((pest / cores, "pest alone, a core"));
    say("parse", parsed, memory.next(), floor);

    let plan = site.parse()?;
    let measured = median(none, |()| site.measure(&plan))?;
    say("resolve, measure", measured, memory.next(), None);
    let taken = median(|| site.measure(&plan), |measured| site.take_off(measured))?;
    say("take off", taken, memory.next(), None);
    let take_off = || site.take_off(site.measure(&plan)?);
    let priced = median(take_off, |takeoff| site.price(takeoff))?;
    say("pool, price", priced, memory.next(), None);
    say("evaluation", measured + taken + priced, None, None);

    edits(&site, say)?;

    let estimate = site.price(take_off()?)?;
    if let Some(class) = Class::of(&estimate, &site.pack, faces) {
        let looped = median(none, |()| Ok(class.looped()))?;
        let replayed = median(none, |()| Ok(class.replay()))?;
        let floor = Some((looped, "a plain loop"));
        say("rules, replayed", replayed, None, floor);
    }

    let json = median(none, |()| site.json(&estimate))?;
    say("JSON", json, memory.next(), None);
    if faces <= LARGEST_WORKBOOK {
        let made = median(none, |()| site.workbook(&estimate))?;
        let cells = Cells::of(&site.workbook(&estimate)?)?;
        let raw = median(none, |()| cells.write().map_err(|error| error.to_string()))?;
        let floor = Some((raw, "the writer alone"));
        say("workbook", made, memory.next(), floor);
    }
    drop(estimate);

    if faces <= LARGEST_WORKBOOK {
        let import = program::Import::of(faces)?;
        let imported = median(none, |()| import.run())?;
        let raw = median(none, |()| read_into_nothing(import.sheet()))?;
        let floor = Some((raw, "the reader alone"));
        say("import", imported, alone(IMPORT), floor);
    }
    let estimate = program::Estimate::of(&site)?;
    let whole = median(none, |()| estimate.run())?;
    say("whole program", whole, alone(PROGRAM), None);
    Ok(())
}
