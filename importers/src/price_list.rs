//! Suppliers' price lists as price books, by the same reading of sheets: any file, the table found
//! below its titles, columns by their words, and every row with a verdict.
//!
//! A price is copied digit by digit. Nothing is guessed: a currency that no cell names is asked
//! for, and a row without a pack or a price that can be read is rejected.

use crate::cells::{Decimal, evidence};
use crate::grid::{At, Book, Cell, Content, Row};
use rust_decimal::Decimal as Exact;

/// The columns of a price book, with the words that head them in price lists.
const COLUMNS: [(&str, &[&str]); 9] = [
    (
        "item",
        &[
            "item",
            "code",
            "item code",
            "sku",
            "part",
            "part no",
            "article",
            "id",
        ],
    ),
    (
        "description",
        &[
            "description",
            "desc",
            "product",
            "material",
            "name",
            "particulars",
        ],
    ),
    (
        "pack",
        &[
            "pack",
            "pack size",
            "size",
            "per",
            "content",
            "contents",
            "qty",
        ],
    ),
    (
        "pack_unit",
        &["pack unit", "pack_unit", "unit", "uom", "units", "u/m"],
    ),
    (
        "pack_name",
        &[
            "pack name",
            "pack_name",
            "package",
            "packaging",
            "packed as",
        ],
    ),
    (
        "price",
        &[
            "price",
            "unit price",
            "rate",
            "cost",
            "list price",
            "net price",
            "price each",
        ],
    ),
    ("currency", &["currency", "curr", "ccy"]),
    ("supplier", &["supplier", "vendor", "from", "merchant"]),
    (
        "valid_until",
        &[
            "valid until",
            "valid_until",
            "valid to",
            "expires",
            "expiry",
        ],
    ),
];

/// What came of a price list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PriceList {
    /// The price book, as the text of a file.
    pub text: String,
    /// How many items it prices.
    pub priced: usize,
    /// The sum of their prices, as the text of the file has them.
    pub sum: Exact,
    /// Rows that are not taken over, and why.
    pub rejected: Vec<(At, String)>,
    /// What has to be answered: a key, the question, and where it comes up.
    pub open: Vec<(&'static str, String, At)>,
}

/// Reads a price list; none where no sheet has a header with items and prices. `currency` is that
/// of prices whose row names none.
pub fn price_list(
    book: &Book,
    currency: Option<&str>,
    decimal: Option<Decimal>,
) -> Option<PriceList> {
    let mut out = PriceList::default();
    let mut rows: Vec<[String; 9]> = Vec::new();
    let mut found = false;
    let decimal = decimal.unwrap_or_else(|| decimal_of(book));
    for (number, sheet) in book
        .sheets
        .iter()
        .enumerate()
        .filter(|(_, sheet)| !sheet.hidden)
    {
        let header = sheet
            .rows
            .iter()
            .enumerate()
            .find_map(|(at, row)| Some((at, header(row)?)));
        let Some((at, columns)) = header else {
            continue;
        };
        found = true;
        for row in sheet.rows.iter().skip(at + 1) {
            let reader = Reader {
                columns: &columns,
                row,
                sheet: number,
                currency,
                decimal,
            };
            reader.read(&mut rows, &mut out);
        }
    }
    found.then(|| {
        out.text = written(&rows);
        out.priced = rows.len();
        out
    })
}

/// The columns of a header: at least an item or a description, and a price.
fn header(row: &Row) -> Option<Vec<(u32, usize)>> {
    let mut columns: Vec<(u32, usize)> = Vec::new();
    for cell in &row.cells {
        let text = cell.text()?.to_lowercase().replace('.', "");
        let bare = text.split(['(', '[']).next().unwrap_or("").trim();
        let known = COLUMNS.iter().position(|(_, words)| words.contains(&bare));
        if let Some(known) = known.filter(|known| !columns.iter().any(|(_, other)| other == known))
        {
            columns.push((cell.column, known));
        }
    }
    let has = |name: &str| columns.iter().any(|(_, known)| is_column(*known, name));
    ((has("item") || has("description")) && has("price")).then_some(columns)
}

fn is_column(number: usize, name: &str) -> bool {
    COLUMNS.get(number).is_some_and(|(known, _)| *known == name)
}

fn decimal_of(book: &Book) -> Decimal {
    let texts = book
        .sheets
        .iter()
        .flat_map(|sheet| &sheet.rows)
        .flat_map(|row| &row.cells);
    let found = texts.filter_map(|cell| cell.text()).map(evidence);
    let (mut comma, mut point) = (false, false);
    for evidence in found {
        comma |= evidence.comma;
        point |= evidence.point;
    }
    if comma && !point {
        Decimal::Comma
    } else {
        Decimal::Point
    }
}

