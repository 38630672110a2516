//! `parge fmt`: one layout, nothing lost, nothing changed.

use parge_cli::Exit;
use parge_tests::Folder;
use proptest::prelude::*;

/// The demo plan, written as untidily as the language bears.
fn mangled(plan: &str) -> String {
    let line = |(at, line): (usize, &str)| {
        let (code, comment) = match line.split_once('#') {
            Some((code, comment)) => (code, format!("#{comment}")),
            None => (line, String::new()),
        };
        let code = code
            .replace(" x ", ["  x\t", " x "][at % 2])
            .replace("%, ", ["%,", "% ,   "][at % 2])
            .replace('{', " {\t")
            .replace('}', ["}", " \t}"][at % 2])
            .trim()
            .to_owned();
        let indent = ["", "\t", "      "][at % 3];
        let end = ["\r\n", "\n", " \n\n\n"][at % 3];
        format!("{indent}{code} {comment}{end}")
    };
    let lines: String = plan.lines().enumerate().map(line).collect();
    format!("\u{FEFF}\n{lines}")
}

#[test]
fn help() {
    insta::assert_snapshot!(Folder::new().unwrap().parge("fmt --help"));
}

#[test]
fn a_plan_is_laid_out_once_and_estimates_the_same() {
    let folder = Folder::with_demo().unwrap();
    let plan = folder.read("job.parge").unwrap();
    let estimate = |name: &str| {
        let said = folder.parge(&format!("estimate job.parge --json {name}"));
        assert_eq!(said.exit, Exit::Fine, "{said}");
        folder.read(name).unwrap()
    };
    let before = estimate("before.json");
    folder.write("job.parge", mangled(&plan)).unwrap();
    let untidy = estimate("untidy.json");
    let said = folder.parge("fmt job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert_eq!(
        (said.out.as_str(), said.err.as_str()),
        ("formatted job.parge\n", "")
    );
    let after = estimate("after.json");
    assert!(before == untidy, "the mangled plan says something else");
    assert!(untidy == after, "the plan laid out says something else");

    let once = folder.read("job.parge").unwrap();
    let again = folder.parge("fmt job.parge");
    assert_eq!((again.exit, again.out.as_str()), (Exit::Fine, ""));
    assert_eq!(folder.read("job.parge").unwrap(), once);
    let count = |text: &str| text.matches('#').count();
    assert_eq!(count(&once), count(&plan));
}

#[test]
fn the_layout_does_not_depend_on_how_it_was_written() {
    let folder = Folder::with_demo().unwrap();
    let untidy = mangled(&folder.read("job.parge").unwrap()).replace("\n\n\n", "\n");
    folder.write("untidy.parge", untidy).unwrap();
    let said = folder.parge("fmt job.parge untidy.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let lines = |name: &str| -> Vec<String> {
        let text = folder.read(name).unwrap();
        let filled = text.lines().filter(|line| !line.is_empty());
        filled.map(str::to_owned).collect()
    };
    assert_eq!(lines("job.parge"), lines("untidy.parge"));
}

#[test]
fn check_writes_nothing_and_names_what_would_change() {
    let folder = Folder::with_demo().unwrap();
    let _ = folder.parge("fmt job.parge");
    let good = folder.read("job.parge").unwrap();
    let said = folder.parge("fmt --check job.parge");
    assert_eq!((said.exit, said.out.as_str()), (Exit::Fine, ""));
    folder
        .write("untidy.parge", good.replace("  face", "\tface"))
        .unwrap();
    let untidy = folder.read("untidy.parge").unwrap();
    let said = folder.parge("fmt --check job.parge untidy.parge");
    assert_eq!(said.exit, Exit::CheckFailed, "{said}");
    assert_eq!(said.out, "would change untidy.parge\n");
    assert_eq!(folder.read("untidy.parge").unwrap(), untidy);
}

/// One plan that cannot be read holds up no other, and stays as it is.
#[test]
fn a_plan_with_mistakes_stays_as_it_is() {
    let folder = Folder::with_demo().unwrap();
    let bad = "parge 1\nfinish  a {\n   technique\n}\nlet b=1 +\n";
    folder.write("bad.parge", bad).unwrap();
    folder.write("good.parge", "parge 1\nlet b=1").unwrap();
    let said = folder.parge("fmt bad.parge good.parge");
    assert_eq!(said.exit, Exit::Problems);
    insta::assert_snapshot!(said);
    assert_eq!(folder.read("bad.parge").unwrap(), bad);
    assert_eq!(folder.read("good.parge").unwrap(), "parge 1\n\nlet b = 1\n");
    let said = folder.parge("fmt --check bad.parge good.parge");
    assert_eq!(said.exit, Exit::Problems);
}

