//! Which offer of a price book an item is bought by.
//!
//! Of the offers that hold on the day of the bid and whose pack is of the kind of the need, the one
//! that costs least for the need with its waste: whole packs times the price of a pack. A price that
//! holds from a number of packs on can be had by buying so many, also where fewer are needed; where
//! a row of the same supplier and pack holds from more packs, and so many are needed, that row
//! holds in its place. Of equal costs the one that buys no more than is needed comes first, then the
//! first of the book. What a delivery costs is not weighed, since it is paid once for all that a
//! supplier brings.

use jiff::civil::Date;
use parge_base::money::MoneyOverflow;
use parge_base::number::whole_up;
use parge_base::prices::{Offer, PriceBook};
use parge_base::{Money, Quantity};

/// The offer that an item is bought by.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The offer.
    pub offer: Offer,
    /// Whole packs to buy.
    pub packs: f64,
    /// Packs times price.
    pub cost: Money,
    /// Of how many offers it was chosen.
    pub of: usize,
    /// Why, in words; empty where the book has this offer alone and no more is bought than needed.
    pub reason: String,
}

/// What a price book has for a need.
#[derive(Debug, Clone)]
pub(crate) enum Found<'b> {
    /// No offer.
    Nothing,
    /// Offers by packs of another kind than the need; the first of them.
    OtherKind(&'b Offer),
    /// The offer to buy by.
    Offer(Box<Choice>),
}

/// An offer with what the need takes of it.
struct Candidate<'b> {
    offer: &'b Offer,
    needed: f64,
    packs: f64,
    cost: Money,
}

impl Candidate<'_> {
    /// Packs beyond the need.
    fn beyond(&self) -> f64 {
        self.packs - self.needed
    }
}

/// The offer to buy an item by, of which so much is needed, with waste.
pub(crate) fn choose<'b>(
    book: &'b PriceBook,
    item: &str,
    need: Quantity,
    date: Option<Date>,
) -> Result<Found<'b>, MoneyOverflow> {
    let offers = offers_for(book, item);
    let Some(first) = offers.first() else {
        return Ok(Found::Nothing);
    };
    let fits = |offer: &&&Offer| offer.pack.size.dim == need.dim;
    let fitting: Vec<&Offer> = offers.iter().filter(fits).copied().collect();
    // Where none holds on the day, an old price is better than none, and is warned about.
    let holds = |offer: &&&Offer| date.is_none_or(|day| offer.holds_on(day));
    let holding: Vec<&Offer> = fitting.iter().filter(holds).copied().collect();
    let considered = if holding.is_empty() { fitting } else { holding };
    let candidates: Vec<Candidate<'_>> = considered
        .iter()
        .filter_map(|offer| candidate(offer, &considered, need))
        .collect::<Result<_, _>>()?;
    Ok(match best(&candidates, None) {
        None => Found::OtherKind(first),
        Some((at, chosen)) => Found::Offer(Box::new(Choice {
            offer: chosen.offer.clone(),
            packs: chosen.packs,
            cost: chosen.cost,
            of: candidates.len(),
            reason: reason(&candidates, at, offers.len()),
        })),
    })
}

/// The offers for an item: for `colour/granite` the rows of that name, or else those of `colour`.
pub(crate) fn offers_for<'b>(book: &'b PriceBook, item: &str) -> Vec<&'b Offer> {
    let of = |name: &str| -> Vec<&'b Offer> {
        let all = book.offers.iter();
        all.filter(|offer| offer.item == name).collect()
    };
    let own = of(item);
    match item.split_once('/') {
        Some((general, _)) if own.is_empty() => of(general),
        _ => own,
    }
}

/// The first offer for an item.
pub(crate) fn offer_of<'b>(book: &'b PriceBook, item: &str) -> Option<&'b Offer> {
    offers_for(book, item).into_iter().next()
}

/// The wage in a book: the row that holds on the day, or else the first.
pub(crate) fn wage_of<'b>(
    book: &'b PriceBook,
    item: &str,
    date: Option<Date>,
) -> Option<&'b Offer> {
    let all = || book.offers.iter().filter(|offer| offer.item == item);
    let holds = |offer: &&Offer| date.is_none_or(|day| offer.holds_on(day));
    all().find(holds).or_else(|| all().next())
}

/// What a need takes of an offer; none where another row of the same supplier and pack holds in its
/// place.
fn candidate<'b>(
    offer: &'b Offer,
    all: &[&'b Offer],
    need: Quantity,
) -> Option<Result<Candidate<'b>, MoneyOverflow>> {
    let needed = whole_up(need.value / offer.pack.size.value);
    let from = |offer: &Offer| f64::from(offer.terms.from_packs);
    let holds_instead = |other: &&&Offer| {
        other.supplier == offer.supplier
            && other.pack == offer.pack
            && from(offer) < from(other)
            && from(other) <= needed
    };
    if all.iter().any(|other| holds_instead(&other)) {
        return None;
    }
    let packs = needed.max(from(offer));
    Some(offer.price.times(packs).map(|cost| Candidate {
        offer,
        needed,
        packs,
        cost,
    }))
}

/// The best of the candidates but one, with its number.
fn best<'c, 'b>(
    candidates: &'c [Candidate<'b>],
    but: Option<usize>,
) -> Option<(usize, &'c Candidate<'b>)> {
    let all = candidates.iter().enumerate();
    let others = all.filter(|(at, _)| but != Some(*at));
    others.min_by(|(_, a), (_, b)| {
        let more = |candidate: &Candidate<'_>| candidate.beyond() > 0.0;
        let by_cost = a.cost.amount().cmp(&b.cost.amount());
        by_cost.then_with(|| more(a).cmp(&more(b)))
    })
}

/// Why an offer was chosen: `cheapest of 3 offers: 12 × pail of 5 gal from Mill Street Yard, 1210.00;
/// next 1240.00 from Ferry Road Supply`.
fn reason(candidates: &[Candidate<'_>], at: usize, rows: usize) -> String {
    let Some(chosen) = candidates.get(at) else {
        return String::new();
    };
    let from = |offer: &Offer| match offer.supplier.as_str() {
        "" => String::new(),
        supplier => format!(" from {supplier}"),
    };
    let bought = format!(
        "{} × {}{}, {}",
        chosen.packs,
        chosen.offer.pack.words(),
        from(chosen.offer),
        chosen.cost.to_text()
    );
    let beyond = match chosen.beyond() {
        more if more > 0.0 => format!(
            "; {more} more than needed, as this price holds from {}",
            chosen.offer.terms.from_packs
        ),
        _ => String::new(),
    };
    match best(candidates, Some(at)) {
        None if rows > 1 => format!("the one of {rows} offers that holds: {bought}{beyond}"),
        None if beyond.is_empty() => String::new(),
        None => format!("the one offer: {bought}{beyond}"),
        Some((_, next)) => format!(
            "cheapest of {} offers: {bought}{beyond}; next {}{}",
            candidates.len(),
            next.cost.to_text(),
            from(next.offer)
        ),
    }
}

#[cfg(test)]
mod tests;
