//! `parge check`: every problem of plans, rules and prices, and nothing written.

use crate::args::CheckArgs;
use crate::session::Session;
use crate::{Exit, World};
use std::io;

pub(crate) fn run(args: &CheckArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut worst = Exit::Fine;
    for plan in &args.plans {
        let mut session = Session::default();
        if let Some(loaded) = session.load(plan, world) {
            session.estimate(&loaded);
        }
        let exit = session.report(world)?;
        if exit == Exit::Fine {
            writeln!(world.out, "{}: no errors", plan.display())?;
        }
        worst = if (exit as u8) > (worst as u8) {
            exit
        } else {
            worst
        };
    }
    Ok(worst)
}
