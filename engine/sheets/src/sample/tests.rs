//! For tests: a small job, run through the whole pipeline over a small pack of its own.

use parge_base::prices::{Freight, Offer, OfferTerms, PackSize, PriceBook};
use parge_base::{Currency, Diagnostic, Money, Sources, Span, Units};
use parge_calc::actuals::Fingerprint;
use parge_calc::alternates::with_alternates;
use parge_calc::contract::{HOOKS, Packs};
use parge_calc::price::{Estimate, price};
use parge_calc::{measure, pool, resolve, takeoff};
use parge_rules::{Pack, PackFiles};

/// What a run leaves.
pub(crate) struct Sample {
    pub(crate) estimate: Estimate,
    pub(crate) sources: Sources,
    pub(crate) diagnostics: Vec<Diagnostic>,
    pub(crate) book: PriceBook,
}

/// Fingerprints, as if of a sample.
pub(crate) fn fingerprint() -> Fingerprint<String> {
    let of = |letter: &str| letter.repeat(12);
    Fingerprint {
        plan: of("a"),
        rules: of("b"),
        prices: of("c"),
    }
}

/// A job with openings, equal faces, every term of the bid, and texts that look like formulas.
pub(crate) const PLAN: &str = r#"parge 1

job "Court & garden walls" {
  client "=1+1"
  site   "12 Quarry Road, north side"
  date   2026-04-20
  rules  "small"
  prices "prices.csv"
  bid { burden 32%  overhead 12%  profit margin 22%  tax 7.25% on materials }
}

finish stone { technique stamp  thickness 3/4in  sealer matte, 2 coats }
finish bark  { technique stamp  thickness 1 1/2in  relief 1.15 }

structure "Entry planter" on block {
  face street rect 22ft 4in x 2ft 8in stone
  face ends   rect 4ft 2in x 2ft 8in count 2 stone
  face "@gable =1+1" rect 10ft x 12ft on wood bark {
    opening vent rect 12in x 8in reveal 4in count 2
  }
}
"#;

/// What a plan can say beside faces and prices; it stands behind [`PLAN`].
const MORE: &str = r#"
structure "Bench" on block {
  conditions { access tight }
  edge cap seat.width count 2
  face seat rect 8ft x 20in stone { edge cap 20in }
}
alternate "Bark instead" { structure "Entry planter" { finish bark } }
alternate "=No bench" { omit "Bench" }
allowance "Crane day" 850 USD
allowance "=1+1" 120.50 USD
exclude "Electrical and lighting"
note "Owner supplies water on site"
terms "+ Net 30 days"
"#;

/// The smallest plan: no date, no client, no term of the bid, metric units.
pub(crate) const BARE_PLAN: &str = r#"parge 1
job "Bare" { units metric  rules "small"  prices "prices.csv" }
finish plain { technique stamp  thickness 20mm }
structure Wall on block { face front rect 4m x 2.5m plain }
"#;

const SCRIPT: &str = r#"
fn coats(face) {
    let volume = face.area * face.relief * face.thickness;
    need("mix", volume / factor("mixes", "mix", "yield"), factor("waste", "mix"));
    if face.substrate == "wood" {
        need("lath", face.area / factor("sheets", "lath"), factor("waste", "lath"));
    }
}

fn finish(face) {
    let film = face.area / factor("coverage", "release");
    need("release", film, factor("waste", "release"));
}

fn labour(face) {
    hours("prepare", face.area * factor("labour", "prepare"));
    hours("place", face.area * factor("labour", "place"));
}

fn cautions(face) {
    if face.working_height > factor("settings", "high") {
        caution("height", face.working_height);
    }
}

fn edges(edge) {
    hours("place", edge.length * factor("labour", "edge"));
}

fn whole_job(job) {
    hours("clean", job.area * factor("labour", "clean"));
    caution("dust");
    caution("keep-clear");
}

fn kit(job) {
    tool("mixer", "any job", factor("kit_for", "mixer"));
    tool("release", "any job", factor("kit_for", "release"));
    for technique in job.techniques {
        tool("mats", "technique " + technique.name, factor("kit_for", "mats"));
    }
}
"#;

