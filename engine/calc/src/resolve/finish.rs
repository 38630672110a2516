//! Finishes: their settings checked against the pack's techniques.

use super::settings::Once;
use super::values::{Values, twice};
use crate::contract::TECHNIQUES;
use crate::job::{Figure, Finish};
use parge_base::{Code, Diagnostic, Dim, Quantity, Span, Spanned, suggest};
use parge_grammar::ast::{
    self, AlternateChange, Body, BodySetting, Expr, FaceDetail, FinishSetting, Name, OpeningDetail,
    Plan, Statement,
};
use std::collections::{BTreeMap, BTreeSet};

/// The finishes by name, numbered in the order of the plan.
pub(super) type FinishNumbers<'p> = BTreeMap<&'p str, usize>;

/// Numbers the finishes.
pub(super) fn numbers<'p>(plan: &'p Plan, diagnostics: &mut Vec<Diagnostic>) -> FinishNumbers<'p> {
    let mut numbers = FinishNumbers::new();
    let mut first: Vec<Span> = Vec::new();
    for finish in of(plan) {
        let known = numbers.get(finish.name.node.as_str());
        if let Some(first) = known.and_then(|number| first.get(*number)) {
            diagnostics.push(twice("finish", &finish.name, *first));
        } else {
            numbers.insert(&finish.name.node, first.len());
        }
        first.push(finish.name.span);
    }
    numbers
}

/// The finishes of a plan.
pub(super) fn of(plan: &Plan) -> impl Iterator<Item = &ast::Finish> {
    plan.statements
        .iter()
        .filter_map(|statement| match statement {
            Statement::Finish(finish) => Some(finish),
            _ => None,
        })
}

/// The names of all finishes that structures, faces, openings and alternates ask for, whether
/// they can be resolved or not.
pub(super) fn mentioned(plan: &Plan) -> BTreeSet<&str> {
    let mut names = BTreeSet::new();
    for statement in &plan.statements {
        match statement {
            Statement::Structure(structure) => in_body(&structure.body, &mut names),
            Statement::Template(template) => in_body(&template.body, &mut names),
            Statement::Alternate(alternate) => {
                for change in &alternate.changes {
                    if let AlternateChange::Finish { finish, .. } = change {
                        names.insert(finish.node.as_str());
                    }
                }
            }
            _ => {}
        }
    }
    names
}

fn in_body<'p>(body: &'p Body, names: &mut BTreeSet<&'p str>) {
    for setting in &body.settings {
        if let BodySetting::Finish(name) = &setting.node {
            names.insert(&name.node);
        }
    }
    for face in &body.faces {
        for detail in &face.details {
            if let FaceDetail::Finish(name) = &detail.node {
                names.insert(&name.node);
            }
        }
        for detail in face.openings.iter().flat_map(|opening| &opening.details) {
            if let OpeningDetail::Finish(name) = &detail.node {
                names.insert(&name.node);
            }
        }
    }
}

