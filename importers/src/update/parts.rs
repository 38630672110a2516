//! The faces of a plan with the texts of their parts.

use super::{Key, range};
use parge_grammar::ast::{Face, FaceDetail, Opening, OpeningDetail, Plan, Statement};
use std::collections::BTreeMap;

/// The parts of a face that say how large it is and how often it is there.
pub(super) const SIZES: [&str; 2] = ["shape", "count"];

/// A text and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Text {
    pub(super) text: String,
    pub(super) place: (usize, usize),
}

/// The parts of a face's statement.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FaceParts {
    /// The shape and what follows it, by what it is.
    pub(super) details: BTreeMap<&'static str, Text>,
    pub(super) openings: BTreeMap<String, OpeningParts>,
    /// All of it with its block.
    pub(super) text: String,
    /// Where it stands without its block.
    pub(super) place: (usize, usize),
    /// Where its details end.
    pub(super) end: usize,
    /// Where its block ends; where the statement ends if it has none.
    pub(super) block_end: usize,
    /// The head of its structure, for a face in a structure that the plan does not have.
    pub(super) head: String,
    /// Where the block of its structure ends, before its brace.
    pub(super) structure_end: usize,
}

/// The statement of an opening.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct OpeningParts {
    pub(super) text: String,
    /// The same without the cell that it comes from.
    pub(super) bare: String,
    pub(super) place: (usize, usize),
}

pub(super) type Faces = BTreeMap<Key, FaceParts>;

impl FaceParts {
    /// Whether both say the same sizes, wherever they stand in a sheet.
    pub(super) fn same(&self, other: &Self) -> bool {
        let of = |face: &Self| {
            let details = face.details.iter().filter(|(part, _)| **part != "from");
            let details: Vec<_> = details
                .map(|(part, text)| (*part, text.text.clone()))
                .collect();
            let openings: Vec<String> = face.openings.values().map(|o| o.bare.clone()).collect();
            (details, openings)
        };
        of(self) == of(other)
    }

    /// Its sizes in words.
    pub(super) fn whole(&self) -> String {
        let words = SIZES.iter().filter_map(|part| self.details.get(*part));
        words
            .map(|text| text.text.as_str())
            .collect::<Vec<_>>()
            .join(" ")
    }
}

/// The faces of a plan's structures.
pub(super) fn faces(plan: &Plan, text: &str) -> Faces {
    let mut found = Faces::new();
    for statement in &plan.statements {
        let Statement::Structure(structure) = statement else {
            continue;
        };
        let (_, name_end) = range(structure.name.span);
        let open = text.get(name_end..).and_then(|rest| rest.find('{'));
        let Some(open) = open.map(|at| name_end + at) else {
            continue;
        };
        let structure_end = block_end(text, open).saturating_sub(1);
        let from = text
            .get(..name_end)
            .and_then(|before| before.rfind("structure"));
        let head = text
            .get(from.unwrap_or(name_end)..open)
            .unwrap_or("")
            .trim()
            .to_owned();
        for face in &structure.body.faces {
            let key = (structure.name.node.clone(), face.name.node.clone());
            let parts = one(face, text, &head, structure_end);
            found.insert(key, parts);
        }
    }
    found
}

fn one(face: &Face, text: &str, head: &str, structure_end: usize) -> FaceParts {
    let mut details = BTreeMap::new();
    let mut part = |what: &'static str, place: (usize, usize)| {
        let text = slice(text, place);
        details.insert(what, Text { text, place });
    };
    part("shape", range(face.shape.span));
    for detail in &face.details {
        let what = match detail.node {
            FaceDetail::Count(_) => "count",
            FaceDetail::Substrate(_) => "substrate",
            FaceDetail::Finish(_) => "finish",
            FaceDetail::At(_) => "at",
            FaceDetail::From(_) => "from",
        };
        part(what, range(detail.span));
    }
    let place = range(face.span);
    let rest = text.get(place.1..).unwrap_or("");
    let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
    let has_block = rest.trim_start_matches([' ', '\t']).starts_with('{');
    let end = match has_block {
        true => block_end(text, place.1 + blanks),
        false => place.1,
    };
    FaceParts {
        details,
        openings: face
            .openings
            .iter()
            .map(|o| (o.name.node.clone(), opening(o, text)))
            .collect(),
        text: slice(text, (place.0, end)),
        place,
        end: place.1,
        block_end: end,
        head: head.to_owned(),
        structure_end,
    }
}

fn opening(opening: &Opening, text: &str) -> OpeningParts {
    let place = range(opening.span);
    let whole = slice(text, place);
    let from = opening
        .details
        .iter()
        .find_map(|detail| match &detail.node {
            OpeningDetail::From(_) => Some(slice(text, range(detail.span))),
            _ => None,
        });
    let bare = match from {
        Some(from) => whole.replace(&from, "").trim().to_owned(),
        None => whole.clone(),
    };
    OpeningParts {
        text: whole,
        bare,
        place,
    }
}

/// The text of a place, one blank between words.
fn slice(text: &str, (start, end): (usize, usize)) -> String {
    text.get(start..end).unwrap_or("").trim().to_owned()
}

/// Behind the brace that closes the one at a place; braces in texts and comments are none.
fn block_end(text: &str, open: usize) -> usize {
    let (mut depth, mut in_text, mut in_comment, mut escaped) = (0_usize, false, false, false);
    for (at, ch) in text.get(open..).unwrap_or("").char_indices() {
        match ch {
            '\n' => (in_text, in_comment) = (false, false),
            _ if in_comment => {}
            '\\' if in_text => {
                escaped = !escaped;
                continue;
            }
            '"' if !escaped => in_text = !in_text,
            _ if in_text => {}
            '#' => in_comment = true,
            '{' => depth += 1,
            '}' => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    return open + at + 1;
                }
            }
            _ => {}
        }
        escaped = false;
    }
    text.len()
}
