//! `structure "…" on substrate { … }`, templates, and what their blocks say.

use super::Reader;
use super::line::Kind;
use crate::ast::{Body, BodySetting, Name, Structure, Template, TemplateUse};
use crate::errors::statements;
use crate::outline::Item;
use crate::syntax::{Pair, Rule};
use parge_base::suggest::nearest;
use parge_base::{Span, Spanned};
use rayon::prelude::*;
use std::ops::Range;

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
        if let Some((name, substrate)) = self.quick_head(&item.head) {
            let from = None;
            return Some(Head {
                name,
                from,
                substrate,
            });
        }
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
        if items.len() < LONG {
            return self.short_body(items);
        }
        let read = |items: &[Item]| {
            let reader = Reader::new(self.source);
            (reader.short_body(items), reader.into_found())
        };
        // Collected in the order of the text, so that the outcome never depends on threads.
        let chunks: Vec<_> = items.par_chunks(LONG).map(read).collect();
        let mut body = Body::default();
        let faces = chunks.iter().map(|(chunk, _)| chunk.faces.len()).sum();
        body.faces.reserve_exact(faces);
        for (mut chunk, found) in chunks {
            body.settings.append(&mut chunk.settings);
            body.faces.append(&mut chunk.faces);
            body.edges.append(&mut chunk.edges);
            found.into_iter().for_each(|said| self.report(said));
        }
        body
    }

    fn short_body(&self, items: &[Item]) -> Body {
        let mut body = Body::default();
        // A list that grows as it goes takes twice its room in the end.
        let is_face = |item: &&Item| self.word_of(item) == "face";
        let faces = items.iter().filter(is_face).count();
        body.faces.reserve_exact(faces);
        for item in items {
            self.body_item(item, &mut body);
        }
        body
    }

    /// One line; a block behind it belongs to the last face or conditions of the line.
    fn body_item(&self, item: &Item, body: &mut Body) {
        let mut last = Before::Nothing;
        let good = !item.broken && self.body_line(&item.head, &mut last, body);
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

    /// The members of one line. Says whether the line was good to its end.
    fn body_line(&self, line: &Range<usize>, last: &mut Before, body: &mut Body) -> bool {
        if let Some(face) = self.quick_face(line) {
            body.faces.push(face);
            *last = Before::Face(true);
        } else if let Some(edge) = self.quick_edge(line) {
            body.edges.push(edge);
            *last = Before::Edge;
        } else if let Some(setting) = self.quick_setting(line) {
            body.settings.push(setting);
            *last = Before::Setting;
        } else {
            return self.line(Kind::Structure, line.clone(), |pair| {
                *last = self.body_member(pair, *last, body);
            });
        }
        true
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
}
