//! The order of evaluation. Names, values for templates and faces may stand in any order and
//! need each other: each is evaluated after what it needs, and a circle is told whole.

use super::site::{Scope, Target};
use super::values::Values;
use parge_base::{Code, Diagnostic, Span};
use parge_grammar::ast::{Expr, ExprKind, FaceDetail, Form, OpeningDetail, Shape};
use std::collections::HashSet;

/// Something with a value that others may need.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Thing {
    /// A `let`, by its number.
    Let(usize),
    /// What a structure gives for a parameter of its template.
    Argument {
        /// The structure.
        standing: usize,
        /// The parameter.
        parameter: usize,
    },
    /// A face, by its number.
    Face(usize),
}

/// A thing on the way to what it needs.
struct Step {
    thing: Thing,
    needs: Vec<Thing>,
    next: usize,
}

impl<'p> Values<'p> {
    /// Evaluates every `let`, every value for a template and every face.
    pub(super) fn evaluate(&mut self) {
        let lets = (0..self.lets.len()).map(Thing::Let);
        let arguments = self
            .arguments
            .iter()
            .enumerate()
            .flat_map(|(standing, of)| {
                (0..of.len()).map(move |parameter| Thing::Argument {
                    standing,
                    parameter,
                })
            });
        let faces = (0..self.slots.len()).map(Thing::Face);
        let all: Vec<Thing> = lets.chain(arguments).chain(faces).collect();
        for thing in all {
            self.visit(thing);
        }
    }

    /// Depth first with a stack of our own: a chain of names may be long.
    fn visit(&mut self, start: Thing) {
        if self.done.contains(&start) {
            return;
        }
        let mut path = vec![self.step(start)];
        let mut on_path = HashSet::from([start]);
        while let Some(step) = path.last_mut() {
            let thing = step.thing;
            let Some(need) = step.needs.get(step.next).copied() else {
                path.pop();
                on_path.remove(&thing);
                if self.done.insert(thing) {
                    self.compute(thing);
                }
                continue;
            };
            step.next += 1;
            if self.done.contains(&need) {
                continue;
            }
            if on_path.insert(need) {
                let step = self.step(need);
                path.push(step);
            } else {
                let around = path.iter().map(|step| step.thing);
                let circle: Vec<Thing> = around.skip_while(|thing| *thing != need).collect();
                self.report_circle(&circle);
                self.done.extend(circle);
            }
        }
    }

    fn step(&mut self, thing: Thing) -> Step {
        let mut needs = Vec::new();
        for (expr, scope) in self.expressions(thing) {
            self.needs(expr, scope, &mut needs);
        }
        Step {
            thing,
            needs,
            next: 0,
        }
    }

    /// The expressions that a thing is made of, with their scopes.
    fn expressions(&self, thing: Thing) -> Vec<(&'p Expr, Scope)> {
        match thing {
            Thing::Let(number) => {
                let value = self.lets.get(number);
                value
                    .map(|value| (&value.item.value, Scope::default()))
                    .into_iter()
                    .collect()
            }
            Thing::Argument {
                standing,
                parameter,
            } => {
                let standing = self.site.standings.get(standing);
                let value = standing.and_then(|standing| standing.values.get(parameter));
                value
                    .map(|value| (value, Scope::default()))
                    .into_iter()
                    .collect()
            }
            Thing::Face(number) => self.expressions_of_face(number),
        }
    }

    fn expressions_of_face(&self, number: usize) -> Vec<(&'p Expr, Scope)> {
        let Some((face, scope)) = self.site.faces.get(number).copied() else {
            return Vec::new();
        };
        let mut own = Vec::new();
        let mut states_at = false;
        sizes(&face.shape, &mut own);
        for detail in &face.details {
            match &detail.node {
                FaceDetail::Count(expr) => own.push(expr),
                FaceDetail::At(expr) => {
                    states_at = true;
                    own.push(expr);
                }
                FaceDetail::Substrate(_) | FaceDetail::Finish(_) | FaceDetail::From(_) => {}
            }
        }
        for opening in &face.openings {
            sizes(&opening.shape, &mut own);
            for detail in &opening.details {
                match &detail.node {
                    OpeningDetail::Reveal(expr, _) | OpeningDetail::Count(expr) => own.push(expr),
                    OpeningDetail::Finish(_) | OpeningDetail::From(_) => {}
                }
            }
        }
        let mut all: Vec<_> = own.into_iter().map(|expr| (expr, scope)).collect();
        // Only what the face does take over: `height` may be the measure of another face.
        if let Some(standing) = self.site.structure_of(number) {
            all.extend(standing.height.filter(|_| leaves_height_open(&face.shape)));
            all.extend(standing.working_height.filter(|_| !states_at));
        }
        all
    }

    /// What an expression needs. What it names and is not there is told when it is evaluated.
    fn needs(&mut self, expr: &'p Expr, scope: Scope, needs: &mut Vec<Thing>) {
        let mut open = vec![expr];
        while let Some(expr) = open.pop() {
            match &expr.node {
                ExprKind::Literal(_) => {}
                ExprKind::Name(name) => needs.extend(self.named(name, scope)),
                ExprKind::Measure(path, _) => match self.site.find(path, scope) {
                    Ok(Target::Face(face)) => needs.push(Thing::Face(face)),
                    Ok(Target::Structure(standing)) => {
                        let faces = self.site.faces_of(standing);
                        needs.extend(faces.into_iter().map(Thing::Face));
                    }
                    Err(_) => {}
                },
                ExprKind::Negate(inner) => open.push(inner),
                ExprKind::Binary(_, left, right) => open.extend([&**left, &**right]),
                ExprKind::Call(_, arguments) => open.extend(arguments),
            }
        }
    }

