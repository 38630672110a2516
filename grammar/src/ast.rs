//! The syntax tree of a plan. It says what was written and where, and nothing of the trade.
//!
//! Equality ignores places, so two plans are equal when they say the same.

use jiff::civil::Date;
use parge_base::{Money, Quantity, Span, Spanned};

/// A name as written, quoted or not.
pub type Name = Spanned<String>;

/// One plan file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// The number on the version line.
    pub version: Option<Spanned<u32>>,
    /// The statements in the order of the file, without those that could not be read.
    pub statements: Vec<Statement>,
    /// The statements in which a mistake was found, whether they are among the others or not.
    /// What is missing on their account was told with the mistake.
    pub damaged: Vec<Damaged>,
}

/// A statement with a mistake in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Damaged {
    /// The word it begins with: `let`.
    pub word: String,
    /// The name behind it, as far as it can be made out.
    pub name: String,
}

impl Plan {
    /// Whether a statement with a mistake would have defined, or defines in part, this name. An
    /// included file that could not be read may have defined any.
    pub fn damages(&self, name: &str) -> bool {
        let may_define =
            |statement: &Damaged| statement.name == name || statement.word == "include";
        self.damaged.iter().any(may_define)
    }

    /// Whether a statement with a mistake begins with a word.
    pub fn damages_a(&self, word: &str) -> bool {
        self.damaged.iter().any(|statement| statement.word == word)
    }
}

/// A statement at the top of a plan.
#[derive(Debug, Clone, PartialEq)]
pub enum Statement {
    /// `job "…" { … }`
    Job(Job),
    /// `let name = expression`
    Let(Let),
    /// `finish name { … }`
    Finish(Finish),
    /// `structure "…" on substrate { … }`
    Structure(Structure),
    /// `template name(parameters) on substrate { … }`
    Template(Template),
    /// `include "finishes.parge"`: the statements of another file, as if they stood here.
    Include(Name),
    /// `alternate "…" { … }`
    Alternate(Alternate),
    /// `allowance "…" 850 USD`
    Allowance(Allowance),
    /// `exclude "…"`: what the price does not cover.
    Exclude(Name),
    /// `note "…"`
    Note(Name),
    /// `terms "…"`: a condition of the bid, such as when it is paid.
    Terms(Name),
}

/// `job "…" { … }`: for whom, where, and on what terms.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The job's name.
    pub name: Name,
    /// The settings in order.
    pub settings: Vec<Spanned<JobSetting>>,
}

/// One setting of a job. Where a word is chosen from a list, the list is checked later.
#[derive(Debug, Clone, PartialEq)]
pub enum JobSetting {
    /// `client "…"`
    Client(Name),
    /// `site "…"`
    Site(Name),
    /// `date 2026-04-20`
    Date(Spanned<Date>),
    /// `valid_until 2026-08-01`: the last day on which the bid can be accepted.
    ValidUntil(Spanned<Date>),
    /// `valid 60 days`: the same, counted from the day of the bid.
    Valid(Expr),
    /// `units us`
    Units(Name),
    /// `measure net`
    Measure(Name),
    /// `rules "vertical-concrete"`
    Rules(Name),
    /// `prices "prices.csv"`
    Prices(Name),
    /// `crew 3`, or by wage class
    Crew(Crew),
    /// `weather { air 84F  humidity 40%  wind 9mph  mix 80F }`, of every day or of one
    Weather(Weather),
    /// `bid { … }`
    Bid(Vec<Spanned<BidTerm>>),
    /// `conditions { access tight  place indoors }`: of the whole site.
    Conditions(Conditions),
    /// `start 2026-06-01`: the first day on site.
    Start(Spanned<Date>),
    /// `workdays mon tue wed thu fri`
    Workdays(Vec<Name>),
    /// `hours 8h`: on site a day.
    Hours(Expr),
    /// `holidays 2026-07-03, 2026-07-06`: days without work.
    Holidays(Vec<Spanned<Date>>),
    /// `weather_days 2026-06-10`: days lost to weather.
    WeatherDays(Vec<Spanned<Date>>),
    /// `travel 45min`: one way, on each day of work.
    Travel(Expr),
    /// `forecast "weather.csv"`: the weather of days, from a file.
    Forecast(Name),
}

