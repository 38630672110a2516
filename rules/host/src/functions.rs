//! What a rule can look up and what it can say.

use crate::bounds::MAX_SAID;
use crate::context::{Handle, ScriptError};
use crate::operators::Traced;
use crate::run::{CautionLine, GivenLine, HoursLine, Record, Said, ToolLine};
use crate::table::Cell;
use crate::waste::{Asked, general_item};
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::trace::Comparison;
use parge_base::{Currency, Dim, Factor, Quantity, Span};
use rhai::{Array, Dynamic, Engine, FLOAT, INT, ImmutableString as Text, NativeCallContext};
use std::sync::Arc;

pub(crate) fn register(engine: &mut Engine) {
    engine.register_fn(
        "quantity",
        |ctx: NativeCallContext, value: FLOAT, unit: Text| quantity(&ctx, value, &unit),
    );
    engine.register_fn(
        "quantity",
        |ctx: NativeCallContext, value: INT, unit: Text| quantity(&ctx, value as FLOAT, &unit),
    );
    lookups(engine);
    engine.register_fn("len", |array: &mut Array| array.len() as INT);
    engine.register_fn(
        "need",
        |ctx: NativeCallContext, item: Text, amount: Traced| need(&ctx, &item, amount, None),
    );
    engine.register_fn(
        "need",
        |ctx: NativeCallContext, item: Text, amount: Traced, waste: Traced| {
            need(&ctx, &item, amount, Some(waste))
        },
    );
    engine.register_fn("general", |item: Text| Text::from(general_item(&item)));
    engine.register_fn("hours", hours);
    engine.register_fn(
        "give",
        |ctx: NativeCallContext, name: Text, value: Traced| {
            give(&ctx, |record, line| record.given.push(line), &name, value)
        },
    );
    engine.register_fn(
        "charge",
        |ctx: NativeCallContext, name: Text, amount: Traced| {
            give(
                &ctx,
                |record, line| record.charges.push(line),
                &name,
                amount,
            )
        },
    );
    engine.register_fn("tool", tool);
    engine.register_fn("caution", |ctx: NativeCallContext, key: Text| {
        caution(&ctx, &key, None)
    });
    engine.register_fn(
        "caution",
        |ctx: NativeCallContext, key: Text, figure: Traced| caution(&ctx, &key, Some(figure)),
    );
    engine.register_fn("warn", warn);
}

/// `factor`, `text`, `has` and `keys`, each with one to three keys.
fn lookups(engine: &mut Engine) {
    engine.register_fn("factor", |ctx: NativeCallContext, t: Text, a: Text| {
        factor(&ctx, &t, &[&a])
    });
    engine.register_fn(
        "factor",
        |ctx: NativeCallContext, t: Text, a: Text, b: Text| factor(&ctx, &t, &[&a, &b]),
    );
    engine.register_fn(
        "factor",
        |ctx: NativeCallContext, t: Text, a: Text, b: Text, c: Text| {
            factor(&ctx, &t, &[&a, &b, &c])
        },
    );
    engine.register_fn("text", |ctx: NativeCallContext, t: Text, a: Text| {
        text(&ctx, &t, &[&a])
    });
    engine.register_fn(
        "text",
        |ctx: NativeCallContext, t: Text, a: Text, b: Text| text(&ctx, &t, &[&a, &b]),
    );
    engine.register_fn(
        "text",
        |ctx: NativeCallContext, t: Text, a: Text, b: Text, c: Text| text(&ctx, &t, &[&a, &b, &c]),
    );
    engine.register_fn("has", |ctx: NativeCallContext, t: Text, a: Text| {
        has(&ctx, &t, &[&a])
    });
    engine.register_fn(
        "has",
        |ctx: NativeCallContext, t: Text, a: Text, b: Text| has(&ctx, &t, &[&a, &b]),
    );
    engine.register_fn(
        "has",
        |ctx: NativeCallContext, t: Text, a: Text, b: Text, c: Text| has(&ctx, &t, &[&a, &b, &c]),
    );
    engine.register_fn("keys", |ctx: NativeCallContext, t: Text| {
        keys(&ctx, &t, &[])
    });
    engine.register_fn("keys", |ctx: NativeCallContext, t: Text, a: Text| {
        keys(&ctx, &t, &[&a])
    });
    engine.register_fn(
        "keys",
        |ctx: NativeCallContext, t: Text, a: Text, b: Text| keys(&ctx, &t, &[&a, &b]),
    );
}

