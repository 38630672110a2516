//! What an estimate rests on, one figure at a time, by its name.
//!
//! A cell of a table is `TABLE.KEY.KEY`, as the sheets and the tables of the pack name it;
//! `measure.TABLE.KEY` for one of the measuring rule. The others stand under the words
//! [`PRICES`], [`PACKS`], [`BID`], [`LET`] and [`CREW`].

use super::Basis;
use super::plan::lets;
use crate::price::Estimate;
use parge_base::{Code, Diagnostic, Span, suggest};
use parge_rules::{Pack, Row, Table};
use std::fmt;

/// `prices.ITEM`: what one pack of the item costs.
pub(super) const PRICES: &str = "prices";
/// `packs.ITEM`: what one pack of the item holds.
pub(super) const PACKS: &str = "packs";
/// `bid.TERM`: a term of the bid.
pub(super) const BID: &str = "bid";
/// `let.NAME`: a name of the plan.
pub(super) const LET: &str = "let";
/// `crew`, or `crew.CLASS`: how many there are.
pub(super) const CREW: &str = "crew";
/// `measure.TABLE.KEY`: a row of the measuring rule.
const MEASURE: &str = "measure";

/// The most names that a message lists.
const MOST_LISTED: usize = 12;

/// Whose table a row stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Whose {
    /// The rule pack's.
    Rules,
    /// The measuring rule's.
    Measuring,
}

/// A figure that an estimate rests on.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Input {
    /// A cell of a table.
    Row {
        /// Whose.
        whose: Whose,
        /// The table.
        table: String,
        /// The keys of its row.
        keys: Vec<String>,
    },
    /// The price of one pack of an item; of `labour`, the wage of an hour.
    Price(String),
    /// What one pack of an item holds.
    Pack(String),
    /// A term of the bid.
    Bid(String),
    /// A name that the plan gives with `let`.
    Let(String),
    /// How many the crew are, or those of one wage class.
    Crew(Option<String>),
}

/// The name by which it is set.
impl fmt::Display for Input {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Row { whose, table, keys } => {
                if *whose == Whose::Measuring {
                    write!(f, "{MEASURE}.")?;
                }
                f.write_str(&row_name(table, keys))
            }
            Self::Price(item) => write!(f, "{PRICES}.{item}"),
            Self::Pack(item) => write!(f, "{PACKS}.{item}"),
            Self::Bid(term) => write!(f, "{BID}.{term}"),
            Self::Let(name) => write!(f, "{LET}.{name}"),
            Self::Crew(None) => f.write_str(CREW),
            Self::Crew(Some(class)) => write!(f, "{CREW}.{class}"),
        }
    }
}

fn row_name(table: &str, keys: &[String]) -> String {
    format!("{table}.{}", keys.join("."))
}

impl Basis {
    /// A pack by whose it is.
    pub(super) fn pack_of(&self, whose: Whose) -> Option<&Pack> {
        match whose {
            Whose::Rules => Some(&self.rules),
            Whose::Measuring => self.measuring.as_deref(),
        }
    }

    /// The row of a cell.
    pub(super) fn row(&self, whose: Whose, table: &str, keys: &[String]) -> Option<&Row> {
        let keys: Vec<&str> = keys.iter().map(String::as_str).collect();
        self.pack_of(whose)?.tables().find(table, &keys).ok()
    }

    /// All rows of its packs, those of the rules first.
    pub(super) fn rows(&self) -> impl Iterator<Item = (Whose, &Table, &Row)> {
        let packs = [Whose::Rules, Whose::Measuring].into_iter();
        let packs = packs.filter_map(|whose| Some((whose, self.pack_of(whose)?)));
        packs.flat_map(|(whose, pack)| {
            let tables = pack.tables().iter();
            tables.flat_map(move |table| table.rows.iter().map(move |row| (whose, table, row)))
        })
    }
}

/// Finds names among what an estimate rests on.
pub(super) struct Names<'b> {
    pub(super) basis: &'b Basis,
    pub(super) estimate: &'b Estimate,
}

