//! The estimate as JSON, in the form that [`SCHEMA`] describes.

mod days;
mod document;
mod faces;
mod takes;

use crate::shown::{self, EdgeShown};
use crate::wire::*;
use crate::wire_rows::Rows;
use crate::wire_takes::TakesWire;
use document::Document;
use faces::FacesOf;
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Diagnostic, Factor, Money, Sources};
use parge_calc::actuals::Fingerprint;
use parge_calc::job::{Profit, Structure, Taxable, UnitSystem};
use parge_calc::learn::{DRAWS, Likely};
use parge_calc::parts::Faces;
use parge_calc::price::{Estimate, LabourLine, MaterialLine, Purchase, PurchaseLine, Status};
use parge_calc::takeoff::{Caution, Tool};
use rust_decimal::Decimal;
use std::io::{self, BufWriter, Write};
use takes::Units;

/// The JSON Schema (draft 2020-12) of what [`json`] writes.
pub const SCHEMA: &str = include_str!("../schema/estimate.schema.json");

/// The whole estimate, with the fingerprints of what priced it, as a text in memory; [`write_json`] needs no memory for it.
pub fn json(
    estimate: &Estimate,
    fingerprint: &Fingerprint<String>,
    sources: &Sources,
    diagnostics: &[Diagnostic],
) -> String {
    let mut text = Vec::new();
    // To write into memory cannot fail.
    let written = write_json(estimate, fingerprint, sources, diagnostics, &mut text);
    written.map_or(String::new(), |()| {
        String::from_utf8(text).unwrap_or_default()
    })
}

/// Writes the whole estimate. Of what there is by the face, a few pieces are held at a time.
///
/// # Errors
///
/// Those of the writer.
pub fn write_json(
    estimate: &Estimate,
    fingerprint: &Fingerprint<String>,
    sources: &Sources,
    diagnostics: &[Diagnostic],
    to: impl Write,
) -> io::Result<()> {
    let faces = FacesOf::Here(&estimate.takeoff);
    written(estimate, faces, fingerprint, (sources, diagnostics), to)
}

/// Writes the whole estimate of a job whose faces are gone through part by part.
///
/// # Errors
///
/// Those of the writer, and one where the parts cannot be gone through a second time.
pub fn write_json_in_parts(
    estimate: &Estimate,
    faces: Faces<'_>,
    fingerprint: &Fingerprint<String>,
    diagnostics: &[Diagnostic],
    to: impl Write,
) -> io::Result<()> {
    let said = (faces.of.sources, diagnostics);
    written(estimate, FacesOf::Parts(faces), fingerprint, said, to)
}

fn written(
    estimate: &Estimate,
    faces: FacesOf<'_>,
    fingerprint: &Fingerprint<String>,
    (sources, diagnostics): (&Sources, &[Diagnostic]),
    to: impl Write,
) -> io::Result<()> {
    let units = Units::of(estimate);
    let wire = wire(estimate, fingerprint, &units, sources, diagnostics);
    // The text is written in pieces of a few letters, so it is gathered before it goes out.
    let mut to = Document::begin(BufWriter::with_capacity(GATHERED, to))?;
    to.member("job", &wire.job)?;
    to.member("fingerprint", &wire.fingerprint)?;
    to.member("status", &wire.status)?;
    to.member("currency", &wire.currency)?;
    to.member("structures", &wire.structures)?;
    to.member("finishes", &wire.finishes)?;
    let mut layouts = None;
    to.list("faces", |list| {
        layouts = Some(faces.write(&units, list)?);
        Ok(())
    })?;
    to.member("edges", &wire.edges)?;
    to.member("whole_job", &wire.whole_job)?;
    to.list("layouts", |list| {
        layouts.map_or(Ok(()), |layouts| layouts.write(list))
    })?;
    to.member("materials", &wire.materials)?;
    to.member("labour", &wire.labour)?;
    to.member("days", &wire.days)?;
    to.member("purchases", &wire.purchases)?;
    to.member("price", &wire.price)?;
    to.member("content", &wire.content)?;
    to.member("kit", &wire.kit)?;
    to.member("cautions", &wire.cautions)?;
    to.member("factors", &wire.factors)?;
    to.member("diagnostics", &wire.diagnostics)?;
    to.end()
}

