//! Any bytes as a plan.

#![no_main]

use parge_grammar::{fmt::format, parse};

#[path = "../property.rs"]
mod property;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Ok(text) = std::str::from_utf8(bytes) {
        property::holds(text);
    }
});
