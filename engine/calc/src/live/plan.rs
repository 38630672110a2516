//! The plan's own tape as cells: sizes as they are stated, figures of faces, and what is worked
//! out on the way.

use super::coherent::System;
use super::cuts::{Needed, Sizes};
use super::expr::{Cell, Expr, FACE_FIGURES, FaceFigure, Held};
use crate::explain::names;
use crate::job::{Edge, Job};
use crate::measure::{Measured, MeasuredFace};
use parge_base::trace::Guard;
use parge_base::{Dim, Factor, FileId, NodeId, Op, Quantity, Sources, Span, Unit, Units};
use parge_rules::naming::is_script;
use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

/// A figure that the plan states, and that can be changed.
#[derive(Debug, Clone)]
pub struct Size {
    /// The structure it belongs to, where it belongs to one.
    pub structure: String,
    /// The face it belongs to, or what else in the plan.
    pub of: String,
    /// What it is, in words.
    pub what: String,
    /// As it is written in the plan.
    pub written: String,
    /// The unit of `stated`.
    pub unit: Unit,
    /// Its number in that unit.
    pub stated: f64,
    /// Its number in coherent units.
    pub value: f64,
    /// Its kind.
    pub kind: Dim,
    /// Where it stands.
    pub span: Span,
}

/// A figure of the plan that is worked out of others, and stands in a cell because it has a name
/// or is long.
#[derive(Debug, Clone)]
pub struct Worked {
    /// What it is, in words.
    pub what: String,
    /// How.
    pub expr: Expr,
    /// Its number in coherent units.
    pub value: f64,
    /// Its kind.
    pub kind: Dim,
}

/// Cells of the plan.
#[derive(Debug)]
pub(super) struct Plan<'a> {
    pub(super) measured: &'a Measured,
    pub(super) system: System,
    pub(super) sizes: Vec<Size>,
    pub(super) worked: Vec<Worked>,
    pub(super) factors: Factors,
    /// Rows of faces, by their number in [`Job::faces`].
    pub(super) face_rows: HashMap<usize, usize>,
    /// Rows of edges by what they are.
    edge_rows: HashMap<EdgeKey, usize>,
    /// Faces whose number is used by expressions that cannot follow it: faces of templates.
    pub(super) fixed_counts: HashSet<usize>,
    cells: HashMap<NodeId, Cell>,
}

/// The factors that formulas use, in the order of their first use.
#[derive(Debug, Default)]
pub(super) struct Factors {
    pub(super) all: Vec<Arc<Factor>>,
    numbers: HashMap<Span, usize>,
}

impl Factors {
    pub(super) fn cell(&mut self, factor: &Arc<Factor>) -> Cell {
        let next = self.all.len();
        let number = *self.numbers.entry(factor.span).or_insert(next);
        if number == next {
            self.all.push(Arc::clone(factor));
        }
        Cell::Factor(number)
    }

    pub(super) fn known(&self, factor: &Factor) -> Option<Cell> {
        self.numbers.get(&factor.span).copied().map(Cell::Factor)
    }
}

/// What tells an edge from others: its structure, its statement, and the figure of its length.
type EdgeKey = (usize, Span, NodeId);

fn edge_key(edge: &Edge) -> EdgeKey {
    (edge.structure, edge.span, edge.length.node)
}

fn edge_rows(job: &Job) -> HashMap<EdgeKey, usize> {
    let mut rows = HashMap::new();
    for (row, edge) in job.edges.iter().enumerate() {
        rows.entry(edge_key(edge)).or_insert(row);
    }
    rows
}

/// The node of a figure of a face.
pub(super) fn node_of(face: &MeasuredFace, figure: FaceFigure) -> NodeId {
    match figure {
        FaceFigure::Width => face.shape.width,
        FaceFigure::Height => face.shape.height,
        FaceFigure::Gross => face.shape.area,
        FaceFigure::Deducted => face.deducted,
        FaceFigure::Reveal => face.reveal,
        FaceFigure::Net => face.net,
        FaceFigure::Foot => face.shape.bottom,
        FaceFigure::Top => face.working_height,
    }
}

