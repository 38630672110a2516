//! What a plan states, in its syntax tree: read as the language reads it, and put in its place.

use parge_base::Quantity;
use parge_base::{Code, Diagnostic, Sources, Span, Spanned};
use parge_grammar::ast::{
    BidTerm, BinaryOp, Crew, Expr, ExprKind, Job, JobSetting, Let, Plan, Statement,
};
use std::mem::discriminant;

/// A part of a plan with its new value.
#[derive(Debug, Clone)]
pub enum Part {
    /// `let name = expression`
    Let(Let),
    /// A term of the bid, in place of the one of its kind, or added.
    Term(Spanned<BidTerm>),
    /// How many the crew are.
    Crew(Expr),
    /// How many of the crew are of a wage class.
    Class(String, Expr),
}

/// The lets of a plan.
pub(super) fn lets(plan: &Plan) -> impl Iterator<Item = &Let> {
    let statements = plan.statements.iter();
    statements.filter_map(|statement| match statement {
        Statement::Let(found) => Some(found),
        _ => None,
    })
}

fn settings(plan: &Plan) -> impl Iterator<Item = &Spanned<JobSetting>> {
    let statements = plan.statements.iter();
    let jobs = statements.filter_map(|statement| match statement {
        Statement::Job(job) => Some(&job.settings),
        _ => None,
    });
    jobs.flatten()
}

/// The terms of the bid with their words: `overhead`.
pub(super) fn terms<'p>(
    plan: &'p Plan,
    sources: &'p Sources,
) -> impl Iterator<Item = (&'p str, &'p Spanned<BidTerm>)> {
    let bids = settings(plan).filter_map(|setting| match &setting.node {
        JobSetting::Bid(terms) => Some(terms),
        _ => None,
    });
    bids.flatten()
        .map(|term| (word(sources.slice(term.span)), term))
}

fn word(text: &str) -> &str {
    text.split_whitespace().next().unwrap_or("")
}

/// The rate of a term: what of it can be moved. A class and an amount are no rates.
pub(super) fn rate(term: &BidTerm) -> Option<&Expr> {
    match term {
        BidTerm::Burden(rate)
        | BidTerm::Overhead(rate)
        | BidTerm::Contingency(rate)
        | BidTerm::Profit(_, rate)
        | BidTerm::Tax(rate, _) => Some(rate),
        BidTerm::Class(_) | BidTerm::Minimum(_) | BidTerm::Round(_) => None,
    }
}

fn rate_mut(term: &mut BidTerm) -> Option<&mut Expr> {
    match term {
        BidTerm::Burden(rate)
        | BidTerm::Overhead(rate)
        | BidTerm::Contingency(rate)
        | BidTerm::Profit(_, rate)
        | BidTerm::Tax(rate, _) => Some(rate),
        BidTerm::Class(_) | BidTerm::Minimum(_) | BidTerm::Round(_) => None,
    }
}

/// Puts a part in its place.
pub(super) fn put(plan: &mut Plan, part: &Part) {
    for statement in &mut plan.statements {
        match (statement, part) {
            (Statement::Let(found), Part::Let(new)) if found.name == new.name => {
                found.value = new.value.clone();
            }
            (Statement::Job(job), part) => put_setting(job, part),
            _ => {}
        }
    }
}

fn put_setting(job: &mut Job, part: &Part) {
    let mut found = false;
    for setting in &mut job.settings {
        match (&mut setting.node, part) {
            (JobSetting::Bid(terms), Part::Term(new)) => {
                put_term(terms, new);
                found = true;
            }
            (JobSetting::Crew(crew), Part::Crew(people)) => {
                crew.people = Some(people.clone());
                found = true;
            }
            (JobSetting::Crew(crew), Part::Class(class, people)) => {
                let classes = crew.classes.iter_mut();
                for (_, count) in classes.filter(|(name, _)| name.node == *class) {
                    *count = people.clone();
                }
                found = true;
            }
            _ => {}
        }
    }
    let added = match part {
        Part::Term(term) => Spanned::new(JobSetting::Bid(vec![term.clone()]), term.span),
        Part::Crew(people) => {
            let (people, span) = (Some(people.clone()), people.span);
            let classes = Vec::new();
            Spanned::new(JobSetting::Crew(Crew { people, classes }), span)
        }
        Part::Let(_) | Part::Class(..) => return,
    };
    if !found {
        job.settings.push(added);
    }
}

