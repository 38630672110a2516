//! Plans made up of all that a plan can hold, written as untidily as the language bears.

use super::check;
use crate::fmt::format;
use crate::parse;
use parge_base::Sources;
use proptest::prelude::*;

/// Writes a plan by a row of choices.
struct Scribe {
    choices: Vec<u8>,
    at: usize,
    out: String,
    brackets: usize,
    comments: usize,
}

const NAMES: [&str; 9] = [
    "a",
    "high",
    "relief",
    "mix",
    "sealer",
    "é2",
    "_1",
    "\"on # {\"",
    "\"a \\\" b\"",
];

const NUMBERS: [&str; 16] = [
    "2",
    "2.5",
    "0",
    "3 810",
    "1/2ft",
    "6-3/4in",
    "12' 6-3/4\"",
    "22'4\"",
    "60%",
    "84F",
    "90deg",
    "12ft 6 3/4in",
    "3 810mm",
    "2yd3",
    "1 1/2",
    "7.5°",
];

impl Scribe {
    fn pick(&mut self, count: usize) -> usize {
        let choice = self.choices.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        usize::from(choice) % count
    }

    fn one_of(&mut self, words: &[&'static str]) -> &'static str {
        words[self.pick(words.len())]
    }

    fn put(&mut self, word: &str) {
        self.out += word;
    }

    fn blank(&mut self) {
        let blank = self.one_of(&[" ", "  ", "\t", " \t ", "\u{A0}"]);
        self.put(blank);
    }

    fn maybe(&mut self) {
        if self.pick(2) == 0 {
            self.blank();
        }
    }

    fn comment(&mut self) {
        self.comments += 1;
        let comment = self.one_of(&["#", "# one", "#two  ", "# { \"", "#\tthree } #\t"]);
        let number = self.comments;
        self.put(&format!("{comment} {number}"));
    }

    /// Ends a line, with comments and empty lines behind it.
    fn line_end(&mut self) {
        let blanks = self.one_of(&["", " ", "\t  "]);
        self.put(blanks);
        if self.pick(4) == 0 {
            self.comment();
        }
        for _ in 0..=self.pick(4) {
            let end = self.one_of(&["\n", "\n", "\r\n", "\r"]);
            self.put(end);
            let indent = self.one_of(&["", " ", "    ", "\t"]);
            self.put(indent);
            if self.pick(6) == 0 {
                self.comment();
                self.put("\n");
            }
        }
    }

    /// Where a statement goes on in any case, it may do so on another line.
    fn within(&mut self) {
        match self.pick(5) {
            0 => {
                self.line_end();
                // At the margin a word of the language would begin a statement.
                self.put(" ");
            }
            1 => {}
            _ => self.blank(),
        }
    }

    fn gap(&mut self) {
        if self.brackets > 0 {
            self.within();
        } else {
            self.blank();
        }
    }

    fn name(&mut self) {
        let name = self.one_of(&NAMES);
        self.put(if name == "_1" { "n_1" } else { name });
    }

    fn expression(&mut self, depth: usize) {
        let number = self.one_of(&NUMBERS);
        let name = self.one_of(&NAMES[..6]);
        match self.pick(if depth == 0 { 3 } else { 7 }) {
            0 => self.put(name),
            1 | 2 => self.put(number),
            3 => {
                self.put("-");
                self.expression(depth - 1);
            }
            4 => {
                self.expression(depth - 1);
                self.gap();
                let sign = self.one_of(&["+", "-", "*", "/", "^"]);
                self.put(sign);
                self.within();
                self.expression(depth - 1);
            }
            5 => self.bracketed(depth - 1, 1),
            _ => {
                let function = self.one_of(&["min", "max", "foo"]);
                self.put(function);
                self.maybe();
                let count = 1 + self.pick(3);
                self.bracketed(depth - 1, count);
            }
        }
    }

    fn bracketed(&mut self, depth: usize, count: usize) {
        self.brackets += 1;
        self.put("(");
        for at in 0..count {
            if at > 0 {
                self.put(",");
            }
            self.within();
            self.expression(depth);
            self.within();
        }
        self.put(")");
        self.brackets -= 1;
    }

    /// A word with an expression behind it.
    fn setting(&mut self, word: &str) {
        self.put(word);
        self.blank();
        self.expression(2);
    }

    fn named(&mut self, word: &str) {
        self.put(word);
        self.blank();
        self.name();
    }

    fn block(&mut self, members: fn(&mut Self, usize), kinds: usize) {
        if self.pick(8) == 0 {
            self.line_end();
        } else {
            self.blank();
        }
        self.put("{");
        let one_line = self.pick(3) == 0;
        for _ in 0..self.pick(4) {
            if !one_line && self.pick(3) > 0 {
                self.line_end();
            } else {
                self.blank();
            }
            let kind = self.pick(kinds);
            members(self, kind);
        }
        if one_line {
            self.put(" ");
        } else {
            self.line_end();
        }
        self.put("}");
    }

    fn job_member(&mut self, kind: usize) {
        match kind {
            0 => self.setting("crew"),
            1 => self.named("units"),
            2 => self.put("date 2026-05-11"),
            3 => self.put("client\"A # B\""),
            4 => {
                self.put("weather");
                self.block(Self::reading, 2);
            }
            _ => {
                self.put("bid");
                self.block(Self::term, 3);
            }
        }
    }

    fn reading(&mut self, kind: usize) {
        match kind {
            0 => self.setting("air"),
            _ => self.setting("wind"),
        }
    }

    fn term(&mut self, kind: usize) {
        match kind {
            0 => self.setting("burden"),
            1 => self.setting("profit  margin"),
            _ => {
                self.setting("tax");
                self.blank();
                self.put("on total");
            }
        }
    }

    fn finish_member(&mut self, kind: usize) {
        match kind {
            0 => self.named("technique"),
            1 => self.setting("thickness"),
            2 => self.setting("relief"),
            _ => {
                self.named("colours");
                self.blank();
                self.expression(1);
                self.maybe();
                self.put(",");
                self.within();
                self.name();
                self.put(" 40%");
            }
        }
    }

    fn shape(&mut self) {
        match self.pick(4) {
            0 => self.setting("circle diameter"),
            1 => {
                self.put("polygon");
                for _ in 0..2 + self.pick(9) {
                    self.maybe();
                    self.bracketed(1, 2);
                }
            }
            _ => {
                self.setting("rect");
                let times = self.one_of(&[" x ", " ×", "  x\t"]);
                self.put(times);
                self.expression(2);
            }
        }
    }

    fn structure_member(&mut self, kind: usize) {
        if kind == 0 {
            self.named("finish");
            return;
        }
        self.named("face");
        self.blank();
        self.shape();
        for _ in 0..self.pick(3) {
            self.blank();
            match self.pick(4) {
                0 => self.setting("count"),
                1 => self.setting("at"),
                2 => self.named("on"),
                _ => self.name(),
            }
        }
        if self.pick(3) == 0 {
            self.block(Self::opening, 1);
        }
    }

    fn opening(&mut self, _: usize) {
        self.named("opening");
        self.blank();
        self.shape();
        if self.pick(2) == 0 {
            self.blank();
            self.setting("reveal");
        }
    }

    fn statement(&mut self) {
        match self.pick(4) {
            0 => {
                self.put("let n");
                self.maybe();
                self.put("=");
                self.within();
                self.expression(3);
                return self.line_end();
            }
            1 => {
                self.put("job \"A\"");
                self.block(Self::job_member, 6);
            }
            2 => {
                self.named("finish");
                self.block(Self::finish_member, 4);
            }
            _ => {
                self.named("structure");
                self.blank();
                self.named("on");
                self.block(Self::structure_member, 3);
            }
        }
        if self.pick(4) > 0 {
            self.line_end();
        }
    }
}

/// A plan by its choices.
fn plan(choices: Vec<u8>) -> String {
    let mut scribe = Scribe {
        choices,
        at: 0,
        out: String::new(),
        brackets: 0,
        comments: 0,
    };
    let start = scribe.one_of(&["", "\u{FEFF}", "# start\n", "\r\n \n"]);
    scribe.put(start);
    scribe.put("parge\t1");
    scribe.line_end();
    for _ in 0..1 + scribe.pick(4) {
        scribe.statement();
    }
    scribe.out
}

proptest! {
    #![proptest_config(ProptestConfig { max_global_rejects: 4096, ..ProptestConfig::with_cases(256) })]

    #[test]
    fn an_untidy_plan_is_laid_out_once_and_says_the_same(
        choices in proptest::collection::vec(any::<u8>(), 20..300)
    ) {
        let text = plan(choices);
        let file = Sources::new().add("plan", "");
        // A few are refused: a finish behind a face, a number that runs into another.
        prop_assume!(parse(file, &text).diagnostics.is_empty());
        match format(file, &text) {
            Ok(laid_out) => check(&text, &laid_out),
            Err(found) => prop_assert!(false, "{found:?}\n{text}"),
        }
    }
}

#[test]
fn most_of_the_plans_made_up_are_good() {
    let good = (0..=255).filter(|seed: &u8| {
        let choices = (0..300_u32).map(|at| (at * 7 + u32::from(*seed) * at * 31 / 5) as u8);
        let text = plan(choices.collect());
        parse(Sources::new().add("plan", ""), &text)
            .diagnostics
            .is_empty()
    });
    assert!(good.count() > 128);
}
