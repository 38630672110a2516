use super::*;
use jiff::civil::date;
use parge_base::actuals::{ItemLine, PhaseLine, Scope, StructureLine};
use parge_base::prices::PackSize;
use parge_base::{Currency, Unit, Units};
use proptest::prelude::*;
use rust_xlsxwriter::Workbook;

fn unit(text: &str) -> Unit {
    Units::standard().parse(text).unwrap()
}

fn pack(written: f64, of: &str, name: &str) -> PackSize {
    let unit = unit(of);
    PackSize {
        size: unit.quantity(written).unwrap(),
        written,
        unit,
        name: name.to_owned(),
    }
}

/// What the records of these tests can fill in.
fn lines() -> Lines {
    let item = |item: &str, description: &str, of: &str, pack| ItemLine {
        item: item.to_owned(),
        description: description.to_owned(),
        unit: unit(of),
        pack: Some(pack),
    };
    let phase = |phase: &str, description: &str| PhaseLine {
        phase: phase.to_owned(),
        description: description.to_owned(),
        structures: vec!["Grotto".to_owned(), "Bay 2".to_owned()],
        of_job: true,
    };
    let structure = |name: &str, face: &str| StructureLine {
        name: name.to_owned(),
        faces: vec![face.to_owned()],
    };
    Lines {
        job: "Marsh".to_owned(),
        currency: Currency::from_code("USD").unwrap(),
        units: Units::standard(),
        items: vec![
            item("finish-mix", "Finish mix", "bag", pack(1.0, "bag", "bag")),
            item(
                "sealer/matte",
                "Sealer, matte",
                "gal",
                pack(5.0, "gal", "pail"),
            ),
        ],
        phases: vec![
            phase("place", "Place the finish coat"),
            phase("set-up", "Set up"),
        ],
        structures: vec![structure("Grotto", "back"), structure("Bay 2", "front")],
    }
}

fn text(record: &str) -> (Option<Actuals>, Vec<String>) {
    let mut sources = Sources::new();
    let file = sources.add("actuals.txt", record);
    let (actuals, said) = actuals_of_text(&sources, file, &lines());
    (actuals, shown(&said, &sources))
}

fn csv(record: &str) -> (Option<Actuals>, Vec<String>) {
    let mut sources = Sources::new();
    let file = sources.add("actuals.csv", record);
    let (actuals, said) = actuals_of_csv(&sources, file, &lines());
    (actuals, shown(&said, &sources))
}

fn shown(said: &[Diagnostic], sources: &Sources) -> Vec<String> {
    let line = |said: &Diagnostic| {
        let at = said.span().map_or("", |span| sources.slice(span));
        let place = said.labels.first().map_or("", |label| &label.text);
        format!(
            "{} at `{at}` {place}: {} | {}",
            said.code.id(),
            said.message,
            said.help
        )
    };
    said.iter().map(line).collect()
}

#[track_caller]
fn good(record: &str) -> Actuals {
    let (actuals, said) = text(record);
    assert_eq!(said, Vec::<String>::new(), "{record}");
    actuals.unwrap()
}

const RECORD: &str = r#"# by hand
job "Marsh"
priced plan aa rules bb prices cc
rules our-rules 1.0 on vertical-concrete 0.2.0
day 2026-06-01 to 2026-06-12
days 8 1/2

FINISH MIX:  64 + 40 bags at 25.10 USD   # both loads
sealer/matte ..... 2 pails at 210
sand 3 bags
hours place "Grotto" 36h at 41 USD
hours Place the finish coat bay 2  ___ h
hours place "Bay 2" 90 min
hours set up job 3 h
area Grotto/back 104 sq ft
weather 2026-06-03: rain #1 of the year
remark two bags burst
remark ___
"#;

