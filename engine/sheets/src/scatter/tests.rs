use super::*;

fn mark(job: &str, expected: f64, used: f64, weight: f64) -> Mark {
    Mark {
        job: job.to_owned(),
        line: "Sealer".to_owned(),
        expected,
        used,
        weight,
    }
}

fn chart(marks: Vec<Mark>) -> String {
    svg(&Scatter {
        title: "coverage.sealer.surface".to_owned(),
        notes: vec!["now 200 ft2/gal; proposed 181".to_owned()],
        unit: "gal".to_owned(),
        marks,
        ratio: Some([1.02, 1.10, 1.19]),
    })
}

#[test]
fn estimate_against_actual() {
    let marks = vec![
        mark("Seat wall", 2.0, 2.2, 1.0),
        mark("Long wall", 11.0, 12.5, 0.9),
        mark("Jetty <7>", 5.0, 14.0, 0.05),
    ];
    insta::assert_snapshot!(chart(marks));
}

/// What has no place on a scale of powers is left out, and an empty chart is one all the same.
#[test]
fn nothing_has_no_mark() {
    let marks = vec![
        mark("Seat wall", 0.0, 2.0, 1.0),
        mark("Wall", 2.0, 0.0, 1.0),
    ];
    for chart in [chart(marks), chart(Vec::new())] {
        assert!(!chart.contains("NaN") && !chart.contains("inf"), "{chart}");
        assert!(!chart.contains("<title>"), "{chart}");
    }
}

#[test]
fn round_figures_lie_between_the_ends() {
    assert_eq!(round_figures([0.8, 25.0]), [1.0, 2.0, 5.0, 10.0, 20.0]);
    assert_eq!(round_figures([0.02, 0.1]), [0.02, 0.05, 0.1]);
}
