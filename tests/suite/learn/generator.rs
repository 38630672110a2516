//! Makes the folder of invented past jobs, `examples/plover-reach-past-jobs`: plans by chance, and
//! records of what they used under factors that are known here and to nobody else.
//!
//! The true use of a job is its estimate under a pack with the true factors, times what strays by
//! chance: the job as a whole, and each line. The record of one job is spoiled.

use super::chance::Chance;
use parge_tests::{Folder, Said};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt::Write;

/// A row with its true value, where that is not the one in the pack.
pub(crate) const TRUE_ROWS: [(&str, &str, f64, &str); 10] = [
    ("waste", "finish-mix,stamp", 16.0, "%"),
    ("waste", "finish-mix,carve", 19.0, "%"),
    ("coverage", "bonding-primer,scratch-coat", 127.0, "ft2/gal"),
    ("coverage", "sealer,surface", 172.0, "ft2/gal"),
    ("labour", "scratch,coat", 0.072, "h/ft2"),
    ("labour", "place,surface", 0.0585, "h/ft2"),
    ("labour", "place,volume", 1.404, "h/ft3"),
    ("labour", "stamp,stamp", 0.04, "h/ft2"),
    ("labour", "carve,carve", 0.195, "h/ft2"),
    ("labour", "lath,metal-lath", 0.034, "h/ft2"),
];

/// The spoiled job: its record has the bags and the hours of another job as well.
pub(crate) const SPOILED: usize = 7;
const JOBS: usize = 14;

/// The files of the folder by their names.
pub(crate) fn files() -> BTreeMap<String, String> {
    let mut files = BTreeMap::new();
    for (name, text) in PACK {
        files.insert(format!("our-rules/{name}"), text.to_owned());
    }
    files.insert("prices.csv".to_owned(), PRICES.to_owned());
    files.insert("README.md".to_owned(), README.to_owned());
    let mut chance = Chance::of(2026);
    for number in 1..=JOBS {
        let job = Job::by_chance(number, &mut chance);
        files.insert(format!("{}/job.parge", job.folder), job.plan.clone());
        let record = record(&job, number, &files, &mut chance);
        files.insert(format!("{}/actuals.txt", job.folder), record);
    }
    files
}

struct Job {
    folder: String,
    name: String,
    plan: String,
    first: String,
    last: String,
}

impl Job {
    fn by_chance(number: usize, chance: &mut Chance) -> Self {
        const NAMES: [(&str, &str); 4] = [
            ("seat wall", "seat-wall"),
            ("bollards", "bollards"),
            ("planter", "planter"),
            ("boat house wall", "boat-house"),
        ];
        let (words, short) = NAMES[(number - 1) % NAMES.len()];
        // Every sixth week one, of four in a month.
        let weeks = 6 * number;
        let (year, month, day) = (2025 + weeks / 48, 1 + weeks / 4 % 12, 2 + weeks % 4 * 7);
        let date = |day: usize| format!("{year}-{month:02}-{day:02}");
        let name = format!("Plover Reach {number:02}, {words}");
        let plan = plan(&name, words, &date(day), chance);
        Self {
            folder: format!("{number:02}-{short}"),
            name,
            plan,
            first: date(day),
            last: date(day + 4),
        }
    }
}

/// A size between two, in half feet.
fn feet(chance: &mut Chance, least: f64, most: f64) -> String {
    let halves = (2.0 * (least + (most - least) * chance.share())).round();
    match halves % 2.0 == 0.0 {
        true => format!("{}ft", halves / 2.0),
        false => format!("{}ft 6in", (halves - 1.0) / 2.0),
    }
}

