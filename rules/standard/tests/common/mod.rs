//! Loading the pack and asking it about hand-made faces.

// Each test file uses its own part of this.
#![allow(dead_code, clippy::unwrap_used, clippy::panic)]

use parge_base::diagnostic::any_error;
use parge_base::{Dim, NodeId, Quantity, Sources, Span, Units};
use parge_calc::contract::{
    BATCH_HOOK, DAY_HOOK, EDGE_HOOKS, FACE_HOOKS, HOOKS, JOB_HOOKS, MATERIALS, MATURITY, MIXES,
    PHASES, Packs, SHAPE_HOOK, SITE, SUBSTRATES, TECHNIQUES, WAITS, WEATHER_HOOK, WORKDAY_HOOK,
};
use parge_calc::layout::Layout;
use parge_calc::measure::measure;
use parge_calc::pool::general_item;
use parge_calc::resolve::resolve;
use parge_calc::takeoff::take_off;
use parge_rules::{Pack, PackFiles, Run, Subject, Value, load};

/// The files of the pack of vertical concrete.
pub fn files() -> PackFiles {
    files_of("vertical-concrete")
}

/// The files of a standard pack.
pub fn files_of(name: &str) -> PackFiles {
    parge_standard_packs::find(name).unwrap()
}

/// A pack from files, with every diagnostic shown where there is one.
pub fn load_from(files: &PackFiles) -> Pack {
    let mut sources = Sources::new();
    match load(std::slice::from_ref(files), HOOKS, &mut sources) {
        Ok(pack) => pack,
        Err(diagnostics) => {
            let shown = diagnostics.iter().map(|one| {
                let place = one.labels.first().map(|label| {
                    let place = sources.place(label.span.file, label.span.start);
                    format!("{}:{}", sources.name(label.span.file), place.line)
                });
                format!("{place:?} {} ({})", one.message, one.help)
            });
            panic!("{}", shown.collect::<Vec<_>>().join("\n"));
        }
    }
}

/// The pack of vertical concrete as shipped.
pub fn pack() -> Pack {
    load_from(&files())
}

/// The same after one text in one of its files was replaced; the text must stand there once.
pub fn edited(path: &str, from: &str, to: &str) -> Pack {
    let mut files = files();
    let text = files.texts.get_mut(path).unwrap();
    assert_eq!(text.matches(from).count(), 1, "`{from}` in {path}");
    *text = text.replace(from, to);
    load_from(&files)
}

