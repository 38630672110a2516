//! What is bought and worked, and what it costs.

use super::lines::changed;
use super::things::{Property, differences};
use super::value::same_figure;
use super::{
    Amount, Both, Change, Changes, Cost, CostChange, LabourChange, MaterialChange, Part, Step,
    Value, Work,
};
use crate::price::{Estimate, LABOUR_ITEM, LabourLine, MaterialLine, Price};
use parge_base::Money;

/// The members of two lists by their keys: those of the new one in its order, then the old ones
/// that are gone.
fn by_key<'a, T>(old: &'a [T], new: &'a [T], key: impl Fn(&T) -> &str) -> Vec<Both<Option<&'a T>>> {
    let find = |list: &'a [T], wanted: &T| list.iter().find(|known| key(known) == key(wanted));
    let there = new.iter().map(|is| Both {
        old: find(old, is),
        new: Some(is),
    });
    let gone = old.iter().filter(|was| find(new, was).is_none());
    let gone = gone.map(|was| Both {
        old: Some(was),
        new: None,
    });
    there.chain(gone).collect()
}

fn material_pairs<'a>(old: &'a Estimate, new: &'a Estimate) -> Vec<Both<Option<&'a MaterialLine>>> {
    by_key(&old.materials, &new.materials, |line| &line.material.item)
}

/// The materials whose amount or cost changed.
pub(super) fn materials(old: &Estimate, new: &Estimate) -> Vec<MaterialChange> {
    let pairs = material_pairs(old, new).into_iter();
    let change = |pair: Both<Option<&MaterialLine>>| {
        let material = &pair.new.or(pair.old)?.material;
        let amounts = Both {
            old: pair.old.map(amount),
            new: pair.new.map(amount),
        };
        let same = match (&amounts.old, &amounts.new) {
            (Some(old), Some(new)) => same_amount(old, new),
            _ => false,
        };
        (!same).then(|| MaterialChange {
            item: material.item.clone(),
            description: material.description.clone(),
            amounts,
        })
    };
    pairs.filter_map(change).collect()
}

fn amount(line: &MaterialLine) -> Amount {
    Amount {
        need: line.material.need,
        waste: line.material.waste,
        unit: line.material.unit.clone(),
        packs: line.packs,
        cost: line.cost,
    }
}

fn same_amount(old: &Amount, new: &Amount) -> bool {
    old.need.dim == new.need.dim
        && same_figure(old.need.value, new.need.value)
        && same_figure(old.waste.value, new.waste.value)
        && old.packs == new.packs
        && old.cost == new.cost
}

/// The phases whose hours or cost changed.
pub(super) fn labour(old: &Estimate, new: &Estimate) -> Vec<LabourChange> {
    let pairs = by_key(&old.labour, &new.labour, |line: &LabourLine| {
        &line.labour.phase
    });
    let work = |line: &LabourLine| Work {
        hours: line.labour.hours,
        cost: line.cost,
    };
    let change = |pair: Both<Option<&LabourLine>>| {
        let labour = &pair.new.or(pair.old)?.labour;
        let work = Both {
            old: pair.old.map(work),
            new: pair.new.map(work),
        };
        (work.old != work.new).then(|| LabourChange {
            phase: labour.phase.clone(),
            description: labour.description.clone(),
            work,
        })
    };
    pairs.into_iter().filter_map(change).collect()
}

/// The lines whose cost changed.
pub(super) fn costs(changes: &Changes) -> Vec<CostChange<'_>> {
    let of_line = |cost: Option<Option<Money>>| match cost {
        None => Cost::None,
        Some(None) => Cost::Open,
        Some(Some(cost)) => Cost::Priced(cost),
    };
    let materials = changes.materials.iter().map(|change| CostChange {
        description: &change.description,
        cost: change
            .amounts
            .as_ref()
            .map(|amount| of_line(amount.as_ref().map(|amount| amount.cost))),
    });
    let labour = changes.labour.iter().map(|change| CostChange {
        description: &change.description,
        cost: change.work.map(|work| of_line(work.map(|work| work.cost))),
    });
    let all = materials.chain(labour);
    all.filter(|line| line.cost.old != line.cost.new).collect()
}

/// What the price books say otherwise of what both estimates buy.
pub(super) fn prices(old: &Estimate, new: &Estimate) -> Vec<Change> {
    let mut lines = Vec::new();
    for pair in material_pairs(old, new) {
        if let (Some(old), Some(new)) = (pair.old, pair.new) {
            let part = Part::Price {
                item: new.material.item.clone(),
                description: new.material.description.clone(),
            };
            let priced = old.unit_price.is_some() && new.unit_price.is_some();
            let offer = if priced { offer } else { price };
            lines.append(&mut changed(&part, differences(&offer(old), &offer(new))));
        }
    }
    let wage = |estimate: &Estimate| {
        let wage = estimate.price.wage.map(Value::Price);
        [Property::of("wage of an hour", wage)]
    };
    // A job without labour has no wage, and none is missed.
    if !old.labour.is_empty() && !new.labour.is_empty() {
        let part = Part::Price {
            item: LABOUR_ITEM.to_owned(),
            description: "Labour".to_owned(),
        };
        lines.append(&mut changed(&part, differences(&wage(old), &wage(new))));
    }
    lines
}

/// The price alone: without one, pack and supplier are not known either.
fn price(line: &MaterialLine) -> Vec<Property> {
    vec![Property::of("price", line.unit_price.map(Value::Price))]
}

fn offer(line: &MaterialLine) -> Vec<Property> {
    let supplier = Some(&line.supplier).filter(|supplier| !supplier.is_empty());
    let mut offer = price(line);
    offer.extend([
        Property::of(
            "pack",
            line.pack.as_ref().map(|pack| Value::Text(pack.words())),
        ),
        Property::of("supplier", supplier.map(Value::text)),
    ]);
    offer
}

/// The way from cost to price, step by step.
pub(super) fn steps(old: &Price, new: &Price) -> Vec<Step> {
    let step = |name, amount: fn(&Price) -> Money| Step {
        name,
        amount: Both {
            old: amount(old),
            new: amount(new),
        },
    };
    let all = [
        step("materials", |price| price.materials),
        step("freight", |price| price.freight),
        step("labour", |price| price.labour),
        step("burden", |price| price.burden),
        step("overhead", |price| price.overhead),
        step("contingency", |price| price.contingency),
        step("profit", |price| price.profit),
        step("allowances", |price| price.allowances),
        step("charges", |price| price.charges),
        step("minimum", |price| price.minimum),
        step("rounding", |price| price.rounding),
        step("tax", |price| price.tax),
    ];
    let none = |amount: &Money| amount.amount().is_zero();
    let is_there = |step: &Step| {
        let empty = none(&step.amount.old) && none(&step.amount.new);
        !(empty && SELDOM.contains(&step.name))
    };
    all.into_iter().filter(is_there).collect()
}

/// Steps that most bids do not have, and that are left out where neither has them.
const SELDOM: [&str; 6] = [
    "freight",
    "contingency",
    "allowances",
    "charges",
    "minimum",
    "rounding",
];