/// `crew 4`, `crew { lead 1  finisher 3 }`, or both in one.
#[derive(Debug, Clone, PartialEq)]
pub struct Crew {
    /// How many there are.
    pub people: Option<Expr>,
    /// Wage classes of the price book, each with how many of the crew are of it.
    pub classes: Vec<(Name, Expr)>,
}

/// `weather { air 84F }`, or `weather 2026-06-03 { air 97F }`.
#[derive(Debug, Clone, PartialEq)]
pub struct Weather {
    /// The day; none for the weather of all days that have none of their own.
    pub day: Option<Spanned<Date>>,
    /// The readings in order.
    pub readings: Vec<(Name, Expr)>,
}

/// Conditions of the site, each a kind and a word for it. The pack says which there are.
pub type Conditions = Vec<(Name, Name)>;

/// One term of a `bid { … }` block.
#[derive(Debug, Clone, PartialEq)]
pub enum BidTerm {
    /// `burden 32%`: on wages.
    Burden(Expr),
    /// `overhead 12%`: on direct cost.
    Overhead(Expr),
    /// `profit markup 25%` or `profit margin 20%`
    Profit(Name, Expr),
    /// `tax 7.25% on materials` or `tax 7.25% on total`
    Tax(Expr, Name),
    /// `contingency 8%`: on cost with overhead.
    Contingency(Expr),
    /// `class 3`: how well the job is known.
    Class(Expr),
    /// `minimum 2150 USD`: the least price before tax.
    Minimum(Spanned<Money>),
    /// `round to 5 USD` or `round up to 10 USD`: the price before tax.
    Round(RoundTo),
}

/// `round to 5 USD`, or `round up to 10 USD`.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundTo {
    /// Whether never down.
    pub up: bool,
    /// What the price becomes a multiple of.
    pub multiple: Spanned<Money>,
}

/// `let name = expression`
#[derive(Debug, Clone, PartialEq)]
pub struct Let {
    /// The name.
    pub name: Name,
    /// What it stands for.
    pub value: Expr,
}

/// `finish name { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// The finish's name.
    pub name: Name,
    /// The settings in order.
    pub settings: Vec<Spanned<FinishSetting>>,
}

/// One setting of a finish.
#[derive(Debug, Clone, PartialEq)]
pub enum FinishSetting {
    /// `technique stamp`
    Technique(Name),
    /// `thickness 3/4in`
    Thickness(Expr),
    /// `relief 1.15`: surface over flat area.
    Relief(Expr),
    /// `colours granite 60%, moss 40%`
    Colours(Vec<(Name, Expr)>),
    /// `sealer matte, 2 coats`; the coats may be left out.
    Sealer(Name, Option<Expr>),
}

/// `structure "…" on substrate { … }`, or `structure "…" from template(values)`, with a block
/// of its own or without one.
#[derive(Debug, Clone, PartialEq)]
pub struct Structure {
    /// The structure's name.
    pub name: Name,
    /// The template that it is made from.
    pub from: Option<TemplateUse>,
    /// What it is built of, for all faces that say nothing else.
    pub substrate: Option<Name>,
    /// What its own block says.
    pub body: Body,
}

/// `from bay(12ft, 8ft)`
#[derive(Debug, Clone, PartialEq)]
pub struct TemplateUse {
    /// The template's name.
    pub template: Name,
    /// The values of its parameters, in their order.
    pub values: Vec<Expr>,
}

/// `template name(parameters) on substrate { … }`: a structure to be made several times.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    /// Its name.
    pub name: Name,
    /// The names that stand for values within its block.
    pub parameters: Vec<Name>,
    /// What a structure made from it is built of.
    pub substrate: Option<Name>,
    /// What its block says.
    pub body: Body,
}

/// What the block of a structure or template says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Body {
    /// What holds for all faces that say nothing else, in order.
    pub settings: Vec<Spanned<BodySetting>>,
    /// Linear work that belongs to no single face.
    pub edges: Vec<Edge>,
    /// The faces.
    pub faces: Vec<Face>,
}

