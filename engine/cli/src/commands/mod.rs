//! The commands, one a file.

pub(crate) mod actuals;
pub(crate) mod bid;
pub(crate) mod check;
pub(crate) mod checks;
pub(crate) mod days;
pub(crate) mod diff;
pub(crate) mod draw;
pub(crate) mod estimate;
pub(crate) mod explain;
pub(crate) mod fmt;
pub(crate) mod import;
pub(crate) mod learn;
pub(crate) mod new;
pub(crate) mod rules;
pub(crate) mod takeoff;
pub(crate) mod whatif;
pub(crate) mod why;