impl Names<'_> {
    /// The input of a name; the message for one that is none says what is near.
    pub(super) fn find(&self, name: &str, span: Span) -> Result<Input, Diagnostic> {
        // As the sheets write it: `waste: finish-mix, stamp`.
        let dotted = name.replacen(": ", ".", 1).replace(", ", ".");
        let is_cell = dotted != name;
        match name.split_once('.').filter(|_| !is_cell) {
            Some((PRICES, item)) => self.item(item, (name, span)).map(Input::Price),
            Some((PACKS, item)) => self.item(item, (name, span)).map(Input::Pack),
            // Which terms there are is known to the language, which tells when the value is read.
            Some((BID, term)) => Ok(Input::Bid(term.to_owned())),
            Some((LET, wanted)) => self.plan_name(wanted, span).map(Input::Let),
            Some((CREW, class)) => self
                .class(class, span)
                .map(|class| Input::Crew(Some(class))),
            Some((MEASURE, row)) => self.cell(row, Some(Whose::Measuring), (name, span)),
            None if name == CREW => Ok(Input::Crew(None)),
            _ => self.cell(&dotted, None, (name, span)),
        }
    }

    /// An item that the book prices by a row, or that the job buys by the row of its kind.
    fn item(&self, item: &str, (name, span): (&str, Span)) -> Result<String, Diagnostic> {
        let priced = self.basis.book.offers_of(item).next().is_some();
        let mut bought = self.estimate.materials.iter();
        let by_kind = bought.any(|line| line.material.item == item && line.unit_price.is_some());
        if priced || by_kind {
            return Ok(item.to_owned());
        }
        let open = self.basis.book.open.iter().find(|(open, _)| open == item);
        if let Some((_, row)) = open {
            let message = format!("`{name}` is left open in the price book");
            let help = "write a price into this row first";
            let open = Diagnostic::new(Code::NoPrice, message, help);
            return Err(open.at(span, "").at(*row, "its price is left open"));
        }
        let offers = self.basis.book.offers.iter();
        let bought = self.estimate.materials.iter();
        let mut known: Vec<&str> = Vec::new();
        let items = offers.map(|offer| offer.item.as_str());
        for item in items.chain(bought.map(|line| line.material.item.as_str())) {
            if !known.contains(&item) {
                known.push(item);
            }
        }
        let message = format!("the price book has no row `{item}`");
        Err(unknown(message, near(item, &known), span))
    }

    fn plan_name(&self, wanted: &str, span: Span) -> Result<String, Diagnostic> {
        let names: Vec<&str> = lets(&self.basis.plan)
            .map(|found| found.name.node.as_str())
            .collect();
        match names.contains(&wanted) {
            true => Ok(wanted.to_owned()),
            false => {
                let message = format!("the plan has no `let {wanted}`");
                Err(unknown(message, near(wanted, &names), span))
            }
        }
    }

    fn class(&self, wanted: &str, span: Span) -> Result<String, Diagnostic> {
        let job = &self.estimate.takeoff.measured.job;
        let names: Vec<&str> = job.crew_classes.iter().map(|class| &*class.name).collect();
        match names.contains(&wanted) {
            true => Ok(wanted.to_owned()),
            false if names.is_empty() => {
                let message = format!("the crew of the plan has no wage class `{wanted}`");
                let help = "write `crew=4` for all of the crew";
                Err(unknown(message, help.to_owned(), span))
            }
            false => {
                let message = format!("the crew of the plan has no wage class `{wanted}`");
                Err(unknown(message, near(wanted, &names), span))
            }
        }
    }

    /// A cell by its whole name, or by a shorter one that only one row has.
    fn cell(
        &self,
        dotted: &str,
        only: Option<Whose>,
        (name, span): (&str, Span),
    ) -> Result<Input, Diagnostic> {
        let rows = || {
            let rows = self.basis.rows();
            rows.filter(move |(whose, ..)| only.is_none_or(|only| only == *whose))
        };
        let input = |(whose, table, row): (Whose, &Table, &Row)| Input::Row {
            whose,
            table: table.name.clone(),
            keys: row.keys.clone(),
        };
        let whole = |table: &Table, row: &Row| row_name(&table.name, &row.keys);
        if let Some(found) = rows().find(|(_, table, row)| whole(table, row) == dotted) {
            return Ok(input(found));
        }
        let shorter = |(_, table, row): &(Whose, &Table, &Row)| {
            let rest = after_key(dotted, &table.name);
            rest.is_some_and(|rest| is_of(rest, &row.keys))
        };
        let found: Vec<Input> = rows().filter(shorter).map(input).collect();
        match found.as_slice() {
            [only] => Ok(only.clone()),
            [] => Err(self.no_cell(dotted, (name, span))),
            several => {
                let message = format!("`{name}` is the name of {} rows", several.len());
                let help = format!("write which one: {}", listed(several));
                Err(Diagnostic::new(Code::SeveralValues, message, help).at(span, ""))
            }
        }
    }

    fn no_cell(&self, dotted: &str, (name, span): (&str, Span)) -> Diagnostic {
        let table = dotted.split_once('.').map_or(dotted, |(table, _)| table);
        let of_table = || {
            self.basis
                .rows()
                .filter(|(_, found, _)| found.name == table)
        };
        let rows: Vec<String> = of_table()
            .map(|(_, table, row)| row_name(&table.name, &row.keys))
            .collect();
        if rows.is_empty() {
            let message = format!("the estimate rests on nothing called `{name}`");
            let mut known: Vec<&str> = vec![PRICES, PACKS, BID, LET, CREW];
            known.extend(self.basis.rows().map(|(_, table, _)| table.name.as_str()));
            known.dedup();
            let help = match suggest::nearest(table, known) {
                Some(near) => format!("did you mean `{near}{}`?", &dotted[table.len()..]),
                None => "write a cell as `waste.finish-mix.stamp`, or `prices.sealer`, \
                         `packs.sealer`, `bid.overhead`, `let.NAME`, `crew`"
                    .to_owned(),
            };
            return unknown(message, help, span);
        }
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let message = format!("table `{table}` has no row `{name}`");
        unknown(message, near(dotted, &rows), span)
    }
}

