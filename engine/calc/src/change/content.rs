//! What the bids say beside quantities and prices: alternates, allowances, exclusions, notes.

use super::things::Property;
use super::{Change, Kind, Part, Value};
use crate::alternates::PricedAlternate;
use crate::job::Allowance;
use crate::price::Estimate;
use parge_base::Money;

/// Alternates and allowances by their names.
pub(super) fn properties(estimate: &Estimate) -> Vec<Property> {
    let allowance = |allowance: &Allowance| {
        let name = format!("allowance {}", allowance.name);
        Property::of(name, Some(Value::Text(written(allowance.amount))))
    };
    let alternate = |alternate: &PricedAlternate| {
        let price = match alternate.difference {
            None => "no price".to_owned(),
            Some(difference) => written(difference),
        };
        let words = format!("{}; {price}", alternate.changes.join(", "));
        Property::of(
            format!("alternate {}", alternate.name),
            Some(Value::Text(words)),
        )
    };
    let content = &estimate.takeoff.measured.job.content;
    let allowances = content.allowances.iter().map(allowance);
    let alternates = estimate.alternates.iter().map(alternate);
    allowances.chain(alternates).collect()
}

fn written(amount: Money) -> String {
    format!("{} {}", amount.to_text(), amount.currency().code())
}

/// Sentences that are new or gone.
pub(super) fn sentences(old: &Estimate, new: &Estimate) -> Vec<Change> {
    let (old, new) = (
        &old.takeoff.measured.job.content,
        &new.takeoff.measured.job.content,
    );
    let kinds = [
        ("exclude", &old.exclusions, &new.exclusions),
        ("note", &old.notes, &new.notes),
        ("terms", &old.terms, &new.terms),
    ];
    let mut lines = Vec::new();
    for (what, were, are) in kinds {
        let line = |old: Option<&String>, new: Option<&String>| Change {
            part: Part::Job,
            kind: Kind::Changed,
            what: what.to_owned(),
            old: old.map(Value::text),
            new: new.map(Value::text),
        };
        let gone = were.iter().filter(|text| !are.contains(text));
        lines.extend(gone.map(|text| line(Some(text), None)));
        let fresh = are.iter().filter(|text| !were.contains(text));
        lines.extend(fresh.map(|text| line(None, Some(text))));
    }
    lines
}
