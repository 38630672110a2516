use super::*;
use crate::sample;

fn drawn(plan: &str) -> String {
    let sample = sample::run(plan, &sample::PRICES, "USD");
    svg(&sheets(&sample.estimate.takeoff.measured, None))
}

/// The sample in metric units, with a face of each way of being drawn.
fn metric() -> String {
    let faces = "
structure Round on block {
  face bow arc radius 2m sweep 90deg x 1m stone
  face trunk frustum 0.8m to 0.5m x 2m stone
  face cap dome diameter 1m x 0.5m stone
  face ramp stations (0m, 1m) (2m, 0.8m) (4m, 0.2m) stone
  face gable polygon (0m, 0m) (4m, 0m) (4m, 2m) (2m, 3m) (0m, 2m) stone
  face rock measured 4m2 around 9m high 1.5m \"taped\" stone
}
";
    sample::PLAN.replace("rules  \"small\"", "rules  \"small\"\n  units  metric") + faces
}

#[test]
fn a_drawing_in_feet_and_inches() {
    insta::assert_snapshot!(drawn(sample::PLAN));
}

#[test]
fn a_drawing_in_metres() {
    insta::assert_snapshot!(drawn(&metric()));
}

/// Names that are markup, turn a text around, hold control characters or are very long. Plans
/// refuse some of them; what draws does not rest on that.
#[test]
fn hostile_names_stay_text() {
    let mut sample = sample::complete();
    let job = &mut sample.estimate.takeoff.measured.job;
    job.structures[0].name = "'><img src=x onerror=y>\u{202e}neppo".to_owned();
    job.faces[0].name = "=cmd|' /C calc'!A0\u{1}\u{0}\u{ffff}".to_owned();
    job.faces[1].name = "very long ".repeat(2000);
    job.faces[2].name = "x".repeat(20_000);
    job.faces[2].openings[0].name = "קיר <script>".to_owned();
    let text = svg(&sheets(&sample.estimate.takeoff.measured, None));
    assert!(
        !text.contains("<img") && !text.contains("<script"),
        "{text}"
    );
    assert!(
        text.contains("&#39;&gt;&lt;img") && text.contains("\u{2068}קיר &lt;script&gt;\u{2069}")
    );
    // Nothing turns around what stands beside it.
    assert!(!text.contains('\u{202e}'));
    let is_fine = |ch: char| ch != '\u{ffff}' && (ch == '\n' || !ch.is_control());
    assert!(text.chars().all(is_fine));
    assert!(text.len() < 20_000, "{}", text.len());
    balanced(&text);
}

/// Every element that is opened is closed, in order, and nothing is fetched.
fn balanced(text: &str) {
    let mut open: Vec<&str> = Vec::new();
    for part in text.split('<').skip(1) {
        let (tag, _) = part.split_once('>').unwrap();
        let name = tag
            .split([' ', '/', '\n'])
            .find(|name| !name.is_empty())
            .unwrap();
        if tag.starts_with('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.ends_with('/') {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{open:?}");
    for word in ["href", "url(", "<image", "@import", "<use"] {
        assert!(!text.contains(word), "{word}");
    }
}

/// One face alone has a sheet alone, and is drawn larger.
#[test]
fn one_face_is_drawn_alone() {
    let sample = sample::complete();
    let measured = &sample.estimate.takeoff.measured;
    let sheets = sheets(measured, Some(1));
    assert_eq!(sheets.len(), 1);
    let text = svg(&sheets);
    assert!(
        text.contains(">ends<") && !text.contains(">street<"),
        "{text}"
    );
    assert_eq!(
        parge_calc::elevation::find(measured, "Entry planter/ends"),
        Ok(1)
    );
    let nearest = parge_calc::elevation::find(measured, "Entry planter/end");
    assert_eq!(nearest, Err(Some("Entry planter/ends".to_owned())));
}

/// Whatever the sizes, a sheet is no higher than a page, and nothing is drawn outside of it.
#[test]
fn large_structures_take_several_sheets() {
    let faces: String = (0..40)
        .map(|n| format!("  face f{n} rect {}ft x 9ft stone\n", 8 + n))
        .collect();
    let plan = format!("{}structure Long on block {{\n{faces}}}\n", sample::PLAN);
    let sample = sample::run(&plan, &sample::PRICES, "USD");
    let sheets = sheets(&sample.estimate.takeoff.measured, None);
    let long: Vec<&Sheet> = sheets
        .iter()
        .filter(|sheet| sheet.structure == "Long")
        .collect();
    assert!(long.len() > 1);
    assert!(
        long.iter()
            .all(|sheet| sheet.height <= 215.0 && sheet.scale == long[0].scale)
    );
    for n in 0..40 {
        let name = format!(">f{n}<");
        assert_eq!(
            long.iter()
                .filter(|sheet| sheet.body.contains(&name))
                .count(),
            1
        );
    }
}
