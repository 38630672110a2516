//! A record beside its estimate, as JSON. Its names are promised to other programs.

use crate::json::measure;
use crate::wire::{FingerprintWire, Measure};
use parge_base::{Money, Quantity, Sources, Unit};
use parge_calc::actuals::{
    Actual, AreaLine, Comparison, DaysLine, Estimated, Fingerprint, Line, MoneySplit, Of, Part,
    Remark, Scope, Totals, Unmatched, Written,
};
use serde::Serialize;

/// The JSON Schema (draft 2020-12) of what [`actuals_json`] writes.
pub const ACTUALS_SCHEMA: &str = include_str!("../schema/actuals.schema.json");

#[derive(Debug, Serialize)]
struct ActualsWire<'a> {
    job: &'a str,
    record: &'a str,
    currency: &'static str,
    fingerprint: FingerprintWire<'a>,
    changed: Vec<&'static str>,
    unknown: Vec<&'static str>,
    materials: Vec<MaterialWire<'a>>,
    labour: Vec<LabourWire<'a>>,
    areas: Vec<AreaWire<'a>>,
    days: DaysWire,
    unmatched: Vec<UnmatchedWire<'a>>,
    weather: Vec<RemarkWire<'a>>,
    remarks: Vec<RemarkWire<'a>>,
    totals: AllTotalsWire,
}

#[derive(Debug, Serialize)]
struct MaterialWire<'a> {
    item: &'a str,
    description: &'a str,
    #[serde(flatten)]
    line: LineWire<'a>,
}

#[derive(Debug, Serialize)]
struct LabourWire<'a> {
    phase: &'a str,
    description: &'a str,
    of: &'static str,
    structure: Option<&'a str>,
    #[serde(flatten)]
    line: LineWire<'a>,
}

#[derive(Debug, Serialize)]
struct LineWire<'a> {
    estimated: EstimatedWire<'a>,
    actual: Option<ActualWire<'a>>,
    difference: Option<DifferenceWire<'a>>,
}

#[derive(Debug, Serialize)]
struct EstimatedWire<'a> {
    amount: Measure<'a>,
    at_built: Measure<'a>,
    packs: Option<f64>,
    price: Option<String>,
    cost: Option<String>,
}

#[derive(Debug, Serialize)]
struct ActualWire<'a> {
    amount: Measure<'a>,
    packs: Option<f64>,
    paid: Option<String>,
    cost: Option<String>,
    place: PlaceWire<'a>,
}

#[derive(Debug, Serialize)]
struct DifferenceWire<'a> {
    amount: Measure<'a>,
    quantity: Measure<'a>,
    usage: Measure<'a>,
    money: Option<MoneyWire>,
}

#[derive(Debug, Serialize)]
struct MoneyWire {
    whole: String,
    quantity: String,
    usage: String,
    packs: String,
    price: String,
}

#[derive(Debug, Serialize)]
struct PlaceWire<'a> {
    file: &'a str,
    line: usize,
}

#[derive(Debug, Serialize)]
struct AreaWire<'a> {
    structure: &'a str,
    face: Option<&'a str>,
    estimated: Measure<'a>,
    built: Measure<'a>,
    place: PlaceWire<'a>,
}

#[derive(Debug, Serialize)]
struct DaysWire {
    estimated: Option<usize>,
    planned_first: Option<String>,
    planned_last: Option<String>,
    actual: Option<f64>,
    first: Option<String>,
    last: Option<String>,
}

#[derive(Debug, Serialize)]
struct UnmatchedWire<'a> {
    kind: &'static str,
    name: &'a str,
    of: Option<&'static str>,
    structure: Option<&'a str>,
    amount: Measure<'a>,
    cost: Option<String>,
    place: PlaceWire<'a>,
}

#[derive(Debug, Serialize)]
struct RemarkWire<'a> {
    day: Option<String>,
    text: &'a str,
}

#[derive(Debug, Serialize)]
struct AllTotalsWire {
    materials: TotalsWire,
    labour: TotalsWire,
    both: TotalsWire,
}

#[derive(Debug, Serialize)]
struct TotalsWire {
    lines: usize,
    estimated: String,
    actual: String,
    difference: MoneyWire,
    not_recorded: String,
    lines_not_recorded: usize,
    lines_without_price: usize,
}

/// A record beside its estimate, as JSON. `record` is the record as the command named it, and
/// `print` what prices the job now.
pub fn actuals_json(
    of: &Comparison,
    record: &str,
    print: &Fingerprint<String>,
    sources: &Sources,
) -> String {
    let wire = ActualsWire {
        job: &of.job,
        record,
        currency: of.currency.code(),
        fingerprint: FingerprintWire::of(print),
        changed: words(&of.changed),
        unknown: words(&of.unknown),
        materials: of
            .materials
            .iter()
            .map(|line| material(line, sources))
            .collect(),
        labour: of.labour.iter().map(|line| labour(line, sources)).collect(),
        areas: of
            .areas
            .iter()
            .map(|line| area(line, &of.area_unit, sources))
            .collect(),
        days: days(&of.days),
        unmatched: of
            .unmatched
            .iter()
            .map(|one| unmatched(one, sources))
            .collect(),
        weather: of.weather.iter().map(remark).collect(),
        remarks: of.remarks.iter().map(remark).collect(),
        totals: AllTotalsWire {
            materials: totals(&of.material_totals),
            labour: totals(&of.labour_totals),
            both: totals(&of.totals),
        },
    };
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    serde_json::to_string_pretty(&wire).unwrap_or_default()
}