/// What holds for all faces of a structure.
#[derive(Debug, Clone, PartialEq)]
pub enum BodySetting {
    /// `finish name`
    Finish(Name),
    /// `height 8ft`: of faces whose shape leaves its height out.
    Height(Expr),
    /// `at 9ft`: the working height.
    At(Expr),
    /// `conditions { access tight }`
    Conditions(Conditions),
    /// `after "Entry planter", "Bench"`: work begins when these structures are done.
    After(Vec<Name>),
}

/// `edge cap 22ft count 2`: linear work.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// What is done, one of the pack's kinds.
    pub kind: Name,
    /// The length of one.
    pub length: Expr,
    /// How many there are.
    pub count: Option<Expr>,
    /// The statement.
    pub span: Span,
}

/// `alternate "…" { … }`: what the client may choose instead, priced as a difference.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternate {
    /// Its name.
    pub name: Name,
    /// What it changes, in order.
    pub changes: Vec<AlternateChange>,
    /// The statement without its block.
    pub span: Span,
}

/// One change that an alternate makes.
#[derive(Debug, Clone, PartialEq)]
pub enum AlternateChange {
    /// `structure "…" { finish name }`: all its faces get this finish.
    Finish {
        /// The structure.
        structure: Name,
        /// The finish.
        finish: Name,
    },
    /// `omit "…"`: the structure is left out.
    Omit(Name),
}

/// `allowance "…" 850 USD`: a sum set aside for what cannot be measured yet.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowance {
    /// For what.
    pub name: Name,
    /// How much.
    pub amount: Spanned<Money>,
}

/// `face name shape …`
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// The face's name.
    pub name: Name,
    /// Its shape.
    pub shape: Shape,
    /// What follows the shape, in order.
    pub details: Vec<Spanned<FaceDetail>>,
    /// Its openings.
    pub openings: Vec<Opening>,
    /// Linear work on it; on each where there are several equal faces.
    pub edges: Vec<Edge>,
    /// The statement without its block.
    pub span: Span,
}

/// What may follow the shape of a face, in any order.
#[derive(Debug, Clone, PartialEq)]
pub enum FaceDetail {
    /// `count 2`
    Count(Expr),
    /// `on wood`
    Substrate(Name),
    /// A finish by its bare name.
    Finish(Name),
    /// `at 9ft`: the working height.
    At(Expr),
    /// `from "Rooms!A7"`: where its sizes were taken from.
    From(Name),
}

/// `opening name shape reveal 4in count 2`
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// The opening's name.
    pub name: Name,
    /// Its shape.
    pub shape: Shape,
    /// What follows the shape, in order.
    pub details: Vec<Spanned<OpeningDetail>>,
    /// The statement.
    pub span: Span,
}

/// What may follow the shape of an opening, in any order.
#[derive(Debug, Clone, PartialEq)]
pub enum OpeningDetail {
    /// `reveal 4in`: the depth of the reveal, all around; `reveal 4in on top, sides`: on these
    /// edges only.
    Reveal(Expr, Vec<Name>),
    /// `count 2`
    Count(Expr),
    /// `finish bark`: the finish of its reveal, where it is not that of the face.
    Finish(Name),
    /// `from "Rooms!A8"`: where its sizes were taken from.
    From(Name),
}

/// A shape with its sizes.
pub type Shape = Spanned<Form>;

