//! Whether corners make a simple polygon.

use super::geometry::ShapeError;

/// More corners than any drawing of a wall has; the test below takes time by their square.
const MOST_CORNERS: usize = 1000;

type Point = [f64; 2];

/// Refuses corners that make no polygon, sides without length, and sides that cross or touch.
pub(super) fn check(corners: &[Point]) -> Result<(), ShapeError> {
    let count = corners.len();
    let impossible = |text: String, help| Err(ShapeError::Impossible(text, help));
    if count < 3 {
        return impossible(
            format!("a polygon has at least three corners, not {count}"),
            "add the missing corners",
        );
    }
    if count > MOST_CORNERS {
        let text = format!("a polygon may have {MOST_CORNERS} corners, not {count}");
        return impossible(text, "divide the face into several");
    }
    let sides: Vec<(Point, Point)> = corners
        .iter()
        .copied()
        .zip(corners.iter().copied().cycle().skip(1))
        .take(count)
        .collect();
    for (at, (a, b)) in sides.iter().enumerate() {
        if a == b {
            let text = format!("side {} has no length: two corners are the same", at + 1);
            return impossible(
                text,
                "name each corner once; the last side closes by itself",
            );
        }
    }
    for (i, first) in sides.iter().enumerate() {
        for (j, second) in sides.iter().enumerate().skip(i + 1) {
            let neighbours = j == i + 1 || (i == 0 && j == count - 1);
            let meet = if neighbours {
                fold_back(first, second, j == i + 1)
            } else {
                cross(first, second)
            };
            if meet {
                let text = format!("side {} meets side {} of the polygon", i + 1, j + 1);
                return impossible(text, "name the corners in order around the face");
            }
        }
    }
    Ok(())
}

/// Whether two sides that share a corner lie over each other.
fn fold_back(first: &(Point, Point), second: &(Point, Point), in_order: bool) -> bool {
    let (shared, a, b) = if in_order {
        (first.1, first.0, second.1)
    } else {
        (first.0, first.1, second.0)
    };
    let (u, v) = (minus(a, shared), minus(b, shared));
    turn(shared, a, b) == 0.0 && u[0] * v[0] + u[1] * v[1] > 0.0
}

/// Whether two sides without a common corner cross or touch.
fn cross((a, b): &(Point, Point), (c, d): &(Point, Point)) -> bool {
    let (t1, t2, t3, t4) = (
        turn(*a, *b, *c),
        turn(*a, *b, *d),
        turn(*c, *d, *a),
        turn(*c, *d, *b),
    );
    if t1 * t2 < 0.0 && t3 * t4 < 0.0 {
        return true;
    }
    (t1 == 0.0 && within(*a, *b, *c))
        || (t2 == 0.0 && within(*a, *b, *d))
        || (t3 == 0.0 && within(*c, *d, *a))
        || (t4 == 0.0 && within(*c, *d, *b))
}

/// How far a corner may be off a line, as a share of its distance, and still lie on it: sizes in
/// feet or tenths are no exact binary numbers.
const NOISE: f64 = 1e-12;

/// Positive when `c` lies to the left of the way from `a` to `b`, zero when it lies in line.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    let (u, v) = (minus(b, a), minus(c, a));
    let turn = u[0] * v[1] - u[1] * v[0];
    let most = u[0].hypot(u[1]) * v[0].hypot(v[1]);
    if turn.abs() <= NOISE * most {
        0.0
    } else {
        turn
    }
}

/// Whether `p`, known to be in line with `a` and `b`, lies between them.
fn within(a: Point, b: Point, p: Point) -> bool {
    let between = |a: f64, b: f64, p: f64| a.min(b) <= p && p <= a.max(b);
    between(a[0], b[0], p[0]) && between(a[1], b[1], p[1])
}

fn minus(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

#[cfg(test)]
mod tests;