fn quantity(ctx: &NativeCallContext, value: FLOAT, unit: &str) -> Result<Traced, ScriptError> {
    let handle = Handle::of(ctx)?;
    let unit = handle
        .context
        .units
        .parse(unit)
        .map_err(|error| Handle::fail(ctx, error))?;
    // A literal keeps no unit, so nobody could tell the currency later.
    if unit
        .text()
        .split('/')
        .any(|part| Currency::from_code(part.trim()).is_some())
    {
        let message = "an amount of money belongs into a table, with its currency and its source";
        return Err(Handle::fail(ctx, message));
    }
    let quantity = unit
        .quantity(value)
        .map_err(|error| Handle::fail(ctx, error))?;
    let place = handle.place(ctx);
    Ok(Traced(handle.record().tape.literal(quantity, place)))
}

fn factor(ctx: &NativeCallContext, table: &str, keys: &[&str]) -> Result<Traced, ScriptError> {
    let handle = Handle::of(ctx)?;
    let row = handle
        .context
        .tables
        .find(table, keys)
        .map_err(|error| Handle::fail(ctx, error))?;
    let factor: Arc<Factor> = match &row.cell {
        Cell::Factor(factor) => Arc::clone(factor),
        Cell::Text(..) => {
            return Err(Handle::fail(
                ctx,
                format!(
                    "`{}` in table `{table}` is a text: use `text(…)`",
                    keys.join(", ")
                ),
            ));
        }
    };
    Ok(Traced(handle.record().tape.factor_node(&factor)))
}

fn text(ctx: &NativeCallContext, table: &str, keys: &[&str]) -> Result<Text, ScriptError> {
    let handle = Handle::of(ctx)?;
    let row = handle
        .context
        .tables
        .find(table, keys)
        .map_err(|error| Handle::fail(ctx, error))?;
    match &row.cell {
        Cell::Text(text, _) => Ok(text.as_ref().into()),
        Cell::Factor(_) => Err(Handle::fail(
            ctx,
            format!(
                "`{}` in table `{table}` is a number: use `factor(…)`",
                keys.join(", ")
            ),
        )),
    }
}

fn has(ctx: &NativeCallContext, table: &str, keys: &[&str]) -> Result<bool, ScriptError> {
    let handle = Handle::of(ctx)?;
    handle
        .context
        .tables
        .has(table, keys)
        .map_err(|error| Handle::fail(ctx, error))
}

fn keys(ctx: &NativeCallContext, table: &str, before: &[&str]) -> Result<Array, ScriptError> {
    let handle = Handle::of(ctx)?;
    let tables = &handle.context.tables;
    handle.record().looked_through += tables.rows_of(table);
    let found = tables
        .keys(table, before)
        .map_err(|error| Handle::fail(ctx, error))?;
    Ok(found
        .into_iter()
        .map(|key| Dynamic::from(Text::from(key)))
        .collect())
}

/// So much of an item, and the share of it that is wasted; without a share the hook `waste` is
/// asked for it when the hooks have run.
fn need(
    ctx: &NativeCallContext,
    item: &str,
    amount: Traced,
    waste: Option<Traced>,
) -> Result<(), ScriptError> {
    let handle = Handle::of(ctx)?;
    check_length(ctx, item)?;
    let place = handle.place(ctx);
    let mut record = handle.record();
    if let Some(waste) = waste {
        check_kind_of_waste(&record, item, waste).map_err(|message| Handle::fail(ctx, message))?;
    }
    if !at_least(&mut record, amount, 0.0, place) {
        return Err(Handle::fail(
            ctx,
            format!("the need of `{item}` is less than nothing"),
        ));
    }
    if let Some(waste) = waste {
        check_size_of_waste(&mut record, item, waste, place)
            .map_err(|message| Handle::fail(ctx, message))?;
    }
    record.needs.push(Asked {
        item: item.into(),
        amount: amount.0,
        waste: waste.map(|waste| waste.0),
        place,
    });
    Ok(())
}

/// What to say of a waste that is no share.
pub(crate) fn check_kind_of_waste(
    record: &Record,
    item: &str,
    waste: Traced,
) -> Result<(), String> {
    let share = record.tape.value(waste.0);
    if share.dim.is_none() {
        return Ok(());
    }
    Err(format!(
        "the waste of `{item}` must be a share such as 10 %, not {}",
        share.dim.words()
    ))
}

/// What to say of a share below nothing or above all. It is compared on the tape.
pub(crate) fn check_size_of_waste(
    record: &mut Record,
    item: &str,
    waste: Traced,
    place: Option<Span>,
) -> Result<(), String> {
    if at_least(record, waste, 0.0, place) && at_most(record, waste, 1.0, place) {
        return Ok(());
    }
    let share = record.tape.value(waste.0);
    Err(format!(
        "the waste of `{item}` is {} %, and must be between 0 % and 100 %",
        round_to(share.value * 100.0, NOISE_DECIMALS)
    ))
}

