//! What the job, its rules and its finishes say otherwise.

use super::faces::{self, Plans, View};
use super::lines::{changed, named};
use super::things::{Property, Thing, differences};
use super::{Change, FaceArea, Kind, Part, Value, content, money};
use crate::job::{Bid, Figure, Finish, Job, Measuring, Profit, Rounding, Taxable, UnitSystem};
use crate::price::Estimate;
use crate::takeoff::Takeoff;
use parge_base::{Money, Quantity};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// All lines of what changed, and the faces whose area did.
pub(super) fn compare(old: &Estimate, new: &Estimate) -> (Vec<Change>, Vec<FaceArea>) {
    let units = new.takeoff.measured.job.units;
    let mut lines = changed(&Part::Job, differences(&settings(old), &settings(new)));
    lines.append(&mut content::sentences(old, new));
    lines.append(&mut changed(
        &Part::Rules,
        differences(&rules(&old.takeoff), &rules(&new.takeoff)),
    ));
    lines.append(&mut factors(&old.takeoff, &new.takeoff));
    let (measured, measured_now) = (&old.takeoff.measured, &new.takeoff.measured);
    let (mut finishes, names) = finishes(&measured.job, &measured_now.job, units);
    lines.append(&mut finishes);
    let names_now = measured_now.job.finishes.iter();
    let names_now = names_now.map(|finish| finish.name.clone()).collect();
    let plans = Plans {
        old: View::new(measured, names),
        new: View::new(measured_now, names_now),
        units,
    };
    let (mut faces, areas) = faces::compare(&plans);
    lines.append(&mut faces);
    lines.append(&mut money::prices(old, new));
    (lines, areas)
}

fn settings(estimate: &Estimate) -> Vec<Property> {
    let job = &estimate.takeoff.measured.job;
    let text = |text: &Option<String>| text.clone().map(Value::Text);
    let figure = |figure: Option<Figure>| figure.map(|figure| Value::Quantity(job.value(figure)));
    let share = |figure: Option<Figure>| figure.map(|figure| Value::Share(job.value(figure).value));
    let units = match job.units {
        UnitSystem::Us => "us",
        UnitSystem::Metric => "metric",
    };
    let measuring = match &job.measuring {
        Measuring::Net => "net".to_owned(),
        Measuring::Pack { name, version, .. } => format!("{name} {version}"),
    };
    let mut settings = vec![
        Property::of("name", Some(Value::text(&job.name))),
        Property::of("client", text(&job.client)),
        Property::of("site", text(&job.site)),
        Property::of("date", job.date.map(|date| Value::text(date.to_string()))),
        Property::of(
            "valid until",
            job.valid_until
                .map(|until| Value::text(until.node.to_string())),
        ),
        Property::of("units", Some(Value::text(units))),
        Property::of("measure", Some(Value::text(measuring))),
        Property::of("currency", Some(Value::text(estimate.currency.code()))),
        Property::of("crew", figure(job.crew)),
        Property::of("air temperature", figure(job.weather.air)),
        Property::of("humidity", share(job.weather.humidity)),
        Property::of("wind", figure(job.weather.wind)),
        Property::of("mix temperature", figure(job.weather.mix)),
    ];
    settings.append(&mut terms(&job.bid));
    settings.append(&mut content::properties(estimate));
    settings
}

/// The terms of the bid.
fn terms(bid: &Bid) -> Vec<Property> {
    let stated = bid_terms(bid);
    TERMS
        .iter()
        .map(|term| {
            let found = stated.iter().find(|(name, _)| name == term);
            Property::of(*term, found.map(|(_, words)| Value::text(words)))
        })
        .collect()
}

/// The words of the terms that a bid may state.
const TERMS: [&str; 8] = [
    "burden",
    "overhead",
    "contingency",
    "class",
    "profit",
    "minimum",
    "round",
    "tax",
];

