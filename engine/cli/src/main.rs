//! The program `parge`.

use parge_cli::{Exit, World};
use std::io::{BufRead, IsTerminal, stderr, stdin, stdout};
use std::process::ExitCode;

/// Columns of text where no terminal tells its width.
const DEFAULT_WIDTH: u16 = 100;

fn main() -> ExitCode {
    // Where this cannot be had, an interruption ends the program as it ends others.
    let _ = ctrlc::set_handler(|| parge_cli::interrupted());
    // A panic is a fault of the program, and ends with its exit code; its message is printed.
    std::panic::catch_unwind(run).unwrap_or(Exit::Failed).into()
}

fn run() -> Exit {
    let width = terminal_size::terminal_size().map_or(DEFAULT_WIDTH, |(width, _)| width.0);
    let no_colour = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let mut input = stdin().lock();
    let asks = stdin().is_terminal() && stderr().is_terminal();
    let mut world = World {
        out: &mut stdout().lock(),
        err: &mut stderr().lock(),
        input: asks.then_some(&mut input as &mut dyn BufRead),
        folder: std::env::current_dir().unwrap_or_default(),
        width,
        colour: stderr().is_terminal() && !no_colour,
        watched: stderr().is_terminal(),
    };
    parge_cli::run(std::env::args_os(), &mut world)
}
