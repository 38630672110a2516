//! Mistakes in templates and measures, each with what is said of it.

use super::{told_of, told_of_all};

#[test]
fn templates() {
    insta::assert_snapshot!(told_of_all(&[
        "template",
        "template bay",
        "template bay(12ft) {}",
        "template bay(width = 12ft) {}",
        "template bay(\"width\") {}",
        "template bay(width high) {}",
        "template bay width, high {}",
        "template bay width high {}",
        "template bay(count) {}",
        "template bay(width, x) {}",
        "template bay(width on block {}",
        "template bay(width,) {}",
        "template bay(w) of block {}",
        "template bay(w) onn block {}",
        "tempalte bay(w) { face a rct w }",
    ]), @r#"
    E0106 at `template`: the `{` is missing behind `template` | write what belongs to it in braces, as in `template bay(width, high) on block { … }`
    E0106 at ``: a name is missing behind `template` | write it as in `template bay(width, high) on block { … }`
    E0106 at `template bay`: the `{` is missing behind `template bay` | write what belongs to it in braces, as in `template bay(width, high) on block { … }`
    E0106 at `12ft`: a template has names in its brackets; their values stand where it is used | write `template bay(width, high) on block { … }`, and then `structure "North bay" from bay(12ft, 8ft)`
    E0106 at `=`: a template has names in its brackets; their values stand where it is used | write `template bay(width, high) on block { … }`, and then `structure "North bay" from bay(12ft, 8ft)`
    E0106 at `"width"`: a template has names in its brackets; their values stand where it is used | write `template bay(width, high) on block { … }`, and then `structure "North bay" from bay(12ft, 8ft)`
    E0106 at `high`: `)` or `,` is missing before `high` | write it as in `template bay(width, high) on block { … }`
    E0106 at `width`: the names of a template's values stand in brackets | write `template bay(width, high) on block { … }`, and then `structure "North bay" from bay(12ft, 8ft)`
    E0106 at `bay width high`: the name behind `template` needs quotes | write `template "bay width high"`
    E0106 at `count`: `count` is a word of the language and no name | choose another name, as in `template bay(count_1)`
    E0106 at `x`: `x` is a word of the language and no name | choose another name, as in `template bay(x_1)`
    E0103 at `(`: the bracket is not closed | write `)` behind what belongs together, as in `(0ft, 4ft)`
    E0106 at `)`: a name is missing before `)` | write it as in `template bay(width, high) on block { … }`
    E0106 at `of`: `of` cannot stand here | write it as in `template bay(width, high) on block { … }`
    E0107 at `onn`: `onn` is not known here | did you mean `on`?
    E0107 at `tempalte`: `tempalte` begins no statement here | did you mean `template`?
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    "#);
}

#[test]
fn structures_from_templates() {
    insta::assert_snapshot!(told_of_all(&[
        "structure \"X\" from bay(12ft",
        "structure \"X\" from bay 12ft, 8ft",
        "structure \"X\" from bay, wall",
        "structure \"X\" from",
        "structure from bay",
        "structure \"X\" on wood from bay",
        "structure \"X\" bay(12ft)",
        "structure \"X\" form bay(12ft)",
        "structure North bay from bay(12ft)",
        "structure \"X\" from bay(12 ft)",
        "structure \"X\" from bay(12ft 8ft)",
        "structure \"X\" from bay(12ft, )",
        "structure \"X\" from bay() { fcae a rect 2ft }",
        "structure \"away from it\" on block",
    ]), @r#"
    E0103 at `(`: the bracket is not closed | write `)` behind what belongs together, as in `(0ft, 4ft)`
    E0106 at `12ft`: the values of a template stand in brackets | write them as in `structure "North bay" from bay(12ft, 8ft)`
    E0106 at `,`: the values of a template stand in brackets | write them as in `structure "North bay" from bay(12ft, 8ft)`
    E0106 at ``: a name is missing behind `from` | write it as in `structure "North bay" from bay(12ft, 8ft)`
    E0106 at `bay`: the name of the structure is missing before `from` | write it as in `structure "North bay" from bay(12ft, 8ft)`
    E0106 at `from`: `from` stands behind `on` | write the template first, as in `structure "North bay" from bay(12ft, 8ft) on wood`
    E0106 at `bay`: `from` is missing before `bay` | write it as in `structure "North bay" from bay(12ft, 8ft)`
    E0107 at `form`: `form` is not known here | did you mean `from`?
    E0106 at `North bay from bay(12ft)`: the name behind `structure` needs quotes | write `structure "North bay"`
    E0106 at `12 ft`: a blank stands between the number and its unit | write `12ft`
    E0111 at `12ft 8ft`: `12ft 8ft` are not one length | write the larger unit first, as in `12ft 6in`; width and height have `x` between them, as in `22ft x 4ft`
    E0106 at `)`: a size or number is missing before `)` | write it as in `structure "North bay" from bay(12ft, 8ft)`
    E0107 at `fcae`: `fcae` begins no line here | did you mean `face`?
    E0106 at `structure "away from it" on block`: the `{` is missing behind `structure "away from it" on block` | write what belongs to it in braces, as in `structure "Entry planter" on block { … }`
    "#);
}

#[test]
fn measures() {
    insta::assert_snapshot!(told_of_all(&[
        "let a = street.",
        "let a = street.5",
        "let a = .5ft",
        "let a = 2 * .5ft",
        "let a = 18. + 2",
        "let a = \"Entry planter\"",
        "let a = \"Entry planter\" + 2",
        "let a = planter.\"street\"",
        "let a = a.b.c.d",
        "let a = street.area(2)",
        "let a = street..area",
        "let a = 2 * Entry planter.area",
        "structure s { face a rect Entry planter.width x 3ft }",
        "let a = sum(\"Entry planter\")",
        "structure s { face a rect \"b\" x 3ft }",
        "structure s { face a rect b. x 3ft }",
    ]), @r#"
    E0106 at ``: a measure such as `area` is missing behind `street.` | name the face or structure and what of it is meant, as in `street.area`
    E0106 at `5`: a measure such as `area` is missing before `5` | name the face or structure and what of it is meant, as in `street.area`
    E0111 at `.5ft`: a number begins with a digit | write `0.5ft`
    E0111 at `.5ft`: a number begins with a digit | write `0.5ft`
    E0111 at `18.`: a point stands behind a number, and no digit behind the point | write `18`
    E0106 at `"Entry planter"`: `"Entry planter"` is a name and no size | say what of it is meant, as in `"Entry planter".area`; the name of a `let` stands without quotes
    E0106 at `"Entry planter"`: `"Entry planter"` is a name and no size | say what of it is meant, as in `"Entry planter".area`; the name of a `let` stands without quotes
    E0106 at `"street"`: what of it is meant is missing behind the name | write it behind the name, without quotes, as in `"Entry planter".street.area`
    E0106 at `a.b.c.d`: too many names stand before what is measured | name the structure, the face and what of it is meant, as in `planter.street.area`
    E0106 at `(`: `(` cannot stand here | write it as in `let height = 2ft 8in`
    E0106 at `.`: a measure such as `area` is missing before `.` | name the face or structure and what of it is meant, as in `street.area`
    E0106 at `Entry planter`: a name of several words stands in quotes | write `"Entry planter".` and what of it is meant, such as `area`
    E0106 at `Entry planter`: a name of several words stands in quotes | write `"Entry planter".` and what of it is meant, such as `area`
    E0106 at `"Entry planter"`: `"Entry planter"` is a name and no size | say what of it is meant, as in `"Entry planter".area`; the name of a `let` stands without quotes
    E0106 at `"b"`: `"b"` is a name and no size | say what of it is meant, as in `"b".area`; the name of a `let` stands without quotes
    E0106 at `3ft`: `3ft` cannot stand here | write it as in `face street rect 22ft x 4ft drystone`
    "#);
}

#[test]
fn a_template_without_its_brace_keeps_its_lines() {
    let text = "template bay(w)\n  finish bark\n  face a rct w\n}\nlet d = 5ft";
    insta::assert_snapshot!(told_of(text), @r#"
    E0106 at `template bay(w)`: the `{` is missing behind `template bay(w)` | write what belongs to it in braces, as in `template bay(width, high) on block { … }`
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    "#);
}
