use super::*;
use jiff::civil::date;

fn bar(from: (i8, i8), until: (i8, i8)) -> Bar {
    let at = |(day, hour)| date(2026, 6, day).at(hour, 0, 0, 0);
    Bar {
        from: at(from),
        until: at(until),
    }
}

fn row(structure: &str, phase: &str, bars: &[Bar], waits: &[Bar], critical: bool) -> Row {
    Row {
        structure: structure.to_owned(),
        phase: phase.to_owned(),
        bars: bars.to_vec(),
        waits: waits.to_vec(),
        critical,
    }
}

fn chart() -> Chart {
    let overnight = bar((5, 15), (8, 7));
    Chart {
        title: "Court & garden walls".to_owned(),
        first: date(2026, 6, 4),
        last: date(2026, 6, 20),
        off: [6, 7, 13, 14, 20].map(|day| date(2026, 6, day)).into(),
        hours: (7 * 60, 15 * 60),
        rows: vec![
            row("Entry planter", "Lath", &[bar((4, 7), (4, 12))], &[], true),
            row(
                "Entry planter",
                "Scratch coat",
                &[bar((4, 12), (4, 15)), bar((5, 7), (5, 15))],
                &[overnight],
                true,
            ),
            row("Entry planter", "Place", &[bar((8, 7), (9, 15))], &[], true),
            row(
                "Entry planter",
                "Carve",
                &[bar((10, 7), (11, 11))],
                &[],
                true,
            ),
            row(
                "Garden wall",
                "Scratch coat",
                &[bar((5, 9), (5, 15))],
                &[overnight],
                false,
            ),
            row(
                "Garden wall",
                "Place",
                &[bar((11, 11), (12, 15))],
                &[],
                true,
            ),
            row(
                "Garden wall",
                "Colour",
                &[bar((15, 7), (15, 13))],
                &[bar((15, 13), (18, 7))],
                true,
            ),
            row("Garden wall", "Seal", &[bar((18, 7), (18, 11))], &[], true),
            row(
                "Garden wall",
                "Clean",
                &[bar((18, 11), (18, 15))],
                &[],
                false,
            ),
        ],
    }
}

#[test]
fn a_small_chart() {
    insta::assert_snapshot!(svg(&chart()));
}

#[test]
fn hostile_names_stay_text() {
    let mut chart = chart();
    chart.title = "<script>x</script>".to_owned();
    chart.rows[0].structure = "\"><a href='x'>&".to_owned();
    chart.rows[0].phase = "</text><b>\u{1}".to_owned();
    let text = svg(&chart);
    assert!(!text.contains("<script") && !text.contains("<a ") && !text.contains("<b>"));
    assert!(text.contains("&lt;script&gt;x&lt;/script&gt;") && !text.contains('\u{1}'));
}

/// A bar of half of a day covers half of its column; what lies outside the days stays inside.
#[test]
fn bars_lie_where_their_hours_are() {
    let mut chart = chart();
    let places = |chart: &Chart| {
        let drawing = draw::Drawing::of(chart);
        let own = chart.rows[0].bars[0];
        let ends = drawing.across(&own);
        let origin = drawing.across(&bar((4, 0), (4, 24 - 1)));
        (ends.0 - origin.0, ends.1 - origin.0, origin.1 - origin.0)
    };
    chart.rows[0].bars = vec![bar((4, 7), (4, 11))];
    let (from, until, column) = places(&chart);
    assert_eq!((from, until), (0.0, column / 2.0));
    chart.rows[0].bars = vec![bar((5, 9), (5, 15))];
    let (from, until, column) = places(&chart);
    assert_eq!((from, until), (column * 1.25, column * 2.0));
    chart.rows[0].bars = vec![bar((1, 9), (30, 15))];
    let (from, until, column) = places(&chart);
    assert_eq!((from, until), (0.0, column * 17.0));
}

/// Every phase has a pattern of its own up to the number of pairs of colour and pattern.
#[test]
fn any_number_of_rows_and_phases() {
    let mut chart = chart();
    let rows = (0..42).map(|number| row("Wall", &format!("Phase {number}"), &[], &[], false));
    chart.rows = rows.collect();
    let text = svg(&chart);
    let drawn: BTreeSet<&str> = text
        .lines()
        .filter_map(|line| line.split_once("patternUnits"))
        .map(|(_, look)| look)
        .collect();
    assert_eq!(drawn.len(), 42);
    chart.rows.clear();
    chart.last = date(2025, 1, 1);
    assert!(svg(&chart).ends_with("</svg>\n"));
}
