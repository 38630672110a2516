//! The JSON's own form. Its names are promised to other programs: the schema beside this crate
//! describes each of them, and a change of the estimate's types does not change them.

use crate::wire_days::DaysWire;
use crate::wire_rows::Rows;
use crate::wire_takes::{FinishWire, TakesWire};
use parge_calc::actuals::Fingerprint;
use serde::Serialize;

/// A number with its unit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Measure<'a> {
    /// The number.
    pub value: f64,
    /// The unit.
    pub unit: &'a str,
}

/// The whole estimate but for the lists of its faces and of what is laid out on them, which stand behind
/// the finishes and behind what the job takes as a whole.
#[derive(Debug)]
pub struct EstimateWire<'a> {
    /// The job.
    pub job: JobWire<'a>,
    /// What priced it.
    pub fingerprint: FingerprintWire<'a>,
    /// `complete` or `incomplete`.
    pub status: &'static str,
    /// ISO 4217.
    pub currency: &'static str,
    /// The structures.
    pub structures: Rows<'a, StructureWire<'a>>,
    /// The finishes.
    pub finishes: Rows<'a, FinishWire<'a>>,
    /// The linear work.
    pub edges: Rows<'a, EdgeWire<'a>>,
    /// What the job takes as a whole.
    pub whole_job: Option<TakesWire<'a>>,
    /// The materials.
    pub materials: Rows<'a, MaterialWire<'a>>,
    /// The labour.
    pub labour: Rows<'a, LabourWire<'a>>,
    /// The day plan.
    pub days: Option<DaysWire<'a>>,
    /// The materials by supplier.
    pub purchases: Rows<'a, PurchaseWire<'a>>,
    /// From cost to price.
    pub price: PriceWire,
    /// What the bid says besides.
    pub content: ContentWire<'a>,
    /// The tools and equipment.
    pub kit: Rows<'a, ToolWire<'a>>,
    /// The cautions.
    pub cautions: Rows<'a, CautionWire<'a>>,
    /// The factors.
    pub factors: Rows<'a, FactorWire<'a>>,
    /// What was found wrong or doubtful.
    pub diagnostics: Rows<'a, DiagnosticWire<'a>>,
}

/// The job.
#[derive(Debug, Serialize)]
pub struct JobWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// For whom.
    pub client: Option<&'a str>,
    /// Where.
    pub site: Option<&'a str>,
    /// The day of the bid, ISO 8601.
    pub date: Option<String>,
    /// The last day on which the bid can be accepted, ISO 8601.
    pub valid_until: Option<String>,
    /// `us` or `metric`.
    pub units: &'static str,
    /// The measuring rule.
    pub measure: &'a str,
    /// The rule pack.
    pub rules: RulesWire<'a>,
}

/// Short fingerprints of what priced a job, for records to cite.
#[derive(Debug, Serialize)]
pub struct FingerprintWire<'a> {
    /// Of the plan.
    pub plan: &'a str,
    /// Of the rules.
    pub rules: &'a str,
    /// Of the prices.
    pub prices: &'a str,
}

impl<'a> FingerprintWire<'a> {
    /// Those that were reckoned.
    pub fn of(of: &'a Fingerprint<String>) -> Self {
        Self {
            plan: &of.plan,
            rules: &of.rules,
            prices: &of.prices,
        }
    }
}

/// The rule pack.
#[derive(Debug, Serialize)]
pub struct RulesWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its version.
    pub version: &'a str,
    /// The folder it was read from; its name for a pack of the program.
    pub folder: &'a str,
}

/// A structure.
#[derive(Debug, Serialize)]
pub struct StructureWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// The conditions that hold there.
    pub conditions: Vec<ConditionWire<'a>>,
}

/// A condition of the site.
#[derive(Debug, Serialize)]
pub struct ConditionWire<'a> {
    /// Its kind: `access`.
    pub condition: &'a str,
    /// The word for it: `tight`.
    pub word: &'a str,
}

/// Linear work.
#[derive(Debug, Serialize)]
pub struct EdgeWire<'a> {
    /// The structure.
    pub structure: &'a str,
    /// The face that it belongs to, where it belongs to one.
    pub face: Option<&'a str>,
    /// What is done.
    pub kind: &'a str,
    /// How many, over all equal faces.
    pub count: u32,
    /// Of one.
    pub length: Measure<'static>,
    /// Of all.
    pub total_length: Measure<'static>,
    /// All together.
    pub takes: TakesWire<'a>,
}

/// What the bid says beside quantities and prices.
#[derive(Debug, Serialize)]
pub struct ContentWire<'a> {
    /// What the client may choose instead.
    pub alternates: Vec<AlternateWire<'a>>,
    /// Sums set aside.
    pub allowances: Vec<AllowanceWire<'a>>,
    /// What rules of the pack add.
    pub charges: Vec<AllowanceWire<'a>>,
    /// What the price does not cover.
    pub exclusions: &'a [String],
    /// Notes.
    pub notes: &'a [String],
    /// Conditions of the bid.
    pub terms: &'a [String],
}