/// The terms that a bid states, each with what it says. Their rates are exact, so they are words.
pub(crate) fn bid_terms(bid: &Bid) -> Vec<(&'static str, String)> {
    let percent = |rate: Decimal| format!("{}%", (rate * Decimal::ONE_HUNDRED).normalize());
    let profit = bid.profit.map(|profit| match profit {
        Profit::Markup(rate) => format!("markup {} of the cost", percent(rate)),
        Profit::Margin(rate) => format!("margin {} of the price", percent(rate)),
    });
    let tax = bid.tax.map(|(rate, on)| match on {
        Taxable::Materials => format!("{} on materials", percent(rate)),
        Taxable::Total => format!("{} on total", percent(rate)),
    });
    let amount = |amount: Money| format!("{} {}", amount.to_text(), amount.currency().code());
    let rounding = |Rounding { up, multiple }: Rounding| {
        let to = if up { "up to" } else { "to" };
        format!("{to} {}", amount(multiple))
    };
    let said = [
        bid.burden.map(percent),
        bid.overhead.map(percent),
        bid.contingency.map(percent),
        bid.class.map(|class| class.number().to_string()),
        profit,
        bid.minimum.map(amount),
        bid.rounding.map(rounding),
        tax,
    ];
    TERMS
        .into_iter()
        .zip(said)
        .filter_map(|(name, words)| Some((name, words?)))
        .collect()
}

/// Pack and cautions.
fn rules(takeoff: &Takeoff) -> Vec<Property> {
    let pack = [
        Property::of("rule pack", Some(Value::text(&takeoff.pack.name))),
        Property::of("version", Some(Value::text(&takeoff.pack.version))),
    ];
    let caution = |caution: &crate::takeoff::Caution| {
        Property::of(
            format!("caution {}", caution.key),
            Some(Value::text(&caution.text)),
        )
    };
    let cautions = takeoff.cautions.iter().map(caution);
    pack.into_iter().chain(cautions).collect()
}

/// Factors of the pack's tables that both estimates rest on and that have another value. One that
/// only one of them uses follows from what changed in the plan.
fn factors(old: &Takeoff, new: &Takeoff) -> Vec<Change> {
    let before: BTreeMap<&str, _> = old
        .factors()
        .into_iter()
        .map(|factor| (factor.name.as_str(), factor))
        .collect();
    let mut lines = Vec::new();
    for factor in new.factors() {
        let Some(was) = before.get(factor.name.as_str()) else {
            continue;
        };
        let same = Value::Quantity(was.quantity).same(&Value::Quantity(factor.quantity));
        if !same {
            let words = |written: f64, unit: &str| match unit {
                "1" => Value::text(written.to_string()),
                "%" => Value::text(format!("{written}%")),
                unit => Value::text(format!("{written} {unit}")),
            };
            lines.push(Change {
                part: Part::Rules,
                kind: Kind::Changed,
                what: factor.name.clone(),
                old: Some(words(was.written, was.unit.text())),
                new: Some(words(factor.written, factor.unit.text())),
            });
        }
    }
    lines
}

/// Lines of the finishes, and for each old finish the name it has now.
fn finishes(old: &Job, new: &Job, units: UnitSystem) -> (Vec<Change>, Vec<String>) {
    let (were, are) = (things(old), things(new));
    let part = |name: &str| Part::Finish(name.to_owned());
    let (lines, pairs) = named(&were, &are, part, units);
    let mut names: Vec<String> = were.iter().map(|(name, _)| (*name).to_owned()).collect();
    for ((name, _), was) in are.iter().zip(pairs.old_of) {
        if let Some(slot) = was.and_then(|was| names.get_mut(was)) {
            *slot = (*name).to_owned();
        }
    }
    (lines, names)
}

fn things(job: &Job) -> Vec<(&str, Thing)> {
    let finishes = job.finishes.iter();
    finishes
        .map(|finish| (finish.name.as_str(), thing(job, finish)))
        .collect()
}

fn thing(job: &Job, finish: &Finish) -> Thing {
    let value = |figure: Figure| Value::Quantity(job.value(figure));
    let plain = Quantity::plain(1.0);
    let relief = match value(finish.relief) {
        stated if stated.same(&Value::Quantity(plain)) => Property::assumed("relief", stated),
        stated => Property::of("relief", Some(stated)),
    };
    let mut rest = vec![
        Property::of("technique", Some(Value::text(&finish.technique))),
        Property::of("thickness", Some(value(finish.thickness))),
        relief,
    ];
    rest.extend(finish.colours.iter().map(|(name, share)| {
        let share = Value::Share(job.value(*share).value);
        Property::of(format!("colour {name}"), Some(share))
    }));
    rest.push(Property::of(
        "sealer",
        finish.sheen.clone().map(Value::Text),
    ));
    rest.push(Property::of(
        "coats of sealer",
        finish.sealer_coats.map(value),
    ));
    Thing::plain(rest)
}