#[test]
fn a_record_by_hand() {
    let record = good(RECORD);
    assert_eq!(record.job.unwrap().0, "Marsh");
    let prints = record.priced;
    let prints = [prints.plan, prints.rules, prints.prices].map(|print| print.unwrap().0);
    assert_eq!(prints, ["aa", "bb", "cc"]);
    assert_eq!(record.packs[0].version, "1.0 on vertical-concrete 0.2.0");
    assert_eq!(record.first_day, Some(date(2026, 6, 1)));
    assert_eq!(record.last_day, Some(date(2026, 6, 12)));
    assert_eq!(record.days, Some(8.5));
    let materials = record.materials.iter().map(|used| {
        let paid = used.paid.as_ref().map(|paid| paid.price.to_text());
        (
            used.item.as_str(),
            used.unit.show(used.amount).unwrap(),
            paid,
        )
    });
    let wanted = [
        ("finish-mix", 104.0, Some("25.10".to_owned())),
        ("sealer/matte", 10.0, Some("210.00".to_owned())),
        ("sand", 3.0, None),
    ];
    assert_eq!(materials.collect::<Vec<_>>(), wanted);
    let hours = record.hours.iter().map(|worked| {
        (
            worked.phase.as_str(),
            worked.scope.clone(),
            worked.time.value / 3600.0,
        )
    });
    let at = |name: &str| Scope::Structure(name.to_owned());
    let wanted = [
        ("place", at("Grotto"), 36.0),
        ("place", at("Bay 2"), 1.5),
        ("set-up", Scope::Job, 3.0),
    ];
    assert_eq!(hours.collect::<Vec<_>>(), wanted);
    assert_eq!(record.hours[0].wage.unwrap().to_text(), "41.00");
    let area = &record.areas[0];
    assert_eq!(
        (area.structure.as_str(), area.face.as_deref()),
        ("Grotto", Some("back"))
    );
    assert_eq!(unit("ft2").show(area.area).map(f64::round), Some(104.0));
    assert_eq!(record.weather[0].day, Some(date(2026, 6, 3)));
    assert_eq!(record.weather[0].text, "rain #1 of the year");
    assert_eq!(record.remarks.len(), 1);
}

/// The same as a table says the same, but for its places.
#[test]
fn a_table_says_what_the_text_says() {
    let table = "what,name,where,amount,unit,price,currency,note
job,Marsh,,,,,,
priced plan,aa,,,,,,
material,finish-mix,,64 + 40,bag,25.10,USD,Finish mix
material,sealer/matte,,2 pails,,210,,
material,lath,,,sheet,,USD,left blank
hours,place,Grotto,36,h,41,USD,
hours,set-up,job,3,h,,,
area,back,Grotto,104,ft2,,,
first day,2026-06-01,,,,,,
last day,2026-06-12,,,,,,
days,,,8.5,,,,
weather,2026-06-03,,,,,,rain
remark,,,,,,,two bags burst
";
    let (by_table, said) = csv(table);
    assert_eq!(said, Vec::<String>::new());
    let by_text = good(
        "job Marsh\npriced plan aa\nfinish-mix 64 + 40 bag at 25.10 USD\nsealer/matte 2 pails at 210\n\
         hours place Grotto 36 h at 41 USD\nhours set-up job 3 h\narea Grotto/back 104 ft2\n\
         day 2026-06-01 to 2026-06-12\ndays 8.5\nweather 2026-06-03 rain\nremark two bags burst\n",
    );
    assert_eq!(values(&by_table.unwrap()), values(&by_text));
}

/// A record without its places, as a text.
fn values(of: &Actuals) -> String {
    let places = |text: String| {
        let parts = text
            .split("place: Written {")
            .map(|part| match part.split_once('}') {
                Some((_, rest)) => rest
                    .split_once('}')
                    .map_or(rest, |(_, rest)| rest)
                    .to_owned(),
                None => part.to_owned(),
            });
        parts.collect::<Vec<_>>().join("")
    };
    let print = of.priced.plan.as_ref().map(|(text, _)| text);
    let materials = of
        .materials
        .iter()
        .map(|used| (&used.item, used.amount, &used.paid));
    let hours = of
        .hours
        .iter()
        .map(|worked| (&worked.phase, &worked.scope, worked.time, worked.wage));
    let areas = of
        .areas
        .iter()
        .map(|area| (&area.structure, &area.face, area.area));
    let remarks = of
        .weather
        .iter()
        .chain(&of.remarks)
        .map(|one| (one.day, &one.text));
    let days = (of.first_day, of.last_day, of.days);
    let job = of.job.as_ref().map(|(job, _)| job);
    places(format!(
        "{job:?} {print:?} {days:?} {:?} {:?} {:?} {:?}",
        materials.collect::<Vec<_>>(),
        hours.collect::<Vec<_>>(),
        areas.collect::<Vec<_>>(),
        remarks.collect::<Vec<_>>()
    ))
}

fn book(write: impl FnOnce(&mut rust_xlsxwriter::Worksheet)) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Actuals").unwrap();
    write(sheet);
    book.save_to_buffer().unwrap()
}

fn header(sheet: &mut rust_xlsxwriter::Worksheet, row: u32) {
    for (column, name) in ["What", "Name", "Where", "Amount", "Unit", "Price"]
        .iter()
        .enumerate()
    {
        sheet.write(row, column as u16, *name).unwrap();
    }
}

