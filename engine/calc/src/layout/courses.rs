//! Courses of sheets, laid piece by piece.
//!
//! A course begins with an offcut of the ones before, where a long enough one is left, and else
//! with a new sheet; whole sheets follow, each lapping over the last one's end, and a piece cut to
//! length ends it. So every place is covered, with laps, and what is counted are the sheets cut into.

use super::Sheet;
use super::outline::{Interval, Outline};
use parge_base::number::{round_to, whole_up};

/// More pieces than any wall takes; a face with more is counted by area.
const MOST_PIECES: f64 = 100_000.0;

/// How much a length may be off by binary noise, m.
const NOISE: f64 = 1e-9;

/// A piece on the wall, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Piece {
    /// The course, from 0 at the foot.
    pub(super) course: usize,
    /// Its left end; at the end of a closed round it goes on past the beginning.
    pub(super) from: f64,
    /// Its length, laps included.
    pub(super) length: f64,
}

/// A part of a course to be covered.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    course: usize,
    from: f64,
    pub(super) length: f64,
}

/// A face as it is laid out.
#[derive(Debug)]
pub(super) struct Laid {
    /// The parts of the courses.
    pub(super) runs: Vec<Run>,
    courses: usize,
    /// The height that the last course has to cover, m.
    last: f64,
    pieces: f64,
    /// Sheets that were cut, where the item comes in sheets.
    cut: usize,
    /// How many strips a sheet gives for the last course, where it is narrower.
    strips: usize,
    /// The pieces; none of what is taken off a roll.
    pub(super) placed: Vec<Piece>,
}

impl Laid {
    /// Lays out an item; none where the face would take more pieces than any wall has.
    pub(super) fn out(outline: &Outline, sheet: &Sheet) -> Option<Self> {
        let height = outline.height();
        let courses = courses(height, sheet);
        if courses > MOST_PIECES {
            return None;
        }
        let courses = courses as usize;
        let runs: Vec<Run> = (0..courses)
            .flat_map(|course| runs(outline, sheet, course, height))
            .collect();
        let length: f64 = runs.iter().map(|run| run.length).sum();
        if length / sheet.run() > MOST_PIECES || runs.is_empty() {
            return None;
        }
        let mut laid = Self {
            last: height - (courses.saturating_sub(1)) as f64 * sheet.rise(),
            runs,
            courses,
            pieces: length / sheet.run(),
            cut: 0,
            strips: 1,
            placed: Vec::new(),
        };
        if sheet.whole_pieces {
            laid.lay(sheet);
        }
        Some(laid)
    }

    /// What the same way of laying takes around an opening in a certain place.
    #[cfg(test)]
    pub(super) fn around(
        outline: &Outline,
        sheet: &Sheet,
        [left, foot]: [f64; 2],
        [wide, high]: [f64; 2],
    ) -> f64 {
        let height = outline.height();
        let all = (0..courses(height, sheet) as usize).flat_map(|course| {
            let from = course as f64 * sheet.rise();
            let to = (from + sheet.width).min(height);
            let run = runs(outline, sheet, course, height);
            if from < foot || to > foot + high {
                return run;
            }
            let parts = run.iter().flat_map(|run| {
                let right = left + wide;
                let before = Run {
                    length: left,
                    ..*run
                };
                let after = Run {
                    from: right,
                    length: run.length - right,
                    ..*run
                };
                [before, after]
            });
            parts.filter(|part| part.length > NOISE).collect()
        });
        Bench::lay(&all.collect::<Vec<_>>(), sheet).new as f64
    }

    /// How many are taken.
    pub(super) fn pieces(&self) -> f64 {
        self.pieces
    }

    /// Lays all courses alike, or the last one in strips that are split off lengthwise, whichever
    /// takes fewer sheets.
    fn lay(&mut self, sheet: &Sheet) {
        let alike = Bench::lay(&self.runs, sheet);
        (self.pieces, self.cut) = (alike.new as f64, alike.cut);
        self.placed = alike.placed;
        let strips = (sheet.width / self.last + NOISE).floor();
        if sheet.smallest_piece.is_none() || strips < 2.0 {
            return;
        }
        let below = self.runs.iter().filter(|run| run.course + 1 < self.courses);
        let last = self
            .runs
            .iter()
            .filter(|run| run.course + 1 == self.courses);
        let mut below = Bench::lay(&below.copied().collect::<Vec<_>>(), sheet);
        let last = Bench::lay(&last.copied().collect::<Vec<_>>(), sheet);
        let split = whole_up(last.new as f64 / strips);
        let pieces = below.new as f64 + split;
        if pieces < self.pieces {
            (self.pieces, self.cut) = (pieces, below.cut + split as usize);
            self.strips = strips as usize;
            below.placed.extend(last.placed);
            self.placed = below.placed;
        }
    }

    /// What one of equal faces takes of a sheet that is enough for several of them, and for how
    /// many.
    pub(super) fn shared(
        &self,
        sheet: &Sheet,
        outline: &Outline,
        count: u32,
    ) -> Option<(f64, f64)> {
        let ([run], Outline::Box(_), Some(_)) =
            (self.runs.as_slice(), outline, sheet.smallest_piece)
        else {
            return None;
        };
        if !sheet.whole_pieces || self.pieces > 1.0 {
            return None;
        }
        let along = (sheet.length / run.length + NOISE).floor();
        let across = (sheet.width / self.last + NOISE).floor();
        let (from_one, count) = (along * across, f64::from(count.max(1)));
        let share = whole_up(count / from_one) / count;
        (share < 1.0).then_some((share, from_one))
    }