/// An alternate.
#[derive(Debug, Serialize)]
pub struct AlternateWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// What it changes, in words.
    pub changes: &'a [String],
    /// What it adds to the total, or takes off it.
    pub difference: Option<String>,
    /// Cautions that only it gives reason for.
    pub cautions: Vec<CautionWire<'a>>,
}

/// An allowance.
#[derive(Debug, Serialize)]
pub struct AllowanceWire<'a> {
    /// For what.
    pub name: &'a str,
    /// How much.
    pub amount: String,
}

/// A face.
#[derive(Debug, Serialize)]
pub struct FaceWire<'a> {
    /// The structure.
    pub structure: &'a str,
    /// The face.
    pub name: &'a str,
    /// What it is built of.
    pub substrate: &'a str,
    /// The finish.
    pub finish: &'a str,
    /// How many equal faces.
    pub count: u32,
    /// Of all.
    pub gross_area: Measure<'static>,
    /// Of all.
    pub deducted_area: Measure<'static>,
    /// Of all.
    pub reveal_area: Measure<'static>,
    /// Of all.
    pub net_area: Measure<'static>,
    /// Of one.
    pub perimeter: Measure<'static>,
    /// Of one.
    pub width: Measure<'static>,
    /// Of one.
    pub height: Measure<'static>,
    /// All together.
    pub takes: TakesWire<'a>,
}

/// What was laid out of an item on a face, one layer on all equal faces together.
#[derive(Debug, Serialize)]
pub struct LayoutWire<'a> {
    /// The structure.
    pub structure: &'a str,
    /// The face.
    pub face: &'a str,
    /// The item.
    pub item: &'a str,
    /// The count of the layout.
    pub laid_out: Measure<'a>,
    /// The count by area.
    pub by_area: Measure<'a>,
    /// How one face is laid out.
    pub note: &'a str,
}

/// A material.
#[derive(Debug, Serialize)]
pub struct MaterialWire<'a> {
    /// The item.
    pub item: &'a str,
    /// In words.
    pub description: &'a str,
    /// Without waste.
    pub need: Measure<'a>,
    /// As an amount.
    pub waste: Measure<'a>,
    /// Whole packs.
    pub packs: Option<f64>,
    /// What one pack is.
    pub pack: Option<PackWire<'a>>,
    /// Of one pack.
    pub unit_price: Option<String>,
    /// Of all packs.
    pub cost: Option<String>,
    /// Who sells it.
    pub supplier: &'a str,
    /// From how many packs on the price holds.
    pub from_packs: Option<u32>,
    /// Whether a tax on materials is reckoned on it.
    pub taxed: bool,
    /// Why this offer.
    pub reason: &'a str,
}

/// What is bought of one supplier.
#[derive(Debug, Serialize)]
pub struct PurchaseWire<'a> {
    /// The supplier.
    pub supplier: String,
    /// The lines.
    pub lines: Vec<PurchaseLineWire<'a>>,
    /// Of the priced lines.
    pub cost: String,
    /// Of the delivery.
    pub freight: Option<String>,
}

/// A line of a purchase.
#[derive(Debug, Serialize)]
pub struct PurchaseLineWire<'a> {
    /// The item.
    pub item: &'a str,
    /// Calendar days from order to delivery.
    pub lead_days: Option<u32>,
    /// The last day to order it.
    pub order_by: Option<String>,
}

/// A pack.
#[derive(Debug, Serialize)]
pub struct PackWire<'a> {
    /// What it holds, as the price book says.
    pub size: Measure<'a>,
    /// What it is called.
    pub name: &'a str,
}

/// A phase of labour.
#[derive(Debug, Serialize)]
pub struct LabourWire<'a> {
    /// The phase.
    pub phase: &'a str,
    /// In words.
    pub description: &'a str,
    /// Of one person.
    pub hours: f64,
    /// Hours times wage.
    pub cost: Option<String>,
}

/// From cost to price.
#[derive(Debug, Serialize)]
pub struct PriceWire {
    /// The sum of the priced materials.
    pub materials: String,
    /// Of deliveries.
    pub freight: String,
    /// The sum of the priced labour.
    pub labour: String,
    /// On labour.
    pub burden: String,
    /// On materials, freight, labour and burden.
    pub overhead: String,
    /// On all of these.
    pub contingency: String,
    /// Profit.
    pub profit: String,
    /// Sums set aside.
    pub allowances: String,
    /// What rules of the pack add.
    pub charges: String,
    /// What was missing of the least price.
    pub minimum: String,
    /// What rounds the price before tax.
    pub rounding: String,
    /// Tax.
    pub tax: String,
    /// What the client pays.
    pub total: String,
    /// What a tax on materials is reckoned on.
    pub taxed_materials: String,
    /// Of an hour, before burden.
    pub wage: Option<String>,
    /// The terms.
    pub terms: TermsWire,
    /// Between which amounts the total is expected.
    pub range: Option<RangeWire>,
    /// In which the total is likely to lie.
    pub likely: Option<LikelyWire>,
}