#[test]
fn a_plan_that_is_not_there_or_not_text() {
    let folder = Folder::new().unwrap();
    folder.write("bytes.parge", [0x70, 0xE9]).unwrap();
    let said = folder.parge("fmt nowhere.parge");
    assert_eq!(said.exit, Exit::Failed);
    assert!(said.err.contains("E0601"), "{said}");
    let said = folder.parge("fmt bytes.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(said.err.contains("E0101"), "{said}");
    assert_eq!(folder.parge("fmt").exit, Exit::Usage);
}

#[cfg(unix)]
#[test]
fn links_and_permissions_stay() {
    use std::fs;
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new().unwrap();
    folder.write("plan.parge", "parge 1\nlet b=1").unwrap();
    let mode =
        |bits| fs::set_permissions(folder.path("plan.parge"), fs::Permissions::from_mode(bits));
    std::os::unix::fs::symlink(folder.path("plan.parge"), folder.path("link.parge")).unwrap();
    mode(0o600).unwrap();
    let said = folder.parge("fmt link.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(
        fs::symlink_metadata(folder.path("link.parge"))
            .unwrap()
            .is_symlink()
    );
    let after = fs::metadata(folder.path("plan.parge"))
        .unwrap()
        .permissions();
    assert_eq!(after.mode() & 0o777, 0o600);

    folder.write("plan.parge", "parge 1\nlet b=2").unwrap();
    mode(0o444).unwrap();
    let said = folder.parge("fmt plan.parge");
    assert_eq!(said.exit, Exit::Failed);
    insta::assert_snapshot!(said);
    assert_eq!(folder.read("plan.parge").unwrap(), "parge 1\nlet b=2");
}

/// A face of one of several shapes, by two sizes in inches, as its line in a structure's block.
fn face((number, shape, a, b): (usize, u8, u32, u32)) -> String {
    let shape = match shape % 8 {
        0 => format!("rect {a}in x {b}in"),
        1 => format!("rect {a}in"),
        2 => format!("polygon (0in,0in) ({a}in,0in) ({a}in,{b}in)"),
        3 => format!("arch {a}in x {}in", a + b),
        4 => format!("cylinder diameter {a}in x ({b}in + 1ft/2)"),
        5 => format!("stations (0ft,{b}in) ({a}in,{b}in - 1in)"),
        6 => format!("rect max({a}in, first.width) x {b}in"),
        _ => format!("trapezoid {a}in to {b}in x 3 1/2ft"),
    };
    let detail = ["", "count 2", "on wood", "rough at 40ft"][number % 4];
    let block = match number % 3 {
        0 => "",
        1 => " {\nopening o rect 4in x 4in reveal 2in finish rough\nedge cap 3ft }",
        _ => "  { opening o circle diameter 5in count 2 }",
    };
    format!("face   f{number}  {shape}   {detail}{block} # note {number}\n")
}

fn generated(faces: &[(u8, u32, u32)]) -> String {
    let lines = faces.iter().enumerate();
    let lines: String = lines
        .map(|(at, (shape, a, b))| face((at, *shape, *a, *b)))
        .collect();
    format!(
        "parge 1\njob \"Made up\" {{ rules \"vertical-concrete\" prices \"prices.csv\"\n\
         conditions {{ access tight }}\nbid {{ burden 30% overhead 10% profit markup 20% tax 0% on materials }} }}\n\
         finish plain {{ technique stamp   thickness 1in }}\nfinish rough {{ technique carve thickness 2in }}\n\
         template t(w,h) on brick {{ height h\n finish plain\nface side rect w # the side\n }}\n\
         structure \"S\" from t(8ft,high/2)\nlet high=12ft - first.height\n\
         structure \"W\" on block {{\nfinish plain\nheight 6ft 6in\nface first rect 10ft x 5ft\n{lines}}}\n\
         alternate \"A\" {{ omit \"S\" }}\nallowance \"L\" 12.50USD\nnote \"n\"\n"
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Laid out, a plan says the same: to the parser, and to whoever reads the estimate.
    #[test]
    fn generated_plans_estimate_the_same_when_laid_out(
        faces in proptest::collection::vec((any::<u8>(), 30u32..400, 30u32..400), 1..12)
    ) {
        let folder = Folder::with_demo().unwrap();
        folder.write("job.parge", generated(&faces)).unwrap();
        let estimate = || {
            let said = folder.parge("estimate job.parge --json -");
            assert_eq!(said.exit, Exit::Fine, "{said}");
            let mut json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
            // Places of diagnostics move with the lines.
            json["diagnostics"] = serde_json::json!(json["diagnostics"].as_array().unwrap().len());
            json
        };
        let before = estimate();
        let said = folder.parge("fmt job.parge");
        prop_assert_eq!(said.exit, Exit::Fine, "{}", said);
        prop_assert_eq!(before, estimate());
        let again = folder.parge("fmt --check job.parge");
        prop_assert_eq!(again.exit, Exit::Fine, "{}", again);
    }
}