/// A face or job to ask about.
#[derive(Clone)]
pub struct Asked(pub Subject<'static>);

/// A flat face of 10 x 10 ft with its foot on the ground: no openings, no colour, no sealer,
/// top of the work at exactly 10 ft.
pub fn face(substrate: &str, technique: &str, inches: f64) -> Asked {
    let start = Asked(Subject {
        kind: "face".into(),
        values: Vec::new(),
    });
    start
        .text("substrate", substrate)
        .text("technique", technique)
        .text("finish", "drystone")
        .absent("sheen")
        .absent("sealer_coats")
        .colours(&[])
        .set("thickness", inches, "in")
        .set("relief", 1.0, "1")
        .set("area", 100.0, "ft2")
        .set("gross_area", 100.0, "ft2")
        .set("deducted_area", 0.0, "ft2")
        .set("reveal_area", 0.0, "ft2")
        .set("width", 10.0, "ft")
        .set("height", 10.0, "ft")
        .set("perimeter", 40.0, "ft")
        .set("top", 10.0, "ft")
        .set("bottom", 10.0, "ft")
        .set("sides", 20.0, "ft")
        .set("opening_edges", 0.0, "ft")
        .set("working_height", 10.0, "ft")
        .absent("radius")
        .text("part", "face")
        .layouts(&LAID)
        .conditions(&[])
}

/// What is laid out on the face, whole numbers that show what a rule makes of them.
pub const LAID: [(&str, f64, &str); 3] = [
    ("metal-lath", 6.0, "sheet"),
    ("self-furring-lath", 7.0, "sheet"),
    ("building-paper", 0.25, "roll"),
];

/// Items laid out by a pack on the first face of a structure, each with its pieces and its count
/// by area, through all stages.
pub fn laid_out(pack: &Pack, substrate: &str, technique: &str, face: &str) -> Vec<Layout> {
    let text = format!(
        "parge 1\njob \"Test\" {{ crew 1  rules \"test\" }}\nfinish plain {{ technique {technique}  thickness 3/4in }}\n\
         structure \"Wall\" on {substrate} {{ face f {face} plain }}\n"
    );
    let mut sources = Sources::new();
    let file = sources.add("plan.parge", text.as_str());
    let parsed = parge_grammar::parse(file, &text);
    assert!(parsed.diagnostics.is_empty(), "{:?}", parsed.diagnostics);
    let packs = Packs::of(pack);
    let (job, said) = resolve(&parsed.plan, packs, Span::new(file, 0, 0));
    let (measured, _) = measure(job.unwrap_or_else(|| panic!("{said:?}")), packs);
    let (takeoff, said) = take_off(measured, pack);
    assert!(!any_error(&said), "{said:?}");
    takeoff.layouts.into_iter().next().unwrap()
}

/// Ten feet of an edge on block, whose height is not stated.
pub fn edge(kind: &str) -> Asked {
    let start = Asked(Subject {
        kind: "edge".into(),
        values: Vec::new(),
    });
    start
        .text("kind", kind)
        .set("length", 10.0, "ft")
        .text("substrate", "block")
        .absent("technique")
        .absent("thickness")
        .absent("working_height")
        .conditions(&[])
}

/// A job of a crew of three with two structures.
pub fn job() -> Asked {
    let start = Asked(Subject {
        kind: "job".into(),
        values: Vec::new(),
    });
    start
        .set("area", 500.0, "ft2")
        .set("ground_run", 60.0, "ft")
        .set("faces", 5.0, "1")
        .set("structures", 2.0, "1")
        .set("crew", 3.0, "1")
        .set("hours", 160.0, "h")
        .set("working_height", 8.0, "ft")
        .absent("air")
        .absent("mix")
        .absent("humidity")
        .absent("wind")
        .absent("evaporation")
        .absent("dew_point")
        .names("techniques", &[])
        .names("substrates", &[])
        .names("phases", &[])
        .names("items", &[])
        .conditions(&[])
}

fn asked(kind: &str) -> Asked {
    Asked(Subject {
        kind: kind.to_owned().into(),
        values: Vec::new(),
    })
}

const READINGS: [&str; 6] = ["air", "humidity", "wind", "mix", "evaporation", "dew_point"];

/// The third day of three people of a crew of four, of whose weather nothing is stated, and on
/// which nothing is placed.
pub fn day() -> Asked {
    let start = asked("day")
        .set("number", 3.0, "1")
        .set("people", 3.0, "1")
        .set("crew", 4.0, "1")
        .set("hours", 20.0, "h")
        .absent("travel")
        .names("phases", &["protect"])
        .placed(&[]);
    READINGS.iter().fold(start, |day, name| day.absent(name))
}

/// A day in hot, dry and windy air, with so much evaporation in lb/ft2/h, on which 500 ft2 along
/// 60 ft of ground are covered with a mix.
pub fn drying_day(mix: &str, evaporation: f64) -> Asked {
    day()
        .set("air", 91.0, "F")
        .set("mix", 80.0, "F")
        .set("humidity", 25.0, "%")
        .set("wind", 9.0, "mph")
        .set("evaporation", evaporation, "lb/ft2/h")
        .set("dew_point", 50.0, "F")
        .placed(&[(mix, 500.0, 60.0)])
}

/// A weather of which nothing is stated.
pub fn weather() -> Asked {
    READINGS
        .iter()
        .fold(asked("weather"), |weather, name| weather.absent(name))
}

/// A crew of four that is 9 h on the site.
pub fn site() -> Asked {
    asked("site")
        .set("crew", 4.0, "1")
        .set("on_site", 9.0, "h")
        .absent("travel")
}

/// A batch of a mix that three people place in 20 min, each needing so many hours for a bag.
pub fn batch(mix: &str, hours: f64) -> Asked {
    asked("batch")
        .text("mix", mix)
        .text("finish", "drystone")
        .text("technique", "stamp")
        .set("placing", hours, "h/bag")
        .set("people", 3.0, "1")
        .set("working_time", 20.0, "min")
        .colours(&[("sand", 0.75), ("rust", 0.25)])
}

/// Sites, weathers, batches and days that together meet every rule of the days of a pack.
pub fn every_day(pack: &Pack) -> Vec<Asked> {
    let mixes = pack.tables().keys(MIXES, &[]).unwrap();
    let placed: Vec<(&str, f64, f64)> = mixes.iter().map(|mix| (*mix, 50.0, 6.0)).collect();
    let mut all = vec![
        site(),
        site().absent("crew").absent("on_site"),
        weather(),
        day(),
        day().set("travel", 30.0, "min"),
        drying_day(mixes[0], 0.15).placed(&placed),
        drying_day(mixes[0], 0.15).set("air", 35.0, "F"),
        day()
            .names("phases", &["seal"])
            .set("air", 61.0, "F")
            .set("dew_point", 58.0, "F"),
    ];
    // Every row of the working times is read, and what lies between two.
    let airs = [35.0, 55.0, 75.0, 85.0, 95.0, 120.0];
    all.extend(airs.map(|air| weather().set("air", air, "F")));
    all.extend(
        mixes
            .iter()
            .flat_map(|mix| [batch(mix, 0.1), batch(mix, 9.0)]),
    );
    all
}

/// Tables that the program itself reads for the days; the tests of [`parge_calc::days`] look at them.
pub const OF_THE_DAYS: [&str; 2] = [WAITS, MATURITY];

/// A job that contains all that a pack knows, and is worked from platforms.
pub fn whole(pack: &Pack) -> Asked {
    let keys = |table| pack.tables().keys(table, &[]).unwrap();
    let conditions: Vec<(&str, &str)> = keys(SITE)
        .into_iter()
        .flat_map(|kind| {
            let words = pack.tables().keys(SITE, &[kind]).unwrap();
            words.into_iter().map(move |word| (kind, word))
        })
        .collect();
    job()
        .set("working_height", 12.0, "ft")
        .names("techniques", &keys(TECHNIQUES))
        .names("substrates", &keys(SUBSTRATES))
        .names("phases", &keys(PHASES))
        .names("items", &keys(MATERIALS))
        .conditions(&conditions)
}

impl Asked {
    /// Puts a value in, or over the one that is there.
    pub fn value(mut self, name: &str, value: Value<'static>) -> Self {
        match self.0.values.iter_mut().find(|(known, _)| &**known == name) {
            Some((_, old)) => *old = value,
            None => self.0.values.push((name.to_owned().into(), value)),
        }
        self
    }

    /// A quantity.
    pub fn set(self, name: &str, number: f64, unit: &str) -> Self {
        self.value(name, Value::Quantity(quantity(number, unit), None))
    }

    /// A word.
    pub fn text(self, name: &str, text: &str) -> Self {
        self.value(name, Value::Text(text.to_owned().into()))
    }

    /// Known by name, not given.
    pub fn absent(self, name: &str) -> Self {
        self.value(name, Value::Absent)
    }

    /// The colours with their shares.
    pub fn colours(self, colours: &[(&str, f64)]) -> Self {
        let list = colours.iter().map(|(name, share)| {
            let colour = Asked(Subject {
                kind: "colour".into(),
                values: Vec::new(),
            });
            colour.text("name", name).set("share", *share, "1").0
        });
        let list = list.collect();
        self.value("colours", Value::List(list))
    }

    /// The mixes placed on a day, each with its ft2 and its ft along the ground.
    pub fn placed(self, lots: &[(&str, f64, f64)]) -> Self {
        let each = lots.iter().map(|(mix, area, run)| {
            let lot = asked("lot").text("mix", mix);
            lot.set("area", *area, "ft2")
                .set("ground_run", *run, "ft")
                .0
        });
        let each = each.collect();
        self.value("placed", Value::List(each))
    }

    /// A list of things with names.
    pub fn names(self, list: &str, names: &[&str]) -> Self {
        let each = names.iter().map(|name| {
            let thing = Asked(Subject {
                kind: list.trim_end_matches('s').to_owned().into(),
                values: Vec::new(),
            });
            thing.text("name", name).0
        });
        let each = each.collect();
        self.value(list, Value::List(each))
    }

    /// What is laid out on it: item, pieces, unit.
    pub fn layouts(self, layouts: &[(&str, f64, &str)]) -> Self {
        let list = layouts.iter().map(|(item, pieces, unit)| {
            let layout = Asked(Subject {
                kind: "layout".into(),
                values: Vec::new(),
            });
            let layout = layout.text("item", item);
            layout
                .set("pieces", *pieces, unit)
                .set("by_area", *pieces, unit)
                .0
        });
        let list = list.collect();
        self.value("layouts", Value::List(list))
    }

    /// The conditions of the site, each with its word.
    pub fn conditions(self, conditions: &[(&str, &str)]) -> Self {
        let list = conditions.iter().map(|(kind, word)| {
            let condition = Asked(Subject {
                kind: "condition".into(),
                values: Vec::new(),
            });
            condition.text("condition", kind).text("word", word).0
        });
        let list = list.collect();
        self.value("conditions", Value::List(list))
    }

    /// The rules that are asked about it.
    pub fn hooks(&self) -> &'static [&'static str] {
        match &*self.0.kind {
            "job" => JOB_HOOKS,
            "edge" => EDGE_HOOKS,
            "site" => &[WORKDAY_HOOK],
            "weather" => &[WEATHER_HOOK],
            "batch" => &[BATCH_HOOK],
            "day" => &[DAY_HOOK],
            "shape" => &[SHAPE_HOOK],
            _ => FACE_HOOKS,
        }
    }

    /// What the pack says of it; a rule that stops fails the test.
    pub fn ask(&self, pack: &Pack) -> Answer {
        let run = pack.run(self.hooks(), &self.0);
        let errors: Vec<&str> = run
            .errors
            .iter()
            .map(|error| error.message.as_str())
            .collect();
        assert!(errors.is_empty(), "{errors:?}");
        Answer(run)
    }
}

