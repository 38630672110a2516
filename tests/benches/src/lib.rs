//! Plans of any size for the benches, and the price book that they are priced with.

mod plan;
pub mod stages;

pub use plan::{edited, plan};

/// The price book of every made plan: the one of the demo.
pub const PRICES: &str = include_str!("../../../examples/alder-marsh/prices.csv");
