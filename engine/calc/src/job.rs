//! The job: a plan with every name looked up and every expression evaluated.

mod calendar;

pub use calendar::Calendar;

use crate::estimate_class::EstimateClass;
use crate::measure::MeasuredFace;
use crate::physics::evaporation::Evaporation;
use jiff::civil::Date;
use parge_base::{Money, NodeId, Quantity, Span, Spanned, Tape};
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// A figure of the plan: a node of the job's tape, and the place that states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The node on [`Job::tape`].
    pub node: NodeId,
    /// The place in the plan.
    pub span: Span,
}

/// How quantities are shown. It never enters arithmetic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitSystem {
    /// Feet, square feet, gallons.
    #[default]
    Us,
    /// Metres, square metres, litres.
    Metric,
}

/// How openings are deducted.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Measuring {
    /// Every opening deducted, every reveal added.
    #[default]
    Net,
    /// By the rule of a pack.
    Pack {
        /// Its name.
        name: String,
        /// Its version.
        version: String,
        /// What it is for, in a line.
        summary: String,
    },
}

/// How profit is stated. A markup is a share of the cost, a margin a share of the price:
/// margin = markup / (1 + markup).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Profit {
    /// A share of the cost.
    Markup(Decimal),
    /// A share of the price; below one.
    Margin(Decimal),
}

/// What tax is reckoned on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taxable {
    /// The cost of the materials.
    Materials,
    /// The price with overhead and profit.
    Total,
}

/// What the price before tax is rounded to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rounding {
    /// To the multiple above, and not to the nearest one.
    pub up: bool,
    /// What it becomes a multiple of; more than nothing.
    pub multiple: Money,
}

/// The terms of the bid. One that is not stated counts for nothing; that is warned about for
/// burden, overhead, profit and tax, which every bid has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Bid {
    /// On wages.
    pub burden: Option<Decimal>,
    /// On direct cost.
    pub overhead: Option<Decimal>,
    /// For what is not foreseen, on direct cost with overhead.
    pub contingency: Option<Decimal>,
    /// How well the job is known.
    pub class: Option<EstimateClass>,
    /// On cost, or in the price.
    pub profit: Option<Profit>,
    /// The least that the price before tax may be.
    pub minimum: Option<Money>,
    /// What the price before tax is rounded to.
    pub rounding: Option<Rounding>,
    /// The rate, and on what.
    pub tax: Option<(Decimal, Taxable)>,
}

/// Where the terms of the bid stand in the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BidPlaces {
    /// `burden 34%`.
    pub burden: Option<Span>,
    /// `overhead 12%`.
    pub overhead: Option<Span>,
    /// `contingency 8%`.
    pub contingency: Option<Span>,
    /// `class 3`.
    pub class: Option<Span>,
    /// `profit margin 18%`.
    pub profit: Option<Span>,
    /// `minimum 2150 USD`.
    pub minimum: Option<Span>,
    /// `round up to 10 USD`.
    pub rounding: Option<Span>,
    /// `tax 7.25% on materials`.
    pub tax: Option<Span>,
}

/// The weather that the plan reckons with.
#[derive(Debug, Clone, Copy, Default)]
pub struct Weather {
    /// Air temperature.
    pub air: Option<Figure>,
    /// Relative humidity, as a share.
    pub humidity: Option<Figure>,
    /// Wind speed.
    pub wind: Option<Figure>,
    /// Temperature of the fresh mix.
    pub mix: Option<Figure>,
    /// The water that evaporates from fresh mix, where all four readings are given.
    pub evaporation: Option<Evaporation>,
    /// The dew point of the air, where its temperature and humidity are given.
    pub dew_point: Option<NodeId>,
}

impl Weather {
    /// These readings, and those of another weather where one is left open. What is reckoned from
    /// them must be reckoned again.
    pub fn or(self, other: Self) -> Self {
        Self {
            air: self.air.or(other.air),
            humidity: self.humidity.or(other.humidity),
            wind: self.wind.or(other.wind),
            mix: self.mix.or(other.mix),
            evaporation: None,
            dew_point: None,
        }
    }
}

/// How many of the crew are of one wage class.
#[derive(Debug, Clone, PartialEq)]
pub struct CrewClass {
    /// The class: the row `labour/CLASS` of the price book.
    pub name: String,
    /// Where the plan names it.
    pub span: Span,
    /// How many there are; a whole number, one or more.
    pub people: Figure,
}

