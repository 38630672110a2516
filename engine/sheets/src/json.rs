//! The estimate as JSON, in the form that [`SCHEMA`] describes.

mod days;
mod takes;

use crate::shown::{self, EdgeShown, FaceShown, LaidShown};
use crate::wire::*;
use crate::wire_takes::TakesWire;
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Diagnostic, Factor, Money, Sources};
use parge_calc::job::{Bid, Profit, Structure, Taxable, UnitSystem};
use parge_calc::price::{Estimate, LabourLine, MaterialLine, Price, Status};
use parge_calc::takeoff::{Caution, Taken, Tool};
use rust_decimal::Decimal;

/// The JSON Schema (draft 2020-12) of what [`json`] writes.
pub const SCHEMA: &str = include_str!("../schema/estimate.schema.json");

/// The whole estimate.
pub fn json(estimate: &Estimate, sources: &Sources, diagnostics: &[Diagnostic]) -> String {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    let factors = takeoff.factors();
    pretty(&EstimateWire {
        job: JobWire {
            name: &job.name,
            client: job.client.as_deref(),
            site: job.site.as_deref(),
            date: job.date.map(|date| date.to_string()),
            units: shown::system_word(job.units),
            measure: shown::measuring_word(&job.measuring),
            rules: RulesWire {
                name: &takeoff.pack.name,
                version: &takeoff.pack.version,
                folder: &takeoff.pack.folder,
            },
        },
        status: match estimate.status {
            Status::Complete => "complete",
            Status::Incomplete => "incomplete",
        },
        currency: estimate.currency.code(),
        structures: job.structures.iter().map(structure).collect(),
        finishes: job
            .finishes
            .iter()
            .map(|finish| takes::finish(job, finish))
            .collect(),
        edges: shown::edges(takeoff)
            .enumerate()
            .map(|(number, shown)| edge(shown, job.units, taken(estimate, &takeoff.edges, number)))
            .collect(),
        whole_job: takeoff
            .whole
            .as_ref()
            .map(|whole| takes::takes(estimate, whole)),
        content: content(estimate),
        faces: shown::faces(takeoff)
            .enumerate()
            .map(|(number, shown)| face(shown, job.units, taken(estimate, &takeoff.faces, number)))
            .collect(),
        layouts: shown::laid(takeoff).map(layout).collect(),
        materials: estimate.materials.iter().map(material).collect(),
        labour: estimate.labour.iter().map(labour).collect(),
        days: days::days(estimate),
        price: price(&estimate.price, &job.bid),
        kit: takeoff.kit.iter().map(|tool| kit(tool, estimate)).collect(),
        cautions: takeoff.cautions.iter().map(caution).collect(),
        factors: factors.iter().map(|found| factor(found, sources)).collect(),
        diagnostics: wires(diagnostics, sources),
    })
}

/// What the face or the edge of that number takes.
fn taken<'a>(estimate: &'a Estimate, of: &'a [Taken], number: usize) -> TakesWire<'a> {
    of.get(number)
        .map_or_else(takes::nothing, |taken| takes::takes(estimate, taken))
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
fn measure(value: f64, unit: &str) -> Measure<'_> {
    Measure {
        value: round_to(value, NOISE_DECIMALS),
        unit,
    }
}

fn face<'a>(face: FaceShown<'a>, system: UnitSystem, takes: TakesWire<'a>) -> FaceWire<'a> {
    let area = |value| measure(value, shown::area_unit(system));
    let length = |value| measure(value, shown::length_unit(system));
    FaceWire {
        structure: face.structure,
        name: face.name,
        substrate: face.substrate,
        finish: face.finish,
        count: face.count,
        gross_area: area(face.areas.gross),
        deducted_area: area(face.areas.deducted),
        reveal_area: area(face.areas.reveal),
        net_area: area(face.areas.net),
        perimeter: length(face.perimeter),
        width: length(face.width),
        height: length(face.height),
        takes,
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

fn layout(laid: LaidShown<'_>) -> LayoutWire<'_> {
    LayoutWire {
        structure: laid.structure,
        face: laid.name,
        item: laid.item,
        laid_out: measure(laid.laid_out, laid.unit),
        by_area: measure(laid.by_area, laid.unit),
        note: laid.note,
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

fn price(price: &Price, bid: &Bid) -> PriceWire {
    PriceWire {
        materials: price.materials.to_text(),
        labour: price.labour.to_text(),
        burden: price.burden.to_text(),
        overhead: price.overhead.to_text(),
        profit: price.profit.to_text(),
        allowances: price.allowances.to_text(),
        charges: price.charges.to_text(),
        tax: price.tax.to_text(),
        total: price.total.to_text(),
        wage: price.wage.map(unit_price),
        terms: TermsWire {
            burden: bid.burden.map(rate),
            overhead: bid.overhead.map(rate),
            profit: bid.profit.map(profit),
            tax: bid.tax.map(|(share, on)| TaxWire {
                rate: rate(share),
                on: match on {
                    Taxable::Materials => "materials",
                    Taxable::Total => "total",
                },
            }),
        },
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

fn caution(caution: &Caution) -> CautionWire<'_> {
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

fn wires<'a>(diagnostics: &'a [Diagnostic], sources: &'a Sources) -> Vec<DiagnosticWire<'a>> {
    let wire = |diagnostic: &'a Diagnostic| {
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
    };
    diagnostics.iter().map(wire).collect()
}

#[cfg(test)]
mod tests;