/// What follows a key and its point at the begin of a name; empty at the end of the name.
fn after_key<'n>(name: &'n str, key: &str) -> Option<&'n str> {
    let rest = name.strip_prefix(key)?;
    match rest.is_empty() {
        true => Some(rest),
        false => rest.strip_prefix('.'),
    }
}

/// Whether a name, without its table, names some of the keys of a row in their order. A key may
/// have points itself.
fn is_of(name: &str, keys: &[String]) -> bool {
    match keys.split_first() {
        _ if name.is_empty() => true,
        None => false,
        Some((key, more)) => {
            after_key(name, key).is_some_and(|rest| is_of(rest, more)) || is_of(name, more)
        }
    }
}

fn unknown(message: String, help: String, span: Span) -> Diagnostic {
    Diagnostic::new(Code::UnknownName, message, help).at(span, "")
}

/// The near name, or all there are where they are few.
fn near(wrong: &str, known: &[&str]) -> String {
    let few = known.get(..known.len().min(MOST_LISTED)).unwrap_or(known);
    match suggest::nearest(wrong, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.len() > few.len() => {
            let names: Vec<String> = few.iter().map(|name| format!("`{name}`")).collect();
            let more = known.len() - few.len();
            format!("known here: {} and {more} more", names.join(", "))
        }
        None => suggest::help_for(wrong, known.iter().copied()),
    }
}

fn listed(inputs: &[Input]) -> String {
    let names: Vec<String> = inputs
        .iter()
        .take(MOST_LISTED)
        .map(|input| format!("`{input}`"))
        .collect();
    match inputs.len().checked_sub(MOST_LISTED) {
        Some(more) if more > 0 => format!("{}, or {more} others", names.join(", ")),
        _ => names.join(", "),
    }
}
