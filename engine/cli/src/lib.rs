//! The program `parge` as a library, so that tests can run it without a process.
//!
//! This crate reads and writes files, draws on the terminal and decides on exit codes. It
//! computes nothing.

mod args;
mod commands;
mod exit;
mod files;
mod in_parts;
mod includes;
mod origin;
mod outputs;
mod packs;
mod past_job;
mod render;
mod session;
mod table;
mod unfinished;

pub use exit::Exit;
pub use unfinished::interrupted;

use args::{Args, Command};
use clap::Parser;
use std::ffi::OsString;
use std::io::{BufRead, Write};
use std::path::PathBuf;

/// What the program sees of the world around it.
pub struct World<'w> {
    /// Where results go.
    pub out: &'w mut dyn Write,
    /// Where diagnostics go.
    pub err: &'w mut dyn Write,
    /// Where answers come from, if somebody is there to give them.
    pub input: Option<&'w mut dyn BufRead>,
    /// The folder that relative paths start from.
    pub folder: PathBuf,
    /// Columns of the terminal.
    pub width: u16,
    /// Whether diagnostics are coloured.
    pub colour: bool,
    /// Whether somebody watches diagnostics come, and with them how far a long run is.
    pub watched: bool,
}

/// Runs the program with its arguments, the first of which is its own name.
pub fn run(arguments: impl IntoIterator<Item = OsString>, world: &mut World<'_>) -> Exit {
    let args = match Args::try_parse_from(arguments) {
        Ok(args) => args,
        Err(error) => return usage(&error, world),
    };
    let result = match &args.command {
        Command::New(args) => commands::new::run(args, world),
        Command::Check(args) => commands::check::run(args, world),
        Command::Takeoff(args) => commands::takeoff::run(args, world),
        Command::Estimate(args) => commands::estimate::run(args, world),
        Command::Bid(args) => commands::bid::run(args, world),
        Command::Draw(args) => commands::draw::run(args, world),
        Command::Days(args) => commands::days::run(args, world),
        Command::Explain(args) => commands::explain::run(args, world),
        Command::Diff(args) => commands::diff::run(args, world),
        Command::Import(args) => commands::import::run(args, world),
        Command::Whatif(args) => commands::whatif::run(args, world),
        Command::Actuals(args) => commands::actuals::run(args, world),
        Command::Learn(args) => commands::learn::run(args, world),
        Command::Fmt(args) => commands::fmt::run(args, world),
        Command::Rules(rules) => commands::rules::run(&rules.command, world),
        Command::Checks => commands::checks::run(world),
        Command::Why(args) => commands::why::run(args, world),
    };
    // What was to be said could not be written down to its end.
    result.unwrap_or(Exit::Failed)
}

fn usage(error: &clap::Error, world: &mut World<'_>) -> Exit {
    let text = error.render();
    if error.use_stderr() {
        let _ = write!(world.err, "{text}");
        Exit::Usage
    } else {
        let _ = write!(world.out, "{text}");
        Exit::Fine
    }
}
