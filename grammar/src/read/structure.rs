//! `structure "…" on substrate { … }`, templates, their faces and openings.

use super::Reader;
use super::line::Kind;
use crate::ast::{
    Body, BodySetting, Edge, Face, FaceDetail, Name, Opening, OpeningDetail, Structure, Template,
    TemplateUse,
};
use crate::errors::statements;
use crate::outline::{Block, Item};
use crate::syntax::{Pair, Rule};
use parge_base::suggest::nearest;
use parge_base::{Span, Spanned};
use rayon::prelude::*;

/// From this many lines on, a body is read in parts of so many lines.
const LONG: usize = 256;

/// The member before the one being read, on the same line.
#[derive(Clone, Copy)]
enum Before {
    Nothing,
    Setting,
    Edge,
    /// A face, and whether it could be read.
    Face(bool),
    /// Conditions, whose block has not come yet.
    Conditions(Span),
}

/// What the head of a structure says.
struct Head {
    name: Name,
    from: Option<TemplateUse>,
    substrate: Option<Name>,
}

impl Reader<'_> {
    pub(super) fn structure(&self, item: &Item) -> Option<Structure> {
        let head = if item.broken {
            None
        } else {
            self.structure_head(item)
        };
        // Where the head is no good, that is told, and it may have a template.
        let made = head.as_ref().is_none_or(|head| head.from.is_some());
        let body = match &item.block {
            Some(block) => self.body(&block.items),
            None if made => Body::default(),
            None => self.body(&self.need_block(item)?.items),
        };
        let Head {
            name,
            from,
            substrate,
        } = head?;
        Some(Structure {
            name,
            from,
            substrate,
            body,
        })
    }

    fn structure_head(&self, item: &Item) -> Option<Head> {
        let pairs = self.head(Rule::structure_head, item.head.clone())?;
        let find = |rule| pairs.iter().find(|pair| pair.as_rule() == rule).cloned();
        let name = self.name(find(Rule::name)?);
        let from = match find(Rule::template_use) {
            Some(pair) => Some(self.template_use(pair)?),
            None => None,
        };
        let substrate = match find(Rule::substrate) {
            Some(pair) => Some(self.name(pair)?),
            None => None,
        };
        Some(Head {
            name: name?,
            from,
            substrate,
        })
    }

    fn template_use(&self, pair: Pair<'_>) -> Option<TemplateUse> {
        let template = self.name(pair.clone());
        let values = match self.part(pair, &[Rule::arguments]) {
            Some(values) => self.exprs(values)?,
            None => Vec::new(),
        };
        Some(TemplateUse {
            template: template?,
            values,
        })
    }

    pub(super) fn template(&self, item: &Item) -> Option<Template> {
        let head = if item.broken {
            None
        } else {
            self.template_head(item)
        };
        let body = self.body(&self.need_block(item)?.items);
        let (name, parameters, substrate) = head?;
        Some(Template {
            name,
            parameters,
            substrate,
            body,
        })
    }

    fn template_head(&self, item: &Item) -> Option<(Name, Vec<Name>, Option<Name>)> {
        let pairs = self.head(Rule::template_head, item.head.clone())?;
        let find = |rule| pairs.iter().find(|pair| pair.as_rule() == rule).cloned();
        let name = self.name(find(Rule::name)?);
        let parameters = find(Rule::parameters)
            .into_iter()
            .flat_map(Pair::into_inner)
            .filter(|part| part.as_rule() == Rule::parameter)
            .filter_map(|part| self.name(part));
        let parameters = parameters.collect();
        let substrate = match find(Rule::substrate) {
            Some(pair) => Some(self.name(pair)?),
            None => None,
        };
        Some((name?, parameters, substrate))
    }

    /// The lines of a body, each of which stands for itself: those of a long one are read by all
    /// cores, as a sheet that was imported makes one structure of thousands of faces.
    pub(super) fn body(&self, items: &[Item]) -> Body {
        let mut body = Body::default();
        if items.len() < LONG {
            for item in items {
                self.body_item(item, &mut body);
            }
            return body;
        }
        let read = |items: &[Item]| {
            let (reader, mut body) = (Reader::new(self.source), Body::default());
            for item in items {
                reader.body_item(item, &mut body);
            }
            (body, reader.into_found())
        };
        // Collected in the order of the text, so that the outcome never depends on threads.
        let chunks: Vec<_> = items.par_chunks(LONG).map(read).collect();
        for (mut chunk, found) in chunks {
            body.settings.append(&mut chunk.settings);
            body.faces.append(&mut chunk.faces);
            body.edges.append(&mut chunk.edges);
            found.into_iter().for_each(|said| self.report(said));
        }
        body
    }

    /// One line; a block behind it belongs to the last face or conditions of the line.
    fn body_item(&self, item: &Item, body: &mut Body) {
        let mut last = Before::Nothing;
        let good = !item.broken
            && self.line(Kind::Structure, item.head.clone(), |pair| {
                last = self.body_member(pair, last, body);
            });
        if let Before::Conditions(span) = last {
            match &item.block {
                Some(block) => {
                    let conditions = BodySetting::Conditions(self.conditions(&block.items));
                    body.settings.push(Spanned::new(conditions, span));
                }
                None => self.block_missing(Rule::conditions, span),
            }
            return;
        }
        let Some(block) = &item.block else {
            return;
        };
        match (good, last) {
            (true, Before::Face(true)) => {
                let (openings, edges) = self.face_members(block);
                if let Some(face) = body.faces.last_mut() {
                    (face.openings, face.edges) = (openings, edges);
                }
            }
            // A face that is lost has openings with mistakes of their own to tell.
            (true, Before::Face(false)) => drop(self.face_members(block)),
            (true, _) => self.no_block(item),
            (false, _) => {
                match nearest(self.word_of(item), Kind::Structure.words().iter().copied()) {
                    Some("face") => drop(self.face_members(block)),
                    Some("conditions") => drop(self.conditions(&block.items)),
                    _ => {}
                }
            }
        }
    }

    fn body_member(&self, pair: Pair<'_>, before: Before, body: &mut Body) -> Before {
        let (rule, span) = (pair.as_rule(), self.span(&pair));
        match (before, rule) {
            (Before::Conditions(conditions), _) => {
                self.block_missing(Rule::conditions, conditions);
            }
            (Before::Face(_), Rule::face) => {}
            // Behind a face it would read as the face's own, and be the structure's.
            (Before::Face(_), Rule::use_finish) => {
                self.report(statements::finish_on_face(span));
                return before;
            }
            (Before::Face(_), _)
            | (Before::Edge, Rule::use_finish | Rule::own_height | Rule::height_at | Rule::after) =>
            {
                let word = super::line::word(self.text(span.range()));
                let is_edge = matches!(before, Before::Edge);
                self.report(statements::reads_as_its_own(span, word, is_edge));
                // What stands in the braces of conditions is read as such.
                return match rule {
                    Rule::conditions => Before::Conditions(span),
                    _ => before,
                };
            }
            _ => {}
        }
        match rule {
            Rule::face => {
                let face = self.face(pair);
                let good = face.is_some();
                body.faces.extend(face);
                Before::Face(good)
            }
            Rule::edge => {
                body.edges.extend(self.edge(pair));
                Before::Edge
            }
            Rule::conditions => Before::Conditions(span),
            _ => {
                let setting = self.body_setting(pair);
                let setting = setting.map(|setting| Spanned::new(setting, span));
                body.settings.extend(setting);
                Before::Setting
            }
        }
    }

    fn body_setting(&self, pair: Pair<'_>) -> Option<BodySetting> {
        Some(match pair.as_rule() {
            Rule::own_height => BodySetting::Height(self.only_expr(pair)?),
            Rule::height_at => BodySetting::At(self.only_expr(pair)?),
            Rule::after => {
                let names = pair.into_inner();
                let names = names.filter(|part| part.as_rule() == Rule::name);
                BodySetting::After(names.filter_map(|name| self.name(name)).collect())
            }
            _ => BodySetting::Finish(self.name(pair)?),
        })
    }

    fn edge(&self, pair: Pair<'_>) -> Option<Edge> {
        let span = self.span(&pair);
        let kind = self.name(pair.clone());
        let length = self.only_expr(pair.clone());
        let count = match self.part(pair, &[Rule::count]) {
            Some(count) => Some(self.only_expr(count)?),
            None => None,
        };
        Some(Edge {
            kind: kind?,
            length: length?,
            count,
            span,
        })
    }

    fn face(&self, pair: Pair<'_>) -> Option<Face> {
        let span = self.span(&pair);
        let name = self.name(pair.clone());
        let shape = self
            .part(pair.clone(), &[Rule::shape])
            .and_then(|shape| self.shape(shape));
        let details = pair.into_inner().filter(|part| is_detail(part.as_rule()));
        let details: Vec<_> = details.map(|part| self.face_detail(part)).collect();
        let details = details.into_iter().collect::<Option<_>>()?;
        Some(Face {
            name: name?,
            shape: shape?,
            details,
            openings: Vec::new(),
            edges: Vec::new(),
            span,
        })
    }

    fn face_detail(&self, pair: Pair<'_>) -> Option<Spanned<FaceDetail>> {
        let span = self.span(&pair);
        let detail = match pair.as_rule() {
            Rule::count => FaceDetail::Count(self.only_expr(pair)?),
            Rule::height_at => FaceDetail::At(self.only_expr(pair)?),
            Rule::substrate => FaceDetail::Substrate(self.name(pair)?),
            Rule::came_from => FaceDetail::From(self.name(pair)?),
            _ => FaceDetail::Finish(self.name(pair)?),
        };
        Some(Spanned::new(detail, span))
    }

    fn face_members(&self, block: &Block) -> (Vec<Opening>, Vec<Edge>) {
        let (mut openings, mut edges) = (Vec::new(), Vec::new());
        self.plain_lines(Kind::Face, &block.items, |pair| match pair.as_rule() {
            Rule::edge => edges.extend(self.edge(pair)),
            _ => openings.extend(self.opening(pair)),
        });
        (openings, edges)
    }

    fn opening(&self, pair: Pair<'_>) -> Option<Opening> {
        let span = self.span(&pair);
        let name = self.name(pair.clone());
        let shape = self
            .part(pair.clone(), &[Rule::shape])
            .and_then(|shape| self.shape(shape));
        let details = pair.into_inner().filter(|part| is_detail(part.as_rule()));
        let details: Vec<_> = details.map(|part| self.opening_detail(part)).collect();
        let details = details.into_iter().collect::<Option<_>>()?;
        Some(Opening {
            name: name?,
            shape: shape?,
            details,
            span,
        })
    }

    fn opening_detail(&self, pair: Pair<'_>) -> Option<Spanned<OpeningDetail>> {
        let span = self.span(&pair);
        let detail = match pair.as_rule() {
            Rule::count => OpeningDetail::Count(self.only_expr(pair)?),
            Rule::use_finish => OpeningDetail::Finish(self.name(pair)?),
            Rule::came_from => OpeningDetail::From(self.name(pair)?),
            _ => {
                let edges = pair
                    .clone()
                    .into_inner()
                    .filter(|part| part.as_rule() == Rule::edge_word);
                let edges = edges.map(|part| Name::new(part.as_str().to_owned(), self.span(&part)));
                let edges = edges.collect();
                OpeningDetail::Reveal(self.only_expr(pair)?, edges)
            }
        };
        Some(Spanned::new(detail, span))
    }
}

fn is_detail(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::count
            | Rule::height_at
            | Rule::substrate
            | Rule::came_from
            | Rule::finish_name
            | Rule::use_finish
            | Rule::reveal
    )
}
