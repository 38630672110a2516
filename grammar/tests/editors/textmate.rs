//! As much of a TextMate engine as the grammar of plans needs.

use fancy_regex::{Captures, Regex};
use serde_json::Value;

/// A part of a line with its scopes, the outermost first, without that of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Token {
    pub(crate) text: String,
    pub(crate) scopes: Vec<String>,
}

struct Rule {
    start: Regex,
    end: Option<Regex>,
    name: Option<String>,
    content: Option<String>,
    captures: Vec<(usize, String)>,
    end_captures: Vec<(usize, String)>,
    inner: Vec<usize>,
}

/// A grammar ready to run. Rules are numbered; the first list is that of the file.
pub(crate) struct Grammar {
    rules: Vec<Rule>,
    top: Vec<usize>,
}

/// Rules of the repository by name, while they are being read.
type Known<'a> = std::collections::BTreeMap<&'a str, Vec<usize>>;

impl Grammar {
    pub(crate) fn new(file: &Value) -> Self {
        let mut grammar = Self {
            rules: Vec::new(),
            top: Vec::new(),
        };
        let mut known = Known::new();
        grammar.top = grammar.list(file, &file["patterns"], &mut known);
        grammar
    }

    fn list<'a>(&mut self, file: &'a Value, list: &'a Value, known: &mut Known<'a>) -> Vec<usize> {
        let list = list.as_array().map_or(&[][..], Vec::as_slice);
        list.iter()
            .flat_map(|rule| self.read(file, rule, None, known))
            .collect()
    }

    fn read<'a>(
        &mut self,
        file: &'a Value,
        rule: &'a Value,
        name: Option<&'a str>,
        known: &mut Known<'a>,
    ) -> Vec<usize> {
        if let Some(name) = rule["include"].as_str() {
            let name = name.trim_start_matches('#');
            if let Some(rules) = known.get(name) {
                return rules.clone();
            }
            let rules = self.read(file, &file["repository"][name], Some(name), known);
            known.insert(name, rules.clone());
            return rules;
        }
        let regex = |key: &str| {
            rule[key]
                .as_str()
                .map(|text| Regex::new(text).expect("an expression"))
        };
        let Some(start) = regex("match").or_else(|| regex("begin")) else {
            return self.list(file, &rule["patterns"], known);
        };
        let names = |key: &str| {
            let captures = rule[key].as_object().into_iter().flatten();
            captures
                .map(|(number, capture)| {
                    let name = capture["name"].as_str().expect("a name").to_owned();
                    (number.parse().expect("a number"), name)
                })
                .collect::<Vec<_>>()
        };
        let text = |key: &str| rule[key].as_str().map(str::to_owned);
        let mut captures = names("captures");
        captures.extend(names("beginCaptures"));
        let number = self.rules.len();
        self.rules.push(Rule {
            start,
            end: regex("end"),
            name: text("name"),
            content: text("contentName"),
            captures,
            end_captures: names("endCaptures"),
            inner: Vec::new(),
        });
        // Known before it is read to its end, since brackets stand in brackets.
        if let Some(name) = name {
            known.insert(name, vec![number]);
        }
        self.rules[number].inner = self.list(file, &rule["patterns"], known);
        vec![number]
    }

    /// The tokens of each line.
    pub(crate) fn lines(&self, text: &str) -> Vec<Vec<Token>> {
        let mut open: Vec<usize> = Vec::new();
        let lines = text.lines();
        lines.map(|line| self.line(line, &mut open)).collect()
    }

    fn line(&self, line: &str, open: &mut Vec<usize>) -> Vec<Token> {
        let mut tokens = Vec::new();
        let mut at = 0;
        // Each turn goes on, or opens or closes a rule.
        for _ in 0..1000 {
            let Some((found, rule)) = self.next(line, at, open) else {
                break;
            };
            let whole = found.get(0).expect("a match");
            push(
                &mut tokens,
                &line[at..whole.start()],
                self.scopes(open, true),
            );
            let closes = rule.is_none();
            let rule = match rule {
                Some(rule) => rule,
                None => *open.last().expect("an open rule"),
            };
            let known = &self.rules[rule];
            if !closes && known.end.is_some() {
                open.push(rule);
                captured(
                    &mut tokens,
                    line,
                    &found,
                    &known.captures,
                    self.scopes(open, false),
                );
            } else if closes {
                captured(
                    &mut tokens,
                    line,
                    &found,
                    &known.end_captures,
                    self.scopes(open, false),
                );
                open.pop();
            } else {
                let mut scopes = self.scopes(open, true);
                scopes.extend(known.name.clone());
                captured(&mut tokens, line, &found, &known.captures, scopes);
                assert!(whole.end() > whole.start(), "{}", known.start);
            }
            at = whole.end();
        }
        push(&mut tokens, &line[at..], self.scopes(open, true));
        tokens
    }

    /// What comes first behind a place: the end of the open rule, or another rule.
    fn next<'t>(
        &self,
        line: &'t str,
        at: usize,
        open: &[usize],
    ) -> Option<(Captures<'t, str>, Option<usize>)> {
        let found = |regex: &Regex| regex.captures_from_pos(line, at).expect("a search");
        let last = open.last().map(|rule| &self.rules[*rule]);
        let end = last
            .and_then(|rule| found(rule.end.as_ref()?))
            .map(|found| (found, None));
        let inner = last.map_or(&self.top, |rule| &rule.inner);
        let inner = inner
            .iter()
            .filter_map(|rule| Some((found(&self.rules[*rule].start)?, Some(*rule))));
        // Of several at one place the first is taken.
        end.into_iter()
            .chain(inner)
            .min_by_key(|(found, _)| found.get(0).map(|whole| whole.start()))
    }

    fn scopes(&self, open: &[usize], inside: bool) -> Vec<String> {
        let mut scopes = Vec::new();
        for (depth, rule) in open.iter().enumerate() {
            let rule = &self.rules[*rule];
            scopes.extend(rule.name.clone());
            if inside || depth + 1 < open.len() {
                let content = rule.content.iter().flat_map(|names| names.split(' '));
                scopes.extend(content.map(str::to_owned));
            }
        }
        scopes
    }
}

fn push(tokens: &mut Vec<Token>, text: &str, scopes: Vec<String>) {
    if !text.trim().is_empty() {
        tokens.push(Token {
            text: text.to_owned(),
            scopes,
        });
    }
}

/// The parts of a match by its captures.
fn captured(
    tokens: &mut Vec<Token>,
    line: &str,
    found: &Captures<'_, str>,
    names: &[(usize, String)],
    scopes: Vec<String>,
) {
    let whole = found.get(0).expect("a match");
    let mut at = whole.start();
    for (number, name) in names {
        let Some(part) = found.get(*number) else {
            continue;
        };
        push(tokens, &line[at..part.start()], scopes.clone());
        let inner = scopes.iter().cloned().chain([name.clone()]).collect();
        push(tokens, part.as_str(), inner);
        at = part.end();
    }
    push(tokens, &line[at..whole.end()], scopes);
}
