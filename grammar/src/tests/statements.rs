//! Statements and their parts.

use super::{SAMPLE, good, read, told};
use crate::ast::{
    AlternateChange, BidTerm, FaceDetail, FinishSetting, JobSetting, OpeningDetail, Statement,
};

#[test]
fn the_sample_reads_without_a_word() {
    let plan = good(SAMPLE);
    assert_eq!(plan.version.as_ref().map(|version| version.node), Some(1));
    let [
        Statement::Job(job),
        lets @ ..,
        Statement::Structure(planter),
        Statement::Structure(trunk),
        Statement::Alternate(carved),
        Statement::Allowance(crane),
        Statement::Exclude(lighting),
        Statement::Note(water),
    ] = plan.statements.as_slice()
    else {
        panic!("{plan:?}");
    };
    assert_eq!(lets.len(), 4);
    assert_eq!(job.name.node, "Heron Point nature centre");
    assert_eq!(job.settings.len(), 9);
    assert_eq!(
        planter.substrate.as_ref().map(|name| name.node.as_str()),
        Some("block")
    );
    assert_eq!(planter.body.faces.len(), 4);
    let gable = &planter.body.faces[3];
    assert_eq!(gable.openings.len(), 2);
    assert!(matches!(&gable.details[0].node, FaceDetail::Substrate(name) if name.node == "wood"));
    assert!(matches!(&gable.details[1].node, FaceDetail::Finish(name) if name.node == "drystone"));
    let [vent, niche] = gable.openings.as_slice() else {
        panic!("{gable:?}");
    };
    assert!(matches!(vent.details[0].node, OpeningDetail::Reveal(..)));
    assert!(matches!(vent.details[1].node, OpeningDetail::Count(_)));
    assert!(matches!(&niche.details[1].node, OpeningDetail::Finish(name) if name.node == "bark"));
    assert_eq!(trunk.body.faces[0].details.len(), 3);
    assert_eq!(carved.name.node, "Carve the planter instead");
    assert!(matches!(carved.changes.as_slice(),
        [AlternateChange::Finish { structure, finish }]
            if structure.node == "Entry planter" && finish.node == "bark"));
    let amount = crane.amount.node;
    assert_eq!(
        (crane.name.node.as_str(), amount.to_text().as_str()),
        ("Crane day", "850.00")
    );
    assert_eq!(amount.currency().code(), "USD");
    assert_eq!(lighting.node, "Electrical and lighting");
    assert_eq!(water.node, "Owner supplies water on site");
}

#[test]
fn the_plans_of_the_reference_read_without_a_word() {
    let reference = include_str!("../../REFERENCE.md");
    let plans = reference.split("\n```parge\n").skip(1);
    let mut count = 0;
    for plan in plans.filter_map(|rest| rest.split("\n```").next()) {
        good(plan);
        count += 1;
    }
    assert!(count >= 3, "only {count} plans were found");
}

#[test]
fn templates_say_what_was_written() {
    let plan = good(
        "parge 1\ntemplate bay(width, high) on block { face front rect width x high }\n\
         template plinth on block { height 2ft }\n\
         template \"Long wall\" (w) {}\n\
         structure \"North\" from bay(12ft, a + 8ft) on wood { face back rect 2ft }\n\
         structure South from plinth\n\
         structure East from \"Long wall\"(\n 3ft\n)\n\
         structure West from plinth() {}",
    );
    let mut templates = Vec::new();
    let mut uses = Vec::new();
    for statement in &plan.statements {
        match statement {
            Statement::Template(template) => templates.push(template),
            Statement::Structure(structure) => uses.push(structure),
            other => panic!("{other:?}"),
        }
    }
    let parameters = |at: usize| {
        let names = templates[at].parameters.iter();
        names.map(|name| name.node.as_str()).collect::<Vec<_>>()
    };
    assert_eq!(parameters(0), ["width", "high"]);
    assert_eq!(parameters(1), [""; 0]);
    assert_eq!(
        (templates[2].name.node.as_str(), parameters(2)),
        ("Long wall", vec!["w"])
    );
    assert!(templates[2].substrate.is_none());
    assert_eq!(templates[0].body.faces.len(), 1);
    let from = |at: usize| {
        let from = uses[at].from.as_ref().unwrap();
        (from.template.node.as_str(), from.values.len())
    };
    assert_eq!(
        [from(0), from(1), from(2), from(3)],
        [("bay", 2), ("plinth", 0), ("Long wall", 1), ("plinth", 0)]
    );
    assert_eq!(uses[0].body.faces.len(), 1);
    assert!(uses[0].substrate.is_some() && uses[1].substrate.is_none());
}