impl<'a> Plan<'a> {
    /// Lays out the cells for all faces, and for what else is asked of the plan.
    pub(super) fn of(
        measured: &'a Measured,
        asked: impl Iterator<Item = NodeId>,
        sources: &Sources,
        system: System,
    ) -> Self {
        let job = &measured.job;
        let mut plan = Self {
            measured,
            system,
            sizes: Vec::new(),
            worked: Vec::new(),
            factors: Factors::default(),
            face_rows: HashMap::new(),
            edge_rows: edge_rows(&measured.job),
            fixed_counts: HashSet::new(),
            cells: HashMap::new(),
        };
        let guards = measured.faces.iter().flat_map(|face| guards_of(job, face));
        let sides = guards.flat_map(|guard| [guard.left, guard.right]);
        let figures = measured.faces.iter().flat_map(|face| {
            let figures = FACE_FIGURES.map(|figure| node_of(face, figure));
            figures.into_iter().chain([face.opening_edges])
        });
        let stated = job.faces.iter().filter_map(|face| face.stated_count);
        let of_edges = job.edges.iter().filter_map(|edge| edge.stated_count);
        let counts: HashSet<NodeId> = stated.chain(of_edges).collect();
        let asked = asked.chain(counts.iter().copied());
        let needed = Needed::of(&job.tape, figures.chain(sides).chain(asked));
        for (row, face) in measured.faces.iter().enumerate() {
            plan.face_rows.insert(face.face, row);
        }
        plan.state_sizes(&needed, &counts, sources);
        let named: HashSet<NodeId> = job.names.iter().map(|(_, figure)| figure.node).collect();
        for (row, face) in measured.faces.iter().enumerate() {
            for figure in FACE_FIGURES {
                let node = node_of(face, figure);
                let cell = Cell::Face(row, figure);
                if plan.is_operation(node) && !named.contains(&node) {
                    plan.cells.entry(node).or_insert(cell);
                }
            }
        }
        plan.work_out(&needed);
        plan
    }

    /// The row of an edge of an alternate, which leaves edges out and keeps the others as they are.
    pub(super) fn edge_row(&self, edge: &Edge) -> Option<usize> {
        self.edge_rows.get(&edge_key(edge)).copied()
    }

