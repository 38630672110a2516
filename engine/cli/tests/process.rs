//! The program as a process: what cannot be seen from within it.

#![allow(
    clippy::unwrap_used,
    reason = "helpers of tests fail by panicking, as tests do"
)]

use parge_sheets::is_untouched;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const PRICES: &str = include_str!("../../../examples/alder-marsh/prices.csv");

/// A job with so many faces.
fn plan(name: usize, faces: usize) -> String {
    let mut text = format!(
        "parge 1\n\njob \"Job {name}\" {{\n  rules \"vertical-concrete\"\n  prices \"prices.csv\"\n  \
         crew 2\n  bid {{ burden 30%  overhead 10%  profit margin 20%  tax 7% on materials }}\n}}\n\n\
         finish stone {{ technique stamp  thickness 3/4in  colours granite 60%, moss 40%  sealer matte }}\n\n\
         structure \"Wall\" on block {{\n  finish stone\n"
    );
    for face in 0..faces {
        let _ = writeln!(
            text,
            "  face f{face} rect {}ft x {}in",
            8 + face % 9,
            60 + face % 31
        );
    }
    text + "}\n"
}

/// A folder with so many jobs.
fn folder(jobs: usize, faces: usize) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let inside = folder.path().join("jobs");
    fs::create_dir(&inside).unwrap();
    fs::write(inside.join("prices.csv"), PRICES).unwrap();
    for job in 0..jobs {
        fs::write(inside.join(format!("{job}.parge")), plan(job, faces)).unwrap();
    }
    folder
}

fn parge(folder: &Path, arguments: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_parge"));
    command
        .args(arguments.split_whitespace())
        .current_dir(folder);
    command
}

/// All files in a folder and below, by their paths.
fn files(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Vec::new();
    };
    let paths = entries.map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> = paths
        .flat_map(|path| match path.is_dir() {
            true => files(&path),
            false => vec![path],
        })
        .collect();
    files.sort();
    files
}

const LIST: &str = "estimate jobs --workbooks out -o list.xlsx --csv list.csv --json list.json";

#[test]
fn the_list_does_not_depend_on_the_number_of_threads() {
    let run = |threads: &str| {
        let folder = folder(5, 12);
        let broken = plan(5, 2).replace("finish stone {", "finish slate {");
        fs::write(folder.path().join("jobs/broken.parge"), broken).unwrap();
        let mut command = parge(folder.path(), LIST);
        let said = command.env("RAYON_NUM_THREADS", threads).output().unwrap();
        assert_eq!(said.status.code(), Some(1), "{said:?}");
        let files = files(folder.path()).into_iter().map(|path| {
            let inside = path.strip_prefix(folder.path()).unwrap().to_owned();
            (inside, fs::read(path).unwrap())
        });
        (said.stdout, said.stderr, files.collect::<Vec<_>>())
    };
    let one = run("1");
    assert_eq!(
        one.2.len(),
        7 + 5 + 3,
        "plans with prices, workbooks, lists"
    );
    assert!(one == run("4"));
    assert!(one == run("2"));
}

/// Whoever stops a run finds files that are whole, and none that are not.
#[cfg(unix)]
#[test]
fn an_interrupted_run_leaves_whole_files_only() {
    use std::thread::sleep;
    use std::time::{Duration, Instant};
    const JOBS: usize = 12;
    let unfinished = |path: &PathBuf| {
        let name = path.file_name().unwrap().to_string_lossy();
        name.starts_with(".parge-")
    };
    // At the first file that is being written, and at one after some are whole.
    for least in [0, 2] {
        let folder = folder(JOBS, 250);
        let out = folder.path().join("out");
        let mut child = parge(folder.path(), LIST)
            .stdout(std::process::Stdio::null())
            .spawn()
            .unwrap();
        let begun = Instant::now();
        loop {
            let there = files(&out);
            if there.len() > least && there.iter().any(unfinished) {
                break;
            }
            assert!(begun.elapsed() < Duration::from_secs(300), "{there:?}");
            assert!(child.try_wait().unwrap().is_none(), "it ended: {there:?}");
            sleep(Duration::from_millis(1));
        }
        let kill = Command::new("kill")
            .args(["-INT", &child.id().to_string()])
            .status();
        assert!(kill.unwrap().success());
        assert_eq!(child.wait().unwrap().code(), Some(130));
        let whole = files(&out);
        assert!(whole.len() < JOBS, "it was not interrupted");
        for path in whole {
            assert!(!unfinished(&path), "{}", path.display());
            assert!(
                is_untouched(&fs::read(&path).unwrap()),
                "{}",
                path.display()
            );
        }
        let lists = fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(lists, 2, "only the two folders are there");
    }
}