/// Bytes that are gathered before they are written.
const GATHERED: usize = 1 << 16;

fn wire<'a>(
    estimate: &'a Estimate,
    fingerprint: &'a Fingerprint<String>,
    units: &'a Units<'a>,
    sources: &'a Sources,
    diagnostics: &'a [Diagnostic],
) -> EstimateWire<'a> {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    EstimateWire {
        job: job_wire(estimate),
        fingerprint: FingerprintWire::of(fingerprint),
        status: match estimate.status {
            Status::Complete => "complete",
            Status::Incomplete => "incomplete",
        },
        currency: estimate.currency.code(),
        structures: Rows::of(|| job.structures.iter().map(structure)),
        finishes: Rows::of(|| {
            let finishes = job.finishes.iter();
            finishes.map(|finish| takes::finish(job, finish))
        }),
        edges: Rows::of(|| {
            let edges = shown::edges(takeoff).zip(0..);
            edges.map(|(shown, number)| {
                edge(shown, job.units, units.of_line(&takeoff.edges, number))
            })
        }),
        whole_job: takeoff.whole.as_ref().map(|whole| units.takes(whole)),
        content: content(estimate),
        materials: Rows::of(|| estimate.materials.iter().map(material)),
        labour: Rows::of(|| estimate.labour.iter().map(labour)),
        days: days::days(units, estimate),
        price: price(estimate),
        purchases: Rows::of(|| {
            let purchases = estimate.purchases.iter();
            purchases.map(|of| purchase(estimate, of))
        }),
        kit: Rows::of(|| takeoff.kit.iter().map(|tool| kit(tool, estimate))),
        cautions: Rows::of(|| takeoff.cautions.iter().map(caution)),
        factors: Rows::of(|| {
            let factors = estimate.factors().into_iter();
            factors.map(|found| factor(found, sources))
        }),
        diagnostics: wires(diagnostics, sources),
    }
}

fn job_wire(estimate: &Estimate) -> JobWire<'_> {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    JobWire {
        name: &job.name,
        client: job.client.as_deref(),
        site: job.site.as_deref(),
        date: job.date.map(|date| date.to_string()),
        valid_until: job.valid_until.map(|until| until.node.to_string()),
        units: shown::system_word(job.units),
        measure: shown::measuring_word(&job.measuring),
        rules: RulesWire {
            name: &takeoff.pack.name,
            version: &takeoff.pack.version,
            folder: &takeoff.pack.folder,
        },
    }
}

/// Diagnostics alone, as an object with the one member `diagnostics`.
pub fn diagnostics_json(diagnostics: &[Diagnostic], sources: &Sources) -> String {
    pretty(&DiagnosticsWire {
        diagnostics: wires(diagnostics, sources),
    })
}

fn pretty(value: &impl serde::Serialize) -> String {
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    serde_json::to_string_pretty(value).unwrap_or_default()
}

/// A number free of binary noise: `160` for 160.00000000000003.
pub(crate) fn measure(value: f64, unit: &str) -> Measure<'_> {
    Measure {
        value: round_to(value, NOISE_DECIMALS),
        unit,
    }
}

fn structure(structure: &Structure) -> StructureWire<'_> {
    let conditions = structure.conditions.iter();
    StructureWire {
        name: &structure.name,
        conditions: conditions
            .map(|(condition, word)| ConditionWire { condition, word })
            .collect(),
    }
}

fn edge<'a>(edge: EdgeShown<'a>, system: UnitSystem, takes: TakesWire<'a>) -> EdgeWire<'a> {
    let length = |value| measure(value, shown::length_unit(system));
    EdgeWire {
        structure: edge.structure,
        face: edge.face,
        kind: edge.kind,
        count: edge.count,
        length: length(edge.length),
        total_length: length(edge.total_length()),
        takes,
    }
}

