//! `parge whatif`: the estimate with some of its figures replaced beside the estimate as it is,
//! and which of its figures move its total most. Nothing on the disk changes.
//!
//! Warnings are told where they come or go; `parge check` tells all of them.

mod most;
mod tables;

use crate::args::{WhatifArgs, WhatifFormat};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Diagnostic, Severity, diagnostic};
use parge_calc::change::Both;
use parge_calc::price::Estimate;
use parge_calc::whatif::{Basis, compared, read};
use parge_sheets::whatif_json;
use std::io;

pub(crate) fn run(args: &WhatifArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    session.files.push(world.folder.join(&args.plan));
    let loaded = session.load(&args.plan, world);
    let Some(basis) = loaded.and_then(|loaded| session.basis(loaded)) else {
        return session.report(world);
    };
    let wrong = diagnostic::any_error(&session.diagnostics);
    let (estimate, said) = basis.estimate(&session.sources);
    session.diagnostics.extend(said.iter().cloned());
    let Some(estimate) = estimate.filter(|_| !wrong) else {
        return session.report(world);
    };
    session.diagnostics.retain(is_error);
    let now = Now {
        basis,
        estimate,
        said,
    };
    match args.most {
        Some(count) => most::run(args, count, &now, session, world),
        None => set(args, &now, session, world),
    }
}

/// The estimate as it is, what it rests on, and what is said of it.
struct Now {
    basis: Basis,
    estimate: Estimate,
    said: Vec<Diagnostic>,
}

/// Shows the estimate with what is set beside the one as it is.
fn set(
    args: &WhatifArgs,
    now: &Now,
    mut session: Session,
    world: &mut World<'_>,
) -> io::Result<Exit> {
    let (sets, wrong) = read(&args.sets, &now.basis, &now.estimate, &mut session.sources);
    if !wrong.is_empty() {
        session.diagnostics = wrong;
        session.report(world)?;
        return Ok(Exit::Usage);
    }
    let basis = now.basis.with(&sets);
    let (estimate, said) = basis.estimate(&session.sources);
    let Some(estimate) = estimate else {
        session.diagnostics = with_what_is_set(said, &now.said);
        return session.report(world);
    };
    let bases = Both {
        old: &now.basis,
        new: &basis,
    };
    let estimates = Both {
        old: &now.estimate,
        new: &estimate,
    };
    let both_said = Both {
        old: now.said.as_slice(),
        new: said.as_slice(),
    };
    let compared = compared(&sets, bases, estimates, both_said);
    match args.format {
        WhatifFormat::Text => tables::show(&compared, world)?,
        WhatifFormat::Json => {
            let plan = args.plan.display().to_string();
            let json = whatif_json(&compared, &plan, &session.sources);
            writeln!(world.out, "{json}")?;
        }
    }
    let come = compared.said.new.into_iter();
    session.diagnostics.extend(come.filter(is_error));
    session.report(world)
}

fn is_error(said: &Diagnostic) -> bool {
    said.severity() == Severity::Error
}

/// The errors that only the estimate with what is set has.
fn with_what_is_set(said: Vec<Diagnostic>, known: &[Diagnostic]) -> Vec<Diagnostic> {
    let errors = said.into_iter().filter(|said| {
        let fresh = !known.contains(said);
        fresh && is_error(said)
    });
    errors
        .map(|said| Diagnostic {
            message: format!("with what is set: {}", said.message),
            ..said
        })
        .collect()
}
