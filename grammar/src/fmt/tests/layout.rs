//! The rules of the layout, one by one.

use super::fmt;

/// Lays out statements behind a version line, which is left out of the result.
fn laid_out(text: &str) -> String {
    let out = fmt(&format!("parge 1\n{text}"));
    out.strip_prefix("parge 1\n\n").unwrap_or(&out).to_owned()
}

/// The value of a `let`, laid out.
fn value(text: &str) -> String {
    let out = laid_out(&format!("let a={text}"));
    let value = out.strip_prefix("let a = ").unwrap_or(&out);
    value.strip_suffix('\n').unwrap_or(value).to_owned()
}

#[test]
fn the_version_line_stands_alone() {
    assert_eq!(
        fmt("\u{FEFF}\r\n parge   1\r\nlet a=1"),
        "parge 1\n\nlet a = 1\n"
    );
    assert_eq!(
        fmt("# a\n\n\n# b\nparge 1 # c\n# d\nlet a=1\n\n\n"),
        "# a\n\n# b\nparge 1  # c\n\n# d\nlet a = 1\n"
    );
    assert_eq!(fmt("  # a\nparge 1"), "# a\nparge 1\n");
}

#[test]
fn numbers_stay_as_written() {
    for number in [
        "12ft 6 3/4in",
        "12' 6-3/4\"",
        "22'4\"",
        "12'-6\"",
        "6-3/4in",
        "1/2ft",
        "3 810mm",
        "3\u{202F}810.5mm",
        "2 1/2",
        "40%",
        "12ft²",
        "9m/s",
        "90°",
        "-5°C",
        "1.5rad",
        "-5C",
    ] {
        assert_eq!(value(number), number);
    }
    assert_eq!(value("12ft \t 6in"), "12ft 6in");
}

#[test]
fn one_blank_stands_around_an_operator() {
    for (written, wanted) in [
        ("b+c*d/e^2", "b + c * d / e ^ 2"),
        ("b-c", "b - c"),
        ("b -2ft", "b - 2ft"),
        ("2ft- 6in", "2ft - 6in"),
        ("2 - 1/2in", "2 - 1/2in"),
        ("1/2", "1 / 2"),
        ("6/1/2ft", "6 / 1/2ft"),
        ("- b", "-b"),
        ("- - b*-c", "--b * -c"),
        ("b--c", "b - -c"),
        ("( b+c )*( -d )", "(b + c) * (-d)"),
        ("min ( b,c ,d )", "min(b, c, d)"),
        ("b * sum((c),(d))", "b * sum((c), (d))"),
        ("2026-05-11", "2026-05-11"),
    ] {
        assert_eq!(value(written), wanted, "{written}");
    }
}

#[test]
fn a_sign_is_told_from_a_difference() {
    let weather = laid_out("job \"a\" { weather { air   - 5C  mix a-5F } }");
    assert_eq!(weather, "job \"a\" { weather { air -5C  mix a - 5F } }\n");
}

