//! What a rule is asked about: named values handed to a script.

use crate::context::{Handle, ScriptError};
use crate::operators::Traced;
use parge_base::{Dim, Quantity, Span, Tape, suggest};
use rhai::{Array, Dynamic, Engine, EvalAltResult, ImmutableString, NativeCallContext};
use std::borrow::Cow;
use std::sync::Arc;

/// A value handed to a script.
#[derive(Debug, Clone)]
pub enum Value<'s> {
    /// A measured or stated quantity, and where it was stated.
    Quantity(Quantity, Option<Span>),
    /// A word, such as the substrate.
    Text(Cow<'s, str>),
    /// A list of things with values of their own, such as the colours of a finish.
    List(Vec<Subject<'s>>),
    /// Known by name, but not given for this one: `face.has("height")` is false.
    Absent,
}

/// A thing that rules are asked about, as a list of named values. There is one a face, so its words
/// are borrowed where they can be.
#[derive(Debug, Clone)]
pub struct Subject<'s> {
    /// What it is called in messages and as the rule's parameter: `face`.
    pub kind: Cow<'s, str>,
    /// The values by name, in a fixed order for each kind.
    pub values: Vec<(Cow<'s, str>, Value<'s>)>,
}

/// Everything about a subject that a rule can see without it landing on the tape: two subjects
/// with one key can share a tape as long as its guards hold.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct ClassKey<'s>(Vec<Mark<'s>>);

#[derive(Debug, Clone, PartialEq, Eq, Hash)]
enum Mark<'s> {
    Kind(Dim),
    Text(Cow<'s, str>),
    List(usize),
    Absent,
}

impl ClassKey<'_> {
    /// The same with words of its own.
    pub fn into_owned(self) -> ClassKey<'static> {
        let marks = self.0.into_iter().map(|mark| match mark {
            Mark::Kind(dim) => Mark::Kind(dim),
            Mark::Text(text) => Mark::Text(text.into_owned().into()),
            Mark::List(length) => Mark::List(length),
            Mark::Absent => Mark::Absent,
        });
        ClassKey(marks.collect())
    }
}

impl<'s> Subject<'s> {
    /// The key of the subject's class.
    pub fn class_key(&self) -> ClassKey<'s> {
        let mut marks = Vec::with_capacity(self.values.len() + 1);
        marks.push(Mark::Text(self.kind.clone()));
        self.mark(&mut marks);
        ClassKey(marks)
    }

    /// The quantities in the order of their slots on a tape.
    pub fn inputs(&self) -> Vec<Quantity> {
        let mut inputs = Vec::with_capacity(self.values.len());
        self.each_input(&mut |quantity, _| inputs.push(quantity));
        inputs
    }

    /// The same, each with where it was stated.
    pub(crate) fn placed_inputs(&self) -> Vec<(Quantity, Option<Span>)> {
        let mut inputs = Vec::with_capacity(self.values.len());
        self.each_input(&mut |quantity, place| inputs.push((quantity, place)));
        inputs
    }

    fn mark(&self, marks: &mut Vec<Mark<'s>>) {
        for (_, value) in &self.values {
            match value {
                Value::Quantity(quantity, _) => marks.push(Mark::Kind(quantity.dim)),
                Value::Text(text) => marks.push(Mark::Text(text.clone())),
                Value::Absent => marks.push(Mark::Absent),
                Value::List(list) => {
                    marks.push(Mark::List(list.len()));
                    list.iter().for_each(|subject| subject.mark(marks));
                }
            }
        }
    }

    fn each_input(&self, take: &mut impl FnMut(Quantity, Option<Span>)) {
        for (_, value) in &self.values {
            match value {
                Value::Quantity(quantity, place) => take(*quantity, *place),
                Value::List(list) => list.iter().for_each(|subject| subject.each_input(take)),
                Value::Text(_) | Value::Absent => {}
            }
        }
    }

    /// Puts the quantities on a tape, in the order of [`Self::inputs`], and makes what the
    /// script sees.
    pub(crate) fn enter(&self, tape: &mut Tape, prefix: &str) -> Seen {
        let values = self.values.iter().map(|(name, value)| {
            let seen = match value {
                Value::Quantity(quantity, span) => {
                    let node = tape.input(format!("{prefix}.{name}").into(), *quantity, *span);
                    SeenValue::Quantity(Traced(node))
                }
                Value::Text(text) => SeenValue::Text(text.as_ref().into()),
                Value::Absent => SeenValue::Absent,
                Value::List(list) => SeenValue::List(
                    list.iter()
                        .enumerate()
                        .map(|(at, part)| part.enter(tape, &format!("{prefix}.{name}[{}]", at + 1)))
                        .collect(),
                ),
            };
            (name.as_ref().into(), seen)
        });
        Seen {
            kind: self.kind.as_ref().into(),
            values: values.collect(),
        }
    }
}

/// A subject as a script sees it.
#[derive(Debug, Clone)]
pub(crate) struct Seen {
    kind: Arc<str>,
    values: Arc<[(Arc<str>, SeenValue)]>,
}

#[derive(Debug, Clone)]
enum SeenValue {
    Quantity(Traced),
    Text(ImmutableString),
    List(Vec<Seen>),
    Absent,
}

impl Seen {
    /// What it is: `face`.
    pub(crate) fn kind(&self) -> &str {
        &self.kind
    }

    fn get(&self, name: &str) -> Result<Dynamic, String> {
        match self.value(name)? {
            SeenValue::Quantity(traced) => Ok(Dynamic::from(*traced)),
            SeenValue::Text(text) => Ok(text.clone().into()),
            SeenValue::List(list) => Ok(list
                .iter()
                .cloned()
                .map(Dynamic::from)
                .collect::<Array>()
                .into()),
            SeenValue::Absent => Err(format!(
                "`{name}` is not known for this {kind}; ask `{kind}.has(\"{name}\")` first",
                kind = self.kind
            )),
        }
    }

    fn value(&self, name: &str) -> Result<&SeenValue, String> {
        let found = self.values.iter().find(|(known, _)| **known == *name);
        found.map(|(_, value)| value).ok_or_else(|| {
            let names = self.values.iter().map(|(known, _)| &**known);
            format!(
                "a {} has no `{name}`; {}",
                self.kind,
                suggest::help_for(name, names)
            )
        })
    }
}

/// Teaches the engine `face.area` and `face.has("area")`.
pub(crate) fn register(engine: &mut Engine) {
    engine.register_type_with_name::<Seen>("subject");
    engine.register_indexer_get(
        |ctx: NativeCallContext, seen: &mut Seen, name: ImmutableString| {
            seen.get(&name)
                .map_err(|message| Handle::fail(&ctx, message))
        },
    );
    engine.register_fn(
        "has",
        |ctx: NativeCallContext,
         seen: &mut Seen,
         name: ImmutableString|
         -> Result<bool, Box<EvalAltResult>> {
            let value = seen
                .value(&name)
                .map_err(|message| -> ScriptError { Handle::fail(&ctx, message) })?;
            Ok(!matches!(value, SeenValue::Absent))
        },
    );
}