#[test]
fn bids_say_what_was_written() {
    let plan = good(
        "parge 1\ninclude \"company/finishes.parge\"\n\
         alternate \"Less\" {\n  structure a { finish \"dry stone\" }  omit \"Grotto\"\n  omit b structure c {\n\
         finish d } omit e }\n\
         alternate \"Nothing\" {}\n\
         allowance \"Crane\" 1 250.50 USD\nallowance \"Permit\" 80EUR # once\n\
         terms \"Half on signing\"\nnote \"a {\"",
    );
    let [
        Statement::Include(path),
        Statement::Alternate(less),
        Statement::Alternate(nothing),
        Statement::Allowance(crane),
        Statement::Allowance(permit),
        Statement::Terms(terms),
        Statement::Note(note),
    ] = plan.statements.as_slice()
    else {
        panic!("{plan:?}");
    };
    assert_eq!(path.node, "company/finishes.parge");
    let changes = less.changes.iter().map(|change| match change {
        AlternateChange::Finish { structure, finish } => {
            format!("{} = {}", structure.node, finish.node)
        }
        AlternateChange::Omit(structure) => format!("- {}", structure.node),
    });
    let changes: Vec<_> = changes.collect();
    assert_eq!(
        changes,
        ["a = dry stone", "- Grotto", "- b", "c = d", "- e"]
    );
    assert_eq!(nothing.changes, []);
    assert_eq!(crane.amount.node.to_text(), "1250.50");
    assert_eq!(permit.amount.node.currency().code(), "EUR");
    assert_eq!(
        (terms.node.as_str(), note.node.as_str()),
        ("Half on signing", "a {")
    );
}

#[test]
fn a_damaged_statement_keeps_its_word_and_name() {
    let text = "parge 1\ntemplate bay(12ft) {}\nstructure \"North bay\" from bay(3 ft)\n\
        alternate \"Less\" { omit 3 }\nallowance \"Crane day\" 850\ninclude finishes\n";
    let damaged: Vec<_> = read(text)
        .plan
        .damaged
        .into_iter()
        .map(|damaged| format!("{} {}", damaged.word, damaged.name))
        .collect();
    assert_eq!(
        damaged,
        [
            "template bay",
            "structure North bay",
            "alternate Less",
            "allowance Crane day",
            "include finishes"
        ]
    );
}

/// The settings of the job of a plan without fault.
fn settings(members: &str) -> Vec<JobSetting> {
    let plan = good(&format!("parge 1\njob \"a\" {{ {members} }}"));
    let Some(Statement::Job(job)) = plan.statements.into_iter().next() else {
        panic!("no job");
    };
    job.settings
        .into_iter()
        .map(|setting| setting.node)
        .collect()
}

#[test]
fn the_days_of_work_say_what_was_written() {
    let settings = settings(
        "start 2026-06-01 workdays mon tue sat hours 8h travel 45min\n\
         holidays 2026-07-03,\n 2026-07-06 weather_days 2026-06-10\nforecast \"w.csv\"",
    );
    let [
        JobSetting::Start(start),
        JobSetting::Workdays(weekdays),
        JobSetting::Hours(_),
        JobSetting::Travel(_),
        JobSetting::Holidays(holidays),
        JobSetting::WeatherDays(lost),
        JobSetting::Forecast(file),
    ] = settings.as_slice()
    else {
        panic!("{settings:?}");
    };
    let days = |days: &[parge_base::Spanned<jiff::civil::Date>]| {
        days.iter()
            .map(|day| day.node.to_string())
            .collect::<Vec<_>>()
    };
    assert_eq!(start.node.to_string(), "2026-06-01");
    let weekdays: Vec<_> = weekdays.iter().map(|day| day.node.as_str()).collect();
    assert_eq!(weekdays, ["mon", "tue", "sat"]);
    assert_eq!(days(holidays), ["2026-07-03", "2026-07-06"]);
    assert_eq!(days(lost), ["2026-06-10"]);
    assert_eq!(file.node, "w.csv");
}

#[test]
fn a_bid_holds_until_a_day_or_for_days() {
    let settings = settings("valid_until 2026-08-01 valid 60 days units us valid 1 day");
    let [
        JobSetting::ValidUntil(until),
        JobSetting::Valid(_),
        JobSetting::Units(_),
        JobSetting::Valid(_),
    ] = settings.as_slice()
    else {
        panic!("{settings:?}");
    };
    assert_eq!(until.node.to_string(), "2026-08-01");
}

