//! Shapes, and the words between and behind sizes.

use super::Home::{Detail, Shape, Side, Size};
use super::{Explained, row};

/// The shapes with their areas.
pub(super) const SHAPES: &[Explained] = &[
    row(
        Shape,
        "rect",
        "width W by height H; area W·H",
        "rect 22ft x 4ft",
    ),
    row(
        Shape,
        "triangle",
        "base B by height H, as a gable is; area B·H/2. By three sides A, B, C: √(s(s-A)(s-B)(s-C)) with s half their sum",
        "triangle 10ft x 3ft",
    ),
    row(
        Shape,
        "trapezoid",
        "bottom B to top T by height H, symmetric; area (B+T)/2·H",
        "trapezoid 10ft to 6ft x 4ft",
    ),
    row(
        Shape,
        "polygon",
        "any outline by its corners; area by the shoelace formula",
        "polygon (0ft, 0ft) (10ft, 0ft) (5ft, 7ft)",
    ),
    row(
        Shape,
        "circle",
        "diameter D; area πD²/4",
        "circle diameter 3ft",
    ),
    row(
        Shape,
        "arch",
        "width W by height H at the crown, a half circle on a rectangle; area W(H-W/2) + πW²/8. With `rise`: a flatter arc on top",
        "arch 2ft x 3ft",
    ),
    row(
        Shape,
        "cylinder",
        "diameter D by height H; area πDH. With `sweep`: a part of the round",
        "cylinder diameter 2ft x 9ft",
    ),
    row(
        Shape,
        "frustum",
        "diameter D1 at the foot to D2 at the top by upright height H; area π(D1+D2)/2·s, s = √(((D1-D2)/2)²+H²)",
        "frustum 30in to 22in x 9ft",
    ),
    row(
        Shape,
        "arc",
        "a wall on an arc of radius R and angle A, H high; area R·A·H, A in radians",
        "arc radius 6ft sweep 90deg x 4ft",
    ),
    row(
        Shape,
        "ellipse",
        "width W by height H; area πWH/4",
        "ellipse 6ft x 4ft",
    ),
    row(
        Shape,
        "ring",
        "outer diameter D to inner d; area π(D²-d²)/4",
        "ring 6ft to 4ft",
    ),
    row(
        Shape,
        "cone",
        "diameter D by upright height H; area πD/2·s, s = √(D²/4+H²)",
        "cone diameter 6ft x 4ft",
    ),
    row(
        Shape,
        "dome",
        "a cap of a sphere, diameter D at its foot by height H; area π(D²/4+H²)",
        "dome diameter 6ft x 3ft",
    ),
    row(
        Shape,
        "stations",
        "distances along the wall with the height at each; area as trapezoids between them",
        "stations (0ft, 4ft) (12ft, 6ft)",
    ),
    row(
        Shape,
        "shape",
        "a shape of the rule pack, with its sizes in the order in which the pack lists them",
        "shape octagon(3ft, 9ft)",
    ),
    row(
        Shape,
        "measured",
        "an area as it was measured, for what no shape describes, with the reason",
        "measured 42ft2 around 26ft high 5ft \"boulder, taped in strips\"",
    ),
];

/// Words between the sizes of a shape.
pub(super) const BETWEEN: &[Explained] = &[
    row(Size, "x", "by, between two sizes", "rect 22ft x 4ft"),
    row(
        Size,
        "to",
        "from the bottom or outer size to the top or inner one",
        "frustum 30in to 22in x 9ft",
    ),
    row(
        Size,
        "diameter",
        "the size of a round across",
        "circle diameter 3ft",
    ),
    row(
        Size,
        "radius",
        "the size of a round from its middle",
        "arc radius 6ft sweep 90deg x 4ft",
    ),
    row(
        Size,
        "sweep",
        "the angle of the round that is covered",
        "cylinder diameter 2ft sweep 180deg x 9ft",
    ),
    row(
        Size,
        "rise",
        "height of the crown above the springing",
        "arch 4ft x 7ft rise 1ft",
    ),
    row(
        Size,
        "sides",
        "a triangle by its three sides, the bottom first",
        "triangle sides 10ft, 6ft, 6ft",
    ),
    row(
        Size,
        "stepped",
        "each height holds up to the next station",
        "stations stepped (0ft, 4ft) (12ft, 6ft)",
    ),
    row(
        Size,
        "around",
        "the length all around what was measured",
        "measured 42ft2 around 26ft high 5ft \"boulder\"",
    ),
    row(
        Size,
        "high",
        "the height of what was measured",
        "measured 42ft2 around 26ft high 5ft \"boulder\"",
    ),
];

/// Words behind the size of a face or an opening.
pub(super) const BEHIND: &[Explained] = &[
    row(
        Detail,
        "on",
        "what the face is built of, where that is not its structure's; behind a reveal, the sides that have one",
        "face gable triangle 10ft x 3ft on wood",
    ),
    row(
        Detail,
        "count",
        "how many equal ones there are",
        "face ends rect 4ft x 3ft count 2",
    ),
    row(
        Detail,
        "at",
        "height above ground of the top of the work",
        "face trunk rect 4ft x 3ft at 9ft",
    ),
    row(
        Detail,
        "reveal",
        "depth of the reveal, all around or on the sides named",
        "reveal 8in on top, sides",
    ),
    row(
        Detail,
        "from",
        "the cell of a client's sheet that its sizes come from",
        "face north rect 12ft x 8ft from \"Rooms!A7\"",
    ),
    row(
        Detail,
        "finish",
        "the finish of the reveal, where that is not the face's",
        "opening niche arch 2ft x 3ft reveal 8in finish bark",
    ),
    row(
        Side,
        "top",
        "the upper edge of the opening",
        "reveal 8in on top",
    ),
    row(
        Side,
        "bottom",
        "the lower edge of the opening",
        "reveal 8in on bottom",
    ),
    row(
        Side,
        "sides",
        "the upright edges of the opening",
        "reveal 8in on sides",
    ),
];
