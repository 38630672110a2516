//! Writes words, blanks, comments and expressions by a row of choices.

/// Writes a plan by a row of choices.
pub(super) struct Scribe {
    choices: Vec<u8>,
    at: usize,
    pub(super) out: String,
    brackets: usize,
    comments: usize,
}

const NAMES: [&str; 12] = [
    "a",
    "high",
    "relief",
    "mix",
    "edge",
    "height",
    "from",
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
    pub(super) fn new(choices: Vec<u8>) -> Self {
        Self {
            choices,
            at: 0,
            out: String::new(),
            brackets: 0,
            comments: 0,
        }
    }

    pub(super) fn pick(&mut self, count: usize) -> usize {
        let choice = self.choices.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        usize::from(choice) % count
    }

    pub(super) fn one_of(&mut self, words: &[&'static str]) -> &'static str {
        words[self.pick(words.len())]
    }

    pub(super) fn put(&mut self, word: &str) {
        self.out += word;
    }

    pub(super) fn blank(&mut self) {
        let blank = self.one_of(&[" ", "  ", "\t", " \t ", "\u{A0}"]);
        self.put(blank);
    }

    pub(super) fn maybe(&mut self) {
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
    pub(super) fn line_end(&mut self) {
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
    pub(super) fn within(&mut self) {
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

    pub(super) fn name(&mut self) {
        let name = self.one_of(&NAMES);
        self.put(if name == "_1" { "n_1" } else { name });
    }

    pub(super) fn expression(&mut self, depth: usize) {
        let number = self.one_of(&NUMBERS);
        let name = self.one_of(&NAMES[..9]);
        match self.pick(if depth == 0 { 4 } else { 8 }) {
            0 => self.put(name),
            1 => self.measure(),
            2 | 7 => self.put(number),
            3 if depth == 0 => self.put(number),
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

    /// `a.area`, `"on # {".high.count`
    fn measure(&mut self) {
        self.name();
        if self.pick(2) == 0 {
            self.dot();
            self.name();
        }
        self.dot();
        let property = self.one_of(&["area", "width", "height", "count", "edge", "x"]);
        self.put(property);
    }

    fn dot(&mut self) {
        self.maybe();
        self.put(".");
        self.maybe();
    }

    pub(super) fn bracketed(&mut self, depth: usize, count: usize) {
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
}