/// A finish with its figures.
#[derive(Debug, Clone)]
pub struct Finish {
    /// Its name.
    pub name: String,
    /// How the surface is made, one of the pack's techniques.
    pub technique: String,
    /// The thickness of the finish coat.
    pub thickness: Figure,
    /// Surface over flat area; one where nothing is said.
    pub relief: Figure,
    /// Colours with their shares of the area.
    pub colours: Vec<(String, Figure)>,
    /// The sheen of the sealer, where there is one.
    pub sheen: Option<String>,
    /// The coats of sealer, where stated.
    pub sealer_coats: Option<Figure>,
}

/// A shape with its sizes as figures.
#[derive(Debug, Clone)]
pub enum Shape {
    /// Width and height.
    Rect([Figure; 2]),
    /// Base and height.
    Triangle([Figure; 2]),
    /// The three sides, the bottom first.
    TriangleSides([Figure; 3]),
    /// Bottom, top and height.
    Trapezoid([Figure; 3]),
    /// The corners.
    Polygon(Vec<[Figure; 2]>),
    /// The diameter.
    Circle(Figure),
    /// Width, and height at the crown.
    Arch([Figure; 2]),
    /// Diameter, height, and the angle covered where it is not all of the round.
    Cylinder([Figure; 2], Option<Figure>),
    /// Diameter at the bottom, diameter at the top, upright height.
    Frustum([Figure; 3]),
    /// Radius, angle covered, height.
    Arc([Figure; 3]),
    /// Width and height.
    Ellipse([Figure; 2]),
    /// Outer and inner diameter.
    Ring([Figure; 2]),
    /// Width, height at the crown, rise of the crown above the springing.
    SegmentArch([Figure; 3]),
    /// Diameter at the foot, upright height.
    Cone([Figure; 2]),
    /// Diameter at the foot, height.
    Dome([Figure; 2]),
    /// Distances along the wall with the height there.
    Stations {
        /// Whether the height holds up to the next station, or runs straight to it.
        stepped: bool,
        /// Distance and height of each.
        stations: Vec<[Figure; 2]>,
    },
    /// A shape of the rule pack: its name, and its sizes by their names.
    OfPack(String, Vec<(String, Figure)>),
    /// Area, length around and height as measured, and the reason.
    Measured([Figure; 3], String),
    /// The reveal of an opening that has a finish of its own.
    Reveal(Box<Opening>),
}

/// Edges of an opening that have a reveal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeSide {
    /// The upper edge.
    Top,
    /// The lower edge.
    Bottom,
    /// The edges at the sides.
    Sides,
}

/// An opening in a face.
#[derive(Debug, Clone)]
pub struct Opening {
    /// Its name.
    pub name: String,
    /// Its shape.
    pub shape: Spanned<Shape>,
    /// The depth of its reveal, where it has one.
    pub reveal: Option<Figure>,
    /// The edges that have the reveal; all of them where none is named.
    pub sides: Vec<EdgeSide>,
    /// How many of it one face has.
    pub count: Option<Figure>,
    /// The number of the finish of its reveal in [`Job::finishes`], where that is not the
    /// finish of the face. Such a reveal is a face of its own, of shape [`Shape::Reveal`].
    pub finish: Option<usize>,
    /// Its statement.
    pub span: Span,
}

/// A face to be coated.
#[derive(Debug, Clone)]
pub struct Face {
    /// The number of its structure in [`Job::structures`].
    pub structure: usize,
    /// Its name.
    pub name: String,
    /// Its shape.
    pub shape: Spanned<Shape>,
    /// How many equal faces there are.
    pub count: u32,
    /// The node of [`Job::tape`] that says so, where the plan does.
    pub stated_count: Option<NodeId>,
    /// What it is built of, one of the pack's substrates.
    pub substrate: String,
    /// The number of its finish in [`Job::finishes`].
    pub finish: usize,
    /// The height above ground of the top of the work, where stated.
    pub working_height: Option<Figure>,
    /// Its openings.
    pub openings: Vec<Opening>,
    /// Its statement.
    pub span: Span,
}

/// What stands on the site.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Structure {
    /// Its name.
    pub name: String,
    /// Where its name stands.
    pub span: Span,
    /// Whether it is made from a template, so that its faces are written elsewhere.
    pub from_template: bool,
    /// The conditions under which work goes on there, each kind with the word for it, in the
    /// order of their kinds.
    pub conditions: Vec<(String, String)>,
    /// The numbers of the structures in [`Job::structures`] that must be done before work on
    /// this one begins; they make no circle.
    pub after: Vec<usize>,
}

