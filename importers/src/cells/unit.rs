//! The words of units, as offices write them.

use super::Why;
use parge_base::{Dim, Units};
use std::sync::LazyLock;

/// Units of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LengthUnit {
    /// Foot.
    Foot,
    /// Inch.
    Inch,
    /// Yard.
    Yard,
    /// Metre.
    Metre,
    /// Centimetre.
    Centimetre,
    /// Millimetre.
    Millimetre,
}

impl LengthUnit {
    /// All of them, in their order.
    const ALL: [Self; 6] = [Foot, Inch, Yard, Metre, Centimetre, Millimetre];

    /// Whether it is one of feet and inches.
    pub fn is_imperial(self) -> bool {
        matches!(self, Self::Inch | Self::Foot | Self::Yard)
    }

    /// The unit of a plan.
    pub fn word(self) -> &'static str {
        match self {
            Self::Foot => "ft",
            Self::Inch => "in",
            Self::Yard => "yd",
            Self::Metre => "m",
            Self::Centimetre => "cm",
            Self::Millimetre => "mm",
        }
    }

    /// Its size, exact by definition.
    pub fn metres(self) -> f64 {
        match self {
            Self::Foot => 0.3048,
            Self::Inch => 0.0254,
            Self::Yard => 0.9144,
            Self::Metre => 1.0,
            Self::Centimetre => 0.01,
            Self::Millimetre => 0.001,
        }
    }

    /// How many base units one of it is, or its square, as units of plans have it. An error where
    /// they do not know it.
    pub(super) fn factor(self, dim: Dim) -> Result<f64, Why> {
        /// Looked up once: a sheet has hundreds of thousands of cells.
        static KNOWN: LazyLock<[[Option<f64>; 2]; 6]> = LazyLock::new(|| {
            let units = Units::standard();
            LengthUnit::ALL.map(|unit| {
                [
                    (unit.word().to_owned(), Dim::LENGTH),
                    (Area(unit).word(), Dim::AREA),
                ]
                .map(|(word, dim)| {
                    let known = units.parse(&word).ok();
                    let known = known.filter(|known| known.dim() == dim);
                    known.map(|known| known.factor())
                })
            })
        });
        let [length, area] = KNOWN.get(self as usize).copied().unwrap_or_default();
        let factor = if dim == Dim::AREA { area } else { length };
        factor.ok_or_else(|| Why::unclear(format!("`{}` is no unit here", self.word())))
    }

    /// The unit of a word.
    pub fn of(word: &str) -> Option<Self> {
        match unit_word(word) {
            Some((Length(unit), length)) if length == word.len() => Some(unit),
            _ => None,
        }
    }
}

/// What a word of a unit stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitWord {
    /// A length.
    Length(LengthUnit),
    /// The square of one.
    Area(LengthUnit),
    /// Pieces.
    Each,
}

impl UnitWord {
    /// The unit, if it is one of length.
    pub fn length(self) -> Option<LengthUnit> {
        match self {
            Self::Length(unit) => Some(unit),
            _ => None,
        }
    }

    /// As a plan writes it.
    pub fn word(self) -> String {
        match self {
            Self::Length(unit) => unit.word().to_owned(),
            Self::Area(unit) => format!("{}2", unit.word()),
            Self::Each => "nos".to_owned(),
        }
    }
}

use LengthUnit::{Centimetre, Foot, Inch, Metre, Millimetre, Yard};
use UnitWord::{Area, Each, Length};

/// Words, the longer before those that they begin with.
const WORDS: [(&str, UnitWord); 74] = [
    ("square feet", Area(Foot)),
    ("square foot", Area(Foot)),
    ("square metres", Area(Metre)),
    ("square meters", Area(Metre)),
    ("square metre", Area(Metre)),
    ("square meter", Area(Metre)),
    ("square yards", Area(Yard)),
    ("square inches", Area(Inch)),
    ("sq. feet", Area(Foot)),
    ("sq feet", Area(Foot)),
    ("sq. ft", Area(Foot)),
    ("sq ft", Area(Foot)),
    ("sq.ft", Area(Foot)),
    ("sqft", Area(Foot)),
    ("sft", Area(Foot)),
    ("ft2", Area(Foot)),
    ("ft²", Area(Foot)),
    ("ft^2", Area(Foot)),
    ("sf", Area(Foot)),
    ("sq. yd", Area(Yard)),
    ("sq yds", Area(Yard)),
    ("sq yd", Area(Yard)),
    ("sqyd", Area(Yard)),
    ("yd2", Area(Yard)),
    ("sy", Area(Yard)),
    ("sq. in", Area(Inch)),
    ("sq in", Area(Inch)),
    ("in2", Area(Inch)),
    ("sq. mtr", Area(Metre)),
    ("sq mtr", Area(Metre)),
    ("sqmtr", Area(Metre)),
    ("sq. m", Area(Metre)),
    ("sq m", Area(Metre)),
    ("sq.m", Area(Metre)),
    ("sqm", Area(Metre)),
    ("m2", Area(Metre)),
    ("m²", Area(Metre)),
    ("m^2", Area(Metre)),
    ("mm2", Area(Millimetre)),
    ("feet", Length(Foot)),
    ("foot", Length(Foot)),
    ("lin ft", Length(Foot)),
    ("lft", Length(Foot)),
    ("rft", Length(Foot)),
    ("ft", Length(Foot)),
    ("lf", Length(Foot)),
    ("'", Length(Foot)),
    ("inches", Length(Inch)),
    ("inch", Length(Inch)),
    ("ins", Length(Inch)),
    ("in", Length(Inch)),
    ("\"", Length(Inch)),
    ("yards", Length(Yard)),
    ("yard", Length(Yard)),
    ("yds", Length(Yard)),
    ("yd", Length(Yard)),
    ("millimetres", Length(Millimetre)),
    ("millimeters", Length(Millimetre)),
    ("mm", Length(Millimetre)),
    ("centimetres", Length(Centimetre)),
    ("centimeters", Length(Centimetre)),
    ("cm", Length(Centimetre)),
    ("metres", Length(Metre)),
    ("meters", Length(Metre)),
    ("metre", Length(Metre)),
    ("meter", Length(Metre)),
    ("mtrs", Length(Metre)),
    ("mtr", Length(Metre)),
    ("rmt", Length(Metre)),
    ("lm", Length(Metre)),
    ("m", Length(Metre)),
    ("nos", Each),
    ("each", Each),
    ("pcs", Each),
];

