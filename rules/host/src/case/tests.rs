use super::*;

fn read(text: &str) -> (Vec<Case>, Vec<String>) {
    let mut sources = Sources::new();
    let file = sources.add("tests/a.toml", text);
    let (cases, wrong) = cases(&sources, file, &Units::standard());
    let told = wrong.iter().map(|one| {
        let place = one.span().map(|span| sources.slice(span).to_owned());
        format!("{} | {}", place.unwrap_or_default(), one.message)
    });
    (cases, told.collect())
}

#[test]
fn a_case_with_its_figures() {
    let (cases, wrong) = read(
        "[[case]]\nname = \"a wall\"\nplan = '''\nx\n'''\ncautions = [\"silica\"]\n\n[case.needs]\nfinish-mix = \"13.89 bag\"\n\"colour/moss\" = \"1 gal\"\n",
    );
    assert!(wrong.is_empty(), "{wrong:?}");
    let Asked::Plan { plan, needs, .. } = &cases[0].asked else {
        panic!("{cases:?}");
    };
    assert_eq!(plan.node, "x\n");
    let figures: Vec<_> = needs
        .iter()
        .map(|one| (one.name.node.as_str(), one.value, one.decimals))
        .collect();
    assert_eq!(figures, [("colour/moss", 1.0, 0), ("finish-mix", 13.89, 2)]);
}

#[test]
fn a_case_with_its_packs_and_warnings() {
    let (cases, wrong) = read(
        "[[case]]\nname = 'a'\nplan = ''\nrules = 'vertical-concrete'\nmeasure = '../own'\nwarns = ['W0409', 'thinner']\n[case.areas]\nfront = '89.5 ft2'\n[[case]]\nname = 'b'\nwarns = []\nbid = {}\n",
    );
    assert!(wrong.is_empty(), "{wrong:?}");
    let word = |word: &Option<Spanned<String>>| word.as_ref().map(|word| word.node.clone());
    let Asked::Plan {
        rules,
        measure,
        areas,
        ..
    } = &cases[0].asked
    else {
        panic!("{cases:?}");
    };
    assert_eq!(word(rules).as_deref(), Some("vertical-concrete"));
    assert_eq!(word(measure).as_deref(), Some("../own"));
    assert_eq!(areas[0].name.node, "front");
    let warns = |case: &Case| {
        let warns = case.warns.as_ref();
        warns.map(|all| all.iter().map(|one| one.node.clone()).collect::<Vec<_>>())
    };
    assert_eq!(
        warns(&cases[0]),
        Some(vec!["W0409".into(), "thinner".into()])
    );
    // No warning is another wish than not looking at them.
    assert_eq!(warns(&cases[1]), Some(Vec::new()));
    let (cases, _) = read("[[case]]\nname = 'a'\nplan = ''\ncautions = ['a']\n");
    assert_eq!(warns(&cases[0]), None);
}

#[test]
fn what_cannot_be_read_is_told_at_its_place() {
    let case = |rest: &str| {
        read(&format!("[[case]]\nname = \"a\"\n{rest}"))
            .1
            .join("\n")
    };
    let told = [
        case(""),
        case("plan = ''"),
        case("plan = ''\n[case.charges]\na = \"1 USD\""),
        case("[case.bid]\ntotal = \"1 USD\""),
        case("[case.bid]\ntotal = \"1 USD\"\n[case.needs]\na = \"1 ft\""),
        case("measure = 'a'\n[case.bid]\ntotal = \"1 USD\"\n[case.charges]\na = \"1 USD\""),
        case("plan = ''\nwarns = ['W0409', ' ']"),
        case("plan = ''\n[case.needs]\na = \"1/2 ft\""),
        case("plan = ''\n[case.needs]\na = \"1.0000000001 ft\""),
        case("plan = ''\n[case.needs]\na = \"1e3 ft\""),
        case("plan = ''\n[case.needs]\na = \"3\""),
        case("plan = ''\n[case.needs]\na = \"3 fot\""),
        case("plan = ''\n[case.neds]\na = \"3 ft\""),
        case("plan = ''\n[case.needs]\na = 3"),
        case("plan = ''\ncautions = ['a']\n[[case]]\nname = 'a'\nplan = ''\ncautions = ['a']"),
    ];
    insta::assert_snapshot!(told.join("\n"));
}