impl Values<'_> {
    /// A finish, or `None` after every fault in it was reported.
    pub(super) fn finish(&mut self, finish: &ast::Finish) -> Option<Finish> {
        let name = &finish.name.node;
        let (mut technique, mut thickness, mut relief) = (None, None, None);
        let (mut colours, mut sealer) = (Some(Vec::new()), Some((None, None)));
        let mut once = Once::default();
        for Spanned { node, span } in &finish.settings {
            match node {
                FinishSetting::Technique(word) => {
                    once.first("technique", *span, &mut self.diagnostics);
                    technique = Some(self.technique(word));
                }
                FinishSetting::Thickness(expr) => {
                    once.first("thickness", *span, &mut self.diagnostics);
                    thickness = Some(self.size(
                        expr,
                        Dim::LENGTH,
                        &format!("the thickness of finish `{name}`"),
                    ));
                }
                FinishSetting::Relief(expr) => {
                    once.first("relief", *span, &mut self.diagnostics);
                    relief = Some(self.relief(expr, name));
                }
                FinishSetting::Colours(list) => {
                    once.first("colours", *span, &mut self.diagnostics);
                    colours = self.colours(list, name);
                }
                FinishSetting::Sealer(sheen, coats) => {
                    once.first("sealer", *span, &mut self.diagnostics);
                    sealer = self.sealer(sheen, coats.as_ref(), name);
                }
            }
        }
        self.required(&technique, finish, "technique", "technique stamp");
        self.required(&thickness, finish, "thickness", "thickness 3/4in");
        let flat = || {
            let node = self.tape.literal(Quantity::plain(1.0), None);
            Some(Figure {
                node,
                span: finish.name.span,
            })
        };
        let relief = relief.unwrap_or_else(flat);
        let (sheen, sealer_coats) = sealer?;
        Some(Finish {
            name: name.clone(),
            technique: technique??,
            thickness: thickness??,
            relief: relief?,
            colours: colours?,
            sheen,
            sealer_coats,
        })
    }

    fn required<T>(&mut self, found: &Option<T>, finish: &ast::Finish, word: &str, example: &str) {
        if found.is_none() && !self.told(&finish.name.node) {
            let message = format!("finish `{}` states no {word}", finish.name.node);
            let help = format!("add a line to its block, such as `{example}`");
            self.diagnostics.push(
                Diagnostic::new(Code::MissingSetting, message, help).at(finish.name.span, ""),
            );
        }
    }

    fn technique(&mut self, word: &Name) -> Option<String> {
        let known = self.tables.keys(TECHNIQUES, &[]).unwrap_or_default();
        if known.contains(&word.node.as_str()) {
            return Some(word.node.clone());
        }
        let message = format!("the rule pack has no technique `{}`", word.node);
        let help = suggest::help_for(&word.node, known);
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownTechnique, message, help).at(word.span, ""));
        None
    }

    fn relief(&mut self, expr: &Expr, name: &str) -> Option<Figure> {
        let what = format!("the relief of finish `{name}`");
        let figure = self.of_kind(expr, Dim::NONE, &what)?;
        let help = "relief is surface over flat area: write `relief 1.15` for 15% more surface";
        self.within(
            figure,
            &what,
            |value| (1.0..=4.0).contains(&value),
            "between 1 and 4",
            help,
        )
    }

    fn colours(&mut self, list: &[(Name, Expr)], finish: &str) -> Option<Vec<(String, Figure)>> {
        let colours: Vec<_> = list
            .iter()
            .map(|(name, share)| {
                let share = self.share(share, &format!("the share of colour `{}`", name.node))?;
                Some((name.node.clone(), share))
            })
            .collect();
        let colours: Vec<(String, Figure)> = colours.into_iter().collect::<Option<_>>()?;
        let sum: f64 = colours
            .iter()
            .map(|(_, share)| self.tape.value(share.node).value)
            .sum();
        if let ([first, ..], [.., last]) = (colours.as_slice(), colours.as_slice())
            && (sum - 1.0).abs() > 1e-9
        {
            let message = format!(
                "the colours of finish `{finish}` add to {:.1}%, not to 100%",
                sum * 100.0
            );
            let help = "let the shares of the area add to 100%";
            let span = first.1.span.to(last.1.span);
            self.diagnostics
                .push(Diagnostic::new(Code::OutOfRange, message, help).at(span, ""));
            return None;
        }
        Some(colours)
    }

    fn sealer(
        &mut self,
        sheen: &Name,
        coats: Option<&Expr>,
        name: &str,
    ) -> Option<(Option<String>, Option<Figure>)> {
        let coats = match coats {
            Some(expr) => Some(
                self.count(expr, &format!("the coats of sealer of finish `{name}`"))?
                    .0,
            ),
            None => None,
        };
        Some((Some(sheen.node.clone()), coats))
    }
}