/// A number with a standard unit.
pub fn quantity(number: f64, unit: &str) -> Quantity {
    Units::standard()
        .parse(unit)
        .unwrap()
        .quantity(number)
        .unwrap()
}

/// What the pack said.
pub struct Answer(pub Run);

/// Whether a line is of an item, or of one of its kinds: `colour/moss` is of `colour`.
fn is_of(line: &str, item: &str) -> bool {
    line == item || general_item(line) == item
}

impl Answer {
    /// Whether an item is needed at all.
    pub fn has(&self, item: &str) -> bool {
        self.0.needs.iter().any(|line| is_of(&line.item, item))
    }

    /// The items needed, each once, in the order said.
    pub fn items(&self) -> Vec<String> {
        let mut items: Vec<String> = Vec::new();
        for line in &self.0.needs {
            if !items.iter().any(|known| *known == *line.item) {
                items.push(line.item.to_string());
            }
        }
        items
    }

    /// How much of an item before waste, all its lines together, in a unit.
    pub fn need(&self, item: &str, unit: &str) -> f64 {
        let lines = self.0.needs.iter().filter(|line| is_of(&line.item, item));
        self.sum(lines.map(|line| line.amount), unit)
    }

    /// How much of an item with waste.
    pub fn order(&self, item: &str, unit: &str) -> f64 {
        let lines = self.0.needs.iter().filter(|line| is_of(&line.item, item));
        lines
            .map(|line| {
                let waste = self.0.tape.value(line.waste);
                assert_eq!(waste.dim, Dim::NONE);
                self.show(line.amount, unit) * (1.0 + waste.value)
            })
            .sum()
    }

