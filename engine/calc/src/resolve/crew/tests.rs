use crate::testing::{measured, said};

fn plan(settings: &str) -> String {
    format!(
        "parge 1\njob \"Test\" {{\n  rules \"small\"\n{settings}\n}}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on block {{ face f rect 4ft x 4ft plain }}\n"
    )
}

/// How many there are in all, and of each class.
fn crew(settings: &str) -> (Option<f64>, Vec<(String, f64)>) {
    let job = measured(&plan(settings)).job;
    let classes = job.crew_classes.iter();
    let classes = classes.map(|class| (class.name.clone(), job.value(class.people).value));
    (
        job.crew.map(|crew| job.value(crew).value),
        classes.collect(),
    )
}

#[test]
fn a_crew_is_the_sum_of_its_classes() {
    let classes = vec![
        ("lead".to_owned(), 1.0),
        ("finisher".to_owned(), 2.0),
        ("helper".to_owned(), 1.0),
    ];
    let block = "{ lead 1  finisher 2  helper 1 }";
    assert_eq!(crew(""), (None, vec![]));
    assert_eq!(crew("crew 4"), (Some(4.0), vec![]));
    assert_eq!(crew(&format!("crew {block}")), (Some(4.0), classes.clone()));
    assert_eq!(crew(&format!("crew 4 {block}")), (Some(4.0), classes));
}

#[test]
fn mistakes_in_the_crew() {
    insta::assert_snapshot!(
        [
            "crew 3 { lead 1  finisher 2  helper 1 }",
            "crew { }",
            "crew { lead 1  lead 2 }",
            "crew { lead 1.5  helper 0 }",
            "crew 2.5 { lead 1 }",
            "crew { lead 1ft }",
            "crew 3\ncrew { lead 3 }",
        ]
        .map(|text| format!("{text}\n{}\n", said(&plan(text))))
        .join("\n")
    );
}
