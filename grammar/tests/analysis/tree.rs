//! The sketch against the tree: where the parser finds no mistake, both find the same names.

use super::rename::all;
use super::{SAMPLE, WHOLE, analysis};
use parge_base::Span;
use parge_grammar::analysis::{Analysis, ThingKind};
use parge_grammar::ast::*;

/// Names that a tree defines and uses.
#[derive(Default)]
struct Found {
    defined: Vec<(ThingKind, Span)>,
    used: Vec<Span>,
    /// Names that lead somewhere if anything of that kind has them.
    sought: Vec<(ThingKind, String, Span)>,
    names: Vec<(ThingKind, String)>,
}

impl Found {
    fn of(plan: &Plan) -> Self {
        let mut found = Self::default();
        for statement in &plan.statements {
            found.statement(statement);
        }
        found
    }

    fn define(&mut self, kind: ThingKind, name: &Name) {
        self.defined.push((kind, name.span));
        self.names.push((kind, name.node.clone()));
    }

    fn seek(&mut self, kind: ThingKind, name: &Name) {
        self.used.push(name.span);
        self.sought.push((kind, name.node.clone(), name.span));
    }

    fn statement(&mut self, statement: &Statement) {
        match statement {
            Statement::Job(job) => {
                self.define(ThingKind::Job, &job.name);
                job.settings
                    .iter()
                    .for_each(|setting| self.job(&setting.node));
            }
            Statement::Let(line) => {
                self.define(ThingKind::Let, &line.name);
                self.expr(&line.value);
            }
            Statement::Finish(finish) => {
                self.define(ThingKind::Finish, &finish.name);
                finish
                    .settings
                    .iter()
                    .for_each(|setting| self.finish(&setting.node));
            }
            Statement::Structure(structure) => {
                self.define(ThingKind::Structure, &structure.name);
                if let Some(from) = &structure.from {
                    self.seek(ThingKind::Template, &from.template);
                    from.values.iter().for_each(|value| self.expr(value));
                }
                self.body(&structure.body);
            }
            Statement::Template(template) => {
                self.define(ThingKind::Template, &template.name);
                self.body(&template.body);
            }
            Statement::Alternate(alternate) => {
                self.define(ThingKind::Alternate, &alternate.name);
                for change in &alternate.changes {
                    match change {
                        AlternateChange::Finish { structure, finish } => {
                            self.seek(ThingKind::Structure, structure);
                            self.seek(ThingKind::Finish, finish);
                        }
                        AlternateChange::Omit(structure) => {
                            self.seek(ThingKind::Structure, structure)
                        }
                    }
                }
            }
            Statement::Include(_)
            | Statement::Allowance(_)
            | Statement::Exclude(_)
            | Statement::Note(_)
            | Statement::Terms(_) => {}
        }
    }

    fn job(&mut self, setting: &JobSetting) {
        match setting {
            JobSetting::Crew(crew) => {
                let classes = crew.classes.iter().map(|(_, people)| people);
                let values = crew.people.iter().chain(classes);
                values.for_each(|value| self.expr(value));
            }
            JobSetting::Weather(weather) => {
                let values = weather.readings.iter().map(|(_, value)| value);
                values.for_each(|value| self.expr(value));
            }
            JobSetting::Hours(value) | JobSetting::Travel(value) => self.expr(value),
            JobSetting::Bid(terms) => {
                for term in terms {
                    match &term.node {
                        BidTerm::Burden(share)
                        | BidTerm::Overhead(share)
                        | BidTerm::Profit(_, share)
                        | BidTerm::Tax(share, _)
                        | BidTerm::Contingency(share)
                        | BidTerm::Class(share) => self.expr(share),
                        BidTerm::Minimum(_) | BidTerm::Round(_) => {}
                    }
                }
            }
            _ => {}
        }
    }

    fn finish(&mut self, setting: &FinishSetting) {
        match setting {
            FinishSetting::Thickness(value)
            | FinishSetting::Relief(value)
            | FinishSetting::Sealer(_, Some(value)) => self.expr(value),
            FinishSetting::Colours(colours) => {
                colours.iter().for_each(|(_, share)| self.expr(share))
            }
            FinishSetting::Technique(_) | FinishSetting::Sealer(_, None) => {}
        }
    }

    fn body(&mut self, body: &Body) {
        for setting in &body.settings {
            match &setting.node {
                BodySetting::Finish(finish) => self.seek(ThingKind::Finish, finish),
                BodySetting::Height(value) | BodySetting::At(value) => self.expr(value),
                BodySetting::Conditions(_) => {}
                BodySetting::After(names) => {
                    let names = names.iter();
                    names.for_each(|name| self.seek(ThingKind::Structure, name));
                }
            }
        }
        self.edges(&body.edges);
        for face in &body.faces {
            self.define(ThingKind::Face, &face.name);
            self.form(&face.shape.node);
            for detail in &face.details {
                match &detail.node {
                    FaceDetail::Count(value) | FaceDetail::At(value) => self.expr(value),
                    FaceDetail::Finish(finish) => self.seek(ThingKind::Finish, finish),
                    FaceDetail::Substrate(_) | FaceDetail::From(_) => {}
                }
            }
            self.edges(&face.edges);
            for opening in &face.openings {
                self.define(ThingKind::Opening, &opening.name);
                self.form(&opening.shape.node);
                for detail in &opening.details {
                    match &detail.node {
                        OpeningDetail::Reveal(value, _) | OpeningDetail::Count(value) => {
                            self.expr(value)
                        }
                        OpeningDetail::Finish(finish) => self.seek(ThingKind::Finish, finish),
                        OpeningDetail::From(_) => {}
                    }
                }
            }
        }
    }

