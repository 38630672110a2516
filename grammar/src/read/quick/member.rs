//! Faces, openings, edges and settings of a structure.

use super::Quick;
use crate::ast::{BodySetting, Edge, Face, FaceDetail, Name, Opening, OpeningDetail};
use crate::read::Reader;
use parge_base::Spanned;
use std::ops::Range;

/// Words that begin something else where the finish of a face could stand.
const NO_FINISH: [&str; 4] = ["edge", "height", "conditions", "after"];

impl<'a> Reader<'a> {
    /// The name and substrate of a structure that is made from no template.
    pub(in crate::read) fn quick_head(&self, head: &Range<usize>) -> Option<(Name, Option<Name>)> {
        self.quick_line(head, |quick| {
            quick.need("structure")?;
            let name = quick.name()?;
            let substrate = match quick.takes("on") {
                true => Some(quick.name()?),
                false => None,
            };
            Some((name, substrate))
        })
    }

    /// A line that holds one face.
    pub(in crate::read) fn quick_face(&self, line: &Range<usize>) -> Option<Face> {
        self.quick_line(line, Quick::face)
    }

    /// A line that holds one edge.
    pub(in crate::read) fn quick_edge(&self, line: &Range<usize>) -> Option<Edge> {
        self.quick_line(line, Quick::edge)
    }

    /// A line that holds one setting of a structure.
    pub(in crate::read) fn quick_setting(
        &self,
        line: &Range<usize>,
    ) -> Option<Spanned<BodySetting>> {
        self.quick_line(line, |quick| quick.spanned(Quick::setting))
    }

    /// The openings and edges of a line of a face.
    pub(in crate::read) fn quick_members(
        &self,
        line: &Range<usize>,
    ) -> Option<(Vec<Opening>, Vec<Edge>)> {
        self.quick_line(line, |quick| {
            let (mut openings, mut edges) = (Vec::new(), Vec::new());
            while !quick.is_over() {
                match quick.word()? {
                    "opening" => openings.push(quick.opening()?),
                    _ => edges.push(quick.edge()?),
                }
            }
            Some((openings, edges))
        })
    }

    fn quick_line<'s, T>(
        &'s self,
        line: &Range<usize>,
        read: fn(&mut Quick<'s, 'a>) -> Option<T>,
    ) -> Option<T> {
        let mut quick = Quick::new(self, line)?;
        let made = read(&mut quick)?;
        quick.is_over().then_some(made)
    }
}

impl Quick<'_, '_> {
    fn spanned<T>(&mut self, read: fn(&mut Self) -> Option<T>) -> Option<Spanned<T>> {
        let start = self.at;
        let node = read(self)?;
        Some(Spanned::new(node, self.span_from(start)))
    }

    fn setting(&mut self) -> Option<BodySetting> {
        let word = self.word()?;
        self.take(word.len());
        Some(match word {
            "finish" => BodySetting::Finish(self.name()?),
            "height" => BodySetting::Height(self.expr()?),
            "at" => BodySetting::At(self.expr()?),
            _ => return None,
        })
    }

    fn face(&mut self) -> Option<Face> {
        let start = self.at;
        self.need("face")?;
        let (name, shape) = (self.name()?, self.shape()?);
        let mut details = Vec::new();
        while !self.is_over() {
            details.reserve_exact(1);
            details.push(self.spanned(Self::face_detail)?);
        }
        Some(Face {
            name,
            shape,
            details,
            openings: Vec::new(),
            edges: Vec::new(),
            span: self.span_from(start),
        })
    }

    fn face_detail(&mut self) -> Option<FaceDetail> {
        let word = self.word().unwrap_or("");
        let detail = match word {
            "count" | "on" | "at" => word,
            "from" => "from",
            _ if NO_FINISH.contains(&word) => return None,
            _ => return self.name().map(FaceDetail::Finish),
        };
        self.take(detail.len());
        Some(match detail {
            "count" => FaceDetail::Count(self.expr()?),
            "on" => FaceDetail::Substrate(self.name()?),
            "at" => FaceDetail::At(self.expr()?),
            _ => FaceDetail::From(self.quoted()?),
        })
    }

    fn opening(&mut self) -> Option<Opening> {
        let start = self.at;
        self.need("opening")?;
        let (name, shape) = (self.name()?, self.shape()?);
        let mut details = Vec::new();
        while !self.is_over() && !matches!(self.word()?, "opening" | "edge") {
            details.reserve_exact(1);
            details.push(self.spanned(Self::opening_detail)?);
        }
        Some(Opening {
            name,
            shape,
            details,
            span: self.span_from(start),
        })
    }

    fn opening_detail(&mut self) -> Option<OpeningDetail> {
        let word = self.word()?;
        self.take(word.len());
        Some(match word {
            "reveal" => OpeningDetail::Reveal(self.expr()?, self.edge_words()?),
            "count" => OpeningDetail::Count(self.expr()?),
            "finish" => OpeningDetail::Finish(self.name()?),
            "from" => OpeningDetail::From(self.quoted()?),
            _ => return None,
        })
    }

    /// The edges of an opening that have a reveal, where some are named.
    fn edge_words(&mut self) -> Option<Vec<Name>> {
        let mut edges = Vec::new();
        if self.takes("on") {
            loop {
                let edge = self.any_word()?;
                matches!(edge.node.as_str(), "top" | "bottom" | "sides")
                    .then(|| edges.push(edge))?;
                if !self.mark(b',') {
                    break;
                }
            }
        }
        Some(edges)
    }

    fn edge(&mut self) -> Option<Edge> {
        let start = self.at;
        self.need("edge")?;
        let (kind, length) = (self.name()?, self.expr()?);
        let count = match self.takes("count") {
            true => Some(self.expr()?),
            false => None,
        };
        Some(Edge {
            kind,
            length,
            count,
            span: self.span_from(start),
        })
    }
}
