//! The weather of days as a file states it, before a job takes it over.

use crate::quantity::Quantity;
use crate::source::Span;
use jiff::civil::Date;

/// The weather of one day; a reading that is left open is none.
#[derive(Debug, Clone, PartialEq)]
pub struct ForecastDay {
    /// The day.
    pub date: Date,
    /// Air temperature, in kelvin.
    pub air: Option<Quantity>,
    /// Relative humidity, as a share.
    pub humidity: Option<Quantity>,
    /// Wind speed, in metres per second.
    pub wind: Option<Quantity>,
    /// Temperature of the fresh mix, in kelvin.
    pub mix: Option<Quantity>,
    /// The row.
    pub span: Span,
}

/// The days of one file in its order, each once.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Forecast {
    /// The days.
    pub days: Vec<ForecastDay>,
}