    fn edges(&mut self, edges: &[Edge]) {
        for edge in edges {
            self.expr(&edge.length);
            edge.count.iter().for_each(|count| self.expr(count));
        }
    }

    fn form(&mut self, form: &Form) {
        let sizes: Vec<&Expr> = match form {
            Form::Rect { width, height } => [Some(width), height.as_ref()]
                .into_iter()
                .flatten()
                .collect(),
            Form::Triangle { base, height } => vec![base, height],
            Form::TriangleSides(sides) => sides.iter().collect(),
            Form::OfPack { sizes, .. } => sizes.iter().collect(),
            Form::Trapezoid {
                bottom,
                top,
                height,
            } => vec![bottom, top, height],
            Form::Polygon(points)
            | Form::Stations {
                stations: points, ..
            } => points
                .iter()
                .flat_map(|(one, other)| [one, other])
                .collect(),
            Form::Circle { diameter } => vec![diameter],
            Form::Arch { width, height } | Form::Ellipse { width, height } => vec![width, height],
            Form::Cylinder {
                diameter,
                sweep,
                height,
            } => [Some(diameter), sweep.as_ref(), height.as_ref()]
                .into_iter()
                .flatten()
                .collect(),
            Form::Frustum {
                bottom,
                top,
                height,
            } => [Some(bottom), Some(top), height.as_ref()]
                .into_iter()
                .flatten()
                .collect(),
            Form::Arc {
                radius,
                sweep,
                height,
            } => [Some(radius), Some(sweep), height.as_ref()]
                .into_iter()
                .flatten()
                .collect(),
            Form::Ring { outer, inner } => vec![outer, inner],
            Form::SegmentArch {
                width,
                height,
                rise,
            } => vec![width, height, rise],
            Form::Cone { diameter, height } | Form::Dome { diameter, height } => {
                vec![diameter, height]
            }
            Form::Measured {
                area, around, high, ..
            } => vec![area, around, high],
        };
        sizes.into_iter().for_each(|size| self.expr(size));
    }

    fn expr(&mut self, expr: &Expr) {
        match &expr.node {
            ExprKind::Literal(_) => {}
            ExprKind::Name(name) => self.seek(ThingKind::Let, &Name::new(name.clone(), expr.span)),
            ExprKind::Measure(path, _) => self.used.extend(path.iter().map(|name| name.span)),
            ExprKind::Negate(inner) => self.expr(inner),
            ExprKind::Binary(_, left, right) => {
                self.expr(left);
                self.expr(right);
            }
            ExprKind::Call(_, values) => values.iter().for_each(|value| self.expr(value)),
        }
    }
}

/// Compares what the tree and the analysis of a text say.
pub(crate) fn compare(analysis: &Analysis) {
    let text = analysis.text();
    let found = Found::of(analysis.plan());
    let mut defined: Vec<_> = found
        .defined
        .iter()
        .map(|(kind, span)| (span.range().start, span.range().end, *kind))
        .collect();
    let mut told: Vec<_> = all(&analysis.symbols())
        .into_iter()
        .map(|symbol| (symbol.name_span.start, symbol.name_span.end, symbol.kind))
        .collect();
    defined.sort();
    told.sort();
    assert_eq!(defined, told, "{text}");
    // A name in round brackets has them in its span.
    let start = |span: &Span| {
        let written = &text[span.range()];
        span.range().start + written.len() - written.trim_start_matches(['(', ' ', '\n']).len()
    };
    for (kind, name, span) in &found.sought {
        if found.names.contains(&(*kind, name.clone())) {
            assert!(
                analysis.definition(start(span)).is_some(),
                "{name} in {text}"
            );
        }
    }
    let resolved = found
        .used
        .iter()
        .filter(|span| analysis.definition(start(span)).is_some());
    let referred: usize = all(&analysis.symbols())
        .iter()
        .map(|symbol| analysis.references(symbol.name_span.start, false).len())
        .sum();
    // Parameters are no symbols.
    let parameters: usize = analysis
        .plan()
        .statements
        .iter()
        .map(|statement| match statement {
            Statement::Template(template) => template
                .parameters
                .iter()
                .map(|name| analysis.references(name.span.range().start, false).len())
                .sum(),
            _ => 0,
        })
        .sum();
    assert_eq!(resolved.count(), referred + parameters, "{text}");
}

#[test]
fn of_the_sample() {
    let analysis = analysis(SAMPLE);
    assert!(analysis.diagnostics().is_empty());
    compare(&analysis);
}

#[test]
fn of_the_whole_language() {
    let analysis = analysis(WHOLE);
    assert_eq!(analysis.diagnostics(), []);
    compare(&analysis);
}

/// The plans of the examples.
#[test]
fn of_the_examples() {
    let mut folders = vec![std::path::PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/.."
    ))];
    let mut seen = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            let name = path
                .file_name()
                .and_then(|name| name.to_str())
                .unwrap_or("");
            if path.is_dir() && !name.starts_with('.') && name != "target" {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "parge") {
                let analysis = analysis(&std::fs::read_to_string(&path).expect("a text"));
                if analysis.diagnostics().is_empty() {
                    compare(&analysis);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 0);
}
