//! Words to choose from, functions, and what is measured.

use super::Home::{Choice, Function, Property};
use super::{Explained, row};

/// Words that a setting has the choice of.
pub(super) const CHOICES: &[Explained] = &[
    row(
        Choice,
        "us",
        "results in feet, pounds and gallons",
        "units us",
    ),
    row(
        Choice,
        "metric",
        "results in metres, kilograms and litres",
        "units metric",
    ),
    row(
        Choice,
        "net",
        "every opening deducted, every reveal added",
        "measure net",
    ),
    row(Choice, "mon", "monday", "workdays mon tue wed thu fri"),
    row(Choice, "tue", "tuesday", "workdays mon tue wed thu fri"),
    row(Choice, "wed", "wednesday", "workdays mon tue wed thu fri"),
    row(Choice, "thu", "thursday", "workdays mon tue wed thu fri"),
    row(Choice, "fri", "friday", "workdays mon tue wed thu fri"),
    row(
        Choice,
        "sat",
        "saturday",
        "workdays mon tue wed thu fri sat",
    ),
    row(Choice, "sun", "sunday", "workdays mon tue wed thu fri sun"),
    row(Choice, "markup", "a share of the cost", "profit markup 25%"),
    row(
        Choice,
        "margin",
        "a share of the price",
        "profit margin 20%",
    ),
    row(
        Choice,
        "on",
        "what the tax is paid on",
        "tax 7.25% on materials",
    ),
    row(
        Choice,
        "materials",
        "tax on materials only",
        "tax 7.25% on materials",
    ),
    row(
        Choice,
        "total",
        "tax on the whole price",
        "tax 7.25% on total",
    ),
    row(
        Choice,
        "up",
        "to the multiple above, never below",
        "round up to 10 USD",
    ),
    row(
        Choice,
        "to",
        "what the price becomes a multiple of",
        "round to 5 USD",
    ),
    row(
        Choice,
        "coats",
        "how many coats of sealer",
        "sealer matte, 2 coats",
    ),
    row(
        Choice,
        "coat",
        "how many coats of sealer",
        "sealer matte, 1 coat",
    ),
    row(
        Choice,
        "days",
        "how long the bid can be accepted",
        "valid 60 days",
    ),
    row(
        Choice,
        "day",
        "how long the bid can be accepted",
        "valid 1 day",
    ),
];

/// Functions.
pub(super) const FUNCTIONS: &[Explained] = &[
    row(
        Function,
        "min",
        "the smallest of its values",
        "min(4ft, high)",
    ),
    row(
        Function,
        "max",
        "the largest of its values",
        "max(4ft, high)",
    ),
    row(
        Function,
        "sum",
        "all of its values added; of a structure, those of all its faces",
        "sum(\"Entry planter\".area)",
    ),
    row(
        Function,
        "round",
        "to the nearest whole number",
        "round(width / 4ft)",
    ),
    row(Function, "sqrt", "the square root", "sqrt(street.area)"),
];

/// What is measured of a face, and within `sum`, `min` and `max` of all faces of a structure.
pub(super) const PROPERTIES: &[Explained] = &[
    row(
        Property,
        "area",
        "what is coated: the area net of openings, with the reveals",
        "street.area",
    ),
    row(
        Property,
        "gross_area",
        "the area of the shape alone",
        "street.gross_area",
    ),
    row(
        Property,
        "deducted_area",
        "what openings take from the area",
        "street.deducted_area",
    ),
    row(
        Property,
        "reveal_area",
        "what reveals add to the area",
        "street.reveal_area",
    ),
    row(
        Property,
        "perimeter",
        "the length all around the shape",
        "street.perimeter",
    ),
    row(
        Property,
        "width",
        "the width of the shape; of a curved face, along the curve",
        "street.width",
    ),
    row(
        Property,
        "height",
        "the height of the shape",
        "street.height",
    ),
    row(Property, "top", "the length of the top edges", "street.top"),
    row(
        Property,
        "bottom",
        "the length of the bottom edges",
        "street.bottom",
    ),
    row(
        Property,
        "sides",
        "the length of the side edges",
        "street.sides",
    ),
    row(
        Property,
        "opening_edges",
        "the length around the openings",
        "street.opening_edges",
    ),
    row(
        Property,
        "count",
        "how many equal faces there are",
        "street.count",
    ),
];