    /// The waste of an item's first line, as a share.
    pub fn waste(&self, item: &str) -> f64 {
        let line = self
            .0
            .needs
            .iter()
            .find(|line| &*line.item == item)
            .unwrap();
        self.show(line.waste, "1")
    }

    /// The hours of a phase.
    pub fn hours(&self, phase: &str) -> f64 {
        let lines = self.0.hours.iter().filter(|line| &*line.phase == phase);
        self.sum(lines.map(|line| line.time), "h")
    }

    /// What is given under a name, in a unit.
    pub fn given(&self, name: &str, unit: &str) -> f64 {
        self.show(self.0.given(name).unwrap().value, unit)
    }

    /// Whether a caution is given.
    pub fn cautions(&self, key: &str) -> bool {
        self.0.cautions.iter().any(|line| &*line.key == key)
    }

    /// The figure that a caution is said with, in a unit.
    pub fn figure(&self, key: &str, unit: &str) -> f64 {
        let line = self.0.cautions.iter().find(|line| &*line.key == key);
        self.show(line.unwrap().figure.unwrap(), unit)
    }

    /// How many of a tool are taken for a reason; none where it is not taken for it.
    pub fn tools(&self, tool: &str, reason: &str) -> f64 {
        let lines = self.0.tools.iter();
        lines
            .filter(|line| &*line.tool == tool && &*line.reason == reason)
            .map(|line| self.show(line.count, "1"))
            .sum()
    }

