use crate::testing::{measured, said};

fn plan(settings: &str) -> String {
    format!(
        "parge 1\njob \"Test\" {{\n  rules \"small\"\n{settings}\n}}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on block {{ face f rect 4ft x 4ft plain }}\n"
    )
}

fn until(settings: &str) -> Option<String> {
    let until = measured(&plan(settings)).job.valid_until;
    until.map(|until| until.node.to_string())
}

#[test]
fn a_bid_holds_until_the_day_that_is_stated_or_counted() {
    assert_eq!(until("date 2026-05-11"), None);
    let day = |day: &str| Some(day.to_owned());
    assert_eq!(until("valid_until 2026-08-01"), day("2026-08-01"));
    assert_eq!(
        until("date 2026-05-11 valid_until 2026-05-11"),
        day("2026-05-11")
    );
    // 20 days are left of May, 30 are June's, 10 fall into July.
    assert_eq!(until("date 2026-05-11 valid 60 days"), day("2026-07-10"));
    assert_eq!(until("valid 1 day date 2026-12-31"), day("2027-01-01"));
    // 2028 has a 29th of February.
    assert_eq!(
        until("date 2028-02-28 valid (2 - 1) days"),
        day("2028-02-29")
    );
}

#[test]
fn mistakes_in_how_long_a_bid_holds() {
    insta::assert_snapshot!(
        [
            "date 2026-05-11 valid_until 2026-05-10",
            "valid 60 days",
            "date 2026-05-11 valid 0 days",
            "date 2026-05-11 valid 2 1/2 days",
            "date 2026-05-11 valid 60d days",
            "date 9999-12-01 valid 60 days",
            "date 2026-05-11 valid 60 days valid_until 2026-08-01",
            "date 2026-05-11 valid 60 days valid 30 days",
            "date 2026-05-11 valid_until 2026-08-01 valid_until 2026-08-02",
        ]
        .map(|settings| format!("{settings}\n{}", said(&plan(settings))))
        .join("\n")
    );
}
