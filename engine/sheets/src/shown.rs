//! Figures in the units they are shown in. Nothing here enters arithmetic of the estimate.

use parge_base::{Money, Quantity, Sources, Span};
use parge_calc::job::{Edge, Job, Measuring, UnitSystem};
use parge_calc::measure::MeasuredFace;
use parge_calc::price::{Estimate, MaterialLine};
use parge_calc::takeoff::{Takeoff, Tool};

/// True of every estimate, for whoever reads it.
pub const OF_EVERY_ESTIMATE: [&str; 2] = [
    "Local building codes, the data sheets of the mixes and coatings in use, and the judgement of \
     licensed practice come before anything stated here.",
    "Nothing here is structural, electrical, gas or safety design. Structures, anchorage and loads \
     are to be designed and checked by those licensed to do so.",
];

/// Square metres in a square foot, exact.
const SQUARE_FOOT: f64 = 0.09290304;
/// Metres in an inch, exact.
pub(crate) const INCH: f64 = 0.0254;
/// Metres in a foot, exact.
const FOOT: f64 = 0.3048;

/// The unit of areas: `ft2` or `m2`.
pub fn area_unit(system: UnitSystem) -> &'static str {
    match system {
        UnitSystem::Us => "ft2",
        UnitSystem::Metric => "m2",
    }
}

/// The unit of lengths: `ft` or `m`.
pub fn length_unit(system: UnitSystem) -> &'static str {
    match system {
        UnitSystem::Us => "ft",
        UnitSystem::Metric => "m",
    }
}

/// An area in the unit shown, and that unit.
pub fn area(quantity: Quantity, system: UnitSystem) -> (f64, &'static str) {
    let factor = match system {
        UnitSystem::Us => SQUARE_FOOT,
        UnitSystem::Metric => 1.0,
    };
    (quantity.value / factor, area_unit(system))
}

/// A length in the unit shown, and that unit.
pub fn length(quantity: Quantity, system: UnitSystem) -> (f64, &'static str) {
    let factor = match system {
        UnitSystem::Us => FOOT,
        UnitSystem::Metric => 1.0,
    };
    (quantity.value / factor, length_unit(system))
}

/// A unit as print shows it: `ft²` for `ft2`.
pub fn print_unit(text: &str) -> String {
    text.replace('2', "²").replace('3', "³")
}

/// Words that begin in lower case as the beginning of a sentence.
pub fn sentence(text: &str) -> String {
    let mut rest = text.chars();
    match rest.next() {
        Some(first) => first.to_uppercase().chain(rest).collect(),
        None => String::new(),
    }
}

/// The name of a unit system in plans and JSON.
pub fn system_word(system: UnitSystem) -> &'static str {
    match system {
        UnitSystem::Us => "us",
        UnitSystem::Metric => "metric",
    }
}

/// The name of a measuring rule in plans and JSON.
pub fn measuring_word(measuring: &Measuring) -> &str {
    match measuring {
        Measuring::Net => "net",
        Measuring::Pack { name, .. } => name,
    }
}

/// What a measuring rule does, in a line.
pub fn measuring_words(measuring: &Measuring) -> String {
    match measuring {
        Measuring::Net => "net: every opening deducted, every reveal added".to_owned(),
        Measuring::Pack {
            name,
            version,
            summary,
        } => format!("{name} {version}: {summary}"),
    }
}

/// A face in the units shown. Areas are those of all equal faces together; lengths are of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceShown<'a> {
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
    /// The width of one.
    pub width: f64,
    /// The height of one.
    pub height: f64,
    /// The whole edge of one.
    pub perimeter: f64,
    /// The areas of all.
    pub areas: Areas,
}

/// Linear work in the unit shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeShown<'a> {
    /// The structure.
    pub structure: &'a str,
    /// The face that it belongs to, where it belongs to one.
    pub face: Option<&'a str>,
    /// What is done.
    pub kind: &'a str,
    /// How many, over all equal faces.
    pub count: u32,
    /// The length of one.
    pub length: f64,
}

impl EdgeShown<'_> {
    /// The length of all.
    pub fn total_length(&self) -> f64 {
        f64::from(self.count) * self.length
    }
}

