//! Every shape.

use super::{good, told_of};
use crate::ast::{Expr, ExprKind, Form, Statement};

fn form(text: &str) -> Form {
    let plan = good(&format!("parge 1\nstructure \"s\" {{ face f {text} }}"));
    match plan.statements.as_slice() {
        [Statement::Structure(structure)] => structure.body.faces[0].shape.node.clone(),
        other => panic!("{other:?}"),
    }
}

fn name(text: &str) -> Expr {
    super::expr(text)
}

#[test]
fn all_shapes_are_read() {
    let (a, b, c) = (name("a"), name("b"), name("c"));
    let (width, height) = (a.clone(), Some(b.clone()));
    assert_eq!(form("rect a x b"), Form::Rect { width, height });
    let [base, height] = [a.clone(), b.clone()];
    assert_eq!(form("triangle a × b"), Form::Triangle { base, height });
    let sides = Box::new([a.clone(), b.clone(), c.clone()]);
    assert_eq!(form("triangle sides a, b, c"), Form::TriangleSides(sides));
    let [bottom, top, height] = [a.clone(), b.clone(), c.clone()];
    assert_eq!(
        form("trapezoid a to b x c"),
        Form::Trapezoid {
            bottom,
            top,
            height
        }
    );
    let points = vec![
        (a.clone(), b.clone()),
        (b.clone(), c.clone()),
        (c.clone(), a.clone()),
    ];
    assert_eq!(form("polygon (a, b) (b, c)(c, a)"), Form::Polygon(points));
    assert_eq!(
        form("circle diameter a"),
        Form::Circle {
            diameter: a.clone()
        }
    );
    let [width, height] = [a.clone(), b.clone()];
    assert_eq!(form("arch a x b"), Form::Arch { width, height });
    let (diameter, height) = (a.clone(), Some(b.clone()));
    assert_eq!(
        form("cylinder diameter a x b"),
        Form::Cylinder {
            diameter,
            sweep: None,
            height
        }
    );
    let (diameter, sweep, height) = (a.clone(), Some(b.clone()), Some(c.clone()));
    assert_eq!(
        form("cylinder diameter a sweep b x c"),
        Form::Cylinder {
            diameter,
            sweep,
            height
        }
    );
    let (bottom, top, height) = (a.clone(), b.clone(), Some(c.clone()));
    assert_eq!(
        form("frustum a to b x c"),
        Form::Frustum {
            bottom,
            top,
            height
        }
    );
    assert_eq!(
        form("arc radius a sweep b x c"),
        Form::Arc {
            radius: a,
            sweep: b,
            height: Some(c)
        }
    );
}

#[test]
fn x_needs_no_blanks_beside_digits_and_marks() {
    let wanted = form("rect 4ft x 8ft");
    assert_eq!(form("rect 4'x8'"), wanted);
    assert_eq!(form("rect 4' x8'"), wanted);
    assert_eq!(form("rect 4ft ×8ft"), wanted);
    assert!(matches!(form("rect 4x8"), Form::Rect { .. }));
}

#[test]
fn sizes_are_expressions() {
    let Form::Rect { width, height } = form("rect 2 * (a + 1ft) x min(a, b) - 6in") else {
        panic!("no rect");
    };
    assert!(matches!(width.node, ExprKind::Binary(..)));
    assert!(height.is_some_and(|height| matches!(height.node, ExprKind::Binary(..))));
}

#[test]
fn a_polygon_may_go_over_lines_in_its_brackets() {
    assert!(matches!(
        form("polygon (0ft,\n 0ft) (1ft, 0ft) (1ft,\n\n 1ft)"),
        Form::Polygon(_)
    ));
}

#[test]
fn two_corners_are_no_polygon() {
    let told = told_of("structure \"s\" { face f polygon (0ft, 0ft) (1ft, 0ft) drystone }");
    assert!(told.contains("three corners"), "{told}");
}

#[test]
fn the_rarer_shapes_are_read() {
    let (a, b, c) = (name("a"), name("b"), name("c"));
    let [width, height] = [a.clone(), b.clone()];
    assert_eq!(form("ellipse a x b"), Form::Ellipse { width, height });
    let [outer, inner] = [a.clone(), b.clone()];
    assert_eq!(form("ring a to b"), Form::Ring { outer, inner });
    let [width, height, rise] = [a.clone(), b.clone(), c.clone()];
    assert_eq!(
        form("arch a x b rise c"),
        Form::SegmentArch {
            width,
            height,
            rise
        }
    );
    let [diameter, height] = [a.clone(), b.clone()];
    assert_eq!(form("cone diameter a x b"), Form::Cone { diameter, height });
    let [diameter, height] = [a.clone(), b.clone()];
    assert_eq!(form("dome diameter a x b"), Form::Dome { diameter, height });
    let stations = vec![(a.clone(), b.clone()), (b.clone(), c.clone())];
    let sloped = Form::Stations {
        stepped: false,
        stations: stations.clone(),
    };
    assert_eq!(form("stations (a, b) (b, c)"), sloped);
    assert_eq!(
        form("stations stepped (a, b) (b, c)"),
        Form::Stations {
            stepped: true,
            stations
        }
    );
    let Form::Measured {
        area,
        around,
        high,
        reason,
    } = form("measured a around b high c \"a boulder\"")
    else {
        panic!("no measured area");
    };
    assert_eq!(
        (area, around, high, reason.node.as_str()),
        (a, b, c, "a boulder")
    );
}

#[test]
fn mistakes_in_the_rarer_shapes() {
    let face = |shape: &str| told_of(&format!("structure \"s\" {{ face f {shape} }}"));
    insta::assert_snapshot!(
        [
            "ellipse 6ft 4ft",
            "ring 6ft",
            "arch 4ft x 7ft rise",
            "cone 6ft x 4ft",
            "dome diameter 6ft",
            "stations",
            "measured 42ft2 around 26ft high 5ft",
            "measured 42ft2",
            "arc radius 6ft sweep 90 x 4ft",
            "cylinder diameter 6ft sweep 3.5 x 4ft",
            "rect 4ft x 4ft drystone { opening o rect 1ft x 1ft reveal 4in on left }",
        ]
        .map(|shape| format!("{shape}\n{}\n", face(shape)))
        .join("\n")
    );
}

#[test]
fn a_shape_of_the_pack_has_its_name_and_sizes_in_brackets() {
    let Form::OfPack { name, sizes } = form("shape octagon(3ft, 2 * 4ft)") else {
        panic!("another form");
    };
    assert_eq!((name.node.as_str(), sizes.len()), ("octagon", 2));
    assert!(matches!(form("shape \"bull nose\"()"), Form::OfPack { .. }));
}