/// Whether a file is what [`actuals_json`] writes, which nobody works in.
pub fn is_actuals_json(bytes: &[u8]) -> bool {
    let Ok(value) = serde_json::from_slice::<serde_json::Value>(bytes) else {
        return false;
    };
    ["job", "record", "fingerprint", "unmatched", "totals"]
        .iter()
        .all(|key| value.get(key).is_some())
}

fn words(parts: &[Part]) -> Vec<&'static str> {
    parts.iter().map(|part| part.word()).collect()
}

fn material<'a>(line: &'a Line, sources: &'a Sources) -> MaterialWire<'a> {
    MaterialWire {
        item: &line.name,
        description: &line.description,
        line: wire(line, sources),
    }
}

fn labour<'a>(line: &'a Line, sources: &'a Sources) -> LabourWire<'a> {
    let (of, structure) = match &line.of {
        Of::Labour(_, scope) => scope_words(scope),
        Of::Material(_) => scope_words(&Scope::Whole),
    };
    LabourWire {
        phase: &line.name,
        description: &line.description,
        of,
        structure,
        line: wire(line, sources),
    }
}

fn scope_words(scope: &Scope) -> (&'static str, Option<&str>) {
    match scope {
        Scope::Whole => ("whole", None),
        Scope::Structure(name) => ("structure", Some(name)),
        Scope::Job => ("job", None),
    }
}

fn wire<'a>(line: &'a Line, sources: &'a Sources) -> LineWire<'a> {
    let unit = &line.unit;
    let Estimated {
        amount,
        at_built,
        packs,
        price,
        cost,
    } = line.estimated;
    let difference = line.split.map(|split| DifferenceWire {
        amount: show(
            line.difference().unwrap_or(Quantity::zero(amount.dim)),
            unit,
        ),
        quantity: show(split.amount.quantity, unit),
        usage: show(split.amount.usage, unit),
        money: split.money.as_ref().map(money),
    });
    LineWire {
        estimated: EstimatedWire {
            amount: show(amount, unit),
            at_built: show(at_built, unit),
            packs,
            price: price.map(Money::to_price_text),
            cost: cost.map(Money::to_text),
        },
        actual: line
            .actual
            .as_ref()
            .map(|actual| actual_wire(actual, unit, sources)),
        difference,
    }
}

fn actual_wire<'a>(actual: &'a Actual, unit: &'a Unit, sources: &'a Sources) -> ActualWire<'a> {
    ActualWire {
        amount: show(actual.amount, unit),
        packs: actual.packs,
        paid: actual.paid.map(Money::to_price_text),
        cost: actual.cost.map(Money::to_text),
        place: place(&actual.place, sources),
    }
}

fn show(quantity: Quantity, unit: &Unit) -> Measure<'_> {
    // A sum with nothing takes the sign from a nothing.
    measure(unit.show(quantity).unwrap_or_default() + 0.0, unit.text())
}

fn money(split: &MoneySplit) -> MoneyWire {
    MoneyWire {
        whole: split.whole().map_or(String::new(), Money::to_text),
        quantity: split.quantity.to_text(),
        usage: split.usage.to_text(),
        packs: split.packs.to_text(),
        price: split.price.to_text(),
    }
}

fn place<'a>(at: &Written, sources: &'a Sources) -> PlaceWire<'a> {
    PlaceWire {
        file: sources.name(at.span.file),
        line: sources.place(at.span.file, at.span.start).line,
    }
}

fn area<'a>(line: &'a AreaLine, unit: &'a Unit, sources: &'a Sources) -> AreaWire<'a> {
    AreaWire {
        structure: &line.structure,
        face: line.face.as_deref(),
        estimated: show(line.estimated, unit),
        built: show(line.built, unit),
        place: place(&line.place, sources),
    }
}

fn days(days: &DaysLine) -> DaysWire {
    let text = |day: Option<jiff::civil::Date>| day.map(|day| day.to_string());
    DaysWire {
        estimated: days.estimated,
        planned_first: text(days.planned.map(|(first, _)| first)),
        planned_last: text(days.planned.map(|(_, last)| last)),
        actual: days.actual,
        first: text(days.first),
        last: text(days.last),
    }
}

fn unmatched<'a>(one: &'a Unmatched, sources: &'a Sources) -> UnmatchedWire<'a> {
    let scope = one.scope.as_ref().map(scope_words);
    UnmatchedWire {
        kind: one.kind.word(),
        name: &one.name,
        of: scope.map(|(of, _)| of),
        structure: scope.and_then(|(_, structure)| structure),
        amount: show(one.amount, &one.unit),
        cost: one.cost.map(Money::to_text),
        place: place(&one.place, sources),
    }
}

fn remark(remark: &Remark) -> RemarkWire<'_> {
    RemarkWire {
        day: remark.day.map(|day| day.to_string()),
        text: &remark.text,
    }
}

fn totals(of: &Totals) -> TotalsWire {
    TotalsWire {
        lines: of.recorded,
        estimated: of.estimated.to_text(),
        actual: of.actual.to_text(),
        difference: money(&of.split),
        not_recorded: of.not_recorded.to_text(),
        lines_not_recorded: of.missing,
        lines_without_price: of.open,
    }
}

#[cfg(test)]
mod tests;