#[test]
fn a_crew_is_a_number_or_its_wage_classes_or_both() {
    let crew = |text: &str| match settings(text).as_slice() {
        [JobSetting::Crew(crew)] => {
            let classes = crew.classes.iter().map(|(name, _)| name.node.clone());
            (crew.people.is_some(), classes.collect::<Vec<_>>())
        }
        other => panic!("{other:?}"),
    };
    assert_eq!(crew("crew 3"), (true, vec![]));
    let classes = vec!["lead".to_owned(), "young hand".to_owned()];
    assert_eq!(
        crew("crew { lead 1  \"young hand\" 2 }"),
        (false, classes.clone())
    );
    assert_eq!(
        crew("crew 3 {\n lead 1\n \"young hand\" 2\n}"),
        (true, classes)
    );
}

#[test]
fn weather_is_of_all_days_or_of_one() {
    let settings = settings("weather { air 84F }\nweather 2026-06-03 { air 97F mix 88F }");
    let [JobSetting::Weather(all), JobSetting::Weather(one)] = settings.as_slice() else {
        panic!("{settings:?}");
    };
    assert_eq!((all.day.is_none(), all.readings.len()), (true, 1));
    let day = one.day.as_ref().map(|day| day.node.to_string());
    assert_eq!(
        (day.as_deref(), one.readings.len()),
        (Some("2026-06-03"), 2)
    );
}

#[test]
fn settings_say_what_was_written() {
    let plan = good(SAMPLE);
    let Some(Statement::Job(job)) = plan.statements.first() else {
        panic!("no job");
    };
    let settings: Vec<_> = job.settings.iter().map(|setting| &setting.node).collect();
    assert!(matches!(settings[2], JobSetting::Date(day) if day.node.to_string() == "2026-04-20"));
    let JobSetting::Weather(weather) = settings[8] else {
        panic!("no weather");
    };
    assert_eq!(weather.day, None);
    let readings = weather.readings.iter();
    let readings: Vec<_> = readings.map(|(name, _)| name.node.as_str()).collect();
    assert_eq!(readings, ["air", "humidity", "wind", "mix"]);
    let plan = good(
        "parge 1\njob \"a\" { conditions { access tight  place \"in the wet\" } crew 2 bid {\n\
         burden 32% overhead 12%\nprofit markup 25%\ntax 7.25% on materials } }",
    );
    let Some(Statement::Job(job)) = plan.statements.first() else {
        panic!("no job");
    };
    let settings: Vec<_> = job.settings.iter().map(|setting| &setting.node).collect();
    let [
        JobSetting::Conditions(conditions),
        JobSetting::Crew(_),
        JobSetting::Bid(terms),
    ] = settings.as_slice()
    else {
        panic!("{settings:?}");
    };
    let conditions: Vec<_> = conditions
        .iter()
        .map(|(kind, word)| (kind.node.as_str(), word.node.as_str()))
        .collect();
    assert_eq!(conditions, [("access", "tight"), ("place", "in the wet")]);
    assert!(matches!(&terms[2].node, BidTerm::Profit(kind, _) if kind.node == "markup"));
    assert!(matches!(&terms[3].node, BidTerm::Tax(_, base) if base.node == "materials"));
}

