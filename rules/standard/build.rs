//! Has the packs taken in again when a file is added to them or leaves them.

// The build tool is told so on the standard output; there is no other way.
#![allow(clippy::print_stdout)]

fn main() {
    println!("cargo:rerun-if-changed=../packs");
}