#[test]
fn a_workbook_says_the_same_and_names_its_cells() {
    let mut sources = Sources::new();
    let bytes = book(|sheet| {
        sheet.write(0, 0, "Actuals of the marsh").unwrap();
        header(sheet, 2);
        for (column, text) in ["material", "finish-mix", "", "", "bag"].iter().enumerate() {
            sheet.write(3, column as u16, *text).unwrap();
        }
        sheet.write(3, 3, 104.0).unwrap();
        sheet.write(3, 5, 25.1).unwrap();
    });
    let (record, said) = actuals_of_workbook(&mut sources, "actuals.xlsx", &bytes, &lines());
    assert_eq!(shown(&said, &sources), Vec::<String>::new());
    let used = &record.unwrap().materials[0];
    assert_eq!(
        (used.item.as_str(), used.amount.value),
        ("finish-mix", 104.0)
    );
    assert_eq!(used.paid.as_ref().unwrap().price.to_price_text(), "25.10");

    let struck = rust_xlsxwriter::Format::new().set_font_strikethrough();
    let bytes = book(|sheet| {
        header(sheet, 0);
        for row in [1, 2, 3] {
            sheet.write(row, 0, "material").unwrap();
            sheet.write(row, 1, "finish-mix").unwrap();
        }
        sheet.write_with_format(1, 3, 104.0, &struck).unwrap();
        sheet.write(2, 3, -4.0).unwrap();
        sheet.write(2, 4, "bag").unwrap();
        sheet.write(3, 3, 4.0).unwrap();
        sheet.write(4, 7, "stray").unwrap();
    });
    let (record, said) = actuals_of_workbook(&mut sources, "actuals.xlsx", &bytes, &lines());
    assert!(record.is_none());
    insta::assert_snapshot!(shown(&said, &sources).join("\n"));
}

#[test]
fn mistakes_are_told_in_one_run() {
    let record = r#"job "Marsh"
job "Marsh"
day 2026-06-12 to 2026-06-01
days -2
priced plan
finish-mix 104
finish-mix -4 bags
sealer 2 gal
sealer/matte 3 lb
sealer/matte 2 tubs
sealer/matte 1,250 gal
Finish mix 10 bags
finish-mix 4 bags at 25 EUR
finish-mix bags
104 bags
hours place 8
hours place 8 h
hours place "Grotto" 3 h
hours 8 h
area "Grotto" 3 ft
area Grotto 3 ft2
area Grotto/back 3 ft2
area Grotto/back 3 ft2 at 3
remark fine
weather 2026-06-03 fine
hours "place 3 h
finish-mix 4 bags + 2 gal
sand 2 xyz
sealer/matte 1 pail + 2 gal at 40 USD
"#;
    let (actuals, said) = text(record);
    assert!(actuals.is_none());
    insta::assert_snapshot!(said.join("\n"));
}

#[test]
fn mistakes_of_a_table_are_told_in_one_run() {
    let rows = "what,name,amount,unit,note
materiel,finish-mix,3,bag,
,finish-mix,3,bag,
material,,3,bag,
hours,,3,h,
area,back,3,ft2,
rules,our-rules,,,
first day,June 1,,,
material,finish-mix,3,bog,
";
    insta::assert_snapshot!(csv(rows).1.join("\n"));
    for wrong in [
        "item,amount\n",
        "what,name,howmuch\n",
        "what;name;amount\n",
        "what,name,what\n",
    ] {
        assert_eq!(csv(wrong).1.len(), 1, "{wrong}");
    }
}

#[test]
fn a_blank_form_states_nothing() {
    let (actuals, said) =
        text("job Marsh\nday ____-__-__ to ____-__-__\ndays ___\nfinish-mix ___ bag\n");
    assert!(actuals.is_none());
    assert!(said[0].contains("states nothing that was used"), "{said:?}");
}

proptest! {
    /// Any text is read without a panic, and places lie in it.
    #[test]
    fn noise_is_read(noise in "(hours|area|day|finish-mix|\"|#|at|to|[0-9_. ½é,+-]|\n){0,40}") {
        let _ = text(&noise);
        let _ = csv(&format!("what,name,amount\n{noise}"));
    }

    /// An amount of whole bags is that many bags however it is added up.
    #[test]
    fn sums_are_sums(parts in proptest::collection::vec(0_u32..500, 1..6)) {
        let sum: u32 = parts.iter().sum();
        let parts: Vec<String> = parts.iter().map(u32::to_string).collect();
        let record = good(&format!("finish-mix {} bags", parts.join(" + ")));
        prop_assert_eq!(record.materials[0].amount.value, f64::from(sum));
    }
}