#[test]
fn terms_of_the_bid_say_what_was_written() {
    let plan = good(
        "parge 1\njob \"a\" { bid { contingency 8% class 3 minimum 2 150 USD round up to 10 USD\n\
         tax 7% on total } }\njob \"b\" { bid { round to 0.05USD  minimum 12 EUR } }",
    );
    let terms = |at: usize| match plan.statements.get(at) {
        Some(Statement::Job(job)) => match &job.settings[0].node {
            JobSetting::Bid(terms) => terms.iter().map(|term| term.node.clone()).collect(),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    };
    let first: Vec<BidTerm> = terms(0);
    assert!(matches!(first[0], BidTerm::Contingency(_)) && matches!(first[1], BidTerm::Class(_)));
    let amount = |term: &BidTerm| match term {
        BidTerm::Minimum(least) => (false, least.node.to_text()),
        BidTerm::Round(to) => (to.up, to.multiple.node.to_text()),
        other => panic!("{other:?}"),
    };
    assert_eq!(amount(&first[2]), (false, "2150.00".to_owned()));
    assert_eq!(amount(&first[3]), (true, "10.00".to_owned()));
    assert!(matches!(&first[4], BidTerm::Tax(_, base) if base.node == "total"));
    let second: Vec<BidTerm> = terms(1);
    assert_eq!(amount(&second[0]), (false, "0.05".to_owned()));
    assert_eq!(amount(&second[1]), (false, "12.00".to_owned()));
}

#[test]
fn finishes_say_what_was_written() {
    let text = "parge 1\nfinish \"dry stone\" { colors granite 60%,\n \"moss green\" 40%\n sealer matte, 1 coat }\nfinish b { sealer gloss }";
    let plan = good(text);
    let [Statement::Finish(first), Statement::Finish(second)] = plan.statements.as_slice() else {
        panic!("{plan:?}");
    };
    assert_eq!(first.name.node, "dry stone");
    assert!(
        matches!(&first.settings[0].node, FinishSetting::Colours(colours)
        if colours.len() == 2 && colours[1].0.node == "moss green")
    );
    assert!(matches!(
        &first.settings[1].node,
        FinishSetting::Sealer(_, Some(_))
    ));
    assert!(matches!(
        &second.settings[0].node,
        FinishSetting::Sealer(_, None)
    ));
}

#[test]
fn spans_point_at_the_words() {
    let at = |span: parge_base::Span| SAMPLE.get(span.range()).unwrap();
    let plan = good(SAMPLE);
    let Some(Statement::Structure(planter)) = plan.statements.get(5) else {
        panic!("no structure");
    };
    let (ends, gable) = (&planter.body.faces[1], &planter.body.faces[3]);
    assert_eq!(at(planter.name.span), "\"Entry planter\"");
    assert_eq!(
        at(ends.span),
        "face ends    rect 4ft 2in x planter_h   count 2      drystone"
    );
    assert_eq!(at(ends.shape.span), "rect 4ft 2in x planter_h");
    assert_eq!(at(ends.details[0].span), "count 2");
    assert_eq!(at(gable.openings[0].shape.span), "rect 12in x 8in");
    assert_eq!(at(gable.details[0].span), "on wood");
}

#[test]
fn names_may_hold_any_text_in_quotes_and_letters_of_any_script_without() {
    let plan = good(
        "parge 1\nlet höhe_ü2 = 3m\nstructure \"a \\\"b\\\" \\\\ {#} ( 日本\" { face 正面 rect 1m x höhe_ü2 \"x\" }",
    );
    let Some(Statement::Structure(structure)) = plan.statements.get(1) else {
        panic!("{plan:?}");
    };
    assert_eq!(structure.name.node, "a \"b\" \\ {#} ( 日本");
    assert_eq!(structure.body.faces[0].name.node, "正面");
}

#[test]
fn units_are_no_reserved_words() {
    good("parge 1\nlet h = 3ft\nlet t = h\nlet in = 2in\nstructure s { face m rect in x h * 2 h }");
}

#[test]
fn layout_is_free_where_nothing_is_lost() {
    let lines = "parge 1\r\nlet a =\r\n\r\n  3ft + # more\r\n  2ft\r\nstructure \"s\"\r\n{\r\nface a rect a x a\r\n}\r\n";
    good(lines);
    good("\u{FEFF}parge 1 # first\nlet a = 3ft");
    good("# note\n\nparge 1\njob \"a\" {}\nfinish b {}\nstructure \"c\" {}");
    // Without any indent nothing is taken for a new statement while braces are in balance.
    good("parge 1\nstructure \"s\" {\nfinish bark\nface a rect 1ft x 1ft\n}");
}

#[test]
fn equality_ignores_places() {
    let loose = "parge 1\n\n\nlet   a = 2ft   8in # so\n";
    assert_eq!(read("parge 1\nlet a = 2ft 8in").plan, read(loose).plan);
}

#[test]
fn many_statements_keep_their_order() {
    let mut text = String::from("parge 1\n");
    for number in 0..10_000 {
        text += &format!("let a{number} = {number}ft\n");
    }
    let plan = good(&text);
    for (number, statement) in plan.statements.iter().enumerate() {
        assert!(
            matches!(statement, Statement::Let(found) if found.name.node == format!("a{number}"))
        );
    }
    let broken = text.replace("9ft", "9 ft");
    assert_eq!(told(&broken), told(&broken));
}

#[test]
fn faces_and_openings_name_the_cell_that_they_come_from() {
    let plan = good(
        "parge 1\nstructure s { face a rect 3ft x 2ft count 2 from \"Rooms!A7\" {\n\
         opening b rect 1ft x 1ft from \"Rooms!A8\" reveal 2in\n} }\n",
    );
    let Some(Statement::Structure(structure)) = plan.statements.first() else {
        panic!("{plan:?}");
    };
    let face = &structure.body.faces[0];
    assert!(matches!(&face.details[1].node, FaceDetail::From(cell) if cell.node == "Rooms!A7"));
    let opening = &face.openings[0].details[0].node;
    assert!(matches!(opening, OpeningDetail::From(cell) if cell.node == "Rooms!A8"));
}
