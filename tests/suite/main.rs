//! End-to-end tests, one binary.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail by panicking, as tests do"
)]

mod actuals;
mod bad_input;
mod check;
mod commands;
mod company;
mod days;
mod demo;
mod diff;
mod documents;
mod explain;
mod files;
mod fmt;
mod forecast;
mod import;
mod includes;
mod learn;
mod many;
mod measuring;
mod offers;
mod pack_tests;
mod packs;
mod papers;
mod plaster;
mod prices;
mod published;
mod recalculation;
mod rooms;
mod rules;
mod rules_reference;
mod shapes;
mod weather;
mod whatif;
mod why;
