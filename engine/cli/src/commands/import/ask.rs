//! Questions at a terminal.

use crate::World;
use crate::table::visible;
use parge_importers::faces::Question;
use parge_importers::grid::Book;
use parge_importers::profile::Profile;
use std::io;

/// How often an answer that is none is asked for again.
const TRIES: usize = 3;

/// Asks each question and takes the answers into the profile. Whether all were answered: without a
/// terminal, or at the end of what it types, they were not.
pub(super) fn ask(
    book: &Book,
    questions: &[Question],
    profile: &mut Profile,
    world: &mut World<'_>,
) -> io::Result<bool> {
    if world.input.is_none() {
        return Ok(false);
    }
    for question in questions {
        if !one(book, question, profile, world)? {
            return Ok(false);
        }
    }
    Ok(true)
}

fn one(
    book: &Book,
    question: &Question,
    profile: &mut Profile,
    world: &mut World<'_>,
) -> io::Result<bool> {
    let place = book.cell_name(question.at);
    writeln!(
        world.err,
        "{}  ({})",
        visible(&question.text),
        visible(&place)
    )?;
    for (number, (word, means)) in question.choices.iter().enumerate() {
        let means = if means.is_empty() {
            String::new()
        } else {
            format!(": {means}")
        };
        writeln!(world.err, "  {} {word}{means}", number + 1)?;
    }
    for _ in 0..TRIES {
        write!(world.err, "> ")?;
        world.err.flush()?;
        let mut line = String::new();
        let Some(input) = world.input.as_deref_mut() else {
            return Ok(false);
        };
        if input.read_line(&mut line)? == 0 {
            return Ok(false);
        }
        let typed = line.trim();
        let numbered = typed
            .parse::<usize>()
            .ok()
            .and_then(|number| number.checked_sub(1));
        let chosen = numbered.and_then(|number| question.choices.get(number));
        let answer = chosen.map_or(typed, |(word, _)| word);
        match profile.answer(&question.key, answer) {
            Ok(()) => return Ok(true),
            Err(help) => writeln!(world.err, "write {help}")?,
        }
    }
    Ok(false)
}
