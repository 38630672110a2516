//! What the parts cost at best: the same work without what makes it Parge.

mod arithmetic;
mod cells;

pub use arithmetic::Class;
pub use cells::{Cells, read_into_nothing};

/// Looks at every byte of a text once, line by line.
pub fn scan(text: &str) -> u64 {
    let lines = text.as_bytes().split(|byte| *byte == b'\n');
    lines
        .map(|line| line.iter().map(|byte| u64::from(*byte)).sum::<u64>())
        .sum()
}