fn plan(name: &str, words: &str, date: &str, chance: &mut Chance) -> String {
    let mut feet = |least, most| feet(chance, least, most);
    let structures = match words {
        "seat wall" => format!(
            "structure \"Seat wall\" on block {{\n  finish stone\n  face front rect {} x {}\n  \
             face back rect {} x {}\n}}\n",
            feet(18.0, 60.0),
            feet(2.0, 4.0),
            feet(18.0, 60.0),
            feet(2.0, 4.0)
        ),
        "bollards" => format!(
            "structure \"Bollards\" on steel {{\n  finish bark\n  \
             face post cylinder diameter {} x {} count 4\n}}\n",
            feet(1.5, 3.0),
            feet(3.0, 7.0)
        ),
        "planter" => format!(
            "structure \"Planter\" on block {{\n  finish stone\n  face side rect {} x {} count 2\n  \
             face end rect {} x 3ft count 2\n}}\nstructure \"Stump\" on steel {{\n  finish bark\n  \
             face trunk cylinder diameter {} x {} count 2\n}}\n",
            feet(12.0, 30.0),
            feet(2.0, 4.0),
            feet(4.0, 9.0),
            feet(2.0, 4.0),
            feet(3.0, 6.0)
        ),
        _ => format!(
            "structure \"Boat house\" on wood {{\n  finish stone\n  face lane rect {} x {}\n  \
             face water rect {} x {} {{ opening door rect 6ft x 7ft }}\n}}\n",
            feet(14.0, 34.0),
            feet(7.5, 9.5),
            feet(20.0, 34.0),
            feet(8.0, 9.5)
        ),
    };
    format!(
        "parge 1\n\n# Made by tests/suite/learn/generator.rs: the place, the job and what it used are \
         invented.\n\njob \"{name}\" {{\n  client \"Plover Reach Harbour Trust\"\n  date {date}\n  \
         rules \"../our-rules\"\n  prices \"../prices.csv\"\n  crew 3\n  \
         bid {{ burden 30%  overhead 10%  profit margin 16%  tax 6% on materials }}\n}}\n\n\
         finish stone {{\n  technique stamp\n  thickness 3/4in\n  relief 1.10\n  \
         colours granite 70%, moss 30%\n  sealer matte, 2 coats\n}}\n\nfinish bark {{\n  \
         technique carve\n  thickness 1 1/2in\n  relief 1.25\n  colours umber 100%\n  \
         sealer matte, 1 coat\n}}\n\n{structures}"
    )
}

/// What a job used, as a foreman writes it down.
fn record(
    job: &Job,
    number: usize,
    files: &BTreeMap<String, String>,
    chance: &mut Chance,
) -> String {
    let (priced, truth) = estimates(job, files);
    let print = |part: &str| priced["fingerprint"][part].as_str().unwrap().to_owned();
    let rules = &priced["job"]["rules"];
    let mut text = format!(
        "job \"{}\"\npriced plan {} rules {} prices {}\nrules {} {}\nday {} to {}\n\n",
        job.name,
        print("plan"),
        print("rules"),
        print("prices"),
        rules["name"].as_str().unwrap(),
        rules["version"].as_str().unwrap(),
        job.first,
        job.last
    );
    let spoiled = number == SPOILED;
    let (spill, slow) = (chance.normal(0.02), chance.normal(0.07));
    let off = if spoiled { (1.7, 2.4) } else { (1.0, 1.0) };
    for line in truth["materials"].as_array().unwrap() {
        let item = line["item"].as_str().unwrap();
        let figure = |part: &str| line[part]["value"].as_f64().unwrap();
        let strays = (spill + chance.normal(0.04)).exp();
        let used = off.0 * strays * (figure("need") + figure("waste"));
        let _ = match line["need"]["unit"].as_str().unwrap() {
            // Nobody measures water, and nobody counts ties.
            _ if matches!(
                item,
                "water" | "lath-tie" | "lath-fastener" | "masking" | "sheeting"
            ) =>
            {
                Ok(())
            }
            unit @ ("bag" | "sheet" | "roll") => writeln!(text, "{item}  {} {unit}", used.ceil()),
            unit => writeln!(text, "{item}  {:.1} {unit}", used),
        };
    }
    text.push('\n');
    for line in truth["labour"].as_array().unwrap() {
        let phase = line["phase"].as_str().unwrap();
        let strays = (slow + chance.normal(0.10)).exp();
        let hours = off.1 * strays * line["hours"].as_f64().unwrap();
        // To the half hour; what is less than one was not written down.
        let halves = (2.0 * hours).round();
        if halves >= 2.0 && !matches!(phase, "mobilise" | "travel") {
            let _ = writeln!(text, "hours {phase}  {} h", halves / 2.0);
        }
    }
    if spoiled {
        text.push_str("\nremark bags and hours of the jetty steps are in these figures\n");
    }
    text
}