#[test]
fn faces_are_evenly_spaced() {
    let faces = "structure \"s\"on   wood{\n\
        face a rect 8ftx 3ft   count(1+1)\tbark\n\
        face b rect 8in×3ft at min (a,b)-1ft\n\
        face c rect 22\"x8\" on foam\n\
        face d polygon(0ft ,0ft)( 1ft,0ft )(0ft,1ft)\n\
        }";
    insta::assert_snapshot!(laid_out(&faces.replace("8ftx", "8ft x")), @r#"
    structure "s" on wood {
      face a rect 8ft x 3ft count (1 + 1) bark
      face b rect 8in × 3ft at min(a, b) - 1ft
      face c rect 22" x 8" on foam
      face d polygon (0ft, 0ft) (1ft, 0ft) (0ft, 1ft)
    }
    "#);
}

#[test]
fn a_block_on_one_line_stays_there_while_it_fits() {
    assert_eq!(
        laid_out("finish a{technique carve thickness  1in}"),
        "finish a { technique carve  thickness 1in }\n"
    );
    assert_eq!(
        laid_out("finish a{\n}\nfinish b{ }"),
        "finish a {}\nfinish b {}\n"
    );
    let long = "b".repeat(60);
    insta::assert_snapshot!(
        laid_out(&format!("finish {long} {{ technique carve sealer matte, 2 coats relief 1.2 }}")),
        @"
    finish bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb {
      technique carve
      sealer matte, 2 coats
      relief 1.2
    }
    "
    );
}

#[test]
fn a_broken_block_has_one_member_a_line() {
    let text = "job \"a\" { crew 2 units us\n\n\n weather { air 60F\twind 2mph } bid {\n\
        burden 1%  tax 2% on total\n\n} measure net\n\n\n}";
    insta::assert_snapshot!(laid_out(text), @r#"
    job "a" {
      crew 2
      units us

      weather { air 60F  wind 2mph }
      bid {
        burden 1%
        tax 2% on total
      }
      measure net
    }
    "#);
}

/// What is a word of the language in one place may be a name in another.
#[test]
fn names_that_are_words_of_the_language() {
    insta::assert_snapshot!(
        laid_out("finish a {\n technique relief relief 1.2 colours sealer 60%, relief 40% \
            sealer sealer, 2 coats\n}"),
        @"
    finish a {
      technique relief
      relief 1.2
      colours sealer 60%, relief 40%
      sealer sealer, 2 coats
    }
    "
    );
    // Here the terms cannot be told apart, so the line is left whole.
    assert_eq!(
        laid_out("job \"a\" { bid {\n profit margin tax  burden 1%\n} }"),
        "job \"a\" {\n  bid {\n    profit margin tax burden 1%\n  }\n}\n"
    );
}

#[test]
fn comments_keep_their_place() {
    let text = "# 1\nlet a = 1 # 2\n\n   # 3\n# 4 \t\n\nfinish b # 5\n # 6\n{ # 7\n\n # 8\n\
        technique carve  thickness 1in# 9\n colours c 60%, # 10\n # 11\n d 40% sealer e\n\n\
        # 12\n\n} # 13\n # 14";
    insta::assert_snapshot!(laid_out(text), @"
    # 1
    let a = 1  # 2

    # 3
    # 4

    finish b {  # 5
      # 6
      # 7

      # 8
      technique carve
      thickness 1in  # 9
      colours c 60%,  # 10
          # 11
          d 40%
      sealer e

      # 12
    }  # 13
    # 14
    ");
}

#[test]
fn statements_behind_a_brace_get_lines_of_their_own() {
    assert_eq!(
        laid_out("finish a { relief 1 } let b = 2\nfinish c { relief 1 } # d"),
        "finish a { relief 1 }\nlet b = 2\nfinish c { relief 1 }  # d\n"
    );
}

#[test]
fn what_was_broken_is_joined_where_it_fits() {
    assert_eq!(value("1 +\n\n 2 *\n(3\n- 4\n)"), "1 + 2 * (3 - 4)");
    let name = "a_name_that_is_rather_long";
    let sum = [name; 6].join("+");
    insta::assert_snapshot!(value(&sum), @"
    a_name_that_is_rather_long + a_name_that_is_rather_long + a_name_that_is_rather_long +
        a_name_that_is_rather_long + a_name_that_is_rather_long + a_name_that_is_rather_long
    ");
    let least = format!("1 + min({}) * 2", [name; 6].join(","));
    insta::assert_snapshot!(value(&least), @"
    1 + min(a_name_that_is_rather_long, a_name_that_is_rather_long, a_name_that_is_rather_long,
        a_name_that_is_rather_long, a_name_that_is_rather_long, a_name_that_is_rather_long) * 2
    ");
    let endless = "b".repeat(120);
    assert_eq!(
        value(&format!("{endless}+ 1")),
        format!("let a =\n    {endless} +\n    1")
    );
}

#[test]
fn a_long_face_is_broken_behind_commas_and_keeps_its_block() {
    let corners = "(10ft 6 1/2in, 12ft 3in)".repeat(6);
    let text =
        format!("structure a {{ face b polygon {corners} at 3ft {{ opening c rect 1ft x 1ft }} }}");
    insta::assert_snapshot!(laid_out(&text), @"
    structure a {
      face b polygon (10ft 6 1/2in, 12ft 3in) (10ft 6 1/2in, 12ft 3in) (10ft 6 1/2in,
          12ft 3in) (10ft 6 1/2in, 12ft 3in) (10ft 6 1/2in, 12ft 3in) (10ft 6 1/2in, 12ft 3in) at 3ft {
        opening c rect 1ft x 1ft
      }
    }
    ");
}

#[test]
fn an_ugly_plan_before_and_after() {
    let ugly = include_str!("ugly.parge");
    insta::assert_snapshot!("ugly", format!("{ugly}\n======== laid out\n{}", fmt(ugly)));
}

#[test]
fn templates_alternates_and_bid_content() {
    let text = r#"include   "finishes.parge"
template bay( w,h ) on block{ face front rect w x h
height 2ft at 9ft  edge  cap street.width*2 count 2
face b stations stepped(0ft,2ft)(4ft , 3ft) }
structure "North" from  bay ( 4ft, "Entry planter".street.width-1ft )
structure "West" on wood{ conditions{ access tight place outdoor }
face a rect 4ft at 3ft drystone{
opening n arch 2ft x 3ft rise 6in reveal 4in on top , sides finish bark
edge drip 4ft } }
alternate "Carve" { structure "West"{finish bark} omit "North" }
allowance "Crane day"   1 250 USD # once
exclude"Lighting"
"#;
    insta::assert_snapshot!(laid_out(text), @r#"
    include "finishes.parge"
    template bay(w, h) on block {
      face front rect w x h
      height 2ft
      at 9ft
      edge cap street.width * 2 count 2
      face b stations stepped (0ft, 2ft) (4ft, 3ft)
    }
    structure "North" from bay(4ft, "Entry planter".street.width - 1ft)
    structure "West" on wood {
      conditions { access tight  place outdoor }
      face a rect 4ft at 3ft drystone {
        opening n arch 2ft x 3ft rise 6in reveal 4in on top, sides finish bark
        edge drip 4ft
      }
    }
    alternate "Carve" { structure "West" { finish bark }  omit "North" }
    allowance "Crane day" 1 250 USD  # once
    exclude "Lighting"
    "#);
}

#[test]
fn members_that_are_new_are_told_apart() {
    let text = r#"structure "s" from bay{finish edge height height at from edge height wall . edge
edge "drip edge"-a  edge cap(a+b)*2
height street.height at 2 conditions{access "x y"place in} }
template t(){ face a rect 4ft "edge" count 2
face b rect a.x x b."c".x "edge" }
alternate "a" { omit omit structure structure{finish finish_1 }omit b # c
}
note"a"
terms "b"
"#;
    insta::assert_snapshot!(laid_out(text), @r#"
    structure "s" from bay {
      finish edge
      height height
      at from
      edge height wall.edge
      edge "drip edge" -a
      edge cap (a + b) * 2
      height street.height
      at 2
      conditions { access "x y"  place in }
    }
    template t() {
      face a rect 4ft "edge" count 2
      face b rect a.x x b."c".x "edge"
    }
    alternate "a" {
      omit omit
      structure structure { finish finish_1 }
      omit b  # c
    }
    note "a"
    terms "b"
    "#);
}
