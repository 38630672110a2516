//! Needs and hours: what every face, every edge and the job as a whole contribute.

use super::build::{Builder, Outcome};
use super::figures::{Fault, face_name};
use super::tapes::{On, Subject};
use super::{Class, Id, Origin, Step, Value};
use crate::days::cards::MOST;
use parge_base::{Dim, NodeId, Operator, Quantity, Span};

/// The kind of contributions that are the waste on others.
const WASTE: &str = "waste";

/// What one line of a rule contributes.
struct Line {
    subject: Subject,
    number: usize,
    node: NodeId,
    place: Option<Span>,
}

impl Builder<'_> {
    fn subjects(&self) -> Vec<Subject> {
        let takeoff = &self.estimate.takeoff;
        let faces = (0..takeoff.faces.len()).map(Subject::Face);
        let edges = (0..takeoff.edges.len()).map(Subject::Edge);
        let days = takeoff.days.iter().flat_map(|plan| &plan.days);
        let days = days.filter_map(|day| day.asked.map(Subject::Asked));
        let on_the_wall = faces.chain(edges);
        on_the_wall.chain([Subject::Whole]).chain(days).collect()
    }

    /// The lines that need an item, in the order in which needs are pooled.
    fn need_lines(&self, subject: Subject, item: &str) -> Vec<(Line, NodeId)> {
        let Some(taken) = self.taken(subject) else {
            return Vec::new();
        };
        let run = self.estimate.takeoff.runs.get(taken.run);
        let lines = run.map_or(&[][..], |run| &run.needs).iter().enumerate();
        let of_item = lines.filter(|(_, line)| &*line.item == item);
        let found = of_item.map(|(number, line)| {
            let (node, place) = (line.amount, line.place);
            let line_of = Line {
                subject,
                number,
                node,
                place,
            };
            (line_of, line.waste)
        });
        found.collect()
    }

    fn hours_lines(&self, subject: Subject, phase: Option<&str>) -> Vec<Line> {
        let Some(taken) = self.taken(subject) else {
            return Vec::new();
        };
        let run = self.estimate.takeoff.runs.get(taken.run);
        let lines = run.map_or(&[][..], |run| &run.hours).iter().enumerate();
        let of_phase = lines.filter(|(_, line)| phase.is_none_or(|phase| &*line.phase == phase));
        let found = of_phase.map(|(number, line)| Line {
            subject,
            number,
            node: line.time,
            place: line.place,
        });
        found.collect()
    }

    /// A line's figure for all equal faces together.
    fn contribution(&mut self, line: &Line, kind: &'static str) -> Outcome {
        let key = (line.subject, line.number, kind);
        if let Some(known) = self.contributions.get(&key) {
            return Ok(*known);
        }
        let one = self.walk(On::Rule(line.subject), line.node)?;
        let id = self.times_count(one, line.subject)?;
        self.set_place(id, line.place);
        self.contributions.insert(key, id);
        if let Some(reason) = self.reason(line.subject, line.place) {
            self.note(id, reason);
        }
        Ok(self.classed(id, line, kind))
    }

    /// So much of one, for all equal ones.
    fn times_count(&mut self, one: Id, subject: Subject) -> Outcome {
        match self.count(subject) {
            1 => self.step(Step::Same(one), None),
            count => {
                let count = self.count_step(subject, count);
                self.combine(Operator::Multiply, count, one)
            }
        }
    }

    fn count(&self, subject: Subject) -> u32 {
        match subject {
            Subject::Face(number) => {
                let measured = self.estimate.takeoff.measured.faces.get(number);
                let face = measured.and_then(|measured| self.job.faces.get(measured.face));
                face.map_or(1, |face| face.count)
            }
            Subject::Edge(number) => self.job.edges.get(number).map_or(1, |edge| edge.count),
            Subject::Whole | Subject::Asked(_) => 1,
        }
    }

    fn count_step(&mut self, subject: Subject, count: u32) -> Id {
        if let Some(known) = self.counts.get(&subject) {
            return *known;
        }
        let (word, place) = match subject {
            Subject::Edge(number) => {
                let edge = self.job.edges.get(number);
                ("equal edges", edge.map(|edge| edge.span))
            }
            Subject::Face(_) | Subject::Whole | Subject::Asked(_) => {
                ("equal faces", self.face_span(subject))
            }
        };
        let value = Value::Quantity(Quantity::plain(f64::from(count)));
        let id = self.given(Origin::Plan, value, place);
        self.name(id, word);
        self.counts.insert(subject, id);
        id
    }

    fn face_span(&self, subject: Subject) -> Option<Span> {
        let Subject::Face(number) = subject else {
            return None;
        };
        let measured = self.estimate.takeoff.measured.faces.get(number)?;
        Some(self.job.faces.get(measured.face)?.span)
    }

    /// Names a contribution by who makes it, and puts it with those that are reckoned alike.
    fn classed(&mut self, id: Id, line: &Line, kind: &'static str) -> Id {
        let (mut name, title) = self.who(line.subject);
        if kind == WASTE {
            name = format!("waste on {name}");
        }
        let run = self
            .taken(line.subject)
            .map_or(usize::MAX, |taken| taken.run);
        let next = self.classes.len();
        let class = *self
            .class_numbers
            .entry((run, line.number, kind))
            .or_insert(next);
        if class == next {
            let place = line.place;
            self.classes.push(Class { title, place });
        }
        if let Some(node) = self.nodes.get_mut(id) {
            node.name = Some(name);
            node.class = Some(class);
        }
        id
    }

    /// A subject's name, and what it has in common with others of its class.
    fn who(&self, subject: Subject) -> (String, String) {
        let job = self.job;
        let found = match subject {
            Subject::Face(number) => {
                let measured = self.estimate.takeoff.measured.faces.get(number);
                measured.and_then(|measured| {
                    let (structure, name) = face_name(job, measured)?;
                    let face = job.faces.get(measured.face)?;
                    let finish = &job.finishes.get(face.finish)?.name;
                    let title = format!("{finish} on {}", face.substrate);
                    Some((format!("`{name}` of `{structure}`"), title))
                })
            }
            Subject::Edge(number) => job.edges.get(number).map(|edge| {
                let structure = job.structure_name(edge.structure);
                let face = edge
                    .face
                    .as_ref()
                    .map_or(String::new(), |face| format!("`{face}` of "));
                let name = format!("{} at {face}`{structure}`", edge.kind);
                (name, format!("edges: {}", edge.kind))
            }),
            Subject::Asked(number) => {
                let days = self.estimate.takeoff.days.as_ref();
                let asked = days.and_then(|days| days.asked.get(number));
                asked.map(|asked| (asked.name.clone(), "days of work".to_owned()))
            }
            Subject::Whole => None,
        };
        found.unwrap_or_else(|| ("the job as a whole".to_owned(), "the job".to_owned()))
    }

    /// The need of an item, over all.
    pub(super) fn need(&mut self, item: &str, dim: Dim) -> Outcome {
        let mut of = Vec::new();
        for subject in self.subjects() {
            for (line, _) in self.need_lines(subject, item) {
                of.push(self.contribution(&line, "need")?);
            }
        }
        self.sum(dim, of)
    }

    /// The waste of an item, over all.
    pub(super) fn waste(&mut self, item: &str, dim: Dim) -> Outcome {
        let mut of = Vec::new();
        for subject in self.subjects() {
            for (line, share) in self.need_lines(subject, item) {
                let amount = self.contribution(&line, "need")?;
                let share = self.walk(On::Rule(subject), share)?;
                let id = self.combine(Operator::Multiply, amount, share)?;
                self.set_place(id, line.place);
                of.push(self.classed(id, &line, WASTE));
            }
        }
        self.sum(dim, of)
    }

    pub(super) fn sum(&mut self, dim: Dim, of: Vec<Id>) -> Outcome {
        let nothing = Value::Quantity(Quantity::zero(dim));
        self.step(Step::Sum { nothing, of }, None)
    }

    /// The time of a phase, over all, not rounded yet.
    pub(super) fn time(&mut self, phase: &str) -> Outcome {
        let mut of = Vec::new();
        for subject in self.subjects() {
            for line in self.hours_lines(subject, Some(phase)) {
                of.push(self.contribution(&line, "hours")?);
            }
        }
        self.sum(Dim::TIME, of)
    }

    /// What one face takes of an item, for all equal faces together.
    pub(super) fn face_need(&mut self, face: usize, item: &str) -> Outcome {
        let subject = Subject::Face(face);
        let materials = self.estimate.materials.iter();
        let material = materials
            .map(|line| &line.material)
            .find(|material| material.item == item);
        self.unit = material.map(|material| material.unit.clone());
        let mut of = Vec::new();
        for (line, _) in self.need_lines(subject, item) {
            of.push(self.contribution(&line, "need")?);
        }
        self.of_face(subject, of)
    }

    /// What one face takes of a phase, for all equal faces together.
    pub(super) fn face_hours(&mut self, face: usize, phase: &str) -> Outcome {
        let subject = Subject::Face(face);
        let mut of = Vec::new();
        for line in self.hours_lines(subject, Some(phase)) {
            of.push(self.contribution(&line, "hours")?);
        }
        self.of_face(subject, of)
    }

    fn of_face(&mut self, subject: Subject, of: Vec<Id>) -> Outcome {
        if let [only] = of.as_slice() {
            return Ok(*only);
        }
        let first = of.first().and_then(|id| self.nodes.get(*id));
        let Some(Value::Quantity(first)) = first.map(|node| node.value) else {
            return Err(Fault::NoValue);
        };
        let (name, _) = self.who(subject);
        let id = self.sum(first.dim, of)?;
        Ok(self.name(id, name))
    }

    /// The largest batch of a card, before it is cut to whole bags.
    pub(super) fn batch(&mut self, card: usize) -> Outcome {
        let takeoff = &self.estimate.takeoff;
        let days = takeoff.days.as_ref().ok_or(Fault::NoValue)?;
        let asked = days.cards.get(card).ok_or(Fault::NoValue)?.asked;
        let run = days
            .asked
            .get(asked)
            .and_then(|asked| takeoff.runs.get(asked.run));
        let most = run.and_then(|run| run.given(MOST)).ok_or(Fault::NoValue)?;
        let id = self.walk(On::Rule(Subject::Asked(asked)), most.value)?;
        self.set_place(id, most.place);
        Ok(self.name(id, "largest batch"))
    }

    /// What the rule for the job is given that is reckoned from all faces, as
    /// [`crate::takeoff`] reckons it.
    pub(super) fn job_input(&mut self, name: &str) -> Result<Option<Id>, Fault> {
        let (key, words) = match name {
            "area" => ("area", "coated area of all faces"),
            "ground_run" => ("ground_run", "length of all faces along the ground"),
            "faces" => ("faces", "number of faces"),
            "hours" => ("hours", "hours on all faces and edges"),
            "working_height" => ("working_height", "highest working height"),
            "structures" => ("structures", "number of structures"),
            _ => return Ok(None),
        };
        if let Some(known) = self.named.get(key) {
            return Ok(Some(*known));
        }
        let id = match key {
            "area" => self.over_faces(Dim::AREA, key)?,
            "ground_run" => self.over_faces(Dim::LENGTH, key)?,
            "faces" => self.over_faces(Dim::NONE, key)?,
            "hours" => self.all_hours()?,
            "working_height" => self.highest()?,
            _ => self.structures(),
        };
        self.named.insert(key, id);
        Ok(Some(self.name(id, words)))
    }

    fn over_faces(&mut self, dim: Dim, key: &'static str) -> Outcome {
        let mut of = Vec::new();
        for number in 0..self.estimate.takeoff.measured.faces.len() {
            let subject = Subject::Face(number);
            let Some(measured) = self.estimate.takeoff.measured.faces.get(number) else {
                continue;
            };
            let node = match key {
                "area" => measured.net,
                _ => measured.shape.bottom,
            };
            let id = if key == "faces" {
                let count = self.count(subject);
                let count = self.count_step(subject, count);
                self.step(Step::Same(count), None)?
            } else {
                let one = self.walk(On::Plan, node)?;
                self.times_count(one, subject)?
            };
            let place = self.face_span(subject);
            self.set_place(id, place);
            let (name, _) = self.who(subject);
            of.push(self.name(id, name));
        }
        self.sum(dim, of)
    }

    fn all_hours(&mut self) -> Outcome {
        let mut of = Vec::new();
        for subject in self
            .subjects()
            .into_iter()
            .filter(|subject| matches!(subject, Subject::Face(_) | Subject::Edge(_)))
        {
            for line in self.hours_lines(subject, None) {
                of.push(self.contribution(&line, "hours")?);
            }
        }
        self.sum(Dim::TIME, of)
    }

    fn highest(&mut self) -> Outcome {
        let nothing = Value::Quantity(Quantity::zero(Dim::LENGTH));
        let mut highest = self.given(Origin::Counted, nothing, None);
        for number in 0..self.estimate.takeoff.measured.faces.len() {
            let faces = &self.estimate.takeoff.measured.faces;
            let Some(node) = faces.get(number).map(|face| face.working_height) else {
                continue;
            };
            let height = self.walk(On::Plan, node)?;
            highest = self.combine(Operator::Max, highest, height)?;
        }
        Ok(highest)
    }

    fn structures(&mut self) -> Id {
        let measured = &self.estimate.takeoff.measured;
        let faces = measured.faces.iter();
        let numbers = faces.filter_map(|face| Some(self.job.faces.get(face.face)?.structure));
        let mut numbers: Vec<usize> = numbers.collect();
        numbers.sort_unstable();
        numbers.dedup();
        let value = Value::Quantity(Quantity::plain(numbers.len() as f64));
        self.given(Origin::Counted, value, Some(self.job.span))
    }
}