/// Between which amounts the total is expected.
#[derive(Debug, Serialize)]
pub struct RangeWire {
    /// The class of the estimate.
    pub class: usize,
    /// At the outer limits.
    pub low: String,
    /// At the outer limits.
    pub high: String,
    /// At the inner limits.
    pub best_low: String,
    /// At the inner limits.
    pub best_high: String,
}

/// In which range the total is likely to lie, by what the pack knows of its factors.
#[derive(Debug, Serialize)]
pub struct LikelyWire {
    /// One time in ten the total is less.
    pub low: String,
    /// Half of the times.
    pub middle: String,
    /// One time in ten it is more.
    pub high: String,
    /// How often the job was priced by chance.
    pub draws: usize,
    /// What causes the range.
    pub causes: Vec<CauseWire>,
    /// Cells that are taken as certain.
    pub certain: usize,
}

/// A cause of the range.
#[derive(Debug, Serialize)]
pub struct CauseWire {
    /// The cells, or the lines, in words.
    pub name: String,
    /// How far it strays, as a share.
    pub spread: f64,
    /// Its share of the variance of the total.
    pub share: f64,
}

/// The terms of the bid; null where the plan states none.
#[derive(Debug, Serialize)]
pub struct TermsWire {
    /// On labour.
    pub burden: Option<String>,
    /// On direct cost.
    pub overhead: Option<String>,
    /// On direct cost with overhead.
    pub contingency: Option<ContingencyWire>,
    /// Of the estimate.
    pub class: Option<usize>,
    /// On cost, or in the price.
    pub profit: Option<ProfitWire>,
    /// The least price before tax.
    pub minimum: Option<String>,
    /// Of the price before tax.
    pub rounding: Option<RoundingWire>,
    /// The rate, and on what.
    pub tax: Option<TaxWire>,
}

/// Contingency.
#[derive(Debug, Serialize)]
pub struct ContingencyWire {
    /// The share.
    pub rate: String,
    /// `plan` or `class`.
    pub from: &'static str,
}

/// Rounding.
#[derive(Debug, Serialize)]
pub struct RoundingWire {
    /// What the price becomes a multiple of.
    pub multiple: String,
    /// Whether to the multiple above.
    pub up: bool,
}

/// Profit.
#[derive(Debug, Serialize)]
pub struct ProfitWire {
    /// `markup` or `margin`.
    pub kind: &'static str,
    /// The share.
    pub rate: String,
}

/// Tax.
#[derive(Debug, Serialize)]
pub struct TaxWire {
    /// The share.
    pub rate: String,
    /// `materials` or `total`.
    pub on: &'static str,
}

/// A tool or a piece of equipment.
#[derive(Debug, Serialize)]
pub struct ToolWire<'a> {
    /// Its key in the pack.
    pub tool: &'a str,
    /// What it is.
    pub description: &'a str,
    /// How many.
    pub count: f64,
    /// `own`, `hire-priced` or `hire-not-priced`.
    pub from: &'static str,
    /// Why it is taken.
    pub reasons: &'a [String],
}

/// A caution.
#[derive(Debug, Serialize)]
pub struct CautionWire<'a> {
    /// Its key in the pack.
    pub key: &'a str,
    /// Its text.
    pub text: &'a str,
    /// `crew`, `client` or `both`.
    pub audience: &'static str,
    /// On how many faces it rests.
    pub faces: usize,
}

/// A factor.
#[derive(Debug, Serialize)]
pub struct FactorWire<'a> {
    /// Table and keys.
    pub name: &'a str,
    /// As written.
    pub value: f64,
    /// As written.
    pub unit: &'a str,
    /// Who says so.
    pub source: String,
    /// The table's file.
    pub file: &'a str,
    /// Its line, from 1.
    pub line: usize,
}

/// A diagnostic.
#[derive(Debug, Serialize)]
pub struct DiagnosticWire<'a> {
    /// The stable code.
    pub code: &'static str,
    /// `error` or `warning`.
    pub severity: &'static str,
    /// What is wrong.
    pub message: &'a str,
    /// What to do.
    pub help: &'a str,
    /// The file.
    pub file: Option<&'a str>,
    /// The line, from 1.
    pub line: Option<usize>,
    /// The column in characters, from 1.
    pub column: Option<usize>,
}

/// Diagnostics alone.
#[derive(Debug, Serialize)]
pub struct DiagnosticsWire<'a> {
    /// All of them.
    pub diagnostics: Rows<'a, DiagnosticWire<'a>>,
}
