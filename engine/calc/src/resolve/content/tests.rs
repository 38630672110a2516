use crate::job::AlternateChange;
use crate::testing::{measured, said};

const HEAD: &str = "parge 1\njob \"Test\" { rules \"small\" }\n\
    finish plain { technique stamp  thickness 1in }\nfinish rough { technique carve  thickness 2in }\n\
    structure \"A\" on block { face a rect 1ft x 1ft plain }\n\
    structure \"B\" on block { face b rect 1ft x 1ft plain }\n";

#[test]
fn what_the_bid_says_is_kept_in_its_order() {
    let measured = measured(&format!(
        "{HEAD}alternate \"Rougher\" {{ structure \"B\" {{ finish rough }}  omit \"A\" }}\n\
         allowance \"Crane day\" 850 USD\nallowance \"Permits\" 120.50 USD\n\
         exclude \"Electrical\"\nnote \"Water on site\"\nterms \"Net 30 days\"\nexclude \"=1+1\"\n"
    ));
    let content = &measured.job.content;
    let changes = [
        AlternateChange::Finish {
            structure: 1,
            finish: 1,
        },
        AlternateChange::Omit(0),
    ];
    assert_eq!(content.alternates[0].changes, changes);
    let sums: Vec<String> = content
        .allowances
        .iter()
        .map(|allowance| format!("{} {}", allowance.name, allowance.amount.to_text()))
        .collect();
    assert_eq!(sums, ["Crane day 850.00", "Permits 120.50"]);
    assert_eq!(content.exclusions, ["Electrical", "=1+1"]);
    assert_eq!(content.notes, ["Water on site"]);
    assert_eq!(content.terms, ["Net 30 days"]);
}

#[test]
fn mistakes_in_the_content_of_a_bid() {
    let plans = [
        "alternate \"X\" { omit \"C\" }",
        "alternate \"X\" { structure \"A\" { finish ruogh } }",
        "alternate \"X\" { structure \"A\" { finish rough }  omit \"A\" }",
        "alternate \"X\" { }",
        "alternate \"X\" { omit \"A\" }\nalternate \"X\" { omit \"B\" }",
        "allowance \"X\" 0 USD",
        "allowance \"X\" 5 USD\nallowance \"X\" 6 USD",
    ];
    let told = plans.map(|plan| format!("{plan}\n{}\n", said(&format!("{HEAD}{plan}\n"))));
    insta::assert_snapshot!(told.join("\n"));
}