    /// The warnings.
    pub fn warnings(&self) -> Vec<&str> {
        self.0.warnings.iter().map(|said| &*said.text).collect()
    }

    /// Everything said, as text: two answers with one print say the same.
    pub fn print(&self) -> String {
        let value = |node| self.0.tape.value(node).value;
        let needs = self.0.needs.iter();
        let needs =
            needs.map(|line| format!("{} {} {}", line.item, value(line.amount), value(line.waste)));
        let hours = self
            .0
            .hours
            .iter()
            .map(|line| format!("{} {}", line.phase, value(line.time)));
        let cautions = self.0.cautions.iter().map(|line| {
            let figure = line.figure.map(value);
            format!("{} {figure:?}", line.key)
        });
        let tools = self
            .0
            .tools
            .iter()
            .map(|line| format!("{} {} {}", line.tool, line.reason, value(line.count)));
        let given = self.0.given.iter();
        let given = given.map(|line| format!("{} {}", line.name, value(line.value)));
        let warnings = self.0.warnings.iter().map(|said| said.text.to_string());
        needs
            .chain(hours)
            .chain(cautions)
            .chain(tools)
            .chain(given)
            .chain(warnings)
            .collect::<Vec<_>>()
            .join("\n")
    }

    fn sum(&self, nodes: impl Iterator<Item = NodeId>, unit: &str) -> f64 {
        nodes.map(|node| self.show(node, unit)).sum()
    }

    fn show(&self, node: NodeId, unit: &str) -> f64 {
        let shown = Units::standard()
            .parse(unit)
            .unwrap()
            .show(self.0.tape.value(node));
        shown.unwrap_or_else(|| panic!("not in {unit}"))
    }
}

/// Equal but for binary noise.
#[track_caller]
pub fn close(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{got} is not {expected}"
    );
}

/// Equal within the rounding of a published or hand-computed figure.
#[track_caller]
pub fn near(got: f64, expected: f64, within: f64) {
    assert!(
        (got - expected).abs() <= within,
        "{got} is not {expected} +- {within}"
    );
}