    pub(super) fn job(&self) -> &'a Job {
        &self.measured.job
    }

    fn is_operation(&self, node: NodeId) -> bool {
        let op = self.job().tape.node(node).map(|node| node.op);
        matches!(op, Some(Op::Apply(..) | Op::Combine(..)))
    }

    /// Gives each written figure its cell.
    fn state_sizes(&mut self, needed: &Needed, stated: &HashSet<NodeId>, sources: &Sources) {
        let job = self.job();
        let names = names::of_plan(self.measured);
        let owners = Owners::of(job);
        let mut units = WrittenUnits::default();
        let counts = self.counts();
        let mut known: HashMap<Span, usize> = HashMap::new();
        for (id, node) in job.tape.nodes().filter(|(id, _)| needed.has(*id)) {
            if let Op::Factor(number) = node.op {
                if let Some(factor) = job.tape.factor(number) {
                    let cell = self.factors.cell(factor);
                    self.cells.insert(id, cell);
                }
                continue;
            }
            let (Op::Literal, Some(span)) = (node.op, node.place) else {
                continue;
            };
            if let Some(rows) = counts.get(&span) {
                match rows.as_slice() {
                    [row] => {
                        self.cells.insert(id, Cell::FaceCount(*row));
                    }
                    rows => self.fixed_counts.extend(rows),
                }
                continue;
            }
            if !is_plan(sources.name(span.file)) {
                continue;
            }
            let next = self.sizes.len();
            let number = *known.entry(span).or_insert(next);
            if number == next {
                let name = names.get(&id).map(String::as_str);
                let name = name.or_else(|| stated.contains(&id).then_some("count"));
                let size = self.size(node.value, span, name, &owners, sources, &mut units);
                self.sizes.push(size);
            }
            self.cells.insert(id, Cell::Size(number));
        }
    }

    /// The rows of faces by their statements: a number of equal faces has the statement as its
    /// place.
    fn counts(&self) -> HashMap<Span, Vec<usize>> {
        let mut counts: HashMap<Span, Vec<usize>> = HashMap::new();
        for (row, face) in self.measured.faces.iter().enumerate() {
            if let Some(face) = self.job().faces.get(face.face) {
                counts.entry(face.span).or_default().push(row);
            }
        }
        counts
    }

    fn size(
        &self,
        value: Quantity,
        span: Span,
        name: Option<&str>,
        owners: &Owners<'_>,
        sources: &Sources,
        units: &mut WrittenUnits,
    ) -> Size {
        let written = sources.slice(span).trim().to_owned();
        let unit = units
            .of(&written, value)
            .or_else(|| units.parsed(&self.system.unit(value.dim)))
            .filter(|unit| unit.dim() == value.dim);
        let unit = unit.unwrap_or_else(Unit::plain);
        let stated = unit.show(value).unwrap_or(self.system.value(value));
        let (structure, of) = owners.owner(span);
        Size {
            structure,
            of,
            what: name.map_or_else(|| "size".to_owned(), |name| name.replace('`', "")),
            written,
            unit,
            stated: tidy(stated),
            value: self.system.value(value),
            kind: value.dim,
            span,
        }
    }

    /// Gives cells to what has a name or is long.
    fn work_out(&mut self, needed: &Needed) {
        let job = self.job();
        let named: HashMap<NodeId, &str> = job
            .names
            .iter()
            .map(|(name, figure)| (figure.node, name.as_str()))
            .collect();
        let mut sizes = Sizes::of(&job.tape);
        for (id, node) in job.tape.nodes().filter(|(id, _)| needed.has(*id)) {
            if self.cells.contains_key(&id) {
                sizes.set(id, 1);
                continue;
            }
            let cut = sizes.should_cut(id, node.op, needed.uses(id));
            let name = named.get(&id).filter(|_| self.is_operation(id));
            if !cut && name.is_none() {
                continue;
            }
            sizes.set(id, 1);
            let worked = Worked {
                what: name
                    .map_or_else(|| "part of a formula".to_owned(), |name| (*name).to_owned()),
                expr: self.written_out(id),
                value: self.system.value(node.value),
                kind: node.value.dim,
            };
            self.cells.insert(id, Cell::Worked(self.worked.len()));
            self.worked.push(worked);
        }
    }

    /// A figure of the plan: its cell, or its formula.
    pub(super) fn expr(&self, node: NodeId) -> Expr {
        match self.cells.get(&node) {
            Some(cell) => Expr::At(*cell),
            None => self.written_out(node),
        }
    }

    /// A figure of the plan by its formula, whether it has a cell or not. What it rests on is
    /// never deeper than the cuts let it be.
    fn written_out(&self, node: NodeId) -> Expr {
        let Some(found) = self.job().tape.node(node) else {
            return Expr::Number(f64::NAN);
        };
        match found.op {
            Op::Apply(function, a) => Expr::apply(function, self.expr(a)),
            Op::Combine(operator, a, b) => Expr::combine(operator, self.expr(a), self.expr(b)),
            Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => {
                Expr::number(found.value, self.system)
            }
        }
    }

    /// The formula that stands in the cell of a face's figure.
    pub(super) fn face(&self, row: usize, figure: FaceFigure) -> Expr {
        let Some(face) = self.measured.faces.get(row) else {
            return Expr::Number(f64::NAN);
        };
        let node = node_of(face, figure);
        match self.cells.get(&node) {
            Some(cell) if *cell == Cell::Face(row, figure) => self.written_out(node),
            _ => self.expr(node),
        }
    }

    /// The number in a cell of a face.
    pub(super) fn face_value(&self, row: usize, figure: FaceFigure) -> f64 {
        let face = self.measured.faces.get(row);
        face.map_or(f64::NAN, |face| self.value(node_of(face, figure)))
    }

    /// A figure of the plan in coherent units.
    pub(super) fn value(&self, node: NodeId) -> f64 {
        self.system.value(self.job().tape.value(node))
    }

    /// The comparisons that a face's measures hold under.
    pub(super) fn guards(&self, row: usize) -> Vec<Held> {
        let face = self.measured.faces.get(row);
        let guards = face
            .into_iter()
            .flat_map(|face| guards_of(self.job(), face));
        let held = guards.map(|guard| Held {
            left: self.expr(guard.left),
            comparison: guard.comparison,
            right: self.expr(guard.right),
            held: guard.held,
        });
        // Comparisons of numbers that nothing moves say nothing.
        held.filter(|held| {
            !matches!(
                (&held.left, &held.right),
                (Expr::Number(_), Expr::Number(_))
            )
        })
        .collect()
    }
}

