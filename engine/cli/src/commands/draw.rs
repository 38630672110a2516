//! `parge draw`: the faces of a plan to scale.

use crate::args::DrawArgs;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::visible;
use crate::{Exit, World};
use parge_base::Diagnostic;
use parge_base::diagnostic::any_error;
use parge_calc::elevation;
use parge_calc::measure::Measured;
use parge_sheets::drawing;
use std::io;

pub(crate) fn run(args: &DrawArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let takeoff = session.load(&args.plan, world).and_then(|loaded| {
        session.files.push(world.folder.join(&args.plan));
        session.guard_prices(&loaded);
        session.take_off(&loaded)
    });
    let mut drawn = Exit::Fine;
    if let Some(takeoff) = takeoff.filter(|_| !any_error(&session.diagnostics)) {
        drawn = draw(args, &takeoff.measured, &mut session, world)?;
    }
    let reported = session.report(world)?;
    Ok(if drawn == Exit::Fine { reported } else { drawn })
}

fn draw(
    args: &DrawArgs,
    measured: &Measured,
    session: &mut Session,
    world: &mut World<'_>,
) -> io::Result<Exit> {
    let only = match &args.face {
        None => None,
        Some(name) => match elevation::find(measured, name) {
            Ok(number) => Some(number),
            Err(nearest) => return refuse(name, nearest.as_deref(), world),
        },
    };
    let svg = drawing::svg(&drawing::sheets(measured, only));
    let page = parge_sheets::sealed_page(&svg);
    match args.output {
        None => write!(world.out, "{page}")?,
        Some(_) => session
            .diagnostics
            .extend(put(args, page, session, world).err()),
    }
    Ok(Exit::Fine)
}

/// A name that no face has is wrong use.
fn refuse(name: &str, nearest: Option<&str>, world: &mut World<'_>) -> io::Result<Exit> {
    let name = visible(name);
    let help = match nearest {
        Some(nearest) => format!("did you mean `{}`?", visible(nearest)),
        None => "write the structure and the face as the plan names them: `Kiosk/front`".to_owned(),
    };
    writeln!(
        world.err,
        "error: the job has no face `{name}`\n\nhelp: {help}\n"
    )?;
    Ok(Exit::Usage)
}

fn put(
    args: &DrawArgs,
    page: String,
    session: &Session,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let Some(path) = &args.output else {
        return Ok(());
    };
    let help = "name the drawing as one, such as `-o faces.svg`";
    let output = Output {
        path: outputs::named(path, &world.folder, "svg", help)?,
        bytes: page.into_bytes(),
    };
    outputs::write(
        &[output],
        &session.files,
        parge_sheets::is_sealed_page,
        args.force,
    )
}
