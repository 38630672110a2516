//! The grammar of heads and lines. Everything here is the parser library's; it stays inside.

use pest_derive::Parser;

/// The parser made from `plan.pest`.
#[derive(Parser)]
#[grammar = "plan.pest"]
pub(crate) struct PlanParser;

/// A node of the parser's own tree.
pub(crate) type Pair<'t> = pest::iterators::Pair<'t, Rule>;