fn guards_of<'j>(job: &'j Job, face: &MeasuredFace) -> &'j [Guard] {
    let [first, behind] = face.guards;
    job.tape.guards().get(first..behind).unwrap_or(&[])
}

/// Whether a file is text of a plan, and not a script or a table.
fn is_plan(file: &str) -> bool {
    !is_script(file) && !file.ends_with(".csv")
}

/// The units that figures are written in, each read once.
#[derive(Default)]
struct WrittenUnits {
    known: HashMap<String, Option<Unit>>,
    units: Units,
}

impl WrittenUnits {
    /// The unit that a figure is written in, where it is one number with one unit.
    fn of(&mut self, text: &str, value: Quantity) -> Option<Unit> {
        let unit = text.trim_start_matches(|letter: char| {
            letter.is_ascii_digit() || matches!(letter, '.' | '/' | ' ' | '_' | ',')
        });
        let unit = match unit {
            "" if value.dim.is_none() => return Some(Unit::plain()),
            unit => self.parsed(unit.trim())?,
        };
        (unit.dim() == value.dim).then_some(unit)
    }

    fn parsed(&mut self, text: &str) -> Option<Unit> {
        if let Some(known) = self.known.get(text) {
            return known.clone();
        }
        let unit = self.units.parse(text).ok();
        self.known.insert(text.to_owned(), unit.clone());
        unit
    }
}

/// A number as it was meant: without the last binary digits of a conversion.
fn tidy(value: f64) -> f64 {
    let rounded = parge_base::number::round_to(value, 12);
    if (rounded - value).abs() <= 1e-14 * value.abs() {
        rounded
    } else {
        value
    }
}

/// Who a place in a plan belongs to: structure and name by the place of a statement. It is the last
/// that begins before the place and ends behind it.
struct Owners<'a>(BTreeMap<(FileId, u32), (Span, &'a str, Cow<'a, str>)>);

impl<'a> Owners<'a> {
    fn of(job: &'a Job) -> Self {
        let mut all = BTreeMap::new();
        let mut add = |span: Span, structure: &'a str, name: Cow<'a, str>| {
            let entry = (span, structure, name);
            all.entry((span.file, span.start)).or_insert(entry);
        };
        for face in &job.faces {
            let structure = job.structure_name(face.structure);
            add(face.span, structure, face.name.as_str().into());
            for opening in &face.openings {
                let name = format!("{}, {}", face.name, opening.name);
                add(opening.span, structure, name.into());
            }
        }
        for edge in &job.edges {
            let structure = job.structure_name(edge.structure);
            add(edge.span, structure, edge.kind.as_str().into());
        }
        for (name, figure) in &job.names {
            add(figure.span, "", name.as_str().into());
        }
        for finish in &job.finishes {
            let coats = finish.sealer_coats.iter();
            let shares = finish.colours.iter().map(|(_, share)| share);
            let figures = [&finish.thickness, &finish.relief].into_iter();
            for figure in figures.chain(coats).chain(shares) {
                add(figure.span, "", finish.name.as_str().into());
            }
        }
        Self(all)
    }

    fn owner(&self, place: Span) -> (String, String) {
        // An opening's statement stands within its face's, and few things stand between.
        let before = self
            .0
            .range(..=(place.file, place.start))
            .rev()
            .take(NESTED);
        let mut around = before.filter(|(_, (span, ..))| holds(*span, place));
        match around.next() {
            Some((_, (_, structure, name))) => ((*structure).to_owned(), name.clone().into_owned()),
            None => (String::new(), "the job".to_owned()),
        }
    }
}

/// How many statements are looked at for the one around a place.
const NESTED: usize = 64;

fn holds(outer: Span, inner: Span) -> bool {
    outer.file == inner.file && outer.start <= inner.start && inner.end <= outer.end
}