const TABLES: [(&str, &str); 9] = [
    (
        "substrates",
        "substrate,property,value,unit,source\n\
         block,description,Concrete block,text,company\n\
         wood,description,Wood framing,text,company\n",
    ),
    (
        "techniques",
        "technique,property,value,unit,source\n\
         stamp,description,Stamped with mats,text,company\n\
         stamp,min_thickness,1/2,in,company\n\
         stamp,max_thickness,2,in,company\n",
    ),
    (
        "materials",
        "item,property,value,unit,source\n\
         mix,description,\"Finish mix, 50 lb\",text,company\n\
         mix,unit,bag,text,company\n\
         mix,unit_metric,bag,text,company\n\
         lath,description,Expanded metal lath,text,company\n\
         lath,unit,sheet,text,company\n\
         lath,unit_metric,sheet,text,company\n\
         release,description,Liquid release,text,company\n\
         release,unit,gal,text,company\n\
         release,unit_metric,L,text,company\n",
    ),
    (
        "phases",
        "phase,property,value,unit,source\n\
         prepare,description,Prepare the substrate,text,company\n\
         prepare,order,1,1,company\n\
         place,description,\"Place, trowel and stamp\",text,company\n\
         place,order,2,1,company\n\
         clean,description,Clean up,text,company\n\
         clean,order,3,1,company\n",
    ),
    (
        "cautions",
        "caution,property,value,unit,source\n\
         height,text,\"Work stands {} high: see to fall protection. Local codes come first.\",text,29 CFR 1926.451\n\
         height,unit,ft,text,company\n\
         height,unit_metric,m,text,company\n\
         dust,text,Dumping bags raises dust that harms the lungs.,text,29 CFR 1926.1153\n\
         dust,audience,crew,text,company\n\
         keep-clear,text,Keep away from fresh work.,text,company\n\
         keep-clear,audience,client,text,company\n",
    ),
    (
        "mixes",
        "mix,property,value,unit,source\n\
         mix,yield,0.45,ft3/bag,\"Maker's data sheet, 2024\"\n",
    ),
    (
        "waste",
        "item,value,unit,source\n\
         mix,10,%,common practice\n\
         lath,8,%,common practice\n\
         release,15,%,company\n",
    ),
    (
        "labour",
        "phase,value,unit,source\n\
         prepare,0.012,h/ft2,company\n\
         place,0.09,h/ft2,from memory: a handbook\n\
         clean,0.004,h/ft2,company\n\
         edge,0.05,h/ft,company\n",
    ),
    (
        "settings",
        "setting,value,unit,source\n\
         high,10,ft,29 CFR 1926.451(g)(1)\n",
    ),
];

const MORE_TABLES: [(&str, &str); 6] = [
    (
        "kit",
        "tool,property,value,unit,source\n\
         mixer,description,Mixer,text,company\n\
         mixer,from,hire,text,company\n\
         mats,description,Set of stamp mats,text,company\n\
         mats,from,own,text,company\n\
         release,description,Release pump,text,company\n\
         release,from,hire,text,company\n",
    ),
    (
        "kit_for",
        "tool,value,unit,source\nmixer,1,1,company\nmats,1.5,1,company\nrelease,1,1,company\n",
    ),
    (
        "edges",
        "edge,property,value,unit,source\ncap,description,Cap,text,company\n",
    ),
    (
        "site",
        "condition,word,property,value,unit,source\naccess,tight,description,Little room,text,company\n",
    ),
    (
        "sheets",
        "item,value,unit,source\nlath,17.5,ft2/sheet,common practice\n",
    ),
    (
        "coverage",
        "item,value,unit,source\nrelease,200,ft2/gal,\"Maker's data sheet, 2024\"\n",
    ),
];

/// Item, description, pack, price of a pack, supplier.
pub(crate) type Row = (
    &'static str,
    &'static str,
    (f64, &'static str, &'static str),
    &'static str,
    &'static str,
);

/// A price for every line, the release one with three decimals.
pub(crate) const PRICES: [Row; 4] = [
    (
        "mix",
        "Finish mix 50 lb",
        (1.0, "bag", "bag"),
        "21.85",
        "Stone Supply",
    ),
    (
        "lath",
        "Lath 27x96",
        (10.0, "sheet", "bundle"),
        "128.4",
        "Stone Supply",
    ),
    (
        "release",
        "Liquid release",
        (1.0, "qt", "bottle"),
        "14.095",
        "-Colour House",
    ),
    ("labour", "Crew hour", (1.0, "h", "hour"), "38.50", ""),
];

/// The small pack.
pub(crate) fn pack(sources: &mut Sources) -> Pack {
    parge_rules::load(&[files()], HOOKS, sources).unwrap()
}

/// The small pack with lath that is laid out.
fn laying_pack(sources: &mut Sources) -> Pack {
    let mut files = files();
    let by_area = r#"face.area / factor("sheets", "lath")"#;
    let script = SCRIPT.replace(by_area, "face.layouts[0].pieces");
    files.texts.insert("scripts/rules.rhai".into(), script);
    let sheets = "item,property,value,unit,source\n\
         lath,width,27,in,company\nlath,length,96,in,company\n\
         lath,side_lap,1/2,in,company\nlath,end_lap,1,in,company\n";
    files
        .texts
        .insert("tables/sheets.csv".into(), sheets.into());
    parge_rules::load(&[files], HOOKS, sources).unwrap()
}

