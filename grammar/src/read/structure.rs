//! `structure "…" on substrate { … }`, its faces and their openings.

use super::Reader;
use super::line::Kind;
use crate::ast::{Body, BodySetting, Face, FaceDetail, Name, Opening, OpeningDetail, Structure};
use crate::errors::statements;
use crate::outline::{Block, Item};
use crate::syntax::{Pair, Rule};
use parge_base::Spanned;
use parge_base::suggest::nearest;

impl Reader<'_> {
    pub(super) fn structure(&self, item: &Item) -> Option<Structure> {
        let head = if item.broken {
            None
        } else {
            self.structure_head(item)
        };
        let members = self.structure_members(&self.need_block(item)?.items);
        let (name, substrate) = head?;
        Some(Structure {
            name,
            from: None,
            substrate,
            body: members,
        })
    }

    fn structure_head(&self, item: &Item) -> Option<(Name, Option<Name>)> {
        let pairs = self.head(Rule::structure_head, item.head.clone())?;
        let find = |rule| pairs.iter().find(|pair| pair.as_rule() == rule).cloned();
        let name = self.name(find(Rule::name)?);
        let substrate = match find(Rule::substrate) {
            Some(pair) => Some(self.name(pair)?),
            None => None,
        };
        Some((name?, substrate))
    }

    pub(super) fn structure_members(&self, items: &[Item]) -> Body {
        let mut members = Body::default();
        for item in items {
            self.structure_item(item, &mut members);
        }
        members
    }

    /// One line; a block behind it belongs to the last face of the line.
    fn structure_item(&self, item: &Item, members: &mut Body) {
        // Whether the last member is a face, and whether it could be read.
        let mut last_face = None;
        let good = !item.broken
            && self.line(Kind::Structure, item.head.clone(), |pair| {
                if pair.as_rule() == Rule::face {
                    let face = self.face(pair);
                    last_face = Some(face.is_some());
                    members.faces.extend(face);
                } else if last_face.is_some() {
                    // Behind a face it would read as the face's own, and be the structure's.
                    self.report(statements::finish_on_face(self.span(&pair)));
                } else {
                    let span = self.span(&pair);
                    let finish = self.name(pair).map(BodySetting::Finish);
                    members
                        .settings
                        .extend(finish.map(|finish| Spanned::new(finish, span)));
                }
            });
        let Some(block) = &item.block else {
            return;
        };
        match (good, last_face) {
            (true, None) => self.no_block(item),
            (true, Some(true)) => {
                let openings = self.openings(block);
                if let Some(face) = members.faces.last_mut() {
                    face.openings = openings;
                }
            }
            // A face that is lost has openings with mistakes of their own to tell.
            (true, Some(false)) => drop(self.openings(block)),
            (false, _) => {
                if nearest(self.word_of(item), Kind::Structure.words().iter().copied())
                    == Some("face")
                {
                    drop(self.openings(block));
                }
            }
        }
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
            _ => FaceDetail::Finish(self.name(pair)?),
        };
        Some(Spanned::new(detail, span))
    }

    fn openings(&self, block: &Block) -> Vec<Opening> {
        let mut openings = Vec::new();
        self.plain_lines(Kind::Face, &block.items, |pair| {
            openings.extend(self.opening(pair))
        });
        openings
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
        Rule::count | Rule::height_at | Rule::substrate | Rule::finish_name | Rule::reveal
    )
}
