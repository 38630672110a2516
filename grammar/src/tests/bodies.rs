//! What stands in the blocks of structures, templates and faces.

use super::good;
use crate::ast::{Body, BodySetting, Edge, FaceDetail, Form, OpeningDetail, Statement};

fn body(text: &str) -> Body {
    let plan = good(&format!("parge 1\nstructure s {{\n{text}\n}}"));
    match plan.statements.as_slice() {
        [Statement::Structure(structure)] => structure.body.clone(),
        other => panic!("{other:?}"),
    }
}

/// An edge in short: kind, and whether it is counted.
fn shown(edge: &Edge) -> (&str, bool) {
    (edge.kind.node.as_str(), edge.count.is_some())
}

#[test]
fn settings_hold_for_all_faces() {
    let body = body(
        "finish bark  height 8ft at 9ft conditions { access tight\n place indoors }\n\
         edge cap 22ft count 2  edge \"drip edge\" street.width\nface street rect 22ft",
    );
    let [finish, height, at, conditions] = body.settings.as_slice() else {
        panic!("{body:?}");
    };
    assert!(matches!(&finish.node, BodySetting::Finish(name) if name.node == "bark"));
    assert!(matches!(height.node, BodySetting::Height(_)));
    assert!(matches!(at.node, BodySetting::At(_)));
    assert!(matches!(&conditions.node, BodySetting::Conditions(pairs) if pairs.len() == 2));
    let edges: Vec<_> = body.edges.iter().map(shown).collect();
    assert_eq!(edges, [("cap", true), ("drip edge", false)]);
    assert_eq!(body.faces.len(), 1);
}

#[test]
fn settings_may_follow_a_face_on_lines_of_their_own() {
    let body = body("face a rect 4ft\nheight 3ft\nedge cap 3ft\nface b rect 3ft { } at 2ft");
    assert_eq!(
        (body.faces.len(), body.settings.len(), body.edges.len()),
        (2, 2, 1)
    );
}

#[test]
fn edges_of_a_face_stand_in_its_block() {
    let body = body(
        "face a rect 22ft drystone {\n edge cap 22ft opening v rect 1ft x 1ft reveal d on top \
         edge drip 1ft count n\n}",
    );
    let face = &body.faces[0];
    let edges: Vec<_> = face.edges.iter().map(shown).collect();
    assert_eq!(edges, [("cap", false), ("drip", true)]);
    assert_eq!((face.openings.len(), body.edges.len()), (1, 0));
}

#[test]
fn a_height_may_be_left_to_the_structure() {
    let body = body(
        "face a rect 22ft drystone on wood\nface b cylinder diameter 2ft\n\
         face c cylinder diameter 2ft sweep 90deg  at 3ft\nface d arc radius 6ft sweep 90deg\n\
         face e frustum 30in to 22in bark\nface f rect a",
    );
    let heights = body.faces.iter().map(|face| match &face.shape.node {
        Form::Rect { height, .. }
        | Form::Cylinder { height, .. }
        | Form::Arc { height, .. }
        | Form::Frustum { height, .. } => height.is_some(),
        other => panic!("{other:?}"),
    });
    assert!(!heights.clone().any(|stated| stated));
    assert_eq!(heights.len(), 6);
    let sweeps = body
        .faces
        .iter()
        .filter(|face| matches!(&face.shape.node, Form::Cylinder { sweep, .. } if sweep.is_some()));
    assert_eq!(sweeps.count(), 1);
    assert!(
        matches!(&body.faces[0].details[0].node, FaceDetail::Finish(name) if name.node == "drystone")
    );
}

#[test]
fn an_opening_may_have_a_finish_of_its_own() {
    let body = body(
        "face a rect 22ft { opening v rect 1ft x 1ft finish \"dry stone\" reveal 4in count 2 }",
    );
    let opening = &body.faces[0].openings[0];
    assert!(
        matches!(&opening.details[0].node, OpeningDetail::Finish(name) if name.node == "dry stone")
    );
    assert_eq!(opening.details.len(), 3);
}

#[test]
fn words_of_a_body_are_names_elsewhere() {
    let body = body(
        "finish edge  height height  at from\nedge height wall.edge\n\
         face edge rect height x conditions \"edge\"",
    );
    assert_eq!(
        (body.settings.len(), body.edges.len(), body.faces.len()),
        (3, 1, 1)
    );
    good("parge 1\nlet template = 1\nlet note = 2\nlet from = 3\nlet height = 4\nlet omit = 5");
}