/// Linear work: a corner, a cap, a joint.
#[derive(Debug, Clone)]
pub struct Edge {
    /// The number of its structure in [`Job::structures`].
    pub structure: usize,
    /// The name of the face whose block states it; none where the structure's does.
    pub face: Option<String>,
    /// What is done, one of the pack's kinds.
    pub kind: String,
    /// The length of one.
    pub length: Figure,
    /// How many there are, over all equal faces.
    pub count: u32,
    /// The node of [`Job::tape`] that says how many there are on each face, or of the structure,
    /// where the plan does.
    pub stated_count: Option<NodeId>,
    /// What it is built of, where that is known.
    pub substrate: Option<String>,
    /// The number of its finish in [`Job::finishes`], where it has one.
    pub finish: Option<usize>,
    /// The height above ground of the top of the work, where stated.
    pub working_height: Option<Figure>,
    /// Its statement.
    pub span: Span,
}

/// What the client may choose instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alternate {
    /// Its name.
    pub name: String,
    /// What it changes, in order.
    pub changes: Vec<AlternateChange>,
    /// Its statement.
    pub span: Span,
}

/// One change that an alternate makes; structures and finishes by their numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AlternateChange {
    /// All faces and edges of the structure get the finish.
    Finish {
        /// The structure.
        structure: usize,
        /// The finish.
        finish: usize,
    },
    /// The structure is left out.
    Omit(usize),
}

/// A sum set aside for what cannot be measured yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Allowance {
    /// For what.
    pub name: String,
    /// How much.
    pub amount: Money,
    /// Where the amount stands.
    pub span: Span,
}

/// What a bid says beside quantities and prices.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BidContent {
    /// What the client may choose instead.
    pub alternates: Vec<Alternate>,
    /// Sums set aside.
    pub allowances: Vec<Allowance>,
    /// What the price does not cover.
    pub exclusions: Vec<String>,
    /// Notes.
    pub notes: Vec<String>,
    /// Conditions of the bid.
    pub terms: Vec<String>,
}

/// The whole job.
#[derive(Debug, Clone)]
pub struct Job {
    /// The job's name.
    pub name: String,
    /// Where its name stands: where to point for what is missing.
    pub span: Span,
    /// For whom.
    pub client: Option<String>,
    /// Where.
    pub site: Option<String>,
    /// The day of the bid.
    pub date: Option<Date>,
    /// The last day on which the bid can be accepted, and where the plan says so.
    pub valid_until: Option<Spanned<Date>>,
    /// How quantities are shown.
    pub units: UnitSystem,
    /// How openings are deducted.
    pub measuring: Measuring,
    /// People in the crew; where only wage classes are stated, their sum.
    pub crew: Option<Figure>,
    /// The crew by wage classes, in the order of the plan; empty where the plan names none.
    pub crew_classes: Vec<CrewClass>,
    /// The days of work.
    pub calendar: Calendar,
    /// The weather reckoned with, on days without their own.
    pub weather: Weather,
    /// The weather of single days, from the plan and its forecast, with the general one where a
    /// reading is left open.
    pub weather_on: BTreeMap<Date, Weather>,
    /// The terms of the bid.
    pub bid: Bid,
    /// Where they stand.
    pub bid_places: BidPlaces,
    /// The finishes.
    pub finishes: Vec<Finish>,
    /// The structures.
    pub structures: Vec<Structure>,
    /// The faces of all structures.
    pub faces: Vec<Face>,
    /// The faces that the plan's own expressions asked to be measured, by their number.
    pub measured: BTreeMap<usize, MeasuredFace>,
    /// The cells of clients' sheets that faces and openings come from, by their statements.
    pub origins: BTreeMap<Span, String>,
    /// The structures, by their number, that an expression ties to what stands outside of them: it
    /// asks for a measure of theirs from there, or from them for one of another.
    pub tied: BTreeSet<usize>,
    /// The linear work.
    pub edges: Vec<Edge>,
    /// What the bid says beside quantities and prices.
    pub content: BidContent,
    /// The `let` names that have a value, in alphabetical order.
    pub names: Vec<(String, Figure)>,
    /// How every figure of the plan was made.
    pub tape: Tape,
}

impl Job {
    /// The name of a structure by its number.
    pub fn structure_name(&self, number: usize) -> &str {
        let structure = self.structures.get(number);
        structure.map_or("", |structure| &structure.name)
    }

    /// The weather of a day: each reading of the day itself, or else the general one.
    pub fn weather_of(&self, day: Date) -> Weather {
        self.weather_on.get(&day).copied().unwrap_or(self.weather)
    }

    /// The cell of a client's sheet that what is written at a place comes from.
    pub fn origin_of(&self, place: Span) -> Option<&str> {
        let last = Span::new(place.file, place.range().start, usize::MAX);
        let (statement, cell) = self.origins.range(..=last).next_back()?;
        let within = statement.file == place.file && place.end <= statement.end;
        within.then_some(cell.as_str())
    }

    /// The value of a figure.
    pub fn value(&self, figure: Figure) -> Quantity {
        self.tape.value(figure.node)
    }
}
