//! What a running script can reach: the pack's tables, and the record of its run.

use crate::bounds::{MAX_LINES, MAX_LOOKED_THROUGH, MAX_RECORDED};
use crate::clock;
use crate::errors::byte_of_column;
use crate::run::Record;
use crate::stopped::Stopped;
use crate::table::Tables;
use parge_base::{FileId, Span, Units};
use rhai::{Dynamic, DynamicReadLock, EvalAltResult, NativeCallContext, Position};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// The error a native function hands to the script engine.
pub(crate) type ScriptError = Box<EvalAltResult>;

/// The scripts of a pack and of those under it as one text, and where its lines come from. One
/// text, because the script engine reports lines without saying of which file.
#[derive(Debug, Default)]
pub(crate) struct Lines {
    text: String,
    lines: Vec<Line>,
}

/// A line: where it begins in the one text, and its place in its own file.
#[derive(Debug)]
struct Line {
    start: usize,
    span: Span,
    /// Whether each of its letters is one byte long.
    plain: bool,
}

impl Lines {
    /// Appends a script.
    pub(crate) fn append(&mut self, file: FileId, text: &str) {
        let mut at = 0;
        for line in text.split_inclusive('\n') {
            let body = line.trim_end_matches(['\n', '\r']);
            let span = Span::new(file, at, at + body.len());
            self.lines.push(Line {
                start: self.text.len(),
                span,
                plain: body.is_ascii(),
            });
            self.text.push_str(line);
            at += line.len();
        }
        if !text.ends_with('\n') {
            self.text.push('\n');
        }
    }

    /// How many lines there are.
    pub(crate) fn count(&self) -> usize {
        self.lines.len()
    }

    /// The text behind its first so many lines, with an empty line for each of these: what is
    /// compiled from it has its places in the one text.
    pub(crate) fn text_after(&self, skipped: usize) -> String {
        let start = self.lines.get(skipped);
        let start = start.map_or(self.text.len(), |line| line.start);
        "\n".repeat(skipped) + self.text.get(start..).unwrap_or("")
    }

    /// The place of a position of the script engine: from there to the end of the line.
    pub(crate) fn span(&self, position: Position) -> Option<Span> {
        let Line { start, span, plain } = self.lines.get(position.line()?.checked_sub(1)?)?;
        let length = (span.end - span.start) as usize;
        let offset = match plain {
            true => (position.position().unwrap_or(1).saturating_sub(1)).min(length),
            false => byte_of_column(self.text.get(*start..start + length)?, position),
        };
        Some(Span::new(
            span.file,
            span.start as usize + offset,
            span.end as usize,
        ))
    }
}

/// What all runs of a pack share.
#[derive(Debug)]
pub(crate) struct Context {
    pub(crate) tables: Tables,
    pub(crate) units: Units,
    pub(crate) lines: Arc<Lines>,
    /// The hooks that were stopped so far.
    pub(crate) stopped: Mutex<Stopped>,
}

/// A run's way to its context and record, carried through the script engine as its tag.
#[derive(Debug, Clone)]
pub(crate) struct Handle {
    pub(crate) context: Arc<Context>,
    record: Arc<Mutex<Record>>,
}

impl Handle {
    pub(crate) fn new(context: Arc<Context>, record: Record) -> Self {
        Self {
            context,
            record: Arc::new(Mutex::new(record)),
        }
    }

    /// The handle of the run that calls a native function; an error where the run has recorded
    /// all that it may, or is out of time. Whatever records or looks up comes through here.
    pub(crate) fn of<'c>(
        ctx: &'c NativeCallContext,
    ) -> Result<DynamicReadLock<'c, Self>, ScriptError> {
        let tag = ctx.tag().and_then(|tag| tag.read_lock::<Self>());
        let handle = tag.ok_or_else(|| Self::fail(ctx, "this can only be used inside a rule"))?;
        if let Some(what) = handle.record().over_bound() {
            return Err(Self::stop(ctx, Dynamic::from(what)));
        }
        if let Some(out_of_time) = clock::passed() {
            return Err(Self::stop(ctx, Dynamic::from(out_of_time)));
        }
        Ok(handle)
    }

    pub(crate) fn record(&self) -> MutexGuard<'_, Record> {
        self.record.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The record at the end of the run.
    pub(crate) fn finish(self) -> Record {
        std::mem::take(&mut *self.record())
    }

    /// Where in the pack's scripts the native function was called.
    pub(crate) fn place(&self, ctx: &NativeCallContext) -> Option<Span> {
        self.context.lines.span(ctx.call_position())
    }

    /// An error that says which bound was passed.
    fn stop(ctx: &NativeCallContext, what: Dynamic) -> ScriptError {
        Box::new(EvalAltResult::ErrorTerminated(what, ctx.call_position()))
    }

    /// An error at the place of the call.
    pub(crate) fn fail(ctx: &NativeCallContext, message: impl ToString) -> ScriptError {
        let text = Dynamic::from(message.to_string());
        Box::new(EvalAltResult::ErrorRuntime(text, ctx.call_position()))
    }
}

impl Record {
    /// Needs, hours and all else that was said so far.
    pub(crate) fn lines(&self) -> usize {
        self.needs.len()
            + self.hours.len()
            + self.given.len()
            + self.charges.len()
            + self.tools.len()
            + self.cautions.len()
            + self.warnings.len()
    }

    /// The bound that the run has come to, in words.
    fn over_bound(&self) -> Option<String> {
        let recorded = self.tape.len() + self.tape.guards().len();
        let lines = self.lines();
        if recorded >= MAX_RECORDED {
            Some(format!(
                "it made more than {MAX_RECORDED} figures and comparisons"
            ))
        } else if lines >= MAX_LINES {
            Some(format!("it said more than {MAX_LINES} things"))
        } else if self.looked_through > MAX_LOOKED_THROUGH {
            Some("it looked through tables too often".into())
        } else {
            None
        }
    }
}
