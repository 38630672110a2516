//! Answers to the questions that an import can have, each under a key.

use crate::cells::{Decimal, LengthUnit, given_length};
use parge_base::Currency;

/// Whether something is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Take {
    /// It is.
    Include,
    /// It is not.
    LeaveOut,
}

/// What rows are that begin with the word of an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OpeningRows {
    /// Openings of the face above.
    Deduct,
    /// Faces of their own.
    Faces,
}

/// Whether a figure beside a count is of each of the equal ones, or of all together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Are {
    /// Of each.
    Each,
    /// Of all together.
    All,
}

/// The answers; a question is asked where one is missing that is needed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Answers {
    /// What stands before decimals in texts.
    pub decimal: Option<Decimal>,
    /// The unit of lengths that name none.
    pub length: Option<LengthUnit>,
    /// The unit of areas that name none, by its length.
    pub area: Option<LengthUnit>,
    /// Hidden rows, columns and sheets.
    pub hidden: Option<Take>,
    /// Rows that are struck through.
    pub struck: Option<Take>,
    /// Whether days are fractions that became days; otherwise their rows are rejected.
    pub dates: Option<bool>,
    /// Rows that begin with the word of an opening.
    pub openings: Option<OpeningRows>,
    /// Areas beside a count.
    pub areas_are: Option<Are>,
    /// Openings beside a count.
    pub openings_are: Option<Are>,
    /// Whether a heading that says `x 4` multiplies what stands under it.
    pub repeats: Option<bool>,
    /// The height of faces that state none, as a plan writes it.
    pub height: Option<String>,
    /// Whether a price beside no pack size is that of one unit; otherwise its row is rejected.
    pub pack: Option<bool>,
    /// Whether a price beside a pack size is that of the whole pack; otherwise of one unit of it.
    pub prices_are_of_packs: Option<bool>,
    /// The currency of prices that name none, by its three letters.
    pub currency: Option<String>,
}

/// A question's key.
pub type Key = &'static str;

/// A choice of an answer: its word, and what it means.
pub type Choice = (&'static str, &'static str);

/// Every key with its choices; those without any take a value of their own.
pub const KEYS: [(Key, &[Choice]); 14] = [
    (
        "decimal",
        &[
            ("point", "a point stands before the decimals: `1,234.5`"),
            ("comma", "a comma stands before the decimals: `1.234,5`"),
        ],
    ),
    (
        "length",
        &[
            ("ft", "feet"),
            ("in", "inches"),
            ("yd", "yards"),
            ("m", "metres"),
            ("cm", "centimetres"),
            ("mm", "millimetres"),
        ],
    ),
    (
        "area",
        &[
            ("ft2", "square feet"),
            ("m2", "square metres"),
            ("yd2", "square yards"),
            ("in2", "square inches"),
        ],
    ),
    (
        "hidden",
        &[
            ("include", "they count like all others"),
            ("leave_out", "they are left out, and listed"),
        ],
    ),
    (
        "struck",
        &[
            ("include", "they count like all others"),
            ("leave_out", "they are left out, and listed"),
        ],
    ),
    (
        "dates",
        &[
            ("fractions", "a spreadsheet made days of typed fractions"),
            ("reject", "their rows are not taken over"),
        ],
    ),
    (
        "openings",
        &[
            ("deduct", "they are openings of the face above them"),
            ("faces", "they are faces of their own"),
        ],
    ),
    (
        "areas_are",
        &[
            ("each", "an area is of one of the equal faces"),
            ("all", "an area is of all equal faces together"),
        ],
    ),
    (
        "openings_are",
        &[
            ("each", "openings are those of one of the equal faces"),
            ("all", "openings are those of all equal faces together"),
        ],
    ),
    (
        "repeats",
        &[
            (
                "multiply",
                "what stands under the heading is there so many times",
            ),
            ("once", "what stands under the heading is there once"),
        ],
    ),
    ("height", &[]),
    (
        "pack",
        &[
            (
                "one",
                "a price is that of one unit: of one bag, of one gallon",
            ),
            ("reject", "their rows are not taken over"),
        ],
    ),
    (
        "prices_are",
        &[
            ("pack", "a price is that of a whole pack"),
            (
                "unit",
                "a price is that of one unit: a pack of 5 gal costs 5 times as much",
            ),
        ],
    ),
    ("currency", &[]),
];