fn content(estimate: &Estimate) -> ContentWire<'_> {
    let content = &estimate.takeoff.measured.job.content;
    let allowances = content.allowances.iter().map(|allowance| AllowanceWire {
        name: &allowance.name,
        amount: allowance.amount.to_text(),
    });
    let charges = estimate.charges.iter().map(|charge| AllowanceWire {
        name: &charge.name,
        amount: charge.amount.to_text(),
    });
    let alternates = estimate.alternates.iter().map(|alternate| AlternateWire {
        name: &alternate.name,
        changes: &alternate.changes,
        difference: alternate.difference.map(Money::to_text),
        cautions: alternate.cautions.iter().map(caution).collect(),
    });
    ContentWire {
        alternates: alternates.collect(),
        allowances: allowances.collect(),
        charges: charges.collect(),
        exclusions: &content.exclusions,
        notes: &content.notes,
        terms: &content.terms,
    }
}

fn material(line: &MaterialLine) -> MaterialWire<'_> {
    let shown = shown::need(line);
    MaterialWire {
        item: &line.material.item,
        description: &line.material.description,
        need: measure(shown.need, shown.unit),
        waste: measure(shown.waste, shown.unit),
        packs: line.packs,
        pack: line.pack.as_ref().map(|pack| PackWire {
            size: measure(pack.written, pack.unit.text()),
            name: &pack.name,
        }),
        unit_price: line.unit_price.map(unit_price),
        cost: line.cost.map(Money::to_text),
        supplier: &line.supplier,
        from_packs: line
            .choice
            .as_ref()
            .map(|choice| choice.offer.terms.from_packs),
        taxed: line.is_taxed(),
        reason: line.choice.as_ref().map_or("", |choice| &choice.reason),
    }
}

fn purchase<'a>(estimate: &'a Estimate, purchase: &'a Purchase) -> PurchaseWire<'a> {
    let item = |line: &PurchaseLine| {
        let material = estimate.materials.get(line.material)?;
        Some(PurchaseLineWire {
            item: &material.material.item,
            lead_days: line.lead_days,
            order_by: line.order_by.map(|day| day.to_string()),
        })
    };
    PurchaseWire {
        supplier: purchase.supplier.clone(),
        lines: purchase.lines.iter().filter_map(item).collect(),
        cost: purchase.cost.to_text(),
        freight: purchase
            .freight
            .as_ref()
            .map(|freight| freight.amount.to_text()),
    }
}

/// A price as the book states it: with the minor unit's digits at least, and with more where
/// the book has more, since what is multiplied is not rounded first.
fn unit_price(price: Money) -> String {
    let decimals = shown::price_decimals(price) as usize;
    format!("{:.decimals$}", price.amount())
}

fn labour(line: &LabourLine) -> LabourWire<'_> {
    LabourWire {
        phase: &line.labour.phase,
        description: &line.labour.description,
        hours: line.labour.hours,
        cost: line.cost.map(Money::to_text),
    }
}

fn price(estimate: &Estimate) -> PriceWire {
    let price = &estimate.price;
    PriceWire {
        materials: price.materials.to_text(),
        freight: price.freight.to_text(),
        labour: price.labour.to_text(),
        burden: price.burden.to_text(),
        overhead: price.overhead.to_text(),
        contingency: price.contingency.to_text(),
        profit: price.profit.to_text(),
        allowances: price.allowances.to_text(),
        charges: price.charges.to_text(),
        minimum: price.minimum.to_text(),
        rounding: price.rounding.to_text(),
        tax: price.tax.to_text(),
        total: price.total.to_text(),
        taxed_materials: price.taxed.to_text(),
        wage: price.wage.map(unit_price),
        terms: terms(estimate),
        range: estimate.range.map(|range| RangeWire {
            class: range.class.number(),
            low: range.outer[0].to_text(),
            high: range.outer[1].to_text(),
            best_low: range.inner[0].to_text(),
            best_high: range.inner[1].to_text(),
        }),
        likely: estimate.likely.as_ref().map(likely),
    }
}