/// `hours(phase, time)`: so much labour in a phase.
fn hours(ctx: NativeCallContext, phase: Text, time: Traced) -> Result<(), ScriptError> {
    let handle = Handle::of(&ctx)?;
    check_length(&ctx, &phase)?;
    let place = handle.place(&ctx);
    let mut record = handle.record();
    let value = record.tape.value(time.0);
    if value.dim != Dim::TIME {
        let message = format!(
            "the labour of phase `{phase}` must be a time, not {}",
            value.dim.words()
        );
        return Err(Handle::fail(&ctx, message));
    }
    if !at_least(&mut record, time, 0.0, place) {
        return Err(Handle::fail(
            &ctx,
            format!("the labour of phase `{phase}` is less than nothing"),
        ));
    }
    record.hours.push(HoursLine {
        phase: phase.as_str().into(),
        time: time.0,
        place,
    });
    Ok(())
}

/// Hands a figure back to the program, which knows what it stands for.
fn give(
    ctx: &NativeCallContext,
    to: impl FnOnce(&mut Record, GivenLine),
    name: &Text,
    value: Traced,
) -> Result<(), ScriptError> {
    check_length(ctx, name)?;
    let handle = Handle::of(ctx)?;
    let place = handle.place(ctx);
    let line = GivenLine {
        name: name.as_str().into(),
        value: value.0,
        place,
    };
    to(&mut handle.record(), line);
    Ok(())
}

/// What is said ends up on a sheet, once for every face.
fn check_length(ctx: &NativeCallContext, text: &str) -> Result<(), ScriptError> {
    if text.len() <= MAX_SAID {
        return Ok(());
    }
    let message = format!("a text that is shown must be shorter than {MAX_SAID} letters");
    Err(Handle::fail(ctx, message))
}

/// Bounds are compared on the tape: a face for which they turn out otherwise must not be given
/// the figures of one for which they held.
fn at_least(record: &mut Record, figure: Traced, bound: f64, place: Option<Span>) -> bool {
    bounded(record, figure, Comparison::GreaterOrEqual, bound, place)
}

fn at_most(record: &mut Record, figure: Traced, bound: f64, place: Option<Span>) -> bool {
    bounded(record, figure, Comparison::LessOrEqual, bound, place)
}

fn bounded(
    record: &mut Record,
    figure: Traced,
    comparison: Comparison,
    bound: f64,
    place: Option<Span>,
) -> bool {
    let dim = record.tape.value(figure.0).dim;
    let limit = record.tape.literal(Quantity { value: bound, dim }, place);
    record
        .tape
        .compare(comparison, figure.0, limit, place)
        .unwrap_or(false)
}

/// `tool(name, reason, count)`: so many of a tool, and why.
fn tool(
    ctx: NativeCallContext,
    name: Text,
    reason: Text,
    count: Traced,
) -> Result<(), ScriptError> {
    let handle = Handle::of(&ctx)?;
    check_length(&ctx, &name)?;
    check_length(&ctx, &reason)?;
    let place = handle.place(&ctx);
    let mut record = handle.record();
    let dim = record.tape.value(count.0).dim;
    if !dim.is_none() {
        let message = format!(
            "how many `{name}` are taken must be a plain number, not {}",
            dim.words()
        );
        return Err(Handle::fail(&ctx, message));
    }
    if !at_least(&mut record, count, 0.0, place) {
        let message = format!("fewer than none of `{name}` are taken");
        return Err(Handle::fail(&ctx, message));
    }
    record.tools.push(ToolLine {
        tool: name.as_str().into(),
        reason: reason.as_str().into(),
        count: count.0,
        place,
    });
    Ok(())
}

/// `caution(key)` and `caution(key, figure)`: says a caution, and the figure that its text holds.
fn caution(ctx: &NativeCallContext, key: &str, figure: Option<Traced>) -> Result<(), ScriptError> {
    let handle = Handle::of(ctx)?;
    check_length(ctx, key)?;
    let place = handle.place(ctx);
    handle.record().cautions.push(CautionLine {
        key: key.into(),
        figure: figure.map(|figure| figure.0),
        place,
    });
    Ok(())
}

/// `warn(text)`: says something about the subject.
fn warn(ctx: NativeCallContext, text: Text) -> Result<(), ScriptError> {
    let handle = Handle::of(&ctx)?;
    check_length(&ctx, &text)?;
    let place = handle.place(&ctx);
    handle.record().warnings.push(Said {
        text: text.as_str().into(),
        place,
    });
    Ok(())
}