impl Answers {
    /// Takes an answer; what it could have been where it is none.
    pub fn set(&mut self, key: &str, value: &str) -> Result<(), String> {
        let value = value.trim().to_lowercase().replace([' ', '-'], "_");
        let known = KEYS.iter().find(|(known, _)| *known == key);
        let Some((_, choices)) = known else {
            let keys: Vec<&str> = KEYS.iter().map(|(key, _)| *key).collect();
            return Err(format!("a key of: column.NAME, {}", keys.join(", ")));
        };
        let words = || {
            let words = choices.iter().map(|(word, _)| *word);
            format!("one of: {}", words.collect::<Vec<_>>().join(", "))
        };
        if key == "height" {
            let height = value.replace('_', " ");
            given_length(&height)
                .map_err(|_| "a length with its unit, such as `8ft`".to_owned())?;
            self.height = Some(height);
            return Ok(());
        }
        if key == "currency" {
            let code = value.to_uppercase();
            Currency::from_code(&code).ok_or("the three letters of a currency, such as `USD`")?;
            self.currency = Some(code);
            return Ok(());
        }
        if !choices.iter().any(|(word, _)| *word == value) {
            return Err(words());
        }
        self.choose(key, &value);
        Ok(())
    }

    fn choose(&mut self, key: &str, value: &str) {
        let take = match value {
            "include" => Some(Take::Include),
            "leave_out" => Some(Take::LeaveOut),
            _ => None,
        };
        let are = match value {
            "each" => Some(Are::Each),
            "all" => Some(Are::All),
            _ => None,
        };
        match key {
            "decimal" if value == "comma" => self.decimal = Some(Decimal::Comma),
            "decimal" => self.decimal = Some(Decimal::Point),
            "length" => self.length = LengthUnit::of(value),
            "area" => self.area = value.strip_suffix('2').and_then(LengthUnit::of),
            "hidden" => self.hidden = take,
            "struck" => self.struck = take,
            "dates" => self.dates = Some(value == "fractions"),
            "prices_are" => self.prices_are_of_packs = Some(value == "pack"),
            "pack" => self.pack = Some(value == "one"),
            "openings" if value == "faces" => self.openings = Some(OpeningRows::Faces),
            "openings" => self.openings = Some(OpeningRows::Deduct),
            "areas_are" => self.areas_are = are,
            "openings_are" => self.openings_are = are,
            _ => self.repeats = Some(value == "multiply"),
        }
    }

    /// The answers that were given, as keys and words.
    pub fn given(&self) -> Vec<(Key, String)> {
        let take = |take: Take| match take {
            Take::Include => "include",
            Take::LeaveOut => "leave_out",
        };
        let are = |are: Are| match are {
            Are::Each => "each",
            Are::All => "all",
        };
        let words = |word: &'static str| word.to_owned();
        let decimal = self.decimal.map(|decimal| match decimal {
            Decimal::Point => words("point"),
            Decimal::Comma => words("comma"),
        });
        let openings = self.openings.map(|openings| match openings {
            OpeningRows::Deduct => words("deduct"),
            OpeningRows::Faces => words("faces"),
        });
        let all = [
            ("decimal", decimal),
            ("length", self.length.map(|unit| words(unit.word()))),
            ("area", self.area.map(|unit| format!("{}2", unit.word()))),
            ("hidden", self.hidden.map(take).map(words)),
            ("struck", self.struck.map(take).map(words)),
            (
                "dates",
                self.dates
                    .map(|yes| words(if yes { "fractions" } else { "reject" })),
            ),
            ("openings", openings),
            ("areas_are", self.areas_are.map(are).map(words)),
            ("openings_are", self.openings_are.map(are).map(words)),
            (
                "repeats",
                self.repeats
                    .map(|yes| words(if yes { "multiply" } else { "once" })),
            ),
            ("height", self.height.clone()),
            (
                "pack",
                self.pack
                    .map(|one| words(if one { "one" } else { "reject" })),
            ),
            (
                "prices_are",
                self.prices_are_of_packs
                    .map(|pack| words(if pack { "pack" } else { "unit" })),
            ),
            ("currency", self.currency.clone()),
        ];
        let given = all.into_iter();
        given
            .filter_map(|(key, value)| Some((key, value?)))
            .collect()
    }
}
