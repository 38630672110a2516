//! What a plan says, but for its faces, and where the parts of it stand that have them.

use crate::actuals::PlanPrint;
use parge_base::{FileId, Sources};
use parge_grammar::ast::{Body, BodySetting, Damaged, Plan, Statement, Structure, Template};
use parge_grammar::{Canonical, parse_part, statements};
use std::ops::Range;

/// What a plan says, but for its faces.
#[derive(Debug)]
pub struct Survey {
    file: FileId,
    /// All statements but the structures: what every part is read with.
    around: Plan,
    /// The same with the structures, and in none of them a face or linear work.
    without_faces: Plan,
    /// The parts that have a structure.
    parts: Vec<Place>,
    print: PlanPrint,
}

/// Where a part stands in the text.
#[derive(Debug)]
struct Place {
    text: Range<usize>,
    /// The number of its first structure in the job.
    first: usize,
}

/// Reads a plan in parts of about so many bytes of text. `joined` puts the statements of included files
/// in the place of `include`. `None` where there is no way by parts: after a mistake, and where the plan
/// has an alternate, or an included file has a structure.
pub fn survey(
    file: FileId,
    text: &str,
    bytes: usize,
    mut joined: impl FnMut(Plan) -> Plan,
) -> Option<Survey> {
    let mut survey = Survey {
        file,
        around: Plan::default(),
        without_faces: Plan::default(),
        parts: Vec::new(),
        print: PlanPrint::default(),
    };
    let mut said = Canonical::default();
    let mut first = 0;
    for part in cut(file, text, bytes)? {
        let plan = joined(parse_part(file, text, part.clone())?);
        said.add(&plan);
        let own = structures(&plan);
        if own > 0 {
            survey.parts.push(Place { text: part, first });
        }
        first += own;
        survey.add(plan)?;
    }
    survey.print = PlanPrint::of(&said.into_text());
    // What is missing here on purpose is not to be told.
    survey.without_faces.damaged.push(Damaged {
        word: "structure".to_owned(),
        name: String::new(),
    });
    Some(survey)
}

impl Survey {
    /// All statements but the structures.
    pub fn plan(&self) -> &Plan {
        &self.around
    }

    /// The fingerprint of the whole plan.
    pub fn print(&self) -> &PlanPrint {
        &self.print
    }

    /// The structures without faces and linear work, with all else.
    pub(super) fn without_faces(&self) -> &Plan {
        &self.without_faces
    }

    pub(super) fn parts(&self) -> usize {
        self.parts.len()
    }

    /// A part with all that is said around it, and the number of its first structure.
    pub(super) fn part(&self, number: usize, sources: &Sources) -> Option<(Plan, usize)> {
        let Place { text, first } = self.parts.get(number)?;
        let read = parse_part(self.file, sources.text(self.file), text.clone())?;
        let mut plan = self.around.clone();
        for statement in read.statements {
            if let Statement::Structure(mut structure) = statement {
                structure
                    .body
                    .settings
                    .retain(|setting| !waits(&setting.node));
                plan.statements.push(Statement::Structure(structure));
            }
        }
        Some((plan, *first))
    }

    fn add(&mut self, part: Plan) -> Option<()> {
        if !part.damaged.is_empty() {
            return None;
        }
        for statement in part.statements {
            match statement {
                Statement::Structure(structure) if structure.name.span.file == self.file => {
                    let stripped = Statement::Structure(without_faces(structure));
                    self.without_faces.statements.push(stripped);
                }
                Statement::Structure(_) | Statement::Alternate(_) => return None,
                Statement::Template(template) => {
                    let bare = Template {
                        body: without_faces_of(template.body.clone()),
                        ..template.clone()
                    };
                    self.without_faces
                        .statements
                        .push(Statement::Template(bare));
                    self.around.statements.push(Statement::Template(Template {
                        body: without_waits(template.body),
                        ..template
                    }));
                }
                other => {
                    self.without_faces.statements.push(other.clone());
                    self.around.statements.push(other);
                }
            }
        }
        Some(())
    }
}

/// Cuts a text between its statements; `None` where nobody can say where they end.
fn cut(file: FileId, text: &str, bytes: usize) -> Option<Vec<Range<usize>>> {
    let mut parts: Vec<Range<usize>> = Vec::new();
    for place in statements(file, text)? {
        match parts.last_mut() {
            Some(part) if place.end - part.start <= bytes => part.end = place.end,
            Some(part) => {
                part.end = place.start;
                parts.push(place);
            }
            // The version line stands at the beginning of the text.
            None => parts.push(0..place.end),
        }
    }
    if let Some(last) = parts.last_mut() {
        last.end = text.len();
    }
    (!parts.is_empty()).then_some(parts)
}

/// How many structures a part of a plan has.
fn structures(plan: &Plan) -> usize {
    let is_one = |statement: &&Statement| matches!(statement, Statement::Structure(_));
    plan.statements.iter().filter(is_one).count()
}

/// Whether a setting of a structure speaks of others.
fn waits(setting: &BodySetting) -> bool {
    matches!(setting, BodySetting::After(_))
}

fn without_waits(mut body: Body) -> Body {
    body.settings.retain(|setting| !waits(&setting.node));
    body
}

fn without_faces(structure: Structure) -> Structure {
    Structure {
        body: without_faces_of(structure.body),
        ..structure
    }
}

/// Of a block only what holds for the structure itself.
fn without_faces_of(body: Body) -> Body {
    let of_itself = |setting: &BodySetting| {
        matches!(setting, BodySetting::After(_) | BodySetting::Conditions(_))
    };
    let mut settings = body.settings;
    settings.retain(|setting| of_itself(&setting.node));
    Body {
        settings,
        edges: Vec::new(),
        faces: Vec::new(),
    }
}