    fn named(&mut self, name: &'p str, scope: Scope) -> Option<Thing> {
        if let Some((standing, parameter)) = self.parameter(name, scope) {
            self.use_parameter((standing, parameter));
            return Some(Thing::Argument {
                standing,
                parameter,
            });
        }
        let number = self.let_numbers.get(name)?;
        self.used.insert(name);
        Some(Thing::Let(*number))
    }

    fn compute(&mut self, thing: Thing) {
        self.here = Scope::default();
        match thing {
            Thing::Let(number) => {
                let item = self.lets.get(number).map(|value| value.item);
                let node = item.and_then(|item| self.eval(&item.value));
                if let Some(value) = self.lets.get_mut(number) {
                    value.node = node;
                }
            }
            Thing::Argument {
                standing,
                parameter,
            } => {
                let values = self
                    .site
                    .standings
                    .get(standing)
                    .map(|standing| standing.values);
                let expr = values.and_then(|values| values.get(parameter));
                let node = expr.and_then(|expr| self.eval(expr));
                let slots = self.arguments.get_mut(standing);
                if let Some(slot) = slots.and_then(|slots| slots.get_mut(parameter)) {
                    *slot = node;
                }
            }
            Thing::Face(number) => self.place(number),
        }
    }

    fn report_circle(&mut self, circle: &[Thing]) {
        let words: Vec<String> = circle
            .iter()
            .chain(circle.first())
            .map(|thing| self.words(*thing))
            .collect();
        let message = format!("these are defined in a circle: {}", words.join(" needs "));
        let help = "give one of them a value that needs none of the others";
        let diagnostic = Diagnostic::new(Code::Circle, message, help);
        let places = circle.iter().filter_map(|thing| self.place_of(*thing));
        let diagnostic = places.fold(diagnostic, |told, span| told.at(span, ""));
        self.diagnostics.push(diagnostic);
    }

    fn words(&self, thing: Thing) -> String {
        let standing = |number: usize| {
            let standing = self.site.standings.get(number);
            standing.map_or("", |standing| standing.name.node.as_str())
        };
        match thing {
            Thing::Let(number) => {
                let value = self.lets.get(number);
                format!(
                    "`{}`",
                    value.map_or("", |value| value.item.name.node.as_str())
                )
            }
            Thing::Argument {
                standing: number,
                parameter,
            } => {
                let template = self
                    .site
                    .standings
                    .get(number)
                    .and_then(|found| found.template);
                let name = template.and_then(|template| template.parameters.get(parameter));
                let name = name.map_or("", |name| name.node.as_str());
                format!("`{name}` of structure `{}`", standing(number))
            }
            Thing::Face(number) => {
                let face = self.site.faces.get(number);
                let name = face.map_or("", |(face, _)| face.name.node.as_str());
                let structure = face
                    .and_then(|(_, scope)| scope.standing)
                    .map_or("", standing);
                format!("face `{name}` of `{structure}`")
            }
        }
    }

    fn place_of(&self, thing: Thing) -> Option<Span> {
        match thing {
            Thing::Face(number) => Some(self.site.faces.get(number)?.0.span),
            _ => Some(self.expressions(thing).first()?.0.span),
        }
    }
}

/// Whether the height of a shape is that of its structure.
fn leaves_height_open(shape: &Shape) -> bool {
    match &shape.node {
        Form::Rect { height, .. }
        | Form::Frustum { height, .. }
        | Form::Cylinder { height, .. }
        | Form::Arc { height, .. } => height.is_none(),
        _ => false,
    }
}

/// The sizes of a shape as they are written.
fn sizes<'p>(shape: &'p Shape, out: &mut Vec<&'p Expr>) {
    match &shape.node {
        Form::Rect { width, height } => {
            out.push(width);
            out.extend(height);
        }
        Form::Triangle { base, height } => out.extend([base, height]),
        Form::TriangleSides(sides) => out.extend(sides.iter()),
        Form::Trapezoid {
            bottom,
            top,
            height,
        } => out.extend([bottom, top, height]),
        Form::Frustum {
            bottom,
            top,
            height,
        } => {
            out.extend([bottom, top]);
            out.extend(height);
        }
        Form::Polygon(points)
        | Form::Stations {
            stations: points, ..
        } => {
            out.extend(points.iter().flat_map(|(x, y)| [x, y]));
        }
        Form::Circle { diameter } => out.push(diameter),
        Form::Arch { width, height } | Form::Ellipse { width, height } => {
            out.extend([width, height]);
        }
        Form::Cylinder {
            diameter,
            sweep,
            height,
        } => {
            out.push(diameter);
            out.extend(sweep.iter().chain(height));
        }
        Form::Arc {
            radius,
            sweep,
            height,
        } => {
            out.extend([radius, sweep]);
            out.extend(height);
        }
        Form::Ring { outer, inner } => out.extend([outer, inner]),
        Form::SegmentArch {
            width,
            height,
            rise,
        } => out.extend([width, height, rise]),
        Form::Cone { diameter, height } | Form::Dome { diameter, height } => {
            out.extend([diameter, height]);
        }
        Form::OfPack { sizes, .. } => out.extend(sizes),
        Form::Measured {
            area, around, high, ..
        } => out.extend([area, around, high]),
    }
}

#[cfg(test)]
mod tests;
