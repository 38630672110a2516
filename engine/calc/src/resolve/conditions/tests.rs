use crate::testing::{measured, said};

#[test]
fn a_structures_own_condition_comes_before_that_of_the_site() {
    let measured = measured(
        "parge 1\njob \"Test\" {\n  rules \"small\"\n  conditions { access tight }\n}\n\
         finish plain { technique stamp  thickness 1in }\n\
         structure \"A\" on block {\n  conditions { access open }\n  face a rect 1ft x 1ft plain\n}\n\
         structure \"B\" on block { face b rect 1ft x 1ft plain }\n",
    );
    let words = measured
        .job
        .structures
        .iter()
        .map(|structure| &structure.conditions);
    let words: Vec<&str> = words.flatten().map(|(_, word)| word.as_str()).collect();
    assert_eq!(words, ["open", "tight"]);
}

#[test]
fn mistakes_in_conditions() {
    let blocks = [
        "conditions { acces tight }",
        "conditions { access tihgt }",
        "conditions { access tight  access open }",
        "conditions { access tight }\n  conditions { access open }",
    ];
    let told = blocks.map(|block| {
        let plan = format!(
            "parge 1\njob \"Test\" {{\n  rules \"small\"\n  {block}\n}}\n\
             finish plain {{ technique stamp  thickness 1in }}\n\
             structure \"A\" on block {{ face a rect 1ft x 1ft plain }}\n"
        );
        format!("{block}\n{}\n", said(&plan))
    });
    insta::assert_snapshot!(told.join("\n"));
}