/// The linear work, in the order of the plan.
pub fn edges(takeoff: &Takeoff) -> impl Iterator<Item = EdgeShown<'_>> {
    let job = &takeoff.measured.job;
    job.edges.iter().map(|of| edge(job, of))
}

/// A line of the linear work.
pub fn edge<'j>(job: &'j Job, edge: &'j Edge) -> EdgeShown<'j> {
    EdgeShown {
        structure: job.structure_name(edge.structure),
        face: edge.face.as_deref(),
        kind: &edge.kind,
        count: edge.count,
        length: length(job.value(edge.length), job.units).0,
    }
}

/// What was laid out on a face: one layer on all equal faces together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LaidShown<'a> {
    /// The structure.
    pub structure: &'a str,
    /// The face.
    pub name: &'a str,
    /// How many equal faces.
    pub count: u32,
    /// The item.
    pub item: &'a str,
    /// The unit it is counted in.
    pub unit: &'a str,
    /// The count of the layout.
    pub laid_out: f64,
    /// The count by the area that each covers with its laps.
    pub by_area: f64,
    /// How it was laid out.
    pub note: &'a str,
}

/// The layouts of what the faces need, in the order of the plan.
pub fn laid(takeoff: &Takeoff) -> impl Iterator<Item = LaidShown<'_>> {
    let numbers = 0..takeoff.measured.faces.len();
    numbers.flat_map(|number| laid_on(takeoff, number))
}

/// The layouts of what a measured face needs, by its number.
pub fn laid_on(takeoff: &Takeoff, number: usize) -> impl Iterator<Item = LaidShown<'_>> {
    let job = &takeoff.measured.job;
    let measured = takeoff.measured.faces.get(number);
    let face = measured.and_then(|measured| job.faces.get(measured.face));
    let layouts = takeoff.used_layouts_of(number);
    layouts.filter_map(move |layout| {
        let face = face?;
        let count = f64::from(face.count);
        let unit = &layout.sheet.unit;
        let all = |of_one: Quantity| unit.show(of_one).unwrap_or(of_one.value) * count;
        Some(LaidShown {
            structure: job.structure_name(face.structure),
            name: &face.name,
            count: face.count,
            item: &layout.sheet.item,
            unit: unit.text(),
            laid_out: all(layout.pieces),
            by_area: all(layout.by_area),
            note: &layout.note,
        })
    })
}

/// The areas of a face or of all faces, in the unit shown.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Areas {
    /// The area of the shape.
    pub gross: f64,
    /// What openings take away.
    pub deducted: f64,
    /// What reveals add.
    pub reveal: f64,
    /// What is coated.
    pub net: f64,
}

/// The measured faces in the units shown, in the order of the plan.
pub fn faces(takeoff: &Takeoff) -> impl Iterator<Item = FaceShown<'_>> {
    let faces = takeoff.measured.faces.iter();
    faces.filter_map(|measured| face(takeoff, measured))
}

/// A measured face.
pub fn face<'t>(takeoff: &'t Takeoff, measured: &MeasuredFace) -> Option<FaceShown<'t>> {
    let job = &takeoff.measured.job;
    let face = job.faces.get(measured.face)?;
    let count = f64::from(face.count);
    let all = |node| area(job.tape.value(node), job.units).0 * count;
    let one = |node| length(job.tape.value(node), job.units).0;
    Some(FaceShown {
        structure: job.structure_name(face.structure),
        name: &face.name,
        substrate: &face.substrate,
        finish: &job.finishes.get(face.finish)?.name,
        count: face.count,
        width: one(measured.shape.width),
        height: one(measured.shape.height),
        perimeter: one(measured.shape.perimeter),
        areas: Areas {
            gross: all(measured.shape.area),
            deducted: all(measured.deducted),
            reveal: all(measured.reveal),
            net: all(measured.net),
        },
    })
}

/// The areas of all faces together.
pub fn total_areas(takeoff: &Takeoff) -> Areas {
    faces(takeoff).fold(Areas::default(), |sum, face| Areas {
        gross: sum.gross + face.areas.gross,
        deducted: sum.deducted + face.areas.deducted,
        reveal: sum.reveal + face.areas.reveal,
        net: sum.net + face.areas.net,
    })
}

