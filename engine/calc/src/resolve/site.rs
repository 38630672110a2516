//! What stands on the site: the structures, those made from templates filled in, and how a name
//! finds a face or a structure.

use super::settings::Once;
use super::values::twice;
use parge_base::{Code, Diagnostic, Span, suggest};
use parge_grammar::ast::{
    self, Body, BodySetting, Expr, Name, Plan, Statement, Structure, Template, TemplateUse,
};
use std::collections::BTreeMap;

/// Where an expression is written, and with that what its names mean.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Scope {
    /// The number of the structure around it.
    pub(super) standing: Option<usize>,
    /// Whether it is written in the structure's template, where parameters have values.
    pub(super) in_template: bool,
}

/// Something written in a block, with its scope.
pub(super) type Scoped<'p, T> = (&'p T, Scope);

/// A structure as it stands, with what its template and its own block say.
#[derive(Debug)]
pub(super) struct Standing<'p> {
    pub(super) name: &'p Name,
    pub(super) template: Option<&'p Template>,
    /// Whether its template is not there, so that what is missing may be stated in it.
    pub(super) lacks_template: bool,
    /// The values for the template's parameters, as many as there are parameters.
    pub(super) values: &'p [Expr],
    pub(super) substrate: Option<&'p Name>,
    pub(super) finish: Option<&'p Name>,
    pub(super) height: Option<Scoped<'p, Expr>>,
    pub(super) working_height: Option<Scoped<'p, Expr>>,
    pub(super) conditions: Vec<&'p ast::Conditions>,
    pub(super) after: &'p [Name],
    pub(super) edges: Vec<Scoped<'p, ast::Edge>>,
    /// The numbers of its faces in [`Site::faces`], by name.
    faces: BTreeMap<&'p str, usize>,
}

/// Who has a name that several faces of the site may have.
#[derive(Debug, Clone, Copy)]
enum Named {
    One(usize),
    Several(usize, usize),
}

/// What a name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Target {
    /// A face, by its number in [`Site::faces`].
    Face(usize),
    /// A structure, by its number in [`Site::standings`].
    Structure(usize),
}

/// Why a name stands for nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lost {
    /// Nothing has it.
    Unknown,
    /// Faces of two structures have it.
    Several(usize, usize),
}

/// All structures and faces of a plan.
#[derive(Debug, Default)]
pub(super) struct Site<'p> {
    pub(super) standings: Vec<Standing<'p>>,
    /// The faces of all structures in the order of the plan; their scope tells the structure.
    pub(super) faces: Vec<Scoped<'p, ast::Face>>,
    structures: BTreeMap<&'p str, usize>,
    anywhere: BTreeMap<&'p str, Named>,
    /// The templates that a structure is made from.
    used: Vec<&'p str>,
}

impl<'p> Site<'p> {
    /// Fills in the templates, and says what is wrong with names.
    pub(super) fn new(plan: &'p Plan, diagnostics: &mut Vec<Diagnostic>) -> Self {
        let templates = templates(plan, diagnostics);
        let mut site = Self::default();
        for statement in &plan.statements {
            if let Statement::Structure(structure) = statement {
                site.add(plan, structure, &templates, diagnostics);
            }
        }
        if plan.damaged.is_empty() {
            let unused = templates
                .into_values()
                .filter(|template| !site.used.contains(&template.name.node.as_str()));
            diagnostics.extend(unused.map(|template| {
                let name = &template.name;
                let message = format!("no structure is made from template `{}`", name.node);
                let help = format!(
                    "make one: `structure \"Name\" from {}`, or remove the template",
                    name.node
                );
                Diagnostic::new(Code::UnusedName, message, help).at(name.span, "")
            }));
        }
        site
    }

