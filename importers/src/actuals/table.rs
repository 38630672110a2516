//! The table, row by row, whatever file it comes from.

use super::entry::{Amount, At, Entry, Piece, Print, is_blank};
use parge_base::actuals::Written;
use parge_base::{Code, Diagnostic, FileId, Sources, suggest};
use parge_rules::csv_text::CsvText;

/// The columns. The first two must be there.
pub(super) const COLUMNS: [&str; 8] = [
    "what", "name", "where", "amount", "unit", "price", "currency", "note",
];
const REQUIRED: usize = 2;

/// What a row can be of.
const WHATS: [&str; 13] = [
    "material",
    "hours",
    "area",
    "job",
    "priced plan",
    "priced rules",
    "priced prices",
    "rules",
    "first day",
    "last day",
    "days",
    "weather",
    "remark",
];

/// What stands in `where` for hours that belong to no structure.
const JOB: &str = "job";

/// Rows under a header; the fields of a row are in the order of [`COLUMNS`].
pub(super) struct Table {
    pub(super) rows: Vec<Row>,
    /// What is wrong with cells.
    pub(super) said: Vec<Diagnostic>,
}

/// A row.
pub(super) struct Row {
    pub(super) fields: [Option<Piece>; COLUMNS.len()],
    /// The row as a whole.
    pub(super) place: Written,
}

/// Which field of a row stands in which column of the table, by the names in its header.
pub(super) fn order(header: &[String], place: &Written) -> Result<Vec<Option<usize>>, Diagnostic> {
    let wrong = |message: String, help: String| {
        let said = Diagnostic::new(Code::BadActuals, message, help);
        Err(said.at(place.span, place.words.clone()))
    };
    if let [only] = header
        && only.contains(';')
    {
        let help = "save it with commas between the fields and a point in decimals".to_owned();
        return wrong("the fields are divided by semicolons".to_owned(), help);
    }
    if let Some(missing) = COLUMNS
        .into_iter()
        .take(REQUIRED)
        .find(|name| !header.iter().any(|known| known == name))
    {
        let help = format!("the columns are: {}", COLUMNS.join(", "));
        return wrong(format!("the record has no column `{missing}`"), help);
    }
    let mut order = Vec::new();
    for (at, name) in header.iter().enumerate() {
        let known = COLUMNS.into_iter().position(|known| known == name);
        if known.is_none() && !name.is_empty() {
            let help = suggest::help_for(name, COLUMNS);
            return wrong(
                format!("the record has a column `{name}` that is not known"),
                help,
            );
        }
        if known.is_some() && header.iter().take(at).any(|first| first == name) {
            let help = "give each column a name of its own".to_owned();
            return wrong(format!("two columns are called `{name}`"), help);
        }
        order.push(known);
    }
    Ok(order)
}

/// The table in comma-separated text.
pub(super) fn of_csv(sources: &Sources, file: FileId) -> Result<Table, Diagnostic> {
    let text = CsvText::read(sources, file, Code::BadActuals)?;
    let place = |span| Written {
        span,
        words: String::new(),
    };
    let order = order(&text.header, &place(text.header_span))?;
    let (mut rows, mut said) = (Vec::new(), Vec::new());
    for row in &text.rows {
        if let Err(wrong) = row.check_length(text.header.len(), Code::BadActuals) {
            said.push(wrong);
            continue;
        }
        let mut fields: [Option<Piece>; COLUMNS.len()] = Default::default();
        for (text, column) in row.fields.iter().zip(&order) {
            if let Some(field) = column.and_then(|column| fields.get_mut(column)) {
                let text = from_csv(text);
                *field = (!text.is_empty()).then(|| Piece {
                    text,
                    place: place(row.span),
                });
            }
        }
        rows.push(Row {
            fields,
            place: place(row.span),
        });
    }
    Ok(Table { rows, said })
}

/// A text of the form without the apostrophe that keeps spreadsheets from taking it for a formula.
fn from_csv(text: &str) -> String {
    let text = text.trim();
    let plain = text.strip_prefix('\'').unwrap_or(text);
    plain.to_owned()
}

impl Table {
    /// What the rows say.
    pub(super) fn entries(&self) -> (Vec<Entry>, Vec<Diagnostic>) {
        let (mut entries, mut said) = (Vec::new(), self.said.clone());
        for row in &self.rows {
            match row.entry() {
                Ok(entry) => entries.extend(entry),
                Err(wrong) => said.push(wrong),
            }
        }
        (entries, said)
    }
}

