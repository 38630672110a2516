//! The TextMate grammar: it is well formed, and colours every word of the language.

// Helpers of tests fail as tests do.
#![allow(clippy::expect_used)]

#[path = "editors/textmate.rs"]
mod textmate;

use fancy_regex::Regex;
use parge_grammar::analysis::{Explained, Home, words_of_the_language};
use serde_json::Value;
use std::fmt::Write;
use textmate::{Grammar, Token};

const FILE: &str = include_str!("../editors/parge.tmLanguage.json");

/// The sample of the design.
const SAMPLE: &str = include_str!("editors/sample.parge");

/// What the sample does not have.
const REST: &str = include_str!("editors/rest.parge");

fn file() -> Value {
    serde_json::from_str(FILE).expect("JSON")
}

/// Each object of the file with its rules.
fn rules(value: &Value) -> Vec<&serde_json::Map<String, Value>> {
    match value {
        Value::Array(list) => list.iter().flat_map(rules).collect(),
        Value::Object(map) => {
            let inner = map.values().flat_map(rules);
            std::iter::once(map).chain(inner).collect()
        }
        _ => Vec::new(),
    }
}

#[test]
fn the_file_has_what_editors_ask_for() {
    let file = file();
    assert_eq!(file["scopeName"], "source.parge");
    assert_eq!(file["fileTypes"][0], "parge");
    assert!(file["name"].is_string());
    assert!(
        file["patterns"]
            .as_array()
            .is_some_and(|list| !list.is_empty())
    );
}

#[test]
fn every_expression_can_be_read() {
    let file = file();
    let mut count = 0;
    for rule in rules(&file) {
        for key in ["match", "begin", "end"] {
            if let Some(expression) = rule.get(key).and_then(Value::as_str) {
                Regex::new(expression).unwrap_or_else(|error| panic!("{expression}: {error}"));
                count += 1;
            }
        }
        assert_eq!(rule.contains_key("begin"), rule.contains_key("end"));
    }
    assert!(count > 40);
}

#[test]
fn everything_that_is_included_is_there_and_used() {
    let file = file();
    let rules = rules(&file);
    let included: Vec<&str> = rules
        .iter()
        .filter_map(|rule| rule.get("include")?.as_str()?.strip_prefix('#'))
        .collect();
    let there = file["repository"].as_object().expect("the parts");
    for name in &included {
        assert!(there.contains_key(*name), "{name}");
    }
    for name in there.keys() {
        assert!(included.contains(&name.as_str()), "{name} is used nowhere");
    }
}

#[test]
fn scopes_have_usual_names() {
    const ROOTS: [&str; 9] = [
        "comment",
        "constant",
        "entity",
        "invalid",
        "keyword",
        "punctuation",
        "storage",
        "string",
        "support",
    ];
    let file = file();
    for rule in rules(&file) {
        for key in ["name", "contentName"] {
            let Some(scopes) = rule
                .get(key)
                .and_then(Value::as_str)
                .filter(|name| *name != "Parge plan")
            else {
                continue;
            };
            for scope in scopes.split(' ') {
                let root = scope.split('.').next().unwrap_or("");
                assert!(ROOTS.contains(&root) || root == "variable", "{scope}");
                assert!(scope.ends_with(".parge"), "{scope}");
            }
        }
    }
}

/// The right form of a word with what stands around it.
fn around(word: &Explained) -> String {
    let form = word.form;
    let first = form.split(' ').next().unwrap_or("");
    let face = |member: &str| format!("structure A {{ face f rect 1ft {{ {member} }} }}");
    match word.home {
        Home::Plan | Home::Head => form.to_owned(),
        Home::Job => format!("job \"A\" {{ {form} }}"),
        Home::Weather => format!("job \"A\" {{ weather {{ {form} }} }}"),
        Home::Bid => format!("job \"A\" {{ bid {{ {form} }} }}"),
        Home::Finish => format!("finish a {{ {form} }}"),
        Home::Body => format!("structure A {{ {form} }}"),
        Home::Face | Home::Side => face(form),
        Home::Alternate => format!("alternate \"A\" {{ {form} }}"),
        Home::Change => format!("alternate \"A\" {{ structure A {{ {form} }} }}"),
        Home::Shape | Home::Size => format!("structure A {{ face f {form} }}"),
        Home::Detail if first == "face" => format!("structure A {{ {form} }}"),
        Home::Detail => face(form),
        Home::Choice if ["units", "measure", "workdays", "valid"].contains(&first) => {
            format!("job \"A\" {{ {form} }}")
        }
        Home::Choice if first == "sealer" => format!("finish a {{ {form} }}"),
        Home::Choice => format!("job \"A\" {{ bid {{ {form} }} }}"),
        Home::Function | Home::Property => format!("let a = {form}"),
    }
}

#[test]
fn every_word_of_the_language_has_a_colour() {
    let file = file();
    let grammar = Grammar::new(&file);
    for word in words_of_the_language() {
        let text = around(word);
        let tokens: Vec<Token> = grammar.lines(&text).into_iter().flatten().collect();
        let coloured = tokens.iter().any(|token| {
            let scope = token.scopes.last().map_or("", String::as_str);
            let roots = ["keyword.", "storage.", "support.", "constant.language."];
            let has_it = token.text.split([',', ' ']).any(|part| part == word.word);
            has_it && roots.iter().any(|root| scope.starts_with(root))
        });
        assert!(coloured, "`{}` in `{text}`: {tokens:#?}", word.word);
    }
}

/// Each line, and below it what each of its parts is.
fn told(text: &str) -> String {
    let file = file();
    let mut told = String::new();
    for (line, tokens) in text.lines().zip(Grammar::new(&file).lines(text)) {
        writeln!(told, "{line}").expect("a string");
        for token in tokens.iter().filter(|token| !token.text.trim().is_empty()) {
            let scopes: Vec<_> = token
                .scopes
                .iter()
                .map(|scope| scope.trim_end_matches(".parge"))
                .collect();
            let scopes = if scopes.is_empty() {
                "-".to_owned()
            } else {
                scopes.join(" ")
            };
            writeln!(told, "    {:<28} {scopes}", token.text.trim()).expect("a string");
        }
    }
    told
}

#[test]
fn of_the_sample() {
    insta::assert_snapshot!(told(SAMPLE));
}

#[test]
fn of_what_the_sample_does_not_have() {
    insta::assert_snapshot!(told(REST));
}

#[test]
fn texts_and_comments_end_with_their_line() {
    let file = file();
    let lines =
        Grammar::new(&file).lines("note \"open\nlet a = 1 # let b\nfinish bark {\n}\nlet c = 2\n");
    let first = |line: usize| lines[line][0].scopes.last().cloned().unwrap_or_default();
    assert_eq!(first(1), "storage.type.let.parge");
    assert_eq!(first(4), "storage.type.let.parge");
    let comment = lines[1].last().expect("a token");
    assert!(
        comment
            .scopes
            .iter()
            .any(|scope| scope.starts_with("comment.")),
        "{comment:?}"
    );
}

#[test]
fn a_statement_ends_at_the_next_one() {
    let file = file();
    let lines =
        Grammar::new(&file).lines("structure A on block\nstructure B from bay(2ft)\nlet c = 2ft\n");
    let scope = |line: usize, token: usize| lines[line][token].scopes.clone();
    assert_eq!(scope(1, 0), ["storage.type.structure.parge"]);
    assert_eq!(scope(2, 0), ["storage.type.let.parge"]);
}