    fn add(
        &mut self,
        plan: &'p Plan,
        structure: &'p Structure,
        templates: &BTreeMap<&'p str, &'p Template>,
        diagnostics: &mut Vec<Diagnostic>,
    ) {
        let number = self.standings.len();
        let name = &structure.name;
        if let Some(first) = self.structures.get(name.node.as_str()) {
            let first = self
                .standings
                .get(*first)
                .map_or(name.span, |s| s.name.span);
            diagnostics.push(twice("structure", name, first));
        } else {
            self.structures.insert(&name.node, number);
        }
        let template = structure
            .from
            .as_ref()
            .and_then(|from| self.template(plan, from, templates, diagnostics));
        let mut standing = Standing {
            name,
            template,
            lacks_template: structure.from.is_some() && template.is_none(),
            values: structure.from.as_ref().map_or(&[], |from| &from.values),
            substrate: structure
                .substrate
                .as_ref()
                .or(template.and_then(|template| template.substrate.as_ref())),
            finish: None,
            height: None,
            working_height: None,
            conditions: Vec::new(),
            after: &[],
            edges: Vec::new(),
            faces: BTreeMap::new(),
        };
        let bodies = template.map(|template| (&template.body, true));
        for (body, in_template) in bodies.into_iter().chain([(&structure.body, false)]) {
            let scope = Scope {
                standing: Some(number),
                in_template,
            };
            standing.settings(body, scope, diagnostics);
            standing
                .edges
                .extend(body.edges.iter().map(|edge| (edge, scope)));
            self.faces(body, scope, &mut standing, diagnostics);
        }
        let made = structure.from.is_none() || template.is_some();
        if standing.faces.is_empty() && made && plan.damaged.is_empty() {
            diagnostics.push(empty(name));
        }
        self.standings.push(standing);
    }

    /// The template that a structure is made from, if it fits.
    fn template(
        &mut self,
        plan: &Plan,
        from: &'p TemplateUse,
        templates: &BTreeMap<&'p str, &'p Template>,
        diagnostics: &mut Vec<Diagnostic>,
    ) -> Option<&'p Template> {
        let name = &from.template;
        self.used.push(&name.node);
        let Some(template) = templates.get(name.node.as_str()) else {
            let near = suggest::nearest(&name.node, templates.keys().copied());
            self.used.extend(near);
            if !plan.damages(&name.node) {
                let message = format!("no template is called `{}`", name.node);
                let help = match templates.is_empty() {
                    true => format!("define it: `template {} on block {{ … }}`", name.node),
                    false => suggest::help_for(&name.node, templates.keys().copied()),
                };
                diagnostics
                    .push(Diagnostic::new(Code::UnknownTemplate, message, help).at(name.span, ""));
            }
            return None;
        };
        if template.parameters.len() != from.values.len() {
            diagnostics.push(other_number(template, from));
            return None;
        }
        Some(template)
    }

    fn faces(
        &mut self,
        body: &'p Body,
        scope: Scope,
        standing: &mut Standing<'p>,
        diagnostics: &mut Vec<Diagnostic>,
    ) {
        for face in &body.faces {
            let number = self.faces.len();
            self.faces.push((face, scope));
            let name = face.name.node.as_str();
            if let Some(first) = standing.faces.get(name) {
                let first = self
                    .faces
                    .get(*first)
                    .map_or(face.span, |(face, _)| face.name.span);
                diagnostics.push(twice("face", &face.name, first));
                continue;
            }
            standing.faces.insert(name, number);
            self.anywhere
                .entry(name)
                .and_modify(|known| {
                    if let Named::One(first) = *known {
                        *known = Named::Several(first, number);
                    }
                })
                .or_insert(Named::One(number));
        }
    }

    /// What a name stands for in a scope: a face of the structure around it, or else a structure,
    /// or else the one face of that name.
    pub(super) fn find(&self, path: &[Name], scope: Scope) -> Result<Target, Lost> {
        let face_of = |standing: usize, name: &Name| {
            let faces = self.standings.get(standing).map(|standing| &standing.faces);
            faces.and_then(|faces| faces.get(name.node.as_str()).copied())
        };
        let structure = |name: &Name| self.structures.get(name.node.as_str()).copied();
        match path {
            [only] => {
                if let Some(face) = scope.standing.and_then(|around| face_of(around, only)) {
                    return Ok(Target::Face(face));
                }
                if let Some(structure) = structure(only) {
                    return Ok(Target::Structure(structure));
                }
                match self.anywhere.get(only.node.as_str()) {
                    Some(Named::One(face)) => Ok(Target::Face(*face)),
                    Some(Named::Several(one, other)) => Err(Lost::Several(*one, *other)),
                    None => Err(Lost::Unknown),
                }
            }
            [of, face] => structure(of)
                .and_then(|structure| face_of(structure, face))
                .map(Target::Face)
                .ok_or(Lost::Unknown),
            _ => Err(Lost::Unknown),
        }
    }

    /// The faces of a structure by their numbers, in the order of the plan.
    pub(super) fn faces_of(&self, standing: usize) -> Vec<usize> {
        let faces = self.standings.get(standing).map(|standing| &standing.faces);
        let mut numbers: Vec<usize> = faces.into_iter().flatten().map(|(_, face)| *face).collect();
        numbers.sort_unstable();
        numbers
    }

    /// The structure of a face.
    pub(super) fn structure_of(&self, face: usize) -> Option<&Standing<'p>> {
        self.standings.get(self.faces.get(face)?.1.standing?)
    }

    /// The number of a structure.
    pub(super) fn structure(&self, name: &str) -> Option<usize> {
        self.structures.get(name).copied()
    }

    /// The names of all structures.
    pub(super) fn structure_names(&self) -> impl Iterator<Item = &'p str> + Clone + '_ {
        self.structures.keys().copied()
    }

    /// The names of all faces.
    pub(super) fn face_names(&self) -> impl Iterator<Item = &'p str> + Clone + '_ {
        self.anywhere.keys().copied()
    }
}

