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
fn days_of_work() {
    insta::assert_snapshot!(in_job(&[
        "start June 1",
        "start 6/1/2026",
        "start",
        "holidays 2026-07-03 2026-07-06",
        "holidays 2026-07-32, 2026-07-06",
        "holidays",
        "weather_days June 10",
        "workdays",
        "workdays mon tue 5  hours 8h",
        "hours",
        "weather June 3 { air 97F }",
        "weather 2026-06-31 { air 97F }",
        "weather 2026-06-03",
        "crew { 2 lead }",
        "crew nobody; { lead 1 }",
        "forecast weather.csv",
        "strat 2026-06-01",
        "weatherdays 2026-06-01",
        "after \"Bench\"",
    ]), @r#"
    E0106 at `June 1`: `June 1` is no date | write year, month and day in digits, as in `2026-04-20`
    E0106 at `6/1/2026`: `6/1/2026` is no date | write year, month and day in digits, as in `2026-04-20`
    E0106 at ``: a date is missing behind `start` | write it as in `start 2026-06-01`
    E0106 at `2026`: behind `holidays` stand days with commas between them | write each as year, month and day, as in `holidays 2026-07-03, 2026-07-06`
    E0111 at `2026-07-32`: there is no day `2026-07-32` | write a day of the calendar as year, month and day, as in `2026-04-20`
    E0106 at ``: a date is missing behind `holidays` | write it as in `holidays 2026-07-03, 2026-07-06`
    E0106 at `10`: behind `weather_days` stand days with commas between them | write each as year, month and day, as in `weather_days 2026-06-10, 2026-06-11`
    E0106 at ``: a weekday such as `mon` is missing behind `workdays` | write it as in `workdays mon tue wed thu fri`
    E0106 at `5`: `5` cannot stand here | write it as in `workdays mon tue wed thu fri`
    E0106 at ``: a size or number is missing behind `hours` | write it as in `hours 8h`
    E0106 at `June 3`: `June 3` is no date | write year, month and day in digits, as in `2026-04-20`
    E0111 at `2026-06-31`: there is no day `2026-06-31` | write a day of the calendar as year, month and day, as in `2026-04-20`
    E0106 at `weather 2026-06-03`: the `{` is missing behind `weather` | write what belongs to it in braces, as in `weather { air 84F  humidity 40% }`
    E0106 at `2`: a crew is made up of wage classes, each with how many there are | write them as in `crew { lead 1  finisher 2 }`; the price book says what each is paid
    E0106 at `;`: `;` means nothing here | delete it; statements end with their line
    E0106 at `weather.csv`: the name behind `forecast` needs quotes | write `forecast "weather.csv"`
    E0107 at `strat`: `strat` begins no line here | did you mean `start`?
    E0107 at `weatherdays`: `weatherdays` begins no line here | did you mean `weather_days`?
    E0107 at `after`: `after` begins no line here | `after` belongs in the structure, as in `after "Entry planter"`
    "#);
}

#[test]
fn how_long_a_bid_holds() {
    insta::assert_snapshot!(in_job(&[
        "valid_until August 1",
        "valid_until 8/1/2026",
        "valid_until",
        "valid_until 60 days",
        "valid",
        "valid 60",
        "valid 60d",
        "valid 2 months",
        "valid until 2026-08-01",
        "valid 2026-08-01",
        "valid_for 60 days",
    ]), @r"
    E0106 at `August 1`: `August 1` is no date | write year, month and day in digits, as in `2026-04-20`
    E0106 at `8/1/2026`: `8/1/2026` is no date | write year, month and day in digits, as in `2026-04-20`
    E0106 at ``: a date is missing behind `valid_until` | write it as in `valid_until 2026-08-01`
    E0106 at `60 days`: `60 days` is no date | write year, month and day in digits, as in `2026-04-20`
    E0106 at ``: a size or number is missing behind `valid` | write it as in `valid 60 days`
    E0106 at ``: `days` is missing behind `60` | write it as in `valid 60 days`
    E0106 at ``: `days` is missing behind `60d` | write it as in `valid 60 days`
    E0106 at `months`: `days` is missing before `months` | write it as in `valid 60 days`
    E0106 at `until 2026-08-01`: behind `valid` stands a number of days | write it as in `valid 60 days`, or the last day itself, as in `valid_until 2026-08-01`
    E0106 at `2026-08-01`: behind `valid` stands a number of days | write it as in `valid 60 days`, or the last day itself, as in `valid_until 2026-08-01`
    E0107 at `valid_for`: `valid_for` begins no line here | known here: `client`, `site`, `date`, `valid_until`, `valid`, `units`, `measure`, `rules`, `prices`, `crew`, `weather`, `bid`, `conditions`, `start`, `workdays`, `hours`, `holidays`, `weather_days`, `travel` and `forecast`
    ");
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
    E0106 at `4/20/2026`: `4/20/2026` is no date | write year, month and day in digits, as in `2026-04-20`
    E0106 at `April 20, 2026`: `April 20, 2026` is no date | write year, month and day in digits, as in `2026-04-20`
    E0111 at `2026-02-30`: there is no day `2026-02-30` | write a day of the calendar as year, month and day, as in `2026-04-20`
    E0106 at ``: a name is missing behind `units` | write it as in `units us`
    E0106 at `vertical-concrete`: the name behind `rules` needs quotes | write `rules "vertical-concrete"`
    E0106 at `vertical`: the name behind `rules` needs quotes | write `rules "vertical"`
    E0106 at `crew`: `crew` does not say how many work on site | write the number, as in `crew 3`, or the wage classes, as in `crew { lead 1  finisher 2 }`
    E0106 at `four`: `four` cannot stand here | write it as in `crew 3`
    E0106 at `,`: `,` cannot stand here | write it as in `crew 3`
    E0106 at ``: a crew is made up of wage classes, each with how many there are | write them as in `crew { lead 1  finisher 2 }`; the price book says what each is paid
    E0106 at `\b`: `\b` means nothing in a quoted text | write `\\` for a backslash and `\"` for a quote, or `/` between folders
    E0107 at `burden`: `burden` begins no line here | `burden` belongs in the bid block, as in `burden 32%`
    E0107 at `face`: `face` begins no line here | close this block with `}` first, and write it behind, in its own place
    E0107 at `3`: `3` begins no line here | known here: `client`, `site`, `date`, `valid_until`, `valid`, `units`, `measure`, `rules`, `prices`, `crew`, `weather`, `bid`, `conditions`, `start`, `workdays`, `hours`, `holidays`, `weather_days`, `travel` and `forecast`
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
fn terms_of_the_bid() {
    insta::assert_snapshot!(in_job(&[
        "bid { contingency }",
        "bid { contingency 8 % }",
        "bid { class }",
        "bid { minimum }",
        "bid { minimum 2150  tax 7% on total }",
        "bid { minimum $2150  contingency 8% }",
        "bid { minimum 2,150 USD }",
        "bid { round 10 USD }",
        "bid { round up 10 USD }",
        "bid { round down to 10 USD }",
        "bid { round to }",
        "bid { round to 0.005 USD  class 3 }",
        "bid { contigency 8% }",
        "minimum 2150 USD",
    ]));
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
    E0111 at `22ft 4ft`: `22ft 4ft` are not one length | write the larger unit first, as in `12ft 6in`; width and height have `x` between them, as in `22ft x 4ft`
    E0106 at `by`: `x` is missing before the height | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at `X`: `x` is missing before the height | write it as in `face street rect 22ft x 4ft drystone`
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
    E0107 at `reveel`: `reveel` is not known here | did you mean `reveal`?
    E0107 at `window`: `window` begins no line here | known here: `opening` and `edge`
    E0106 at `{`: `opening` takes no block | delete the braces, or close the statement around it with `}` first
    "#);
}

#[test]
fn bodies() {
    insta::assert_snapshot!(in_structure(&[
        "heigth 8ft",
        "height",
        "height \"8ft\"",
        "height 8 ft",
        "at",
        "height 8ft { }",
        "face a rect 4ft x 4ft height 8ft",
        "face a rect 4ft x 4ft edge cap 4ft",
        "face a rect 4ft x 4ft conditions { access tight }",
        "face a rect 4ft x 4ft after b",
        "edge cap 4ft after b",
        "after",
        "edge cap 4ft at 9ft",
        "edge cap 4ft finish bark",
        "edge cap 4ft height 8ft",
        "edge",
        "edge cap",
        "edge cap count 2",
        "edge 22ft",
        "edge cap 22 ft",
        "edge cap 22ft cuont 2",
        "edge cap 22ft 2",
        "edge cap 22ft count",
        "edge cap 22ft x 4ft",
        "edge cap 22ft { }",
        "edge cap, joint 4ft",
        "edgee cap 22ft height 3ft",
        "edge cap height 3ft face b rct 2ft",
        "face a rct 3ft height 2ft",
    ]), @r#"
    E0107 at `heigth`: `heigth` begins no line here | did you mean `height`?
    E0106 at ``: a size or number is missing behind `height` | write it as in `height 8ft`
    E0106 at `"8ft"`: `"8ft"` is a name and no size | write `8ft` without quotes
    E0106 at `8 ft`: a blank stands between the number and its unit | write `8ft`
    E0106 at ``: a size or number is missing behind `at` | write it as in `at 9ft`
    E0106 at `{`: `height` takes no block | delete the braces, or close the statement around it with `}` first
    E0106 at `height 8ft`: `height` stands behind the face and holds for the whole structure | write `height` on a line of its own, or before the face
    E0106 at `edge cap 4ft`: `edge` stands behind the face and holds for the whole structure | write it in the braces of the face, as in `face street rect 22ft x 4ft drystone { edge cap 22ft }`, or on a line of its own, as an edge of the structure
    E0106 at `conditions`: `conditions` stands behind the face and holds for the whole structure | write `conditions` on a line of its own, or before the face
    E0106 at `after b`: `after` stands behind the face and holds for the whole structure | write `after` on a line of its own, or before the face
    E0106 at `after b`: `after` stands behind the edge and holds for the whole structure | write `after` on a line of its own, or before the edge
    E0106 at ``: a name is missing behind `after` | write it as in `after "Entry planter"`
    E0106 at `at 9ft`: `at` stands behind the edge and holds for the whole structure | write `at` on a line of its own, or before the edge
    E0106 at `finish bark`: `finish` stands behind the edge and holds for the whole structure | write `finish` on a line of its own, or before the edge
    E0106 at `height 8ft`: `height` stands behind the edge and holds for the whole structure | write `height` on a line of its own, or before the edge
    E0106 at ``: a name is missing behind `edge` | write it as in `edge cap 22ft count 2`
    E0106 at ``: the length of the edge is missing | write kind and length, as in `edge cap 22ft count 2`
    E0106 at `count`: the length of the edge is missing | write kind and length, as in `edge cap 22ft count 2`
    E0106 at `22ft`: a name is missing before `22ft` | write it as in `edge cap 22ft count 2`
    E0106 at `22 ft`: a blank stands between the number and its unit | write `22ft`
    E0107 at `cuont`: `cuont` is not known here | did you mean `count`?
    E0106 at `2`: `2` cannot stand here | write it as in `edge cap 22ft count 2`
    E0106 at ``: a size or number is missing behind `count` | write it as in `edge cap 22ft count 2`
    E0106 at `x`: `x` cannot stand here | write it as in `edge cap 22ft count 2`
    E0106 at `{`: `edge` takes no block | delete the braces, or close the statement around it with `}` first
    E0106 at `,`: the length of the edge is missing | write kind and length, as in `edge cap 22ft count 2`
    E0107 at `edgee`: `edgee` begins no line here | did you mean `edge`?
    E0106 at `3ft`: `3ft` cannot stand here | write it as in `edge cap 22ft count 2`
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    E0107 at `rct`: `rct` is no shape | did you mean `rect`?
    "#);
}

#[test]
fn conditions() {
    insta::assert_snapshot!(in_structure(&[
        "conditions access tight",
        "conditions",
        "conditions height 3ft",
        "conditions { access }",
        "conditions { access tight place }",
        "conditions { access: tight }",
        "conditions { access = tight, place indoors }",
        "conditions { 3 }",
        "conditions { access tight { } }",
        "conditons { access tight }",
    ]), @r#"
    E0106 at `conditions`: the `{` is missing behind `conditions` | write what belongs to it in braces, as in `conditions { access tight  place indoors }`
    E0106 at `conditions`: the `{` is missing behind `conditions` | write what belongs to it in braces, as in `conditions { access tight  place indoors }`
    E0106 at `conditions`: the `{` is missing behind `conditions` | write what belongs to it in braces, as in `conditions { access tight  place indoors }`
    E0106 at ``: conditions are pairs of words, the kind first | write them as in `conditions { access tight  place indoors }`; the rule pack says which there are
    E0106 at ``: conditions are pairs of words, the kind first | write them as in `conditions { access tight  place indoors }`; the rule pack says which there are
    E0106 at `:`: conditions are pairs of words, the kind first | write them as in `conditions { access tight  place indoors }`; the rule pack says which there are
    E0106 at `=`: conditions are pairs of words, the kind first | write them as in `conditions { access tight  place indoors }`; the rule pack says which there are
    E0106 at `3`: conditions are pairs of words, the kind first | write them as in `conditions { access tight  place indoors }`; the rule pack says which there are
    E0106 at `{`: `access` takes no block | delete the braces, or close the statement around it with `}` first
    E0107 at `conditons`: `conditons` begins no line here | did you mean `conditions`?
    "#);
    insta::assert_snapshot!(in_job(&[
        "conditions access tight",
        "conditions",
        "conditions crew 3",
        "conditions { access }",
        "condition { access tight }",
        "access tight",
    ]), @r#"
    E0106 at `conditions`: the `{` is missing behind `conditions` | write what belongs to it in braces, as in `conditions { access tight  place indoors }`
    E0106 at `conditions`: the `{` is missing behind `conditions` | write what belongs to it in braces, as in `conditions { access tight  place indoors }`
    E0106 at `conditions`: the `{` is missing behind `conditions` | write what belongs to it in braces, as in `conditions { access tight  place indoors }`
    E0106 at ``: conditions are pairs of words, the kind first | write them as in `conditions { access tight  place indoors }`; the rule pack says which there are
    E0107 at `condition`: `condition` begins no line here | did you mean `conditions`?
    E0107 at `access`: `access` begins no line here | known here: `client`, `site`, `date`, `valid_until`, `valid`, `units`, `measure`, `rules`, `prices`, `crew`, `weather`, `bid`, `conditions`, `start`, `workdays`, `hours`, `holidays`, `weather_days`, `travel` and `forecast`
    "#);
}

#[test]
fn what_belongs_to_a_face() {
    insta::assert_snapshot!(in_structure(&[
        "face a rect 22ft by 4ft drystone",
        "face a rect 22ft drystone 4ft",
        "face a rect 22ft x 4ft { finish bark }",
        "face a rect 22ft x 4ft { height 3ft }",
        "face a rect 22ft x 4ft { edge cap }",
        "face a rect 22ft x 4ft { edge cap count 2 }",
        "face a rect 22ft x 4ft { edge cap 3ft edge joint count 2 opening v rect 1ft x 1ft }",
        "face a rect 22ft x 4ft { opening v rect 1ft x 1ft bark }",
        "face a rect 22ft x 4ft { opening v rect 1ft x 1ft finsh bark }",
        "face a rect 22ft x 4ft { opening v rect 1ft x 1ft finish }",
        "face a rect 22ft x 4ft { opening v rect 1ft x 1ft at 3ft }",
        "face a rect 22ft x 4ft { conditions { access tight } }",
        "face a cylinder diameter 2ft 9ft",
        "face a cylinder 2ft",
        "face a frustum 30in to 22in 9ft",
        "face a arc radius 6ft",
        "face a circle diameter 3ft x 4ft",
    ]), @r#"
    E0106 at `by`: `x` is missing before the height | write it as in `face street rect 22ft x 4ft drystone`
    E0106 at `4ft`: `4ft` cannot stand here | write it as in `face street rect 22ft x 4ft drystone`
    E0107 at `finish`: `finish` begins no line here | write the finish behind the shape, as in `face street rect 22ft x 4ft drystone`
    E0107 at `height`: `height` begins no line here | `height` belongs in the structure, as in `height 8ft`
    E0106 at ``: the length of the edge is missing | write kind and length, as in `edge cap 22ft count 2`
    E0106 at `count`: the length of the edge is missing | write kind and length, as in `edge cap 22ft count 2`
    E0106 at `count`: the length of the edge is missing | write kind and length, as in `edge cap 22ft count 2`
    E0106 at `bark`: the finish of a reveal is written with the word `finish` | write `finish bark` for another finish than the face has
    E0107 at `finsh`: `finsh` is not known here | did you mean `finish`?
    E0106 at ``: a name is missing behind `finish` | write it as in `opening vent rect 12in x 8in reveal 4in`
    E0106 at `at`: `at` cannot stand here | write it as in `opening vent rect 12in x 8in reveal 4in`
    E0107 at `conditions`: `conditions` begins no line here | `conditions` belongs in the job or structure, as in `conditions { access tight  place indoors }`
    E0111 at `2ft 9ft`: `2ft 9ft` are not one length | write the larger unit first, as in `12ft 6in`; width and height have `x` between them, as in `22ft x 4ft`
    E0106 at `2ft`: `diameter` is missing before `2ft` | write it as in `face street cylinder diameter 2ft x 9ft drystone`
    E0111 at `22in 9ft`: `22in 9ft` are not one length | write the larger unit first, as in `12ft 6in`; width and height have `x` between them, as in `22ft x 4ft`
    E0106 at ``: `sweep` is missing behind `6ft` | write it as in `face street arc radius 6ft sweep 90deg x 4ft drystone`
    E0106 at `x`: `x` cannot stand here | write it as in `face street circle diameter 3ft drystone`
    "#);
}
