//! What every room of Parge speaks: source files and spans, the diagnostic, dimensions,
//! quantities, units, money, price books, and the tape that remembers how a figure was made.
//!
//! Nothing here reads a file, the clock or the environment, and nothing prints.

pub mod actuals;
pub mod code;
pub mod diagnostic;
pub mod dim;
pub mod forecast;
pub mod money;
pub mod number;
pub mod prices;
pub mod quantity;
pub mod source;
pub mod suggest;
pub mod trace;
pub mod unit;
pub mod why;

pub use code::Code;
pub use diagnostic::{Diagnostic, Label, Severity};
pub use dim::{Dim, Item};
pub use money::{Currency, Money};
pub use quantity::{Quantity, QuantityError};
pub use source::{FileId, Place, Sources, Span, Spanned};
pub use trace::{Factor, FactorSource, Function, NodeId, Op, Operator, Tape};
pub use unit::{Unit, Units};
