//! Laying out what the rules were asked once: the job as a whole, the days, and the price.

use super::*;

const THE_JOB: &str = "the job as a whole";

/// Parts of one sum that stand in one formula.
const CHUNK: usize = 60;

/// Who a run was made for.
struct Single<'r> {
    run: &'r Run,
    title: String,
    /// Whether the days were planned for its hours.
    is_planned_for: bool,
    /// Figures that others ask for.
    answers: Vec<(usize, &'static str)>,
}

impl<'a> Laying<'_, 'a> {
    /// Lays out a run that was made once, for one thing.
    fn single(&mut self, single: &Single<'a>, given: &mut dyn FnMut(&mut Self, &str) -> Expr) {
        let (tape, lines) = lines::of(single.run);
        let (nodes, guards) = (lines.iter().map(|line| line.node), guards(&tape));
        let answer = |name: &'static str| Some((name, single.run.given(name)?.value));
        let answers: Vec<(usize, &'static str, NodeId)> = single
            .answers
            .iter()
            .filter_map(|(asked, name)| answer(name).map(|(name, node)| (*asked, name, node)))
            .collect();
        let nodes: Vec<NodeId> = nodes
            .chain(answers.iter().map(|(.., node)| *node))
            .collect();
        let used = inputs::used(&tape, &nodes);
        let names: Vec<String> = input_names(&tape).map(str::to_owned).collect();
        let slots =
            names
                .iter()
                .enumerate()
                .map(|(slot, name)| match used.contains(&(slot as u32)) {
                    true => Given::Same(given(self, name)),
                    false => Given::Same(Expr::Number(f64::NAN)),
                });
        let slots: Vec<Given> = slots.collect();
        let first = self.live.workings.len();
        let words = self.names.of(single.run);
        let lay = Lay {
            tape: &tape,
            system: self.live.system,
            class: usize::MAX,
            given: &slots,
            lines: &nodes,
            columns: &[],
            guards: &guards,
        };
        let (laid, _) = self.lay(&single.title, &lay, &words);
        self.value_workings(first..self.live.workings.len());
        for line in &lines {
            let expr = laid.same_for_all(line.node);
            self.line(&single.title, line, expr, single.is_planned_for);
        }
        for (asked, name, node) in answers {
            if let Some(expr) = laid.same_for_all(node) {
                let kind = tape.value(node).dim;
                let what = names::words(name);
                let cell = self.add(&single.title, what, Content::Figure(expr), kind);
                if let Some(added) = self.live.workings.last_mut() {
                    added.is_planned_for = single.is_planned_for;
                }
                self.answers.insert((asked, name), Expr::At(cell));
            }
        }
        let held = guards
            .iter()
            .filter_map(|guard| held(&laid, guard))
            .collect();
        self.add_checks(&single.title, held);
    }

    /// The rules for the job as a whole.
    pub(super) fn whole(&mut self) {
        let takeoff = &self.estimate.takeoff;
        let Some(run) = takeoff
            .whole
            .as_ref()
            .and_then(|taken| takeoff.runs.get(taken.run))
        else {
            return;
        };
        let single = Single {
            run,
            title: THE_JOB.to_owned(),
            is_planned_for: true,
            answers: Vec::new(),
        };
        self.single(&single, &mut |laying, name| {
            laying.job_input(run, bare(name))
        });
    }

    /// What a rule for the job is given.
    fn job_input(&mut self, run: &Run, name: &str) -> Expr {
        if let Some(node) = job_origin(&self.estimate.takeoff.measured.job, name) {
            return self.live.plan.expr(node);
        }
        let classes = || self.live.classes.iter().enumerate();
        let of_version = classes().filter(|(_, class)| class.version == self.number);
        let faces: Vec<usize> = of_version
            .filter(|(_, class)| matches!(class.rows, Rows::Faces(_)))
            .map(|(number, _)| number)
            .collect();
        let (key, kind, words) = match name {
            "area" => ("area", Dim::AREA, "coated area of all faces"),
            "ground_run" => (
                "ground_run",
                Dim::LENGTH,
                "length of all faces along the ground",
            ),
            "faces" => ("faces", Dim::NONE, "number of faces"),
            "hours" => ("hours", Dim::TIME, "hours on all faces and edges"),
            "working_height" => ("working_height", Dim::LENGTH, "highest working height"),
            _ => return self.counted(run, name),
        };
        if let Some(known) = self.job_inputs.get(key) {
            return known.clone();
        }
        let column = |measure: &str| {
            let cells = faces.iter().filter_map(|class| {
                let found = self.live.classes.get(*class)?;
                let node = input_node(&found.tape, measure)?;
                Some((*class, found.laid.column(node)?))
            });
            cells.collect::<Vec<_>>()
        };
        let totals = |measure: &str| {
            let cells = column(measure).into_iter();
            cells
                .map(|(class, term)| Expr::At(Cell::TermTotal { class, term }))
                .collect::<Vec<_>>()
        };
        let (parts, largest) = match key {
            "area" => (totals("area"), false),
            "ground_run" => (totals("bottom"), false),
            "faces" => {
                let counts = faces.iter().map(|class| Expr::At(Cell::ClassCount(*class)));
                (counts.collect(), false)
            }
            "hours" => (self.hours_so_far(), false),
            _ => {
                let cells = column("working_height").into_iter();
                let cells = cells.map(|(class, term)| Expr::At(Cell::TermColumn { class, term }));
                (cells.collect(), true)
            }
        };
        let expr = self.gathered(parts, words, kind, largest);
        let cell = self.add(THE_JOB, words.to_owned(), Content::Figure(expr), kind);
        self.job_inputs.insert(key, Expr::At(cell));
        Expr::At(cell)
    }

    /// The hours of faces and edges.
    fn hours_so_far(&self) -> Vec<Expr> {
        let lines = self.live.workings.iter().enumerate();
        let hours = lines
            .filter(|(_, line)| line.version == self.number && matches!(line.goes, Goes::Hours(_)));
        hours
            .map(|(number, _)| Expr::At(Cell::Working(number)))
            .collect()
    }

    /// A sum, or the largest, of parts that may be too many for one formula.
    fn gathered(&mut self, mut parts: Vec<Expr>, words: &str, kind: Dim, largest: bool) -> Expr {
        let gather = |parts: Vec<Expr>| match largest {
            true => Expr::Largest(parts),
            false => Expr::Sum(parts),
        };
        while parts.len() > CHUNK {
            let chunks: Vec<Vec<Expr>> = parts.chunks(CHUNK).map(<[Expr]>::to_vec).collect();
            parts = Vec::new();
            for chunk in chunks {
                let what = format!("{words}, in part");
                let cell = self.add(THE_JOB, what, Content::Figure(gather(chunk)), kind);
                parts.push(Expr::At(cell));
            }
        }
        gather(parts)
    }

    /// A figure that was counted: no formula gives it.
    fn counted(&mut self, run: &Run, name: &str) -> Expr {
        let node = input_node(&run.tape, name);
        let value = node.map(|node| run.tape.value(node));
        let Some(value) = value else {
            return Expr::Number(f64::NAN);
        };
        let (number, words) = (self.live.system.value(value), input_words(name));
        let content = Content::Counted(number);
        let cell = self.add(THE_JOB, words, content, value.dim);
        Expr::At(cell)
    }

    /// The rules that were asked about the days, as far as the price rests on their answers.
    pub(super) fn days(&mut self) {
        let estimate = self.estimate;
        let Some(days) = &estimate.takeoff.days else {
            return;
        };
        let of_days = days.days.iter().filter_map(|day| day.asked);
        let wanted = wanted_answers(estimate, of_days.collect());
        for (number, answers) in wanted {
            let Some(asked) = days.asked.get(number) else {
                continue;
            };
            let Some(run) = estimate.takeoff.runs.get(asked.run) else {
                continue;
            };
            let is_asked_for = !answers.is_empty();
            let single = Single {
                run,
                title: asked.name.clone(),
                is_planned_for: is_asked_for,
                answers: answers.into_iter().map(|name| (number, name)).collect(),
            };
            self.single(&single, &mut |laying, name| {
                let origins = asked.origins.iter();
                let origin = origins.clone().find(|(known, _)| *known == bare(name));
                match origin {
                    Some((_, Source::Plan(node))) => laying.live.plan.expr(*node),
                    Some((_, Source::Answer(other, answer))) => {
                        let known = laying.answers.get(&(*other, *answer));
                        known.cloned().unwrap_or(Expr::Number(f64::NAN))
                    }
                    None => laying.counted(run, bare(name)),
                }
            });
        }
    }

    /// The rule that adds to the price.
    pub(super) fn charges(&mut self) {
        let Some(run) = &self.estimate.charging else {
            return;
        };
        let single = Single {
            run,
            title: "the price".to_owned(),
            is_planned_for: false,
            answers: Vec::new(),
        };
        self.single(&single, &mut |laying, name| {
            let figure = match bare(name) {
                "materials" => BidFigure::Materials,
                "labour" => BidFigure::Labour,
                "burden" => BidFigure::Burden,
                "overhead" => BidFigure::Overhead,
                "profit" => BidFigure::Profit,
                "allowances" => BidFigure::Allowances,
                "freight" => BidFigure::Freight,
                "contingency" => BidFigure::Contingency,
                "total" => BidFigure::Total,
                "hours" => BidFigure::Hours,
                other => return laying.job_input(run, other),
            };
            Expr::At(Cell::Bid(laying.number, figure))
        });
    }
}

/// The questions about the days that answers are wanted of, with the names of the answers, each
/// after those that it rests on.
fn wanted_answers(
    estimate: &Estimate,
    days: Vec<usize>,
) -> BTreeMap<usize, BTreeSet<&'static str>> {
    let mut wanted: BTreeMap<usize, BTreeSet<&'static str>> = BTreeMap::new();
    let Some(plan) = &estimate.takeoff.days else {
        return wanted;
    };
    let mut open = days;
    while let Some(number) = open.pop() {
        if wanted.contains_key(&number) {
            continue;
        }
        wanted.insert(number, BTreeSet::new());
        let origins = plan.asked.get(number).map(|asked| &asked.origins);
        for (_, source) in origins.into_iter().flatten() {
            if let Source::Answer(other, _) = source {
                open.push(*other);
            }
        }
    }
    let numbers: Vec<usize> = wanted.keys().copied().collect();
    for number in numbers {
        let origins = plan.asked.get(number).map(|asked| &asked.origins);
        for (_, source) in origins.into_iter().flatten() {
            if let Source::Answer(other, name) = source
                && let Some(names) = wanted.get_mut(other)
            {
                names.insert(name);
            }
        }
    }
    wanted
}
