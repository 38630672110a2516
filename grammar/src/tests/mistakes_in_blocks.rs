//! Mistakes in the lines of blocks, each with what is said of it.

use super::told_of_all;

fn in_job(lines: &[&str]) -> String {
    let statements: Vec<_> = lines
        .iter()
        .map(|line| format!("job \"a\" {{\n{line}\n}}"))
        .collect();
    told_of_all(&statements.iter().map(String::as_str).collect::<Vec<_>>())
}

fn in_finish(lines: &[&str]) -> String {
    let statements: Vec<_> = lines
        .iter()
        .map(|line| format!("finish a {{\n{line}\n}}"))
        .collect();
    told_of_all(&statements.iter().map(String::as_str).collect::<Vec<_>>())
}

fn in_structure(lines: &[&str]) -> String {
    let statements: Vec<_> = lines
        .iter()
        .map(|line| format!("structure a {{\n{line}\n}}"))
        .collect();
    told_of_all(&statements.iter().map(String::as_str).collect::<Vec<_>>())
}

#[test]
fn job_settings() {
    insta::assert_snapshot!(in_job(&[
        "clinet \"a\"",
        "client Heron Point Trust",
        "client",
        "date 4/20/2026",
        "date April 20, 2026",
        "date 2026-02-30",
        "units",
        "rules vertical-concrete",
        "rules vertical",
        "crew",
        "crew three four",
        "crew 3, site \"x\"",
        "crew 3 { a }",
        "prices \"C:\\books\\a.csv\"",
        "burden 3%",
        "face a rect 1ft x 1ft",
        "3",
    ]), @r#"
    E0107 at `clinet`: `clinet` begins no line here | did you mean `client`?
    E0106 at `Heron Point Trust`: the name behind `client` needs quotes | write `client "Heron Point Trust"`
    E0106 at ``: a name in quotes is missing behind `client` | write it as in `client "Heron Point Trust"`
    E0106 at `4/20/2026`: `4/20/2026` is no date | write year, month and day in digits, as in `date 2026-04-20`
    E0106 at `April 20, 2026`: `April 20, 2026` is no date | write year, month and day in digits, as in `date 2026-04-20`
    E0111 at `2026-02-30`: there is no day `2026-02-30` | write a day of the calendar as year, month and day, as in `date 2026-04-20`
    E0106 at ``: a name is missing behind `units` | write it as in `units us`
    E0106 at `vertical-concrete`: the name behind `rules` needs quotes | write `rules "vertical-concrete"`
    E0106 at `vertical`: the name behind `rules` needs quotes | write `rules "vertical"`
    E0106 at ``: a size or number is missing behind `crew` | write it as in `crew 3`
    E0106 at `four`: `four` cannot stand here | write it as in `crew 3`
    E0106 at `,`: `,` cannot stand here | write it as in `crew 3`
    E0106 at `{`: `crew` takes no block | delete the braces, or close the statement around it with `}` first
    E0106 at `\b`: `\b` means nothing in a quoted text | write `\\` for a backslash and `\"` for a quote, or `/` between folders
    E0107 at `burden`: `burden` begins no line here | `burden` belongs in the bid block, as in `burden 32%`
    E0107 at `face`: `face` begins no line here | close this block with `}` first, and write it behind, in its own place
    E0107 at `3`: `3` begins no line here | known here: `client`, `site`, `date`, `units`, `measure`, `rules`, `prices`, `crew`, `weather` and `bid`
    "#);
}

#[test]
fn weather_and_bid() {
    insta::assert_snapshot!(in_job(&[
        "weather air 84F",
        "weather",
        "weather { air 84 F }",
        "weather { iar 84F  wind 9mph }",
        "weather { air }",
        "bid { profit 25% }",
        "bid { tax 7% }",
        "bid { tax 7% materials }",
        "bid { overhead 12% tax }",
    ]), @r#"
    E0106 at `weather`: the `{` is missing behind `weather` | write what belongs to it in braces, as in `weather { air 84F  humidity 40% }`
    E0106 at `weather`: the `{` is missing behind `weather` | write what belongs to it in braces, as in `weather { air 84F  humidity 40% }`
    E0106 at `84 F`: a blank stands between the number and its unit | write `84F`
    E0107 at `iar`: `iar` begins no line here | did you mean `air`?
    E0106 at ``: a size or number is missing behind `air` | write it as in `air 84F`
    E0106 at `25%`: `markup` or `margin` is missing before `25%` | write it as in `profit markup 25%`
    E0106 at ``: `on` is missing behind `7%` | write it as in `tax 7.25% on materials`
    E0106 at `materials`: `on` is missing before `materials` | write it as in `tax 7.25% on materials`
    E0106 at ``: a size or number is missing behind `tax` | write it as in `tax 7.25% on materials`
    "#);
}

#[test]
fn finish_settings() {
    insta::assert_snapshot!(in_finish(&[
        "technique stamp carve",
        "technique",
        "thicknes 1in",
        "technique stamp thicknes 1in relief 1.15",
        "thickness 3/4 in relief 1",
        "colours granite, moss 40%",
        "colours moss-green 40%",
        "sealer matte 2 coats",
        "sealer matte, 2",
        "colours granite 60% moss 40%",
        "thickness 1in; relief 2",
        "technique relief 1",
    ]), @r#"
    E0106 at `carve`: `carve` cannot stand here | write it as in `technique stamp`
    E0106 at ``: a name is missing behind `technique` | write it as in `technique stamp`
    E0107 at `thicknes`: `thicknes` begins no line here | did you mean `thickness`?
    E0107 at `thicknes`: `thicknes` begins no line here | did you mean `thickness`?
    E0106 at `3/4 in`: a blank stands between the number and its unit | write `3/4in`
    E0106 at `,`: a size or number is missing before `,` | write it as in `colours granite 60%, moss 40%`
    E0106 at `moss-green`: `moss-green` is read as a difference | write a name with `-` in quotes, as in `"moss-green"`
    E0106 at `2`: `,` is missing before `2` | write it as in `sealer matte, 2 coats`
    E0106 at ``: `coats` is missing behind `2` | write it as in `sealer matte, 2 coats`
    E0106 at `moss`: `,` is missing before `moss` | write it as in `colours granite 60%, moss 40%`
    E0106 at `;`: `;` means nothing here | delete it; statements end with their line
    E0106 at `1`: `1` cannot stand here | write it as in `technique stamp`
    "#);
}

#[test]
fn faces() {
    insta::assert_snapshot!(in_structure(&[
        "face",
        "face a",
        "face a 22ft x 4ft",
        "face a rct 22ft x 4ft",
        "face a rect 22ft 4ft drystone",
        "face a rect 22ft by 4ft",
        "face a rect 22ft X 4ft",
        "face a rect 22ft",
        "face a rect 22ft x",
        "face a rect 1ft x 1ft x 1ft",
        "face a frustum 30in x 9ft",
        "face a circle 3ft",
        "face a arc radius 6ft x 4ft",
        "face a polygon (1ft 1ft) (2ft, 2ft)",
        "face a polygon (1ft, 2ft",
        "face a polygon (0ft, 0ft) (1ft, 0ft)",
        "face a triangle sides 3ft 4ft 5ft",
        "face 'a' rect 1ft x 1ft",
        "face a-b rect 1ft x 1ft",
        "fcae a rect 1ft x 1ft",
        "let a = 3",
    ]), @r#"
    E0106 at ``: a name is missing behind `face` | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at ``: the shape is missing behind the name | write name, shape and sizes, as in `face street rect 22ft x 4ft drystone`
    E0106 at `22ft`: the shape is missing behind the name | write name, shape and sizes, as in `face street rect 22ft x 4ft drystone`
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    E0106 at `drystone`: `x` is missing before the height | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at `by`: `x` is missing before the height | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at `X`: `x` is missing before the height | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at ``: `x` is missing before the height | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at ``: a size or number is missing behind `x` | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at `x`: `x` cannot stand here | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at `x`: `to` is missing between the two sizes | write it as in `face street frustum 30in to 22in x 9ft drystone`
    E0106 at `3ft`: `diameter` is missing before `3ft` | write it as in `face street circle diameter 3ft drystone`
    E0106 at `x`: `sweep` is missing before `x` | write it as in `face street arc radius 6ft sweep 90deg x 4ft drystone`
    E0106 at `)`: `,` is missing before `)` | write it as in `face street polygon (0ft, 0ft) (10ft, 0ft) (5ft, 7ft) drystone`
    E0103 at `(`: the bracket is not closed | write `)` behind what belongs together, as in `(0ft, 4ft)`
    E0106 at `polygon (0ft, 0ft) (1ft, 0ft)`: a polygon has three corners or more | write every corner in turn, as in `polygon (0ft, 0ft) (10ft, 0ft) (5ft, 7ft)`
    E0106 at ``: `,` is missing behind `5ft` | write it as in `face street triangle 10ft x 3ft drystone`
    E0106 at `'`: `'` means nothing here | write names in straight double quotes, as in `"Entry planter"`, and feet and inches as `12ft 6in`
    E0106 at `a-b`: `a-b` is read as a difference | write a name with `-` in quotes, as in `"a-b"`
    E0107 at `fcae`: `fcae` begins no line here | did you mean `face`?
    E0107 at `let`: `let` begins no line here | close this block with `}` first, and write it behind, in its own place
    "#);
}

#[test]
fn details_and_openings() {
    insta::assert_snapshot!(in_structure(&[
        "face a rect 22ft x 4ft cuont 2",
        "face a rect 22ft x 4ft drystone finish bark",
        "face a rect 22ft x 4ft dry-stone",
        "face a rect 22ft x 4ft on",
        "face a rect 22ft x 4ft \"unclosed",
        "finish",
        "finish a { }",
        "opening a rect 1ft x 1ft",
        "face a rect 1ft x 1ft { opening v rect 1ft x 1ft finish bark }",
        "face a rect 1ft x 1ft { opening v rect 1ft x 1ft reveel 3in }",
        "face a rect 1ft x 1ft { window v rect 1ft x 1ft }",
        "face a rect 1ft x 1ft { opening v rect 1ft x 1ft { a } }",
    ]), @r#"
    E0107 at `cuont`: `cuont` is not known here | did you mean `count`?
    E0106 at `finish bark`: a face names its finish without the word `finish` | write the name alone, as in `face street rect 22ft x 4ft drystone`
    E0106 at `dry-stone`: `dry-stone` is read as a difference | write a name with `-` in quotes, as in `"dry-stone"`
    E0106 at ``: a name is missing behind `on` | write it as in `face street rect 22ft x 4ft drystone`
    E0105 at `"unclosed`: the quoted text is not closed | write `"` behind the text, on the same line, as in `"Entry planter"`
    E0106 at ``: a name is missing behind `finish` | write it as in `finish drystone`
    E0106 at `{`: `finish` takes no block | delete the braces, or close the statement around it with `}` first
    E0107 at `opening`: `opening` begins no line here | write it in the braces of its face: `face street rect 22ft x 4ft { opening vent rect 12in x 8in reveal 4in }`
    E0106 at `finish`: an opening has the finish of its face | leave it out, as in `opening vent rect 12in x 8in reveal 4in`
    E0107 at `reveel`: `reveel` is not known here | did you mean `reveal`?
    E0107 at `window`: `window` begins no line here | the only one known is `opening`
    E0106 at `{`: `opening` takes no block | delete the braces, or close the statement around it with `}` first
    "#);
}
