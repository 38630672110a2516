//! `parge rules check`: everything that is wrong with a pack and the packs under it.

use super::{label, load};
use crate::args::PackArgs;
use crate::session::Session;
use crate::{Exit, World};
use std::io;

pub(crate) fn run(args: &PackArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    if let Some(pack) = load(&args.pack, &mut session, world) {
        writeln!(world.out, "{}: no errors", label(&pack))?;
    }
    session.report(world)
}