impl Row {
    /// A field that is filled in.
    fn field(&self, column: &str) -> Option<&Piece> {
        let at = COLUMNS.into_iter().position(|known| known == column)?;
        let piece = self.fields.get(at)?.as_ref();
        piece.filter(|piece| !is_blank(&piece.text))
    }

    fn wrong(&self, message: &str, help: &str) -> Diagnostic {
        let said = Diagnostic::new(Code::BadActuals, message, help);
        said.at(self.place.span, self.place.words.clone())
    }

    fn entry(&self) -> Result<Option<Entry>, Diagnostic> {
        let Some(what) = self.field("what") else {
            let mut fields = self.fields.iter().flatten();
            if fields.all(|piece| is_blank(&piece.text)) {
                return Ok(None);
            }
            let help = "write `material`, `hours` or another of the words into column `what`";
            return Err(self.wrong("the row does not say what it is of", help));
        };
        let word = what.text.trim().to_lowercase();
        match word.as_str() {
            "material" | "hours" | "area" => {
                let amount = self.amount();
                amount.map(|amount| self.used(&word, amount)).transpose()
            }
            "rules" => {
                let name = self.field("name").cloned();
                name.map(|name| self.rules(name)).transpose()
            }
            word if WHATS.contains(&word) => Ok(self.head(word)),
            _ => {
                let message = format!("a record has nothing called `{}`", what.text);
                let help = suggest::help_for(&word, WHATS);
                Err(what.wrong(Code::BadActuals, message, help))
            }
        }
    }

    /// A material, hours or an area.
    fn used(&self, word: &str, amount: Amount) -> Result<Entry, Diagnostic> {
        let place = self.field("where").cloned();
        Ok(match word {
            "material" => Entry::Item {
                name: self.named("the row names no item", "write the item into column `name`")?,
                amount,
            },
            "hours" => {
                let help = "write the phase into column `name`";
                Entry::Hours {
                    phase: self.named("the row names no phase", help)?,
                    at: match place {
                        None => At::Whole,
                        Some(place) if place.text == JOB => At::Job,
                        Some(place) => At::Structure(place),
                    },
                    amount,
                }
            }
            _ => {
                let help = "write the structure into column `where`, and a face of it into `name`";
                let structure = place.ok_or_else(|| self.wrong("the row names no structure", help));
                Entry::Area {
                    structure: structure?,
                    face: self.field("name").cloned(),
                    amount,
                }
            }
        })
    }

    fn rules(&self, name: Piece) -> Result<Entry, Diagnostic> {
        let version = self.field("note").map(|note| {
            let text = note.text.as_str();
            text.strip_prefix("version ").unwrap_or(text).to_owned()
        });
        let help = "write the version of the pack into column `note`";
        let version = version.ok_or_else(|| self.wrong("the pack has no version", help))?;
        Ok(Entry::Rules { name, version })
    }

    /// What is said of the job; nothing where it is left blank.
    fn head(&self, word: &str) -> Option<Entry> {
        let name = self.field("name").cloned();
        match word {
            "job" => name.map(Entry::Job),
            "priced plan" => name.map(|name| Entry::Priced(Print::Plan, name)),
            "priced rules" => name.map(|name| Entry::Priced(Print::Rules, name)),
            "priced prices" => name.map(|name| Entry::Priced(Print::Prices, name)),
            "first day" => name.map(Entry::FirstDay),
            "last day" => name.map(Entry::LastDay),
            "days" => self.field("amount").cloned().map(Entry::Days),
            "weather" => self
                .words()
                .map(|words| Entry::Weather { day: name, words }),
            _ => self.words().map(|words| Entry::Remark { day: name, words }),
        }
    }

    fn words(&self) -> Option<Piece> {
        self.field("note").cloned()
    }

    fn named(&self, message: &str, help: &str) -> Result<Piece, Diagnostic> {
        let name = self.field("name").cloned();
        name.ok_or_else(|| self.wrong(message, help))
    }

    /// The amount of a row; none where it is left blank.
    fn amount(&self) -> Option<Amount> {
        let amount = self.field("amount").cloned()?;
        let price = self.field("price").cloned();
        let currency = self.field("currency");
        let price = price.map(|price| match currency {
            Some(currency) => Piece {
                text: format!("{} {}", price.text, currency.text),
                place: price.place,
            },
            None => price,
        });
        Some(Amount {
            amount,
            unit: self.field("unit").cloned(),
            price,
        })
    }
}