/// The forms a face or an opening can have.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// `rect WIDTH x HEIGHT`, or `rect WIDTH` where the structure states the height
    Rect {
        /// Width.
        width: Expr,
        /// Height; the structure's where nothing is said.
        height: Option<Expr>,
    },
    /// `triangle BASE x HEIGHT`: isosceles, as a gable is.
    Triangle {
        /// Base.
        base: Expr,
        /// Height.
        height: Expr,
    },
    /// `triangle sides A, B, C`; the first side is the bottom.
    TriangleSides(Box<[Expr; 3]>),
    /// `trapezoid BOTTOM to TOP x HEIGHT`: symmetric.
    Trapezoid {
        /// Bottom width.
        bottom: Expr,
        /// Top width.
        top: Expr,
        /// Height.
        height: Expr,
    },
    /// `polygon (X, Y) (X, Y) (X, Y) …`
    Polygon(Vec<(Expr, Expr)>),
    /// `circle diameter D`
    Circle {
        /// Diameter.
        diameter: Expr,
    },
    /// `arch WIDTH x HEIGHT`: a rectangle under a half circle; the height is the whole one.
    Arch {
        /// Width.
        width: Expr,
        /// Height at the crown.
        height: Expr,
    },
    /// `cylinder diameter D x HEIGHT`, or `cylinder diameter D sweep ANGLE x HEIGHT`
    Cylinder {
        /// Diameter.
        diameter: Expr,
        /// The part of the round that is covered; all of it where nothing is said.
        sweep: Option<Expr>,
        /// Height; the structure's where nothing is said.
        height: Option<Expr>,
    },
    /// `frustum BOTTOM to TOP x HEIGHT`: a tapered column by its two diameters.
    Frustum {
        /// Diameter at the bottom.
        bottom: Expr,
        /// Diameter at the top.
        top: Expr,
        /// Height, measured upright; the structure's where nothing is said.
        height: Option<Expr>,
    },
    /// `arc radius R sweep ANGLE x HEIGHT`: a wall on an arc.
    Arc {
        /// Radius.
        radius: Expr,
        /// The angle it covers.
        sweep: Expr,
        /// Height; the structure's where nothing is said.
        height: Option<Expr>,
    },
    /// `ellipse WIDTH x HEIGHT`
    Ellipse {
        /// Width.
        width: Expr,
        /// Height.
        height: Expr,
    },
    /// `ring OUTER to INNER`: a round with a round hole, by the two diameters.
    Ring {
        /// Outer diameter.
        outer: Expr,
        /// Inner diameter.
        inner: Expr,
    },
    /// `arch WIDTH x HEIGHT rise RISE`: a rectangle under a segment of a circle; the height is
    /// the whole one, the rise that of the segment.
    SegmentArch {
        /// Width.
        width: Expr,
        /// Height at the crown.
        height: Expr,
        /// Height of the crown above the springing.
        rise: Expr,
    },
    /// `cone diameter D x HEIGHT`: the slope of a round cone.
    Cone {
        /// Diameter at the foot.
        diameter: Expr,
        /// Height, measured upright.
        height: Expr,
    },
    /// `dome diameter D x HEIGHT`: a cap of a sphere; half a sphere where the height is half the
    /// diameter.
    Dome {
        /// Diameter at the foot.
        diameter: Expr,
        /// Height.
        height: Expr,
    },
    /// `stations (DISTANCE, HEIGHT) (DISTANCE, HEIGHT) …`: a wall whose top runs straight from
    /// station to station; `stations stepped …`: the height holds up to the next station.
    Stations {
        /// Whether the top goes in steps.
        stepped: bool,
        /// Distance along the wall and height there.
        stations: Vec<(Expr, Expr)>,
    },
    /// `shape NAME(SIZE, SIZE, …)`: a shape of the rule pack.
    OfPack {
        /// Its name.
        name: Name,
        /// Its sizes, in the order in which the pack lists them.
        sizes: Vec<Expr>,
    },
    /// `measured AREA around LENGTH high HEIGHT "reason"`: what no shape describes.
    Measured {
        /// The area, as measured.
        area: Expr,
        /// The length of its edge.
        around: Expr,
        /// Its height.
        high: Expr,
        /// Why, and how it was measured.
        reason: Box<Name>,
    },
}

/// An expression.
pub type Expr = Spanned<ExprKind>;

/// What an expression is made of. A plan has several for each face, so what is longer than a literal
/// stands elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub enum ExprKind {
    /// A number, with or without units: `12ft 6 3/4in`, `60%`, `2`. An angle is a plain number
    /// of radians.
    Literal(Quantity),
    /// The name of a `let`, or of a parameter within a template.
    Name(String),
    /// `street.area`, `"Entry planter".street.width`: the names of a face or structure, and what
    /// of it is meant.
    Measure(Box<[Name]>, Box<Name>),
    /// `-a`
    Negate(Box<Expr>),
    /// `a + b` and its like.
    Binary(BinaryOp, Box<Expr>, Box<Expr>),
    /// `min(a, b)`
    Call(Box<Name>, Box<[Expr]>),
}

/// An operator between two expressions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BinaryOp {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
    /// `^`
    Power,
}
