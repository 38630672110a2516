//! Arithmetic and comparison of traced quantities in scripts.
//!
//! Every operator lands on the tape. A plain number in a script takes part as a literal. What
//! could hide a figure from the tape (turning it into text, comparing it with a word) is an
//! error rather than an answer.

use crate::context::{Handle, ScriptError};
use crate::subject::Seen;
use parge_base::trace::Comparison;
use parge_base::{Dim, Function, NodeId, Operator, Quantity};
use rhai::{Array, Engine, FLOAT, INT, ImmutableString, NativeCallContext};
use std::ops::{Range, RangeInclusive};

/// A quantity as a script holds it: a node of the run's tape.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Traced(pub(crate) NodeId);

/// What can stand beside a traced quantity.
pub(crate) trait Operand: Clone + Send + Sync + 'static {
    fn node(self, handle: &Handle, ctx: &NativeCallContext) -> Result<NodeId, ScriptError>;
}

impl Operand for Traced {
    fn node(self, _: &Handle, _: &NativeCallContext) -> Result<NodeId, ScriptError> {
        Ok(self.0)
    }
}

impl Operand for INT {
    fn node(self, handle: &Handle, ctx: &NativeCallContext) -> Result<NodeId, ScriptError> {
        (self as FLOAT).node(handle, ctx)
    }
}

impl Operand for FLOAT {
    fn node(self, handle: &Handle, ctx: &NativeCallContext) -> Result<NodeId, ScriptError> {
        // Plain numbers of the script language can be infinite or none; a figure never is.
        let number = Quantity::new(self, Dim::NONE).map_err(|error| Handle::fail(ctx, error))?;
        Ok(handle.record().tape.literal(number, handle.place(ctx)))
    }
}

const OPERATORS: [(&str, Operator); 7] = [
    ("+", Operator::Add),
    ("-", Operator::Subtract),
    ("*", Operator::Multiply),
    ("/", Operator::Divide),
    ("**", Operator::Power),
    ("min", Operator::Min),
    ("max", Operator::Max),
];

const COMPARISONS: [(&str, Comparison); 6] = [
    ("<", Comparison::Less),
    ("<=", Comparison::LessOrEqual),
    (">", Comparison::Greater),
    (">=", Comparison::GreaterOrEqual),
    ("==", Comparison::Equal),
    ("!=", Comparison::NotEqual),
];

const FUNCTIONS: [(&str, Function); 5] = [
    ("-", Function::Negate),
    ("abs", Function::Abs),
    ("sqrt", Function::Root),
    ("whole_up", Function::WholeUp),
    ("round", Function::Round),
];

pub(crate) fn register(engine: &mut Engine) {
    engine.register_type_with_name::<Traced>("quantity");
    pair::<Traced, Traced>(engine);
    pair::<Traced, INT>(engine);
    pair::<INT, Traced>(engine);
    pair::<Traced, FLOAT>(engine);
    pair::<FLOAT, Traced>(engine);
    for (name, function) in FUNCTIONS {
        engine.register_fn(name, move |ctx: NativeCallContext, a: Traced| {
            apply(&ctx, function, a)
        });
    }
    refuse::<ImmutableString>(engine);
    refuse::<bool>(engine);
    refuse::<char>(engine);
    refuse::<()>(engine);
    refuse_comparison::<Array>(engine);
    refuse_comparison::<Seen>(engine);
    refuse_comparison::<Range<INT>>(engine);
    refuse_comparison::<RangeInclusive<INT>>(engine);
    for name in ["to_string", "to_debug", "print", "debug"] {
        engine.register_fn(
            name,
            |ctx: NativeCallContext, _: Traced| -> Result<ImmutableString, ScriptError> {
                Err(Handle::fail(&ctx, NO_TEXT))
            },
        );
    }
    plain_division(engine);
}

const NO_TEXT: &str = "a quantity cannot become text: the figure would be lost to its explanation";

