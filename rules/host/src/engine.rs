//! The one script engine, locked down.
//!
//! Made from nothing: only what is registered here exists. No file, module, clock, randomness,
//! `eval`, function pointer or map; every resource has a bound that is set in `bounds` and not by
//! the build profile.

use crate::bounds::{
    MAX_CALLS, MAX_DEPTH, MAX_FUNCTIONS, MAX_LIST, MAX_STEPS, MAX_TEXT, MAX_VARIABLES,
};
use crate::{between, clock, functions, operators, subject};
use rhai::packages::{
    ArithmeticPackage, BasicIteratorPackage, BasicStringPackage, LogicPackage, Package,
};
use rhai::{Dynamic, Engine};
use std::sync::OnceLock;

/// Words and signs of the script language that rules cannot use, with what to write instead.
pub(crate) const REFUSED: [(&str, &str); 17] = [
    ("eval", "write the lines themselves"),
    (
        "import",
        "all scripts of a pack are one: call the function by its name",
    ),
    (
        "export",
        "all scripts of a pack are one: call the function by its name",
    ),
    // It compares without a word on the tape, and calls a quantity unequal to any number.
    ("switch", "write `if … else if … else`"),
    // What fails for one face only would part faces without a guard, and the message that is
    // caught could carry a figure as text.
    (
        "try",
        "ask first, as with `has(…)`; a rule that cannot go on must stop and say so",
    ),
    (
        "catch",
        "ask first, as with `has(…)`; a rule that cannot go on must stop and say so",
    ),
    // A pointer to a function keeps what it is given, and no bound counts that.
    ("Fn", "call the function by its name"),
    ("call", "call the function by its name"),
    ("curry", "call the function by its name"),
    // Nothing measures how deep a map that holds maps has become when a value is put into it.
    ("#{", "use a table of the pack, or a list"),
    ("is_def_fn", "call the function by its name"),
    ("is_def_var", "ask `face.has(\"…\")`"),
    ("print", "say it with `warn(…)`"),
    ("debug", "say it with `warn(…)`"),
    ("this", "give the function what it needs in its brackets"),
    ("global", "put numbers into a table"),
    ("type_of", "ask `face.has(\"…\")`"),
];

/// The engine for all packs and threads.
pub(crate) fn shared() -> &'static Engine {
    static ENGINE: OnceLock<Engine> = OnceLock::new();
    ENGINE.get_or_init(build)
}

fn build() -> Engine {
    let mut engine = Engine::new_raw();
    plain_packages(&mut engine);
    bound(&mut engine);
    operators::register(&mut engine);
    functions::register(&mut engine);
    between::register(&mut engine);
    subject::register(&mut engine);
    engine
}

/// Plain numbers, texts and lists.
pub(crate) fn plain_packages(engine: &mut Engine) {
    ArithmeticPackage::new().register_into_engine(engine);
    LogicPackage::new().register_into_engine(engine);
    BasicIteratorPackage::new().register_into_engine(engine);
    BasicStringPackage::new().register_into_engine(engine);
    engine.register_iterator::<rhai::Array>();
}

/// Takes away what no script may use, and bounds the rest.
pub(crate) fn bound(engine: &mut Engine) {
    for (word, _) in REFUSED {
        engine.disable_symbol(word);
    }
    engine
        .set_allow_anonymous_fn(false)
        .set_max_operations(MAX_STEPS)
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
        .on_progress(|steps| clock::progress(steps).map(Dynamic::from))
        .on_print(|_| {})
        .on_debug(|_, _, _| {});
}

#[cfg(test)]
mod tests;