struct Reader<'a> {
    columns: &'a [(u32, usize)],
    row: &'a Row,
    sheet: usize,
    currency: Option<&'a str>,
    decimal: Decimal,
}

impl Reader<'_> {
    fn cell(&self, name: &str) -> Option<&Cell> {
        let column = self
            .columns
            .iter()
            .find(|(_, known)| is_column(*known, name))?;
        self.row.cell(column.0)
    }

    fn text(&self, name: &str) -> String {
        self.cell(name)
            .map(|cell| cell.content.to_string())
            .unwrap_or_default()
    }

    fn at(&self) -> At {
        At {
            sheet: self.sheet,
            row: self.row.number,
            column: self.row.cells.first().map_or(0, |cell| cell.column),
        }
    }

    fn read(&self, rows: &mut Vec<[String; 9]>, out: &mut PriceList) {
        // A heading, a note, an empty line of a form.
        let (price, item) = (self.text("price"), self.text("item"));
        if price.is_empty() && self.text("pack").is_empty() {
            return;
        }
        match self.offer(item, out) {
            Ok(Some((offer, price))) => {
                out.sum += price;
                rows.push(offer);
            }
            Ok(None) => {}
            Err(why) => out.rejected.push((self.at(), why)),
        }
    }

    fn offer(
        &self,
        item: String,
        out: &mut PriceList,
    ) -> Result<Option<([String; 9], Exact)>, String> {
        let price = self.amount("price")?.ok_or("it has no price")?;
        let pack = self.amount("pack")?.unwrap_or(Exact::ONE);
        let item = if item.is_empty() {
            slug(&self.text("description"))
        } else {
            item
        };
        if item.is_empty() {
            return Err("it names no item".to_owned());
        }
        let unit = self.text("pack_unit").to_lowercase();
        if unit.is_empty() {
            return Err("it names no unit of the pack".to_owned());
        }
        let named = self.text("currency").to_uppercase();
        let currency = match (named.is_empty(), self.currency) {
            (false, _) => named,
            (true, Some(currency)) => currency.to_uppercase(),
            (true, None) => {
                let question = "prices name no currency: which is it, as `USD`?".to_owned();
                out.open.push(("currency", question, self.at()));
                return Ok(None);
            }
        };
        let offer = [
            item,
            self.text("description"),
            pack.to_string(),
            unit,
            self.text("pack_name"),
            price.to_string(),
            currency,
            self.text("supplier"),
            self.text("valid_until"),
        ];
        // A spreadsheet takes such a text for a formula when the book is opened in one.
        let is_formula = |text: &String| text.starts_with(['=', '+', '-', '@', '\t']);
        match offer.iter().find(|text| is_formula(text)) {
            Some(text) => Err(format!("`{text}` reads as a formula")),
            None => Ok(Some((offer, price))),
        }
    }

    /// A number digit by digit, without a sign of currency.
    fn amount(&self, name: &str) -> Result<Option<Exact>, String> {
        let Some(cell) = self.cell(name) else {
            return Ok(None);
        };
        let text = match &cell.content {
            Content::Number(number) => number.to_string(),
            Content::Text(text) => self.plain(text),
            other => return Err(format!("`{other}` is no {name}")),
        };
        let amount = text
            .parse::<Exact>()
            .ok()
            .filter(|amount| !amount.is_sign_negative());
        amount
            .map(Some)
            .ok_or_else(|| format!("`{}` is no {name}", cell.content))
    }

    fn plain(&self, text: &str) -> String {
        let (group, mark) = match self.decimal {
            Decimal::Point => (',', '.'),
            Decimal::Comma => ('.', ','),
        };
        let digits = text
            .chars()
            .filter(|ch| !matches!(ch, '$' | '€' | '£' | ' ' | '\u{a0}'));
        let digits = digits.filter(|ch| *ch != group);
        digits.map(|ch| if ch == mark { '.' } else { ch }).collect()
    }
}

/// A description as the name of an item: small letters with `-` between words.
fn slug(text: &str) -> String {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|ch: char| !ch.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    words.join("-")
}

fn written(rows: &[[String; 9]]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing into memory does not fail.
    let _ = writer.write_record(COLUMNS.map(|(name, _)| name));
    for row in rows {
        let _ = writer.write_record(row);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests;