fn pair<A: Operand, B: Operand>(engine: &mut Engine) {
    for (name, operator) in OPERATORS {
        engine.register_fn(name, move |ctx: NativeCallContext, a: A, b: B| {
            combine(&ctx, operator, a, b)
        });
    }
    for (name, comparison) in COMPARISONS {
        engine.register_fn(name, move |ctx: NativeCallContext, a: A, b: B| {
            compare(&ctx, comparison, a, b)
        });
    }
}

fn apply(ctx: &NativeCallContext, function: Function, a: Traced) -> Result<Traced, ScriptError> {
    let handle = Handle::of(ctx)?;
    let place = handle.place(ctx);
    let node = handle.record().tape.apply(function, a.0, place);
    node.map(Traced).map_err(|error| Handle::fail(ctx, error))
}

fn combine<A: Operand, B: Operand>(
    ctx: &NativeCallContext,
    operator: Operator,
    a: A,
    b: B,
) -> Result<Traced, ScriptError> {
    let handle = Handle::of(ctx)?;
    let (a, b) = (a.node(&handle, ctx)?, b.node(&handle, ctx)?);
    let place = handle.place(ctx);
    let node = handle.record().tape.combine(operator, a, b, place);
    node.map(Traced).map_err(|error| Handle::fail(ctx, error))
}

fn compare<A: Operand, B: Operand>(
    ctx: &NativeCallContext,
    comparison: Comparison,
    a: A,
    b: B,
) -> Result<bool, ScriptError> {
    let handle = Handle::of(ctx)?;
    let (a, b) = (a.node(&handle, ctx)?, b.node(&handle, ctx)?);
    let place = handle.place(ctx);
    let held = handle.record().tape.compare(comparison, a, b, place);
    held.map_err(|error| Handle::fail(ctx, error))
}

/// Left to itself the script language calls things of different types unequal without a word.
fn refuse_comparison<T: Clone + Send + Sync + 'static>(engine: &mut Engine) {
    const NO_WORD: &str = "a quantity can only be compared with another quantity or a number";
    for (name, _) in COMPARISONS {
        engine.register_fn(
            name,
            |ctx: NativeCallContext, _: Traced, _: T| -> Result<bool, ScriptError> {
                Err(Handle::fail(&ctx, NO_WORD))
            },
        );
        engine.register_fn(
            name,
            |ctx: NativeCallContext, _: T, _: Traced| -> Result<bool, ScriptError> {
                Err(Handle::fail(&ctx, NO_WORD))
            },
        );
    }
}

fn refuse<T: Clone + Send + Sync + 'static>(engine: &mut Engine) {
    refuse_comparison::<T>(engine);
    engine.register_fn(
        "+",
        |ctx: NativeCallContext, _: Traced, _: T| -> Result<Traced, ScriptError> {
            Err(Handle::fail(&ctx, NO_TEXT))
        },
    );
    engine.register_fn(
        "+",
        |ctx: NativeCallContext, _: T, _: Traced| -> Result<Traced, ScriptError> {
            Err(Handle::fail(&ctx, NO_TEXT))
        },
    );
}

/// `7 / 2` is 3 and `1.0 / 0.0` is infinite in the script language; an estimator means neither.
fn plain_division(engine: &mut Engine) {
    fn divide(ctx: &NativeCallContext, a: FLOAT, b: FLOAT) -> Result<FLOAT, ScriptError> {
        let value = a / b;
        if value.is_finite() {
            Ok(value)
        } else {
            Err(Handle::fail(ctx, "division by zero"))
        }
    }
    engine.register_fn("/", |ctx: NativeCallContext, a: INT, b: INT| {
        divide(&ctx, a as FLOAT, b as FLOAT)
    });
    engine.register_fn("/", |ctx: NativeCallContext, a: FLOAT, b: FLOAT| {
        divide(&ctx, a, b)
    });
    engine.register_fn("/", |ctx: NativeCallContext, a: INT, b: FLOAT| {
        divide(&ctx, a as FLOAT, b)
    });
    engine.register_fn("/", |ctx: NativeCallContext, a: FLOAT, b: INT| {
        divide(&ctx, a, b as FLOAT)
    });
}
