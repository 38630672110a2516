//! The faces of a structure on sheets, all at one scale.

use super::canvas::{Canvas, TEXT, lines};
use super::caption::{Words, words};
use super::dimension::rounding;
use super::face::Cell;
use super::scale::Scale;
use super::{Sheet, WIDTH};
use crate::text::isolated;
use parge_calc::elevation::{Elevation, Elevations};
use parge_calc::job::{Job, UnitSystem};
use parge_calc::measure::Measured;

/// Room for the name of the structure and the bar, and for the note at the foot.
const HEAD: f64 = 15.0;
const FOOT: f64 = 6.0;
/// Between faces, and between rows.
const GAP: f64 = 8.0;
const ROW_GAP: f64 = 6.0;
/// The highest sheet that prints on one page, under the heading of a part.
const HIGHEST: f64 = 215.0;
/// The widest face on paper, so that its dimensions have room beside it.
const WIDEST: f64 = 155.0;
/// The highest one.
const TALLEST: f64 = 80.0;
/// A structure whose largest face would be smaller than this on one sheet takes several.
const SMALLEST: f64 = 40.0;
/// The largest face of such a structure.
const ON_SEVERAL: f64 = 60.0;

/// A face with its words.
type Drawn = (Elevation, Words);

pub(super) fn of_structures(measured: &Measured, only: Option<usize>) -> Vec<Sheet> {
    let job = &measured.job;
    let mut elevations = Elevations::of(measured);
    let mut all: Vec<(usize, Vec<Drawn>)> = Vec::new();
    for (number, of) in measured.faces.iter().enumerate() {
        let Some(face) = job.faces.get(of.face) else {
            continue;
        };
        if only.is_some_and(|only| only != number) {
            continue;
        }
        let Some(elevation) = elevations.face(of) else {
            continue;
        };
        let words = words(job, of, face, &elevation);
        match all.last_mut() {
            Some((structure, faces)) if *structure == face.structure => {
                faces.push((elevation, words));
            }
            _ => all.push((face.structure, vec![(elevation, words)])),
        }
    }
    let each = all.iter();
    each.flat_map(|(structure, faces)| of_structure(job, *structure, faces))
        .collect()
}

fn of_structure(job: &Job, structure: usize, faces: &[Drawn]) -> Vec<Sheet> {
    let name = job.structure_name(structure);
    let (scale, rows) = arranged(faces, job.units);
    let pages = pages(rows);
    let count = pages.len();
    let page = |(number, rows): (usize, Vec<Row<'_>>)| {
        let part = match count {
            1 => String::new(),
            count => format!(" ({} of {count})", number + 1),
        };
        let mut canvas = Canvas::default();
        head(&mut canvas, name, &part, scale);
        let mut y = HEAD;
        for row in &rows {
            row.draw(&mut canvas, y);
            y += row.height() + ROW_GAP;
        }
        let height = y - ROW_GAP + FOOT;
        canvas.text([0.0, height - 1.0], "pd-small", rounding(job.units));
        Sheet {
            structure: name.to_owned(),
            scale: scale.words(),
            height,
            body: canvas.body,
        }
    };
    pages.into_iter().enumerate().map(page).collect()
}

fn head(canvas: &mut Canvas, name: &str, part: &str, scale: Scale) {
    canvas.line([0.0, 0.2], [WIDTH, 0.2], "pd-rule");
    let mut name = lines(&isolated(name), TEXT * 1.7, WIDTH - 75.0, 1);
    let name = name.pop().unwrap_or_default();
    canvas.text([0.0, 6.0], "pd-head", &format!("{name}{part}"));
    let words = format!("Scale {} where printed at full size", scale.words());
    canvas.text([0.0, 10.2], "pd-small", &words);
    scale.bar(canvas, WIDTH - 6.0, 6.5);
}

/// The largest scale at which all faces have room on one sheet, unless they become too small.
fn arranged(faces: &[Drawn], units: UnitSystem) -> (Scale, Vec<Row<'_>>) {
    for scale in Scale::all(units) {
        let cells = cells(faces, scale, units);
        let [wide, high] = largest(&cells);
        if wide.max(high) < SMALLEST {
            break;
        }
        if wide <= WIDEST && high <= TALLEST {
            let rows = rows(cells);
            if height(&rows) <= HIGHEST {
                return (scale, rows);
            }
        }
    }
    let sizes = faces.iter().flat_map(|(elevation, _)| elevation.size);
    let scale = Scale::at_most(sizes.fold(0.0, f64::max), ON_SEVERAL, units);
    (scale, rows(cells(faces, scale, units)))
}

fn cells(faces: &[Drawn], scale: Scale, units: UnitSystem) -> Vec<Cell<'_>> {
    let faces = faces.iter();
    faces
        .map(|(elevation, words)| Cell::of(elevation, words, scale, units))
        .collect()
}

fn largest(cells: &[Cell<'_>]) -> [f64; 2] {
    let papers = cells.iter().map(Cell::paper);
    papers.fold([0.0, 0.0], |[w, h], [wide, high]| {
        [w.max(wide), h.max(high)]
    })
}

/// Faces beside each other, on one ground line.
#[derive(Default)]
struct Row<'a> {
    cells: Vec<Cell<'a>>,
}

impl<'a> Row<'a> {
    fn width(&self) -> f64 {
        let cells = self.cells.iter().map(Cell::width).sum::<f64>();
        cells + GAP * self.cells.len().saturating_sub(1) as f64
    }

    fn most(&self, of: impl Fn(&Cell<'a>) -> f64) -> f64 {
        self.cells.iter().map(of).fold(0.0, f64::max)
    }

    fn height(&self) -> f64 {
        self.most(Cell::above) + self.most(Cell::depth) + self.most(Cell::caption_height)
    }

    fn draw(&self, canvas: &mut Canvas, top: f64) {
        let foot = top + self.most(Cell::above);
        let deepest = self.most(Cell::depth);
        let mut x = 0.0;
        for cell in &self.cells {
            cell.draw(canvas, [x, foot], deepest);
            x += cell.width() + GAP;
        }
    }
}

/// Cells in rows, in their order, as many in each as there is room for.
fn rows(cells: Vec<Cell<'_>>) -> Vec<Row<'_>> {
    let mut rows: Vec<Row<'_>> = Vec::new();
    for cell in cells {
        match rows.last_mut() {
            Some(row) if row.width() + GAP + cell.width() <= WIDTH => row.cells.push(cell),
            _ => rows.push(Row { cells: vec![cell] }),
        }
    }
    rows
}

fn height(rows: &[Row<'_>]) -> f64 {
    let each: f64 = rows.iter().map(|row| row.height() + ROW_GAP).sum();
    HEAD + each + FOOT
}

/// Rows on sheets, as many on each as there is room for.
fn pages(rows: Vec<Row<'_>>) -> Vec<Vec<Row<'_>>> {
    let mut pages: Vec<Vec<Row<'_>>> = Vec::new();
    let mut taken = HEAD + FOOT;
    for row in rows {
        let high = row.height() + ROW_GAP;
        match pages.last_mut() {
            Some(page) if taken + high <= HIGHEST => page.push(row),
            _ => {
                taken = HEAD + FOOT;
                pages.push(vec![row]);
            }
        }
        taken += high;
    }
    pages
}