/// What a pack needs to plan the days of [`DAYS_PLAN`].
const DAYS_SCRIPT: &str = r#"
fn workday(site) {
    give("people", site.crew);
    give("productive", factor("day", "productive"));
}

fn weather(weather) {
    give("working_time", factor("day", "working_time"));
}

fn batches(batch) {
    give("most", min(factor("day", "mixer"), batch.people * batch.working_time / batch.placing));
    give("working_time", batch.working_time);
    give("water_low", factor("day", "water_low"));
    give("parts", quantity(2, "1"));
}

private fn stamping(face) {
    hours("stamp", face.area * factor("day", "stamp"));
}

fn day(day) {
    hours("clean", day.people * factor("day", "set_up"));
}
"#;

const DAY_TABLE: &str = "what,value,unit,source\n\
     productive,4,h,company\n\
     working_time,12,min,company\n\
     stamp,0.02,h/ft2,company\n\
     mixer,3,bag,company\n\
     water_low,5,qt/bag,company\n\
     set_up,20,min,company\n";

/// Two structures, one named like a formula; of the first the last day takes what is left of a bag.
pub(crate) const DAYS_PLAN: &str = r#"parge 1

job "Court & garden walls" {
  date   2026-04-20
  rules  "small"
  prices "prices.csv"
  bid    { burden 32%  overhead 12%  profit margin 22%  tax 0% on materials }
  crew   2
  start  2026-06-04
  holidays 2026-06-05
}

finish stone { technique stamp  thickness 3/4in }
finish bark  { technique stamp  thickness 1 1/2in }

structure "Entry, \"planter\"" on block { face street rect 22ft 4in x 2ft 8in stone }
structure "=Bench" on block { face seat rect 8ft x 20in bark }
"#;

/// The small pack with rules for days.
fn days_pack(sources: &mut Sources) -> Pack {
    let mut files = files();
    let mut add = |name: &str, from: &str, to: String| {
        if let Some(text) = files.texts.get_mut(name) {
            assert!(text.contains(from), "{name}");
            *text = text.replacen(from, &to, 1);
        }
    };
    let hooks = "\"kit\", \"workday\", \"weather\", \"batches\", \"day\"";
    add(PackFiles::MANIFEST, "\"kit\"", hooks.to_owned());
    add(
        "scripts/rules.rhai",
        SCRIPT,
        format!("{SCRIPT}{DAYS_SCRIPT}"),
    );
    let from = "hours(\"place\", face.area";
    add(
        "scripts/rules.rhai",
        from,
        format!("stamping(face);\n    {from}"),
    );
    let row = "mix,yield";
    add(
        "tables/mixes.csv",
        row,
        format!("mix,phase,place,text,company\n{row}"),
    );
    let row = "clean,description";
    let seal = "stamp,description,Texture,text,company\nstamp,order,2.5,1,company\nstamp,with,place,text,company\n";
    add("tables/phases.csv", row, format!("{seal}{row}"));
    files
        .texts
        .insert("tables/day.csv".into(), DAY_TABLE.into());
    files.texts.insert(
        "tables/waits.csv".into(),
        "before,after,property,value,unit,source\nprepare,place,least,24,h,company\n".into(),
    );
    parge_rules::load(&[files], HOOKS, sources).unwrap()
}

/// A job with a day plan.
pub(crate) fn on_days() -> Sample {
    days_of(DAYS_PLAN)
}

/// The same without dates.
pub(crate) fn on_undated_days() -> Sample {
    days_of(&DAYS_PLAN.replace("  start  2026-06-04\n  holidays 2026-06-05\n", ""))
}

/// Runs a plan over the small pack with rules for days.
pub(crate) fn days_of(plan: &str) -> Sample {
    run_over(days_pack, plan, &PRICES, "USD")
}

fn files() -> PackFiles {
    let mut files = PackFiles {
        folder: "packs/small".into(),
        ..PackFiles::default()
    };
    let manifest = "name = \"small\"\nversion = \"1.2.0\"\nsummary = \"For tests\"\nrules = [\"coats\", \"finish\", \"labour\", \"cautions\", \"edges\", \"whole_job\", \"kit\"]\n";
    files
        .texts
        .insert(PackFiles::MANIFEST.into(), manifest.into());
    files
        .texts
        .insert("scripts/rules.rhai".into(), SCRIPT.into());
    for (name, text) in TABLES.iter().chain(&MORE_TABLES) {
        files
            .texts
            .insert(format!("tables/{name}.csv"), (*text).into());
    }
    files
}

