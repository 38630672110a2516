//! `parge bid`: the page of the bid for the client.

use crate::args::BidArgs;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic};
use std::io;

pub(crate) fn run(args: &BidArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let estimate = session
        .load(&args.plan, world)
        .and_then(|loaded| session.estimate(&loaded));
    if let Some(estimate) = estimate {
        let made = parge_sheets::bid_page(&estimate).map_err(|error| {
            let message = format!("the page of the bid cannot be made: {error}");
            let help = "this is a fault of the program; please report it with the plan";
            Diagnostic::new(Code::CannotWrite, message, help)
        });
        let written = made.and_then(|page| match args.output {
            None => Ok(Some(page)),
            Some(_) => put(args, page, &session, world).map(|()| None),
        });
        match written {
            Ok(Some(page)) => write!(world.out, "{page}")?,
            Ok(None) => {}
            Err(diagnostic) => session.diagnostics.push(diagnostic),
        }
    }
    session.report(world)
}

fn put(
    args: &BidArgs,
    page: String,
    session: &Session,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let Some(path) = &args.output else {
        return Ok(());
    };
    let help = "name the page as one, such as `-o bid.html`";
    let output = Output {
        path: outputs::named(path, &world.folder, "html", help)?,
        bytes: page.into_bytes(),
    };
    let mut read = session.files.clone();
    read.push(world.folder.join(&args.plan));
    outputs::write(&[output], &read, parge_sheets::is_sealed_page, args.force)
}
