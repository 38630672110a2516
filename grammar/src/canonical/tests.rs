use super::canonical;
use crate::parse;
use parge_base::Sources;

fn of(plan: &str) -> String {
    let mut sources = Sources::new();
    let file = sources.add("plan", plan);
    let parsed = parse(file, plan);
    assert_eq!(parsed.diagnostics, [], "{plan}");
    canonical(&parsed.plan)
}

const PLAN: &str = r#"parge 1
job "Garden wall" { rules "vertical-concrete" prices "prices.csv" crew { lead 1 } valid 60 days
  weather 2026-06-03 { air 97F } bid { overhead 10% round up to 10 USD minimum 900 USD } }
let h = 2ft 8in
finish drystone { technique stamp thickness 3/4in colours granite 60%, moss 40% sealer matte, 2 coats }
template bay(w, d) on block { finish drystone face front rect w x h }
structure "Wall" on block {
  height h
  edge cap 4ft count 2
  face street rect 22ft 4in drystone { opening hatch circle diameter 6in reveal 4in on top count 2 }
  face top stations (0ft, 1ft) (2ft, min(h, 3ft)) count 2 at 9ft
}
structure "Bay" from bay(12ft, -h)
alternate "Less" { omit "Wall" }
allowance "Lift" 640 USD
note "All of it"
"#;

/// The text is cited by records of years: another text for the same plan is a break.
#[test]
fn the_text_of_a_plan() {
    insta::assert_snapshot!(of(PLAN).replace(" ) ", " )\n"));
}

#[test]
fn layout_and_comments_are_nothing() {
    let other = PLAN.replace(" crew", "\n  # two of them\n\n  crew");
    let other = other.replace("2ft 8in", "32in");
    assert_eq!(of(PLAN), of(&other));
}

/// Every value that differs makes another text.
#[test]
fn no_value_is_left_out() {
    let whole = of(PLAN);
    let edits = [
        ("Garden wall", "Garden walls"),
        ("lead 1", "lead 2"),
        ("60 days", "61 days"),
        ("2026-06-03", "2026-06-04"),
        ("air 97F", "air 98F"),
        ("overhead 10%", "overhead 11%"),
        ("round up to", "round to"),
        ("minimum 900", "minimum 901"),
        ("2ft 8in", "2ft 9in"),
        ("stamp", "carve"),
        ("moss 40%", "moss 41%"),
        ("2 coats", "3 coats"),
        ("bay(w, d)", "bay(w, e)"),
        ("rect w x h", "rect w x w"),
        ("height h", "height h + h"),
        ("count 2\n  face street", "count 3\n  face street"),
        ("6in reveal", "7in reveal"),
        ("on top", "on bottom"),
        ("stations (0ft", "stations stepped (0ft"),
        ("min(h", "max(h"),
        ("at 9ft", "at 8ft"),
        ("12ft, -h", "12ft, h"),
        ("omit \"Wall\"", "omit \"Bay\""),
        ("640 USD", "641 USD"),
        ("note \"All", "terms \"All"),
    ];
    for (from, to) in edits {
        assert!(PLAN.contains(from), "{from}");
        assert_ne!(whole, of(&PLAN.replacen(from, to, 1)), "{from} to {to}");
    }
}
