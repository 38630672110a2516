use super::*;
use parge_base::Sources;

/// The outline in one line: heads in `‹›`, blocks in braces, `!` behind what is broken.
fn cut(text: &str) -> String {
    fn show(text: &str, items: &[Item], out: &mut String) {
        for item in items {
            out.push('‹');
            out.push_str(&text[item.head.clone()].replace('\n', "⏎"));
            out.push('›');
            if item.broken {
                out.push('!');
            }
            if let Some(block) = &item.block {
                out.push('{');
                show(text, &block.items, out);
                out.push_str(if block.close.is_some() { "}" } else { "…" });
            }
        }
    }
    let (mut found, mut out) = (Vec::new(), String::new());
    let file = Sources::new().add("plan", "");
    let items = outline(file, text, &mut found);
    let mut again = Vec::new();
    let scanned_twice = Builder::new(file, text, 0, &Unpaired::find(text)).run(&mut again);
    assert_eq!((&items, &found), (&scanned_twice, &again), "{text}");
    show(text, &items, &mut out);
    parge_base::diagnostic::tidy(&mut found);
    for diagnostic in found {
        let at = diagnostic.span().map_or(0, |span| span.start);
        out.push_str(&format!(" {}@{at}", diagnostic.code.id()));
    }
    out
}

#[test]
fn statements_end_with_their_lines() {
    assert_eq!(cut("a 1\n\n  b 2 # c\n# d\ne"), "‹a 1›‹b 2›‹e›");
    assert_eq!(
        cut("a 1,\n2\nb = # c\n\n 3\nc +\n4"),
        "‹a 1,⏎2›‹b = # c⏎⏎ 3›‹c +⏎4›"
    );
    assert_eq!(cut("a (1\n2) 3\nb"), "‹a (1⏎2) 3›‹b›");
    assert_eq!(cut("let a =\nlet b = 3"), "‹let a =›‹let b = 3›");
    assert_eq!(cut("a\rb\r\nc"), "‹a›‹b›‹c›");
}

#[test]
fn blocks_belong_to_the_statement_before_them() {
    assert_eq!(cut("a { b { c } d\n e } f"), "‹a›{‹b›{‹c›}‹d›‹e›}‹f›");
    assert_eq!(cut("a\n{\nb\n}"), "‹a›{‹b›}");
    assert_eq!(cut("a {} b {}"), "‹a›{}‹b›{}");
}

#[test]
fn quotes_and_comments_hide_brackets() {
    assert_eq!(
        cut("a \"{ ( # \\\" }\" # { (\nb"),
        "‹a \"{ ( # \\\" }\"›‹b›"
    );
    assert_eq!(cut("a 6\" (2') 3\nb"), "‹a 6\" (2') 3›‹b›");
}

#[test]
fn an_open_quote_ends_with_its_line_and_spares_the_brace() {
    assert_eq!(cut("a \"b c\nd"), "‹a \"b c›!‹d› E0105@2");
    assert_eq!(cut("a \"b {\n c\n}\nd"), "‹a \"b›!{‹c›}‹d› E0105@2");
    assert_eq!(cut("a { b \"c }\nd"), "‹a›{‹b \"c›!}‹d› E0105@6");
}

#[test]
fn an_open_block_ends_before_the_next_statement_of_the_top() {
    assert_eq!(
        cut("structure a {\n  face b\nlet c = 1\nstructure d { e }"),
        "‹structure a›{‹face b›…‹let c = 1›‹structure d›{‹e›} E0103@12"
    );
    assert_eq!(
        cut("structure a {\n face b {\n  c\n}\nfinish d { e }\nstructure f {\n g"),
        "‹structure a›{‹face b›{‹c›}…‹finish d›{‹e›}‹structure f›{‹g›… E0103@12 E0103@57"
    );
    assert_eq!(cut("a { b {\n c"), "‹a›{‹b›{‹c›…… E0103@2 E0103@6");
}

#[test]
fn an_unindented_block_is_one_all_the_same() {
    assert_eq!(
        cut("structure a {\nfinish b\n}\nlet c = 1"),
        "‹structure a›{‹finish b›}‹let c = 1›"
    );
}

#[test]
fn a_brace_too_many_is_told_once() {
    assert_eq!(cut("a\n}\n}\n }\nb"), "‹a›‹b› E0104@2");
    assert_eq!(cut("a { b } }\nc }"), "‹a›{‹b›}‹c› E0104@8 E0104@12");
}

#[test]
fn a_missing_opening_brace_is_put_in() {
    assert_eq!(
        cut("let a = 1\nfinish b\n c\n d\n}\nlet e = 2"),
        "‹let a = 1›‹finish b›!{‹c›‹d›}‹let e = 2› E0106@10"
    );
}

#[test]
fn an_open_bracket_spoils_one_line_only() {
    assert_eq!(cut("a (1, 2\nb (3)\nc"), "‹a (1, 2›!‹b (3)›‹c› E0103@2");
    assert_eq!(
        cut("a { b (1\n c (2) }\nd"),
        "‹a›{‹b (1›!‹c (2)›}‹d› E0103@6"
    );
}

#[test]
fn nesting_has_its_limits() {
    let deep = "a {".repeat(16) + &"}".repeat(16);
    assert!(!cut(&deep).contains('E'), "{}", cut(&deep));
    let deeper = "a {".repeat(17) + "b {} c\n let d" + &"}".repeat(17) + "\ne";
    let told = cut(&deeper);
    assert!(told.ends_with("}‹e› E0109@50"), "{told}");
    let noise = cut(&"{".repeat(1000));
    assert!(noise.ends_with("E0106@0 E0109@16"), "{noise}");
    let parens = "a ".to_owned() + &"(".repeat(65) + &")".repeat(65) + "\nb";
    assert!(cut(&parens).ends_with("›!‹b› E0109@66"), "{}", cut(&parens));
}

/// Each item takes forty times the room of the shortest line.
#[test]
fn there_are_only_so_many_items() {
    let lines = "x\n".repeat(MAX_ITEMS + 10);
    for (text, top) in [
        (lines.clone(), MAX_ITEMS),
        (format!("a {{\n{lines}}}\nb"), 1),
        ("a {\n} ".repeat(MAX_ITEMS + 10), MAX_ITEMS),
    ] {
        let mut found = Vec::new();
        let items = outline(Sources::new().add("plan", ""), &text, &mut found);
        assert_eq!(items.len(), top);
        let [only] = found.as_slice() else {
            panic!("{found:?}");
        };
        assert_eq!(only.code, parge_base::Code::TooLarge);
    }
    let fewer = "x\n".repeat(MAX_ITEMS - 1);
    assert!(!cut(&fewer).contains("E0112"));
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(2048))]

    /// [`cut`] looks that the outline of one scan is that of two.
    #[test]
    fn any_row_of_marks_is_cut(text in r##"([a(){}"#, ]|let b|\n|\nlet c|\na|""){0,40}"##) {
        cut(&text);
    }
}