fn put_term(terms: &mut Vec<Spanned<BidTerm>>, new: &Spanned<BidTerm>) {
    let same = |term: &&mut Spanned<BidTerm>| discriminant(&term.node) == discriminant(&new.node);
    match terms.iter_mut().find(same) {
        Some(term) => *term = new.clone(),
        None => terms.push(new.clone()),
    }
}

/// A term with so many times its rate.
pub(super) fn term_times(term: &Spanned<BidTerm>, share: f64) -> Option<Part> {
    let mut moved = term.clone();
    let rate = rate_mut(&mut moved.node)?;
    *rate = times(rate, share);
    Some(Part::Term(moved))
}

/// A let with so many times its value.
pub(super) fn let_times(found: &Let, share: f64) -> Part {
    Part::Let(Let {
        name: found.name.clone(),
        value: times(&found.value, share),
    })
}

/// `expression * share`
fn times(expr: &Expr, share: f64) -> Expr {
    let share = ExprKind::Literal(Quantity::plain(share));
    let share = Box::new(Spanned::new(share, expr.span));
    let kind = ExprKind::Binary(BinaryOp::Multiply, Box::new(expr.clone()), share);
    Spanned::new(kind, expr.span)
}

/// Reads parts of a plan from the words of a command.
pub(super) struct Reading<'s> {
    pub(super) sources: &'s mut Sources,
    /// Where the words of the command stand.
    pub(super) span: Span,
}

impl Reading<'_> {
    /// `let NAME = VALUE`
    pub(super) fn a_let(&mut self, name: &str, value: &str) -> Result<Part, Vec<Diagnostic>> {
        let plan = self.plan(&format!("let {name} = {value}"))?;
        match <[Statement; 1]>::try_from(plan.statements) {
            Ok([Statement::Let(found)]) if found.name.node == name => Ok(Part::Let(found)),
            _ => Err(self.not_one(value)),
        }
    }

    /// A term by its word and value: the rate alone, and the rest is as the plan has it; or all
    /// that stands behind the word, as in `markup 20%` or `8% on total`.
    pub(super) fn a_term(
        &mut self,
        wanted: &str,
        value: &str,
        plan: &Plan,
    ) -> Result<Part, Vec<Diagnostic>> {
        let whole = value.starts_with(char::is_alphabetic) || value.contains(" on ");
        let present = terms(plan, self.sources).find(|(word, _)| *word == wanted);
        let rate = |term: &Spanned<BidTerm>| Some((term.span, rate(&term.node)?.span));
        let spans = present.filter(|_| !whole).and_then(|(_, term)| rate(term));
        let text = match spans {
            Some((outer, inner)) => {
                let text = |start, end| {
                    let file = outer.file;
                    self.sources.slice(Span { file, start, end })
                };
                let before = text(outer.start, inner.start);
                format!("{before}{value}{}", text(inner.end, outer.end))
            }
            None => format!("{wanted} {value}"),
        };
        let plan = self.plan(&format!("job \"set\" {{ bid {{ {text} }} }}"))?;
        let mut read = settings(&plan);
        match (read.next().map(|setting| &setting.node), read.next()) {
            (Some(JobSetting::Bid(terms)), None) => match terms.as_slice() {
                [term] if word(self.sources.slice(term.span)) == wanted => {
                    Ok(Part::Term(term.clone()))
                }
                _ => Err(self.not_one(value)),
            },
            _ => Err(self.not_one(value)),
        }
    }

    /// `crew VALUE`: how many people.
    pub(super) fn people(&mut self, value: &str) -> Result<Expr, Vec<Diagnostic>> {
        let plan = self.plan(&format!("job \"set\" {{ crew {value} }}"))?;
        let mut read = settings(&plan);
        match (read.next().map(|setting| &setting.node), read.next()) {
            (Some(JobSetting::Crew(crew)), None) if crew.classes.is_empty() => {
                let people = crew.people.clone();
                people.ok_or_else(|| self.not_one(value))
            }
            _ => Err(self.not_one(value)),
        }
    }

    fn plan(&mut self, statement: &str) -> Result<Plan, Vec<Diagnostic>> {
        let text = format!("parge 1\n{statement}\n");
        let file = self.sources.add("--set", text);
        let parsed = parge_grammar::parse(file, self.sources.text(file));
        match parsed.diagnostics.is_empty() {
            true => Ok(parsed.plan),
            false => Err(parsed.diagnostics),
        }
    }

    fn not_one(&self, value: &str) -> Vec<Diagnostic> {
        let message = format!("`{value}` says more than one value");
        let help = "write one value, and each other with a `--set` of its own";
        vec![Diagnostic::new(Code::Syntax, message, help).at(self.span, "")]
    }
}
