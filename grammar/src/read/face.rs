//! Faces with their openings and edges.

use super::Reader;
use super::line::Kind;
use crate::ast::{Edge, Face, FaceDetail, Name, Opening, OpeningDetail};
use crate::outline::Block;
use crate::syntax::{Pair, Rule};
use parge_base::Spanned;

impl Reader<'_> {
    pub(super) fn edge(&self, pair: Pair<'_>) -> Option<Edge> {
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

    pub(super) fn face(&self, pair: Pair<'_>) -> Option<Face> {
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

    pub(super) fn face_members(&self, block: &Block) -> (Vec<Opening>, Vec<Edge>) {
        let (mut openings, mut edges) = (Vec::new(), Vec::new());
        for item in block.items.iter().filter(|item| !item.broken) {
            let good = match self.quick_members(&item.head) {
                Some((mut those, mut these)) => {
                    openings.append(&mut those);
                    edges.append(&mut these);
                    true
                }
                None => self.line(Kind::Face, item.head.clone(), |pair| match pair.as_rule() {
                    Rule::edge => edges.extend(self.edge(pair)),
                    _ => openings.extend(self.opening(pair)),
                }),
            };
            if good {
                self.no_block(item);
            }
        }
        // Most faces have one or two, and there are thousands of faces.
        openings.shrink_to_fit();
        edges.shrink_to_fit();
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