/// The estimate that priced a job, and the one with the true factors.
fn estimates(job: &Job, files: &BTreeMap<String, String>) -> (Value, Value) {
    let folder = Folder::new().unwrap();
    for (name, text) in files {
        folder.write(name, text).unwrap();
    }
    let plan = format!("{}/job.parge", job.folder);
    let priced = json(&folder.parge(&format!("estimate {plan} --json -")));
    for (table, keys, value, unit) in TRUE_ROWS {
        let path = format!("our-rules/tables/{table}.csv");
        let text = folder.read(&path).unwrap();
        let without: Vec<&str> = text
            .lines()
            .filter(|line| !line.starts_with(keys))
            .collect();
        let row = format!("{keys},{value},{unit},company,\n");
        folder
            .write(&path, without.join("\n") + "\n" + row.as_str())
            .unwrap();
    }
    let truth = json(&folder.parge(&format!("estimate {plan} --json -")));
    (priced, truth)
}

fn json(said: &Said) -> Value {
    serde_json::from_str(&said.out).unwrap_or_else(|error| panic!("{error}: {said}"))
}

const PACK: [(&str, &str); 5] = [
    (
        "pack.toml",
        "name = \"plover-reach-rules\"\nversion = \"1.0.0\"\nsummary = \"An invented company's rules, \
         before its past jobs taught them anything\"\nextends = \"vertical-concrete\"\nengine = \"0.1\"\n\
         rules = []\n",
    ),
    (
        "tables/waste.csv",
        "item,condition,value,unit,source,note\nfinish-mix,stamp,10,%,company,a guess of the first year\n",
    ),
    (
        "tables/coverage.csv",
        "item,on,value,unit,source,note\nsealer,surface,200,ft2/gal,company,data sheet\n",
    ),
    (
        "tables/labour.csv",
        "phase,work,value,unit,source,note\nscratch,coat,0.06,h/ft2,company,\"guess, first year\"\n",
    ),
    (
        "README.md",
        "# The rules of Plover Reach\n\nAn invented company, and rules that past jobs are to teach: see \
         the page above.\n",
    ),
];

const PRICES: &str = "item,description,pack,pack_unit,pack_name,price,currency,supplier,valid_until\n\
finish-mix,Finish mix,1,bag,bag,24.80,USD,Reach Yard,\n\
scratch-mix,Scratch-coat mix,1,bag,bag,16.40,USD,Reach Yard,\n\
water,Water,1,gal,gallon,0.00,USD,,\n\
bonding-primer,Bonding primer,5,gal,pail,142.00,USD,Reach Yard,\n\
masonry-cleaner,Masonry cleaner,1,gal,jug,34.25,USD,Reach Yard,\n\
building-paper,Building paper,1,roll,roll,31.00,USD,Reach Yard,\n\
metal-lath,Metal lath,1,sheet,sheet,13.60,USD,Reach Yard,\n\
lath-fastener,Lath fastener,1000,each,box,46.00,USD,Reach Yard,\n\
lath-tie,Lath tie,1000,each,box,24.00,USD,Reach Yard,\n\
release,Liquid release,5,gal,pail,118.00,USD,Reach Yard,\n\
colour,Ready colour,1,gal,jug,58.00,USD,Reach Yard,\n\
sealer,Sealer,5,gal,pail,228.00,USD,Reach Yard,\n\
sheeting,Sheeting,1000,ft2,roll,64.00,USD,Reach Yard,\n\
masking,Masking,180,ft,roll,6.40,USD,Reach Yard,\n\
curing-cover,Curing cover,600,ft2,roll,88.00,USD,Reach Yard,\n\
scaffold,Scaffold,100,ft2,bay,41.00,USD,Reach Yard,\n\
labour,Labour,1,h,hour,36.50,USD,,\n";

const README: &str = "# Past jobs of Plover Reach\n\n\
Fourteen invented jobs of an invented company, each with its plan and the record of what it used, for \
`parge learn`. They are made by `tests/suite/learn/generator.rs` from factors that are known there; a test \
holds the folder to it, and another one tries whether the jobs teach those factors. The record of the \
seventh is spoiled: bags and hours of another job are in it.\n";
