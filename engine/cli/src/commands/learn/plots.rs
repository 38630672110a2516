//! Estimate against actual, a chart for each row that lines are put down to.

use crate::World;
use crate::args::LearnArgs;
use crate::outputs::Output;
use parge_calc::learn::{Learned, Lesson};
use parge_sheets::scatter::{Scatter, svg};

/// The charts that were asked for.
pub(super) fn charts(args: &LearnArgs, learned: &Learned, world: &World<'_>) -> Vec<Output> {
    let Some(folder) = &args.plots else {
        return Vec::new();
    };
    let lessons = learned
        .lessons
        .iter()
        .filter(|lesson| !lesson.points.is_empty());
    let chart = |lesson: &Lesson| Output {
        path: world.folder.join(folder).join(name(lesson)),
        bytes: svg(&Scatter::of(lesson, learned)).into_bytes(),
    };
    lessons.map(chart).collect()
}

/// The row's name as a file: rows may be called anything.
fn name(lesson: &Lesson) -> String {
    let row = lesson.cells.first().map(|cell| cell.cell.to_string());
    let plain = |letter: char| match letter {
        '.' | '-' => letter,
        letter if letter.is_alphanumeric() => letter,
        _ => '_',
    };
    let name: String = row.unwrap_or_default().chars().map(plain).collect();
    format!("{name}.svg")
}
