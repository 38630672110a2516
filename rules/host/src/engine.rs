//! The one script engine, locked down.
//!
//! Made from nothing: only what is registered here exists. No file, module, clock, randomness,
//! `eval` or closure; every resource has a bound that is set here and not by the build profile.

use crate::{functions, operators, subject};
use rhai::Engine;
use rhai::packages::{
    ArithmeticPackage, BasicIteratorPackage, BasicStringPackage, LogicPackage, Package,
};
use std::sync::OnceLock;

/// Operations one hook may take. The standard packs need a few hundred.
pub(crate) const MAX_OPERATIONS: u64 = 200_000;
const MAX_CALLS: usize = 24;
const MAX_DEPTH: usize = 48;
const MAX_FUNCTIONS: usize = 500;
const MAX_VARIABLES: usize = 200;
const MAX_TEXT: usize = 4096;
const MAX_LIST: usize = 1000;

/// The engine for all packs and threads.
pub(crate) fn shared() -> &'static Engine {
    static ENGINE: OnceLock<Engine> = OnceLock::new();
    ENGINE.get_or_init(build)
}

fn build() -> Engine {
    let mut engine = Engine::new_raw();
    ArithmeticPackage::new().register_into_engine(&mut engine);
    LogicPackage::new().register_into_engine(&mut engine);
    BasicIteratorPackage::new().register_into_engine(&mut engine);
    BasicStringPackage::new().register_into_engine(&mut engine);
    engine.register_iterator::<rhai::Array>();
    // `switch` compares without a word on the tape, and calls a quantity unequal to any number.
    for word in ["eval", "import", "export", "switch"] {
        engine.disable_symbol(word);
    }
    engine
        .set_max_operations(MAX_OPERATIONS)
        .set_max_call_levels(MAX_CALLS)
        .set_max_expr_depths(MAX_DEPTH, MAX_DEPTH)
        .set_max_functions(MAX_FUNCTIONS)
        .set_max_variables(MAX_VARIABLES)
        .set_max_modules(0)
        .set_max_string_size(MAX_TEXT)
        .set_max_array_size(MAX_LIST)
        .set_max_map_size(MAX_LIST)
        .set_strict_variables(true)
        .set_fail_on_invalid_map_property(true)
        // Built-in operators would bypass the division registered in `operators`.
        .set_fast_operators(false)
        .on_print(|_| {})
        .on_debug(|_, _, _| {});
    operators::register(&mut engine);
    functions::register(&mut engine);
    subject::register(&mut engine);
    engine
}