    /// The layout in words.
    pub(super) fn words(&self, sheet: &Sheet) -> String {
        let courses = match self.courses {
            1 => "1 course".to_owned(),
            more => format!("{more} courses"),
        };
        if !sheet.whole_pieces {
            return format!(
                "{courses}, taken off by length, {}",
                Self::amount(self.pieces)
            );
        }
        let whole = self.pieces - self.cut as f64;
        let split = match self.strips {
            1 => String::new(),
            strips => format!(", the last course in strips, {strips} out of a sheet"),
        };
        format!(
            "{courses}, {} whole and {} cut{split}",
            Self::amount(whole),
            self.cut
        )
    }

    /// A number of pieces in words.
    pub(super) fn amount(pieces: f64) -> String {
        round_to(pieces, 2).to_string()
    }
}

/// `width + (courses - 1) x (width - side lap)` reaches up to the height.
fn courses(height: f64, sheet: &Sheet) -> f64 {
    whole_up((height - sheet.side_lap) / sheet.rise()).max(1.0)
}

/// What a course has to cover. A closed round laps over its own beginning. On other faces every
/// course is carried past one corner: a corner belongs to two faces, and is passed once.
fn runs(outline: &Outline, sheet: &Sheet, course: usize, height: f64) -> Vec<Run> {
    let from = course as f64 * sheet.rise();
    let to = (from + sheet.width).min(height);
    let more = if outline.is_round() {
        sheet.end_lap
    } else {
        sheet.corner_carry
    };
    let parts = outline.strips(from, to).into_iter().enumerate();
    let runs = parts.map(|(number, [from, to]): (usize, Interval)| Run {
        course,
        from,
        length: to - from + if number == 0 { more } else { 0.0 },
    });
    runs.collect()
}

/// Where sheets are cut: what was taken so far, and the offcuts left.
struct Bench<'s> {
    sheet: &'s Sheet,
    new: usize,
    cut: usize,
    /// Offcuts that are long enough to be used, in no order.
    offcuts: Vec<f64>,
    placed: Vec<Piece>,
    /// Where the end joints are: of the course being laid, and of the one before.
    joints: [Vec<f64>; 2],
    course: usize,
}

impl<'s> Bench<'s> {
    fn lay(runs: &[Run], sheet: &'s Sheet) -> Self {
        let mut bench = Self {
            sheet,
            new: 0,
            cut: 0,
            offcuts: Vec::new(),
            placed: Vec::new(),
            joints: [Vec::new(), Vec::new()],
            course: 0,
        };
        for run in runs {
            if run.course != bench.course {
                let done = std::mem::take(&mut bench.joints[0]);
                bench.joints[1] = done;
                bench.course = run.course;
            }
            bench.run(run);
        }
        bench
    }

    /// Covers one part of a course.
    fn run(&mut self, run: &Run) {
        let lap = self.sheet.end_lap;
        let first = self.first(run);
        self.place(run, 0.0, first);
        let mut covered = first;
        while run.length - covered > NOISE {
            self.joints[0].push(run.from + covered);
            let start = covered - lap;
            let wanted = run.length - start;
            let length = if wanted > self.sheet.length + NOISE {
                self.new += 1;
                self.sheet.length
            } else {
                self.piece(wanted);
                wanted
            };
            self.place(run, start, length);
            covered = start + length;
        }
    }

    fn place(&mut self, run: &Run, start: f64, length: f64) {
        self.placed.push(Piece {
            course: run.course,
            from: run.from + start,
            length,
        });
    }

    /// The piece that a part begins with: the whole of it where a piece is long enough, else the
    /// longest offcut whose joints are clear of those below, else a new sheet, or half of one
    /// where the whole would not be.
    fn first(&mut self, run: &Run) -> f64 {
        if run.length <= self.sheet.length + NOISE {
            self.piece(run.length);
            return run.length;
        }
        let clear = |length: f64| self.is_clear(run.from + length);
        let usable = self.offcuts.iter().copied().enumerate();
        let usable = usable.filter(|(_, length)| clear(*length));
        let longest = usable.max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((number, length)) = longest {
            self.offcuts.swap_remove(number);
            return length;
        }
        if clear(self.sheet.length) {
            self.new += 1;
            return self.sheet.length;
        }
        let half = self.sheet.length / 2.0;
        self.piece(half);
        half
    }

    /// Whether joints that begin at a place, one every sheet's run, are clear of those below.
    fn is_clear(&self, joint: f64) -> bool {
        let run = self.sheet.run();
        self.joints[1].iter().all(|below| {
            let apart = (joint - below).rem_euclid(run);
            apart.min(run - apart) >= self.sheet.stagger - NOISE
        })
    }

    /// Cuts a piece to length: of the shortest offcut that gives it, else of a new sheet.
    fn piece(&mut self, length: f64) {
        let enough = self.offcuts.iter().copied().enumerate();
        let enough = enough.filter(|(_, offcut)| *offcut + NOISE >= length);
        let shortest = enough.min_by(|a, b| a.1.total_cmp(&b.1));
        let from = match shortest {
            Some((number, offcut)) => {
                self.offcuts.swap_remove(number);
                offcut
            }
            None => {
                self.new += 1;
                if length < self.sheet.length - NOISE {
                    self.cut += 1;
                }
                self.sheet.length
            }
        };
        let left = from - length;
        if self.sheet.smallest_piece.is_some_and(|least| left >= least) {
            self.offcuts.push(left);
        }
    }
}
