//! Structures, faces, openings and their shapes.

use super::Text;
use crate::ast::{
    Body, BodySetting, Edge, Expr, Face, FaceDetail, Form, Opening, OpeningDetail, Structure,
    TemplateUse,
};

impl Text {
    pub(super) fn structure(&mut self, structure: &Structure) {
        let Structure {
            name,
            from,
            substrate,
            body,
        } = structure;
        self.named("structure", name);
        if let Some(TemplateUse { template, values }) = from {
            self.named("from", template);
            self.sizes(values);
        }
        self.maybe_named("on", substrate.as_ref());
        self.body(body);
    }

    pub(super) fn body(&mut self, body: &Body) {
        let Body {
            settings,
            edges,
            faces,
        } = body;
        self.within(|text| {
            for setting in settings {
                text.body_setting(&setting.node);
            }
            edges.iter().for_each(|edge| text.edge(edge));
            faces.iter().for_each(|face| text.face(face));
        });
    }

    fn body_setting(&mut self, setting: &BodySetting) {
        match setting {
            BodySetting::Finish(name) => self.named("finish", name),
            BodySetting::Height(height) => self.valued("height", height),
            BodySetting::At(height) => self.valued("at", height),
            BodySetting::Conditions(conditions) => self.conditions(conditions),
            BodySetting::After(names) => {
                self.word("after");
                self.within(|text| names.iter().for_each(|name| text.said(&name.node)));
            }
        }
    }

    fn edge(&mut self, edge: &Edge) {
        let Edge {
            kind,
            length,
            count,
            span: _,
        } = edge;
        self.named("edge", kind);
        self.expression(length);
        self.maybe("count", count.as_ref());
    }

    fn face(&mut self, face: &Face) {
        let Face {
            name,
            shape,
            details,
            openings,
            edges,
            span: _,
        } = face;
        self.named("face", name);
        self.form(&shape.node);
        for detail in details {
            match &detail.node {
                FaceDetail::Count(count) => self.valued("count", count),
                FaceDetail::Substrate(name) => self.named("on", name),
                FaceDetail::Finish(name) => self.named("finish", name),
                FaceDetail::At(height) => self.valued("at", height),
                FaceDetail::From(cell) => self.named("from", cell),
            }
        }
        self.within(|text| {
            openings.iter().for_each(|opening| text.opening(opening));
            edges.iter().for_each(|edge| text.edge(edge));
        });
    }

    fn opening(&mut self, opening: &Opening) {
        let Opening {
            name,
            shape,
            details,
            span: _,
        } = opening;
        self.named("opening", name);
        self.form(&shape.node);
        for detail in details {
            match &detail.node {
                OpeningDetail::Reveal(depth, edges) => {
                    self.valued("reveal", depth);
                    self.within(|text| edges.iter().for_each(|edge| text.said(&edge.node)));
                }
                OpeningDetail::Count(count) => self.valued("count", count),
                OpeningDetail::Finish(name) => self.named("finish", name),
                OpeningDetail::From(cell) => self.named("from", cell),
            }
        }
    }

    fn sizes<'a>(&mut self, sizes: impl IntoIterator<Item = &'a Expr>) {
        self.within(|text| sizes.into_iter().for_each(|size| text.expression(size)));
    }

    fn shape<'a>(&mut self, word: &str, sizes: impl IntoIterator<Item = &'a Expr>) {
        self.word(word);
        self.sizes(sizes);
    }

    fn form(&mut self, form: &Form) {
        match form {
            Form::Rect { width, height } => self.shape("rect", [width].into_iter().chain(height)),
            Form::Triangle { base, height } => self.shape("triangle", [base, height]),
            Form::TriangleSides(sides) => self.shape("triangle-sides", sides.iter()),
            Form::Trapezoid {
                bottom,
                top,
                height,
            } => self.shape("trapezoid", [bottom, top, height]),
            Form::Polygon(corners) => self.pairs("polygon", corners),
            Form::Circle { diameter } => self.shape("circle", [diameter]),
            Form::Arch { width, height } => self.shape("arch", [width, height]),
            Form::Cylinder {
                diameter,
                sweep,
                height,
            } => {
                self.shape("cylinder", [diameter].into_iter().chain(height));
                self.maybe("sweep", sweep.as_ref());
            }
            Form::Frustum {
                bottom,
                top,
                height,
            } => self.shape("frustum", [bottom, top].into_iter().chain(height)),
            Form::Arc {
                radius,
                sweep,
                height,
            } => self.shape("arc", [radius, sweep].into_iter().chain(height)),
            Form::Ellipse { width, height } => self.shape("ellipse", [width, height]),
            Form::Ring { outer, inner } => self.shape("ring", [outer, inner]),
            Form::SegmentArch {
                width,
                height,
                rise,
            } => self.shape("segment-arch", [width, height, rise]),
            Form::Cone { diameter, height } => self.shape("cone", [diameter, height]),
            Form::Dome { diameter, height } => self.shape("dome", [diameter, height]),
            Form::Stations { stepped, stations } => {
                let word = if *stepped {
                    "stations-stepped"
                } else {
                    "stations"
                };
                self.pairs(word, stations);
            }
            Form::OfPack { name, sizes } => {
                self.named("shape", name);
                self.sizes(sizes);
            }
            Form::Measured {
                area,
                around,
                high,
                reason,
            } => {
                self.shape("measured", [area, around, high]);
                self.said(&reason.node);
            }
        }
    }

    fn pairs(&mut self, word: &str, pairs: &[(Expr, Expr)]) {
        self.shape(word, pairs.iter().flat_map(|(a, b)| [a, b]));
    }
}