fn likely(likely: &Likely) -> LikelyWire {
    // To a thousandth: chance leaves no more of it.
    let share = |share: f64| round_to(share, 3);
    LikelyWire {
        low: likely.low.to_text(),
        middle: likely.middle.to_text(),
        high: likely.high.to_text(),
        draws: DRAWS,
        causes: likely
            .causes
            .iter()
            .map(|cause| CauseWire {
                name: cause.name.clone(),
                spread: share(cause.spread),
                share: share(cause.share),
            })
            .collect(),
        certain: likely.certain,
    }
}

fn terms(estimate: &Estimate) -> TermsWire {
    let bid = &estimate.takeoff.measured.job.bid;
    let by_class = estimate.contingency.by_class.is_some();
    let contingency = bid.contingency.is_some() || by_class;
    TermsWire {
        burden: bid.burden.map(rate),
        overhead: bid.overhead.map(rate),
        contingency: contingency.then(|| ContingencyWire {
            rate: rate(estimate.contingency.rate),
            from: if by_class { "class" } else { "plan" },
        }),
        class: bid.class.map(|class| class.number()),
        profit: bid.profit.map(profit),
        minimum: bid.minimum.map(Money::to_text),
        rounding: bid.rounding.map(|rounding| RoundingWire {
            multiple: rounding.multiple.to_text(),
            up: rounding.up,
        }),
        tax: bid.tax.map(|(share, on)| TaxWire {
            rate: rate(share),
            on: match on {
                Taxable::Materials => "materials",
                Taxable::Total => "total",
            },
        }),
    }
}

fn profit(profit: Profit) -> ProfitWire {
    let (kind, share) = match profit {
        Profit::Markup(share) => ("markup", share),
        Profit::Margin(share) => ("margin", share),
    };
    ProfitWire {
        kind,
        rate: rate(share),
    }
}

fn rate(share: Decimal) -> String {
    share.normalize().to_string()
}

fn kit<'a>(tool: &'a Tool, estimate: &Estimate) -> ToolWire<'a> {
    ToolWire {
        tool: &tool.key,
        description: &tool.description,
        count: tool.count,
        from: shown::tool_from(tool, estimate).word(),
        reasons: &tool.reasons,
    }
}

pub(crate) fn caution(caution: &Caution) -> CautionWire<'_> {
    CautionWire {
        key: &caution.key,
        text: &caution.text,
        audience: caution.audience.word(),
        faces: caution.faces,
    }
}

fn factor<'a>(factor: &'a Factor, sources: &'a Sources) -> FactorWire<'a> {
    FactorWire {
        name: &factor.name,
        value: factor.written,
        unit: factor.unit.text(),
        source: factor.source.to_string(),
        file: sources.name(factor.span.file),
        line: sources.place(factor.span.file, factor.span.start).line,
    }
}

fn wires<'a>(diagnostics: &'a [Diagnostic], sources: &'a Sources) -> Rows<'a, DiagnosticWire<'a>> {
    Rows::of(move || {
        let said = diagnostics.iter();
        said.map(move |said| diagnostic(said, sources))
    })
}

pub(crate) fn diagnostic<'a>(
    diagnostic: &'a Diagnostic,
    sources: &'a Sources,
) -> DiagnosticWire<'a> {
    let span = diagnostic.span();
    let place = span.map(|span| sources.place(span.file, span.start));
    DiagnosticWire {
        code: diagnostic.code.id(),
        severity: diagnostic.severity().word(),
        message: &diagnostic.message,
        help: &diagnostic.help,
        file: span.map(|span| sources.name(span.file)),
        line: place.map(|place| place.line),
        column: place.map(|place| place.column),
    }
}

#[cfg(test)]
mod tests;
