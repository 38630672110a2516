//! Mistakes in numbers, units and calculations, each with what is said of it.

use super::told_of_all;

#[test]
fn units() {
    insta::assert_snapshot!(told_of_all(&[
        "let a = 22 ft",
        "let a = 12ft 6 in",
        "let a = 40 sq ft",
        "let a = 40sq. ft",
        "let a = 4 cubic yards",
        "let a = 22fot",
        "let a = 22q",
        "let a = 90degrees",
        "let a = 4ftx8ft",
        "let a = 12ft6in",
        "structure s { face a rect 22 ft x 4 ft drystone }",
    ]), @r#"
    E0106 at `22 ft`: a blank stands between the number and its unit | write `22ft`
    E0106 at `6 in`: a blank stands between the number and its unit | write `6in`
    E0106 at `40 sq ft`: `40 sq ft` is not how a unit is written | write `40ft2`
    E0106 at `40sq. ft`: `40sq. ft` is not how a unit is written | write `40ft2`
    E0106 at `4 cubic yards`: `4 cubic yards` is not how a unit is written | write `4yd3`
    E0110 at `fot`: `fot` is no unit | did you mean `ft`?
    E0110 at `q`: `q` is no unit | units are written as in `22ft`, `6in`, `3 810mm`, `12ft2`, `84F`
    E0110 at `degrees`: `degrees` is no unit | write an angle as `90deg`
    E0110 at `ftx8ft`: `ftx8ft` is no unit | put a blank on each side of `x`, as in `4ft x 8ft`
    E0110 at `ft6in`: `ft6in` is no unit | put a blank behind `ft`, as in `12ft 6in`
    E0106 at `22 ft`: a blank stands between the number and its unit | write `22ft`
    E0106 at `4 ft`: a blank stands between the number and its unit | write `4ft`
    "#);
}

#[test]
fn numbers() {
    insta::assert_snapshot!(told_of_all(&[
        "let a = 3/0in",
        "let a = 6 5/4in",
        &format!("let a = 1{}", "0".repeat(400)),
        "let a = 3,5m",
        "let a = 6¾in",
        "let a = 1e4",
    ]), @r#"
    E0111 at `3/0`: the fraction `3/0` has 0 below the line | write a fraction such as `3/4in`
    E0111 at `6 5/4`: the fraction `5/4` in `6 5/4` is one or more | write a whole number and a fraction below one, as in `6 3/4in`
    E0111 at `10000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000`: `1000000000000000000000000000000000000000…` is too large a number | write a number that can be measured, such as `22ft`
    E0111 at `,`: a comma stands in a number | write a point before decimals, as in `3.5m`, and a blank between thousands, as in `3 810mm`
    E0106 at `¾`: `¾` means nothing here | write the fraction out, as in `6 3/4in`
    E0110 at `e4`: `e4` is no unit | units are written as in `22ft`, `6in`, `3 810mm`, `12ft2`, `84F`
    "#);
}

#[test]
fn lengths_that_can_be_read_in_two_ways() {
    insta::assert_snapshot!(told_of_all(&[
        "let a = 6-3/4",
        "let a = 12ft-6in",
        "let a = 12' - 6\"",
        "let a = 12ft 63/4in",
        "let a = 12.5ft 6in",
        "let a = 22ft 4ft",
        "let a = 84F 40%",
    ]), @r#"
    E0111 at `6-3/4`: `6-3/4` can be read in two ways | write `6 3/4` for one number, or `6 - 3/4` for a difference
    E0111 at `12ft-6in`: `12ft-6in` can be read in two ways | write `12ft 6in` for one length, or `12ft - 6in` for a difference
    E0111 at `12' - 6"`: `12' - 6"` can be read in two ways | write `12' 6"` for one length, or `12ft - 6in` for a difference
    E0111 at `63/4in`: `63/4in` is not less than `1ft` | write the part behind `12ft` smaller, with a blank before a fraction, as in `12ft 6 3/4in`
    E0111 at `12.5ft`: `12.5ft` is not whole, and a smaller unit follows | write a fraction in the smallest unit only, as in `12ft 6 3/4in`
    E0111 at `22ft 4ft`: `22ft 4ft` are not one length | write the larger unit first, as in `12ft 6in`; width and height have `x` between them, as in `22ft x 4ft`
    E0111 at `84F 40%`: `84F` and `40%` stand side by side | only lengths are written in several units, as in `12ft 6in`; put an operator, a comma or a word between other measures
    "#);
}

#[test]
fn lets() {
    insta::assert_snapshot!(told_of_all(&[
        "let a 3ft",
        "let a == 3ft",
        "let a =",
        "let = 3ft",
        "let \"a\" = 3ft",
        "let count = 3",
        "let x1 = 3",
        "let a-b = 3",
        "let a = 3ft 2",
        "let a = 3ft)",
        "let a = b +",
        "let a = * b",
        "let a = min(b c)",
        "let a = b c",
        "let",
        "let a = 3ft let b = 2ft",
        "let a = \"b\"",
        "let a = 3 { b }",
    ]), @r#"
    E0106 at `3ft`: the `=` is missing behind the name | write the name, `=` and what it stands for, as in `let height = 2ft 8in`
    E0106 at `==`: `==` stands where one `=` is enough | write the name, `=` and what it stands for, as in `let height = 2ft 8in`
    E0106 at ``: a size or number is missing behind `=` | write it as in `let height = 2ft 8in`
    E0106 at `=`: a name is missing before `=` | write it as in `let height = 2ft 8in`
    E0106 at `"a"`: a name used in calculations stands without quotes | write one word without quotes, as in `let planter_height = 2ft 8in`
    E0106 at `count`: `count` is a word of the language and no name | choose another name, as in `let count_1 = 2ft 8in`
    E0106 at `x1`: `x1` is a word of the language and no name | choose another name, as in `let my_x1 = 2ft 8in`
    E0106 at `a-b`: `a-b` is read as a difference | write the name with `_`, as in `a_b`
    E0106 at `2`: `2` cannot stand here | write it as in `let height = 2ft 8in`
    E0106 at `)`: `)` cannot stand here | write it as in `let height = 2ft 8in`
    E0106 at ``: a size or number is missing behind `+` | write it as in `let height = 2ft 8in`
    E0106 at `*`: a size or number is missing before `*` | write it as in `let height = 2ft 8in`
    E0106 at `c`: `)` or `,` is missing before `c` | write it as in `let height = 2ft 8in`
    E0106 at `c`: `c` cannot stand here | write it as in `let height = 2ft 8in`
    E0106 at ``: a name is missing behind `let` | write it as in `let height = 2ft 8in`
    E0106 at `let`: `let` cannot stand here | write it as in `let height = 2ft 8in`
    E0106 at `"b"`: `"b"` is a name and no size | say what of it is meant, as in `"b".area`; the name of a `let` stands without quotes
    E0106 at `{`: `let` takes no block | delete the braces, or close the statement around it with `}` first
    "#);
}
