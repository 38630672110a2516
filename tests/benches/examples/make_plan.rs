//! Prints a made plan: `cargo run --example make_plan -p parge-benches -- FACES`.

use std::io::{self, Write};

fn main() -> io::Result<()> {
    let faces = std::env::args().nth(1).and_then(|word| word.parse().ok());
    io::stdout().write_all(parge_benches::plan(faces.unwrap_or(1000)).as_bytes())
}