impl<'p> Standing<'p> {
    /// Takes over what a block states for all its faces; the structure's own block comes after
    /// its template's, and has the last word.
    fn settings(&mut self, body: &'p Body, scope: Scope, diagnostics: &mut Vec<Diagnostic>) {
        let mut once = Once::default();
        for setting in &body.settings {
            let word = match &setting.node {
                BodySetting::Finish(name) => {
                    self.finish = Some(name);
                    "finish"
                }
                BodySetting::Height(expr) => {
                    self.height = Some((expr, scope));
                    "height"
                }
                BodySetting::At(expr) => {
                    self.working_height = Some((expr, scope));
                    "at"
                }
                BodySetting::Conditions(conditions) => {
                    self.conditions.push(conditions);
                    "conditions"
                }
                BodySetting::After(names) => {
                    self.after = names;
                    "after"
                }
            };
            once.first(word, setting.span, diagnostics);
        }
    }
}

fn templates<'p>(
    plan: &'p Plan,
    diagnostics: &mut Vec<Diagnostic>,
) -> BTreeMap<&'p str, &'p Template> {
    let mut templates: BTreeMap<&str, &Template> = BTreeMap::new();
    for statement in &plan.statements {
        let Statement::Template(template) = statement else {
            continue;
        };
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        for parameter in &template.parameters {
            if let Some(first) = seen.insert(&parameter.node, parameter.span) {
                diagnostics.push(twice("parameter", parameter, first));
            }
        }
        match templates.get(template.name.node.as_str()) {
            Some(first) => {
                diagnostics.push(twice("template", &template.name, first.name.span));
            }
            None => {
                templates.insert(&template.name.node, template);
            }
        }
    }
    templates
}

fn empty(name: &Name) -> Diagnostic {
    let message = format!("structure `{}` has no face", name.node);
    let help = "add its faces, or remove it: rules may count every structure";
    Diagnostic::new(Code::EmptyStructure, message, help).at(name.span, "")
}

fn other_number(template: &Template, from: &TemplateUse) -> Diagnostic {
    let values = |number: usize| match number {
        0 => "no value".to_owned(),
        1 => "1 value".to_owned(),
        more => format!("{more} values"),
    };
    let name = &template.name;
    let names: Vec<&str> = template
        .parameters
        .iter()
        .map(|name| name.node.as_str())
        .collect();
    let message = format!(
        "template `{}` takes {}, and gets {}",
        name.node,
        values(names.len()),
        values(from.values.len())
    );
    let help = match names.is_empty() {
        true => format!("write `from {}`", name.node),
        false => format!(
            "write `from {}({})`, each with its value",
            name.node,
            names.join(", ")
        ),
    };
    Diagnostic::new(Code::TemplateValues, message, help)
        .at(from.template.span, "")
        .at(name.span, "the template")
}

#[cfg(test)]
mod tests;
