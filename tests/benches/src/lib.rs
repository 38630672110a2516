//! Plans of any size for the benches, and the price book that they are priced with.

pub mod edit;
pub mod floor;
pub mod memory;
mod plan;
pub mod program;
pub mod stages;
pub mod table;
pub mod timed;

pub use plan::plan;

/// The price book of every made plan: the one of the demo.
pub const PRICES: &str = include_str!("../../../examples/alder-marsh/prices.csv");
