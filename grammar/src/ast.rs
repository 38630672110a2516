//! The syntax tree of a plan. It says what was written and where, and nothing of the trade.
//!
//! Equality ignores places, so two plans are equal when they say the same.

use jiff::civil::Date;
use parge_base::{Quantity, Span, Spanned};

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
    /// Whether a statement with a mistake would have defined, or defines in part, this name.
    pub fn damages(&self, name: &str) -> bool {
        self.damaged.iter().any(|statement| statement.name == name)
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
    /// `units us`
    Units(Name),
    /// `measure net`
    Measure(Name),
    /// `rules "vertical-concrete"`
    Rules(Name),
    /// `prices "prices.csv"`
    Prices(Name),
    /// `crew 3`
    Crew(Expr),
    /// `weather { air 84F  humidity 40%  wind 9mph  mix 80F }`
    Weather(Vec<(Name, Expr)>),
    /// `bid { … }`
    Bid(Vec<Spanned<BidTerm>>),
}

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

/// `structure "…" on substrate { … }`
#[derive(Debug, Clone, PartialEq)]
pub struct Structure {
    /// The structure's name.
    pub name: Name,
    /// What it is built of, for all faces that say nothing else.
    pub substrate: Option<Name>,
    /// `finish name` inside: the finish of all faces that say nothing else.
    pub finishes: Vec<Name>,
    /// Its faces.
    pub faces: Vec<Face>,
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
}

/// A shape with its sizes.
pub type Shape = Spanned<Form>;

/// The forms a face or an opening can have.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// `rect WIDTH x HEIGHT`
    Rect {
        /// Width.
        width: Expr,
        /// Height.
        height: Expr,
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
        /// Height.
        height: Expr,
    },
    /// `frustum BOTTOM to TOP x HEIGHT`: a tapered column by its two diameters.
    Frustum {
        /// Diameter at the bottom.
        bottom: Expr,
        /// Diameter at the top.
        top: Expr,
        /// Height, measured upright.
        height: Expr,
    },
    /// `arc radius R sweep ANGLE x HEIGHT`: a wall on an arc.
    Arc {
        /// Radius.
        radius: Expr,
        /// The angle it covers.
        sweep: Expr,
        /// Height.
        height: Expr,
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
    /// `measured AREA around LENGTH high HEIGHT "reason"`: what no shape describes.
    Measured {
        /// The area, as measured.
        area: Expr,
        /// The length of its edge.
        around: Expr,
        /// Its height.
        high: Expr,
        /// Why, and how it was measured.
        reason: Name,
    },
}

/// An expression.
pub type Expr = Spanned<ExprKind>;

/// What an expression is made of.
#[derive(Debug, Clone, PartialEq)]
pub enum ExprKind {
    /// A number, with or without units: `12ft 6 3/4in`, `60%`, `2`. An angle is a plain number
    /// of radians.
    Literal(Quantity),
    /// The name of a `let`.
    Name(String),
    /// `-a`
    Negate(Box<Expr>),
    /// `a + b` and its like.
    Binary(BinaryOp, Box<Expr>, Box<Expr>),
    /// `min(a, b)`
    Call(Name, Vec<Expr>),
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
