//! Laying out a class: its table, its lines, and its comparisons.

use super::*;

/// What the rules for the job are given, and the measure of a face that it is reckoned from.
const SUMMED: [(&str, &str); 3] = [
    ("area", "area"),
    ("ground_run", "bottom"),
    ("working_height", "working_height"),
];

impl<'a> Laying<'_, 'a> {
    /// Rows with their places in the tables of faces and edges.
    pub(super) fn with_rows(&self, rows: Rows) -> Rows {
        let takeoff = &self.estimate.takeoff;
        match rows {
            Rows::Faces(rows) => {
                let row = |[_, number]: [usize; 2]| {
                    let face = takeoff.measured.faces.get(number)?.face;
                    Some([*self.live.plan.face_rows.get(&face)?, number])
                };
                Rows::Faces(rows.into_iter().filter_map(row).collect())
            }
            Rows::Edges(rows) => {
                let row = |[_, number]: [usize; 2]| {
                    let edge = takeoff.measured.job.edges.get(number)?;
                    Some([self.live.plan.edge_row(edge)?, number])
                };
                Rows::Edges(rows.into_iter().filter_map(row).collect())
            }
        }
    }

    /// Lays out a class: its table, and its lines.
    pub(super) fn class(&mut self, run: &'a Run, rows: Rows) {
        let class = self.live.classes.len();
        let (tape, lines) = lines::of(run);
        let title = self.class_title(&rows);
        let used = inputs::used(&tape, &run.line_nodes());
        let is_laid_out = used.iter().any(|slot| {
            let name = tape.input_name(*slot).unwrap_or("");
            bare(name).starts_with(inputs::LAID_OUT)
        });
        let given: Vec<Given> = input_names(&tape)
            .map(|name| {
                let plan = &self.live.plan;
                inputs::same_for_all(plan, self.estimate, &rows, name)
                    .map_or(Given::Differs, Given::Same)
            })
            .collect();
        let columns = match &rows {
            Rows::Faces(_) => self.job_columns(&tape),
            Rows::Edges(_) => Vec::new(),
        };
        let (first, guards) = (self.live.workings.len(), guards(&tape));
        let mut names = self.names.of(run);
        for line in &lines {
            names.entry(line.node).or_insert_with(|| line.words());
        }
        let (laid, first_total) = self.lay(
            &title,
            &Lay {
                tape: &tape,
                system: self.live.system,
                class,
                given: &given,
                lines: &lines.iter().map(|line| line.node).collect::<Vec<_>>(),
                columns: &columns,
                guards: &guards,
            },
            &names,
        );
        let terms = laid.terms.iter().map(|node| Term {
            what: term_words(&tape, &names, *node),
            kind: tape.value(*node).dim,
            total: 0.0,
            largest: 0.0,
            node: *node,
        });
        self.live.classes.push(Class {
            title: title.clone(),
            terms: terms.collect(),
            count: 0.0,
            rows,
            is_laid_out,
            tape,
            guards,
            laid,
            version: self.number,
        });
        // What is the same for all is valued before the rows, and the rows before their sums.
        self.value_workings(first..first_total);
        self.value_class(class);
        self.value_workings(first_total..self.live.workings.len());
        for line in &lines {
            let laid = self.live.classes.get(class).map(|class| &class.laid);
            let expr = laid.map(|laid| laid.total_expr(line.node));
            self.line(&title, line, expr, true);
        }
        self.check_guards(&title, class);
    }

    fn class_title(&self, rows: &Rows) -> String {
        let job = &self.estimate.takeoff.measured.job;
        let title = match rows {
            Rows::Faces(rows) => {
                let measured = rows
                    .first()
                    .and_then(|[_, number]| self.estimate.takeoff.measured.faces.get(*number));
                let face = measured.and_then(|measured| job.faces.get(measured.face));
                face.map(|face| {
                    let finish = job.finishes.get(face.finish);
                    let finish = finish.map_or("", |finish| &finish.name);
                    format!("{finish} on {}", face.substrate)
                })
            }
            Rows::Edges(rows) => {
                let edge = rows.first().and_then(|[_, number]| job.edges.get(*number));
                edge.map(|edge| format!("edges: {}", edge.kind))
            }
        };
        let title = title.unwrap_or_default();
        let alike = self
            .live
            .classes
            .iter()
            .filter(|class| class.version == self.number);
        let begins =
            |class: &&Class| class.title == title || class.title.starts_with(&format!("{title} ("));
        match alike.filter(begins).count() {
            0 => title,
            others => format!("{title} ({})", others + 1),
        }
    }

    /// The measures that the rules for the job are given added up over all faces.
    fn job_columns(&self, tape: &Tape) -> Vec<NodeId> {
        let takeoff = &self.estimate.takeoff;
        let whole = takeoff.whole.as_ref();
        let run = whole.and_then(|whole| takeoff.runs.get(whole.run));
        let runs = run.into_iter().chain(&self.estimate.charging);
        let mut asked: Vec<&str> = Vec::new();
        for run in runs {
            let used = inputs::used(&run.tape, &run.line_nodes());
            let names = used.iter().filter_map(|slot| run.tape.input_name(*slot));
            asked.extend(names.map(bare));
        }
        let columns = SUMMED.iter().filter(|(name, _)| asked.contains(name));
        columns
            .filter_map(|(_, measure)| input_node(tape, measure))
            .collect()
    }

    /// Adds the sums over the rows of a class.
    fn value_class(&mut self, class: usize) {
        let Some(found) = self.live.classes.get(class) else {
            return;
        };
        let mut sums = vec![(0.0, f64::NEG_INFINITY); found.terms.len()];
        let mut number = 0.0;
        for row in 0..found.rows.len() {
            let count = found
                .rows
                .count(row)
                .map_or(0.0, |cell| self.live.value(cell));
            number += count;
            for (term, (total, largest)) in sums.iter_mut().enumerate() {
                let value = self.live.value(Cell::Term { class, row, term });
                *total += count * value;
                *largest = f64::max(*largest, value);
            }
        }
        if let Some(found) = self.live.classes.get_mut(class) {
            found.count = number;
            for (term, (total, largest)) in found.terms.iter_mut().zip(sums) {
                (term.total, term.largest) = (total, largest);
            }
        }
    }

    /// Adds the comparisons of a class that are the same for all its rows.
    fn check_guards(&mut self, title: &str, class: usize) {
        let Some(found) = self.live.classes.get(class) else {
            return;
        };
        let same =
            |guard: &&Guard| !found.laid.differs(guard.left) && !found.laid.differs(guard.right);
        let held: Vec<(Held, Option<Span>)> = found
            .guards
            .iter()
            .filter(same)
            .filter_map(|guard| held(&found.laid, guard))
            .collect();
        self.add_checks(title, held);
    }
}

/// A column of a class in words.
fn term_words(tape: &Tape, names: &HashMap<NodeId, String>, node: NodeId) -> String {
    if let Some(name) = names.get(&node) {
        return name.clone();
    }
    let side = |node: NodeId| term_words(tape, names, node);
    match tape.node(node).map(|node| node.op) {
        Some(Op::Input(slot)) => input_words(tape.input_name(slot).unwrap_or("")),
        Some(Op::Combine(Operator::Multiply, a, b)) if short(tape, a) && short(tape, b) => {
            format!("{} × {}", side(a), side(b))
        }
        Some(Op::Combine(Operator::Divide, a, b)) if short(tape, a) && short(tape, b) => {
            format!("{} ÷ {}", side(a), side(b))
        }
        Some(Op::Factor(number)) => {
            let factor = tape.factor(number);
            factor.map_or(String::new(), |factor| names::factor_words(&factor.name))
        }
        _ => "part of a rule".to_owned(),
    }
}

fn short(tape: &Tape, node: NodeId) -> bool {
    let op = tape.node(node).map(|node| node.op);
    matches!(op, Some(Op::Input(_) | Op::Factor(_)))
}
