//! Mistakes in includes, alternates and what a bid says beside its figures.

use super::{told_of, told_of_all};

#[test]
fn texts() {
    insta::assert_snapshot!(told_of_all(&[
        "include finishes.parge",
        "include",
        "include \"a.parge\", \"b.parge\"",
        "include \"a\" { }",
        "include \"..\\a\"",
        "exclude Electrical",
        "exclude Electrical and lighting on site",
        "exclude \"\"",
        "exclude \"a",
        "note",
        "note \"a\" \"b\"",
        "terms Net 30",
        "exclusion \"Electrical\"",
        "exclusions \"Electrical\"",
        "allowances \"Crane day\" 850 USD",
        "import \"a\"",
        "omit \"Grotto\"",
        "edge cap 22ft",
        "height 8ft",
        "conditions { access tight }",
        "exclued \"a\"",
    ]), @r#"
    E0106 at `finishes.parge`: the text behind `include` needs quotes | write `include "finishes.parge"`
    E0106 at ``: a text in quotes is missing behind `include` | write it as in `include "finishes.parge"`
    E0106 at `,`: `,` cannot stand here | write it as in `include "finishes.parge"`
    E0106 at `{`: `include` takes no block | delete the braces, or close the statement around it with `}` first
    E0106 at `\a`: `\a` means nothing in a quoted text | write `\\` for a backslash and `\"` for a quote, or `/` between folders
    E0106 at `Electrical`: the text behind `exclude` needs quotes | write `exclude "Electrical"`
    E0106 at `Electrical and lighting on site`: the text behind `exclude` needs quotes | write `exclude "Electrical and lighting on site"`
    E0106 at `""`: the quoted text is empty | write a name between the quotes, as in `"Entry planter"`
    E0105 at `"a`: the quoted text is not closed | write `"` behind the text, on the same line, as in `"Entry planter"`
    E0106 at ``: a text in quotes is missing behind `note` | write it as in `note "Owner supplies water on site"`
    E0106 at `"b"`: `"b"` cannot stand here | write it as in `note "Owner supplies water on site"`
    E0106 at `Net 30`: the text behind `terms` needs quotes | write `terms "Net 30"`
    E0107 at `exclusion`: `exclusion` begins no statement here | write `exclude "Electrical and lighting"`
    E0107 at `exclusions`: `exclusions` begins no statement here | write `exclude "Electrical and lighting"`
    E0107 at `allowances`: `allowances` begins no statement here | did you mean `allowance`?
    E0107 at `import`: `import` begins no statement here | write `include "finishes.parge"`
    E0107 at `omit`: `omit` begins no statement here | `omit` belongs in the braces of an alternate, as in `omit "Grotto"`
    E0107 at `edge`: `edge` begins no statement here | `edge` belongs in the braces of a structure, as in `edge cap 22ft count 2`
    E0107 at `height`: `height` begins no statement here | `height` belongs in the braces of a structure, as in `height 8ft`
    E0107 at `conditions`: `conditions` begins no statement here | `conditions` belongs in the braces of a job or structure, as in `conditions { access tight  place indoors }`
    E0107 at `exclued`: `exclued` begins no statement here | did you mean `exclude`?
    "#);
}

#[test]
fn allowances() {
    insta::assert_snapshot!(told_of_all(&[
        "allowance Crane day 850 USD",
        "allowance \"Crane day\"",
        "allowance 850 USD",
        "allowance \"Crane day\" 850",
        "allowance \"Crane day\" $850",
        "allowance \"Crane day\" €1 250.50",
        "allowance \"Crane day\" USD 850",
        "allowance \"Crane day\" 850$",
        "allowance \"Crane day\" 850 usd",
        "allowance \"Crane day\" 850 dollars",
        "allowance \"Crane day\" 850 US",
        "allowance \"Crane day\" 850 XQQ",
        "allowance \"Crane day\" 1,250 USD",
        "allowance \"Crane day\" 1250 000 USD",
        "allowance \"Crane day\" 850.505 USD",
        "allowance \"Crane day\" 850.50 JPY",
        "allowance \"Crane day\" -850 USD",
        "allowance \"Crane day\" about 850 USD",
        "allowance \"Crane day\" \"850 USD\"",
        "allowance \"Crane day\" 850 USD { }",
        "allowance \"Crane day\" 99999999999999999999999999999999 USD",
    ]), @r#"
    E0106 at `Crane day 850 USD`: the name behind `allowance` needs quotes | write `allowance "Crane day" 850 USD`
    E0106 at ``: an amount is missing behind `"Crane day"` | write it as in `allowance "Crane day" 850 USD`
    E0106 at `850`: a name in quotes is missing before `850` | write it as in `allowance "Crane day" 850 USD`
    E0110 at `850`: the currency is missing behind `850` | write its code of ISO 4217, as in `850 USD`
    E0111 at `$850`: `$850` is no amount of money | write `850 USD`
    E0111 at `€1 250.50`: `€1 250.50` is no amount of money | write `1 250.50 EUR`
    E0111 at `USD 850`: `USD 850` is no amount of money | write `850 USD`
    E0110 at `850$`: `$` is no currency | write `850 USD`
    E0110 at `850 usd`: `usd` is no currency | write `850 USD`
    E0110 at `850 dollars`: `dollars` is no currency | write `850 USD`
    E0110 at `850 US`: `US` is no currency | write a code of ISO 4217 in capitals, as in `850 USD`
    E0110 at `850 XQQ`: `XQQ` is no currency | write a code of ISO 4217 in capitals, as in `850 USD`
    E0111 at `1,250 USD`: a comma stands in an amount | write a point before cents, as in `850.50 USD`, and a blank between thousands, as in `1 250 USD`
    E0111 at `1250 000 USD`: `1250 000 USD` is no amount of money | write the number and then the currency, as in `850 USD`
    E0111 at `850.505 USD`: `850.505 USD` has more digits behind the point than the 2 of USD | write an amount as in `850.55 USD`, and a blank between thousands, as in `1 250 USD`
    E0111 at `850.50 JPY`: `850.50 JPY` has digits behind the point, and JPY has none | write a whole amount, as in `1 250 JPY`
    E0111 at `-850 USD`: `-850 USD` is less than nothing | write the sum without a sign, as in `850 USD`
    E0111 at `about 850 USD`: `about 850 USD` is no amount of money | write the number and then the currency, as in `850 USD`
    E0106 at `"850 USD"`: an amount is missing before `"850 USD"` | write it as in `allowance "Crane day" 850 USD`
    E0106 at `{`: `allowance` takes no block | delete the braces, or close the statement around it with `}` first
    E0111 at `99999999999999999999999999999999 USD`: `99999999999999999999999999999999 USD` is too large an amount | write an amount that can be paid, such as `850 USD`
    "#);
}

#[test]
fn alternates() {
    insta::assert_snapshot!(told_of_all(&[
        "alternate Carve it { omit a }",
        "alternate \"a\"",
        "alternate \"a\" { structure \"b\" finish bark }",
        "alternate \"a\" { structure \"b\" }",
        "alternate \"a\" { structure \"b\" omit c }",
        "alternate \"a\" { structure \"b\" { } }",
        "alternate \"a\" { structure \"b\" { finish c finish d } }",
        "alternate \"a\" { structure \"b\" { finish } }",
        "alternate \"a\" { structure \"b\" { finish c { } } }",
        "alternate \"a\" { structure \"b\" { face c rect 1ft } }",
        "alternate \"a\" { structure Entry planter { finish c } }",
        "alternate \"a\" { omit }",
        "alternate \"a\" { omit Entry planter }",
        "alternate \"a\" { omit \"b\" { } }",
        "alternate \"a\" { omitt \"b\" }",
        "alternate \"a\" { finish bark }",
        "alternate \"a\" { remove \"b\" }",
        "alternate \"a\" { omt \"b\" omit 3 }",
    ]), @r#"
    E0106 at `Carve it`: the name behind `alternate` needs quotes | write `alternate "Carve it"`
    E0106 at `alternate "a"`: the `{` is missing behind `alternate "a"` | write what belongs to it in braces, as in `alternate "Carve the planter" { structure "Entry planter" { finish bark } }`
    E0106 at `structure "b"`: an alternate says in braces what becomes of a structure | write `structure "Entry planter" { finish bark }`, or leave the structure out, as in `omit "Grotto"`
    E0106 at `structure "b"`: an alternate says in braces what becomes of a structure | write `structure "Entry planter" { finish bark }`, or leave the structure out, as in `omit "Grotto"`
    E0106 at `structure "b"`: an alternate says in braces what becomes of a structure | write `structure "Entry planter" { finish bark }`, or leave the structure out, as in `omit "Grotto"`
    E0208 at `structure "b"`: the alternate does not say what becomes of the structure | name a finish, as in `structure "Entry planter" { finish bark }`, or leave the structure out, as in `omit "Grotto"`
    E0209 at `d`: an alternate gives a structure one finish | write one finish, as in `structure "Entry planter" { finish bark }`
    E0106 at ``: a name is missing behind `finish` | write it as in `finish bark`
    E0106 at `{`: `finish` takes no block | delete the braces, or close the statement around it with `}` first
    E0107 at `face`: `face` begins no line here | an alternate changes the finish of a structure alone: write `finish bark`, or leave the structure out with `omit`
    E0106 at `Entry planter`: the name behind `structure` needs quotes | write `structure "Entry planter"`
    E0106 at ``: a name is missing behind `omit` | write it as in `omit "Grotto"`
    E0106 at `Entry planter`: the name behind `omit` needs quotes | write `omit "Entry planter"`
    E0106 at `{`: `omit` takes no block | delete the braces, or close the statement around it with `}` first
    E0107 at `omitt`: `omitt` begins no line here | did you mean `omit`?
    E0107 at `finish`: `finish` begins no line here | say of which structure, as in `structure "Entry planter" { finish bark }`
    E0107 at `remove`: `remove` begins no line here | known here: `structure` and `omit`
    E0107 at `omt`: `omt` begins no line here | did you mean `omit`?
    E0106 at `3`: a name is missing before `3` | write it as in `omit "Grotto"`
    "#);
}

#[test]
fn an_alternate_without_its_brace_keeps_its_structures() {
    let text = "alternate \"a\"\n  structure \"b\" { finish c }\n  omt \"d\"\n}\nlet d = 5ft";
    insta::assert_snapshot!(told_of(text), @r#"
    E0106 at `alternate "a"`: the `{` is missing behind `alternate "a"` | write what belongs to it in braces, as in `alternate "Carve the planter" { structure "Entry planter" { finish bark } }`
    E0107 at `omt`: `omt` begins no line here | did you mean `omit`?
    "#);
}
