use super::*;
use std::cell::Cell;
use std::io::{self, Write};

/// Holds what was made against what came through before.
struct Watched<'a> {
    made: &'a Cell<usize>,
    text: String,
}

impl Write for Watched<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let lines = self.text.matches(',').count();
        assert!(self.made.get() <= lines + 2, "{}", self.text);
        self.text += std::str::from_utf8(bytes).unwrap();
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_line_is_made_when_it_is_written() {
    let made = Cell::new(0);
    let rows = Rows::of(|| (0..500).inspect(|_| made.set(made.get() + 1)));
    let mut to = Watched {
        made: &made,
        text: String::new(),
    };
    serde_json::to_writer(&mut to, &rows).unwrap();
    let all: Vec<u32> = serde_json::from_str(&to.text).unwrap();
    assert_eq!(all, Vec::from_iter(0..500));
    assert_eq!(made.get(), 500);
}

#[test]
fn no_lines_are_an_empty_list_and_lists_can_be_written_twice() {
    let none = Rows::of(std::iter::empty::<u32>);
    assert_eq!(serde_json::to_string_pretty(&none).unwrap(), "[]");
    // Its length is not known before.
    let odd = Rows::of(|| (0..4).filter(|number| number % 2 == 1));
    for _ in 0..2 {
        assert_eq!(serde_json::to_string(&odd).unwrap(), "[1,3]");
    }
    let nothing = Rows::of(|| (0..4).filter(|number| *number > 9));
    assert_eq!(serde_json::to_string_pretty(&nothing).unwrap(), "[]");
}