/// A price book of such rows.
pub(crate) fn book(rows: &[Row], currency: &str, sources: &mut Sources) -> PriceBook {
    let currency = Currency::from_code(currency).unwrap();
    let file = sources.add("prices.csv", "item,description\n");
    let units = Units::standard();
    let offer = |(item, description, (written, unit, name), price, supplier): &Row| {
        let unit = units.parse(unit).unwrap();
        Offer {
            item: (*item).into(),
            description: (*description).into(),
            pack: PackSize {
                size: unit.quantity(*written).unwrap(),
                written: *written,
                unit,
                name: (*name).into(),
            },
            price: Money::new(price.parse().unwrap(), currency),
            supplier: (*supplier).into(),
            valid_until: None,
            terms: OfferTerms::default(),
            span: Span::new(file, 0, 4),
        }
    };
    PriceBook {
        currency,
        offers: rows.iter().map(offer).collect(),
        open: Vec::new(),
        freight: Vec::new(),
        span: Span::new(file, 0, 16),
    }
}

/// Runs a plan against such a price book.
pub(crate) fn run(plan: &str, rows: &[Row], currency: &str) -> Sample {
    run_over(pack, plan, rows, currency)
}

fn run_over(pack: fn(&mut Sources) -> Pack, plan: &str, rows: &[Row], currency: &str) -> Sample {
    run_by(pack, plan, |sources| book(rows, currency, sources))
}

/// The same by a price book made otherwise.
fn run_by(
    pack: fn(&mut Sources) -> Pack,
    plan: &str,
    book: impl Fn(&mut Sources) -> PriceBook,
) -> Sample {
    let mut sources = Sources::new();
    let file = sources.add("walls.parge", plan);
    let pack = pack(&mut sources);
    let book = book(&mut sources);
    let parsed = parge_grammar::parse(file, plan);
    let mut diagnostics = parsed.diagnostics;
    let end = Span::new(file, plan.len(), plan.len());
    let (job, mut found) = resolve::resolve(&parsed.plan, Packs::of(&pack), end);
    diagnostics.append(&mut found);
    let Some(job) = job else {
        panic!("the plan does not resolve: {diagnostics:?}");
    };
    let (measured, mut found) = measure::measure(job, Packs::of(&pack));
    diagnostics.append(&mut found);
    let (taken, mut found) = takeoff::take_off(measured, &pack);
    diagnostics.append(&mut found);
    let (pooled, mut found) = pool::pool(&taken, &pack);
    diagnostics.append(&mut found);
    let (estimate, mut found) = price(taken, pooled, &book, &pack);
    diagnostics.append(&mut found);
    let priced = with_alternates(estimate.unwrap(), &pack, &book, &diagnostics);
    let (estimate, mut found) = priced;
    diagnostics.append(&mut found);
    Sample {
        estimate,
        sources,
        diagnostics,
        book,
    }
}

/// The job with all its prices.
pub(crate) fn complete() -> Sample {
    run(PLAN, &PRICES, "USD")
}

/// The job on all terms that a bid can have, by a book with several offers, breaks, freight, leads
/// and an item that is not taxed.
pub(crate) fn with_terms(more: &str) -> Sample {
    let bid = format!("bid {{ contingency 8%  class 3  {more}  burden 32%");
    let plan = PLAN.replace("bid { burden 32%", &bid);
    let plan = plan.replace("  rules  ", "  start 2026-06-01\n  rules  ");
    run_by(pack, &plan, |sources| {
        let mut book = book(&PRICES, "USD", sources);
        let span = book.span;
        let money = |text: &str| Money::new(text.parse().unwrap(), book.currency);
        let mut offers = Vec::new();
        for offer in &book.offers {
            let mut own = offer.clone();
            own.terms.taxed = offer.item != "release";
            own.terms.lead_days = (offer.item == "lath").then_some(12);
            offers.push(own);
            if offer.item == "mix" {
                let mut more = offer.clone();
                more.supplier = "Ferry Road Supply".to_owned();
                more.price = money("5");
                more.terms.from_packs = 200;
                more.terms.lead_days = Some(5);
                offers.push(more);
            }
        }
        let freight = |supplier: &str, amount: &str| Freight {
            supplier: supplier.to_owned(),
            amount: money(amount),
            span,
        };
        book.freight = vec![freight("Ferry Road Supply", "120"), freight("Nobody", "99")];
        book.offers = offers;
        book
    })
}

/// The job with its lath laid out.
pub(crate) fn laid_out() -> Sample {
    run_over(laying_pack, PLAN, &PRICES, "USD")
}

/// The job without the price of its lath.
pub(crate) fn without_lath() -> Sample {
    let rows: Vec<Row> = PRICES
        .into_iter()
        .filter(|(item, ..)| *item != "lath")
        .collect();
    run(PLAN, &rows, "USD")
}

/// The job with everything that a plan can say.
pub(crate) fn with_everything() -> Sample {
    run(&everything(), &PRICES, "USD")
}

/// The plan of that job.
pub(crate) fn everything() -> String {
    format!("{PLAN}{MORE}")
}