/// Words of counts that are also words of other things, so that they count only behind a number.
const COUNTS: [&str; 7] = ["no", "nr", "ea", "pc", "off", "pieces", "piece"];

/// The unit at the beginning of a text, and how many bytes it takes, a point behind it included.
pub(super) fn unit_word(text: &str) -> Option<(UnitWord, usize)> {
    let lower: String = text.chars().take(16).flat_map(char::to_lowercase).collect();
    let ends = |length: usize| {
        let behind = lower.get(length..).unwrap_or("");
        !behind.starts_with(|ch: char| ch.is_alphanumeric() || matches!(ch, '²' | '³'))
    };
    let fits = |word: &str| {
        let is_mark = matches!(word, "'" | "\"");
        lower.starts_with(word)
            && (is_mark || ends(word.len()) || lower[word.len()..].starts_with('x'))
    };
    let known = WORDS.iter().find(|(word, _)| fits(word)).copied();
    let known = known.or_else(|| {
        COUNTS
            .iter()
            .find(|word| fits(word))
            .map(|word| (*word, Each))
    });
    let (word, unit) = known?;
    // Letters that are shorter or longer in small are in no word of the list.
    let point = usize::from(
        lower
            .get(word.len()..)
            .is_some_and(|rest| rest.starts_with('.')),
    );
    Some((unit, word.len() + point))
}

/// The unit that is all of a text.
pub fn whole_unit(text: &str) -> Option<UnitWord> {
    let text = text.trim();
    unit_word(text)
        .filter(|(_, length)| *length == text.len())
        .map(|(unit, _)| unit)
}

/// The unit that a number format shows behind its number: `0.00" m"`.
pub fn in_format(format: Option<&str>) -> Option<UnitWord> {
    let format = format?;
    let section = format.split(';').next().unwrap_or(format);
    let quoted: String = section
        .split('"')
        .skip(1)
        .step_by(2)
        .map(str::trim)
        .collect::<Vec<_>>()
        .join(" ");
    let escaped: String = section
        .split('\\')
        .skip(1)
        .filter_map(|part| part.chars().next())
        .collect();
    [quoted, escaped].iter().find_map(|words| whole_unit(words))
}

/// The unit that a sentence names for the figures of a sheet: `All dimensions in inches`.
pub fn unit_in_words(text: &str) -> Option<UnitWord> {
    const OF: [&str; 9] = [
        "dimension",
        "dims",
        "measurement",
        "length",
        "size",
        "figure",
        "unit",
        "area",
        "quantit",
    ];
    let lower = text.to_lowercase();
    if !lower.starts_with("all in ") && !OF.iter().any(|word| lower.contains(word)) {
        return None;
    }
    let words: Vec<&str> = lower
        .split([' ', ':', ',', ';', '(', ')', '.'])
        .filter(|w| !w.is_empty())
        .collect();
    let mut found: Vec<UnitWord> = Vec::new();
    for (number, word) in words.iter().enumerate() {
        let two = words.get(number + 1).map(|next| format!("{word} {next}"));
        let unit = two
            .as_deref()
            .and_then(whole_unit)
            .or_else(|| whole_unit(word));
        // `in` is also a word of its own: it is the unit at the end of a sentence only.
        let is_preposition = *word == "in" && number + 1 < words.len();
        if let Some(unit) = unit.filter(|_| !is_preposition) {
            found.push(unit);
        }
    }
    found.retain(|unit| *unit != Each);
    found.dedup();
    match found.as_slice() {
        [one] => Some(*one),
        _ => None,
    }
}