/// The figures of a material in the unit its need is shown in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NeedShown<'a> {
    /// The unit.
    pub unit: &'a str,
    /// Without waste.
    pub need: f64,
    /// The waste as an amount.
    pub waste: f64,
    /// Need and waste together.
    pub with_waste: f64,
    /// What one pack holds, where a pack is known.
    pub pack: Option<f64>,
}

/// A material line in the unit its need is shown in.
pub fn need(line: &MaterialLine) -> NeedShown<'_> {
    let material = &line.material;
    // A unit of another kind was reported when the needs were pooled; base units are shown then.
    let show = |quantity: Quantity| material.unit.show(quantity).unwrap_or(quantity.value);
    let both = Quantity {
        value: material.need.value + material.waste.value,
        dim: material.need.dim,
    };
    NeedShown {
        unit: material.unit.text(),
        need: show(material.need),
        waste: show(material.waste),
        with_waste: show(both),
        pack: line.pack.as_ref().map(|pack| show(pack.size)),
    }
}

/// The digits a price is shown with: those of the minor unit, or more where the price has more.
pub fn price_decimals(price: Money) -> u32 {
    price
        .amount()
        .normalize()
        .scale()
        .max(price.currency().decimals())
}

/// How many lines have no price.
pub fn open_lines(estimate: &Estimate) -> usize {
    let materials = estimate.materials.iter().map(|line| line.cost);
    let labour = estimate.labour.iter().map(|line| line.cost);
    materials.chain(labour).filter(Option::is_none).count()
}

/// The status in words: `COMPLETE`, or `INCOMPLETE` and how many lines have no price.
pub fn status(open_lines: usize) -> String {
    match open_lines {
        0 => "COMPLETE".to_owned(),
        1 => "INCOMPLETE: 1 line has no price".to_owned(),
        more => format!("INCOMPLETE: {more} lines have no price"),
    }
}

/// Where a tool comes from, and whether its hire is in the price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToolFrom {
    /// The company's own.
    Own,
    /// Hired; a priced material line stands for it.
    HirePriced,
    /// Hired; nothing in the price stands for it.
    HireNotPriced,
}

impl ToolFrom {
    /// Its word in files for other programs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Own => "own",
            Self::HirePriced => "hire-priced",
            Self::HireNotPriced => "hire-not-priced",
        }
    }

    /// For people.
    pub fn words(self) -> &'static str {
        match self {
            Self::Own => "own",
            Self::HirePriced => "hired, a line of the materials",
            Self::HireNotPriced => "to be hired, NOT in the price",
        }
    }
}

/// Where a tool comes from. Its hire is in the price where a material line with a price is of the
/// same name, or of `hire/` and its name.
pub fn tool_from(tool: &Tool, estimate: &Estimate) -> ToolFrom {
    if !tool.hire {
        return ToolFrom::Own;
    }
    let stands_for = |item: &str| item.strip_prefix("hire/").unwrap_or(item) == tool.key;
    let mut lines = estimate.materials.iter();
    match lines.any(|line| line.cost.is_some() && stands_for(&line.material.item)) {
        true => ToolFrom::HirePriced,
        false => ToolFrom::HireNotPriced,
    }
}

/// Says how many tools are to be hired that nothing in the price stands for; none where there are
/// none of them.
pub fn hire_not_priced(estimate: &Estimate) -> Option<String> {
    let kit = estimate.takeoff.kit.iter();
    let open = kit.filter(|tool| tool_from(tool, estimate) == ToolFrom::HireNotPriced);
    match open.count() {
        0 => None,
        1 => Some("1 of these is to be hired and is NOT in the price".to_owned()),
        more => Some(format!(
            "{more} of these are to be hired and are NOT in the price"
        )),
    }
}

/// A place as `file:line`.
pub fn place(sources: &Sources, span: Span) -> String {
    let line = sources.place(span.file, span.start).line;
    format!("{}:{line}", sources.name(span.file))
}

#[cfg(test)]
mod tests;
