//! The sheet of batches: what the mixer is told on each day. There is none where nothing is mixed.

use super::page::{Column, Frame, HEAD_ROW, Lines, Page};
use super::rows::{Body, Cells};
use super::style::Look;
use crate::shown;
use crate::shown_days::{self, CardShown, DATA_SHEET, GivenShown, OPEN_BAG};
use parge_base::number::round_to;
use parge_calc::days::DayPlan;
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Batches";

const BAGS: usize = 3;
const BATCHES: usize = 4;
const LARGEST: usize = 5;
const PEOPLE: usize = 6;
/// Where the columns of what the rule gives besides begin.
const GIVEN: usize = 7;

/// Decimals of what a rule gives, as many as a jug or a clock shows.
const DECIMALS: u32 = 2;

pub(super) fn write(
    sheet: &mut Worksheet,
    body: &mut Body,
    frame: &Frame,
    estimate: &Estimate,
    plan: &DayPlan,
) -> Result<(), XlsxError> {
    let cards: Vec<CardShown<'_>> = shown_days::cards(&estimate.takeoff, plan).collect();
    let kinds = kinds(&cards);
    let mut columns = vec![
        Column::text("Day", 14.0),
        Column::text("Mix", 34.0),
        Column::text("Finish", 22.0),
        Column::number("Bags to open", Look::Count),
        Column::number("Batches", Look::Count),
        Column::text("Largest batch", 22.0),
        Column::number("People", Look::Count),
    ];
    columns.extend(kinds.iter().map(|kind| kind.column()));
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.note(DATA_SHEET)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    page.lines(body, cards.len(), &CardLines { cards, kinds })?;
    page.end()
}

/// The lines of the sheet.
struct CardLines<'a> {
    cards: Vec<CardShown<'a>>,
    kinds: Vec<Kind>,
}

impl Lines for CardLines<'_> {
    fn write(&self, page: &mut Page<'_, impl Cells>, number: usize) -> Result<(), XlsxError> {
        match self.cards.get(number) {
            Some(card) => line(page, card, &self.kinds),
            None => page.next(),
        }
    }
}

fn line(
    page: &mut Page<'_, impl Cells>,
    card: &CardShown<'_>,
    kinds: &[Kind],
) -> Result<(), XlsxError> {
    page.blank()?;
    page.text(0, &card.day.label)?;
    page.text(1, card.mix)?;
    page.text(2, card.finish)?;
    if card.card.bags > 0.0 {
        page.number(BAGS, card.card.bags)?;
    } else {
        page.text(BAGS, OPEN_BAG)?;
    }
    page.number(BATCHES, card.batches)?;
    page.text(LARGEST, &card.largest())?;
    page.number(PEOPLE, f64::from(card.card.people))?;
    for (number, kind) in kinds.iter().enumerate() {
        if let Some(given) = card.given.iter().find(|given| kind.is_of(given)) {
            page.number(GIVEN + number, round_to(given.value, DECIMALS))?;
        }
    }
    page.next()
}

/// A name under which a rule gives figures of a unit.
struct Kind {
    name: String,
    unit: String,
    words: String,
}

impl Kind {
    fn is_of(&self, given: &GivenShown<'_>) -> bool {
        self.name == given.name && self.unit == given.unit
    }

    fn column(&self) -> Column {
        let mut head = shown::sentence(&self.words);
        if !self.unit.is_empty() {
            head = format!("{head}, {}", shown::print_unit(&self.unit));
        }
        Column::number(head, Look::Decimals(DECIMALS))
    }
}

/// What the rule gives on any card, each once, in its order.
fn kinds(cards: &[CardShown<'_>]) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for card in cards {
        for given in &card.given {
            if !kinds.iter().any(|kind| kind.is_of(given)) {
                kinds.push(Kind {
                    name: given.name.to_owned(),
                    unit: given.unit.clone(),
                    words: given.words(),
                });
            }
        }
    }
    kinds
}
