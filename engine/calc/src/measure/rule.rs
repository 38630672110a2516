//! The measuring rule: what of an opening is deducted, what of its reveal is added, and what a
//! face counts for.
//!
//! The rule of a pack runs once for a class of openings; its tape is taken over onto the tape of
//! the job for every one of them, so that the figures lead back to its script and tables.

use super::geometry::Measures;
use crate::contract::{GROSS_HOOK, OPENING_HOOK, Packs, SHAPE_HOOK};
use crate::job::Figure;
use parge_base::trace::Grafted;
use parge_base::{Code, Diagnostic, Dim, NodeId, Span, Tape};
use parge_rules::{ClassKey, Pack, Run, Subject, Value};
use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

/// An opening as the rule is asked about it; areas and lengths are of one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AskedOpening {
    pub(crate) area: NodeId,
    pub(crate) perimeter: NodeId,
    pub(crate) width: NodeId,
    pub(crate) height: NodeId,
    /// The area of its whole reveal; nothing where it has none.
    pub(crate) reveal: NodeId,
    /// The depth of the reveal, where it has one.
    pub(crate) depth: Option<NodeId>,
    /// The area of the face around it.
    pub(crate) face: NodeId,
}

/// What one opening counts for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Counted {
    /// What is taken from its face.
    pub(crate) deducted: NodeId,
    /// What is added for its reveal.
    pub(crate) reveal: NodeId,
}

/// A value of a subject with the node of the job's tape that it is.
type Input<'n> = (&'n str, NodeId);

/// What a rule warns of, and where it is said in the script.
type Warning = (Arc<str>, Option<Span>);

/// The measuring rule of a job at work.
#[derive(Debug)]
pub(crate) struct MeasuringRule<'p> {
    /// The pack with the shapes that the language does not have.
    rules: &'p Pack,
    /// The pack that deducts openings.
    pack: Option<&'p Pack>,
    runs: Vec<Run>,
    classes: HashMap<(&'static str, ClassKey<'static>), Vec<usize>>,
    /// Each warning with the first place that it is said of.
    warnings: BTreeMap<Warning, Span>,
}

impl<'p> MeasuringRule<'p> {
    /// The rule of the measuring pack, or else the program's own rule `net`.
    pub(crate) fn new(packs: Packs<'p>) -> Self {
        Self {
            rules: packs.rules,
            pack: packs.measuring,
            runs: Vec::new(),
            classes: HashMap::new(),
            warnings: BTreeMap::new(),
        }
    }

    /// The measures of a shape that the rule pack adds; `None` after an error was said.
    pub(crate) fn shape(
        &mut self,
        tape: &mut Tape,
        name: &str,
        sizes: &[(String, Figure)],
        span: Span,
        said: &mut Vec<Diagnostic>,
    ) -> Option<Measures> {
        let pack = self.rules;
        if !pack.has_hook(SHAPE_HOOK) {
            let message = format!(
                "pack `{}` has no rule that measures shapes",
                pack.manifest.name
            );
            let help = "add a rule `shapes(shape)` to the pack, or write a shape of the language";
            said.push(Diagnostic::new(Code::RuleFailed, message, help).at(span, ""));
            return None;
        }
        let inputs: Vec<Input<'_>> = sizes
            .iter()
            .map(|(size, figure)| (size.as_str(), figure.node))
            .collect();
        let mut subject = subject("shape", tape, &inputs, &[], &[]);
        subject
            .values
            .push(("name".into(), Value::Text(name.into())));
        let (run, grafted) = self.ask(pack, SHAPE_HOOK, &subject, tape, &inputs, span, said)?;
        let mut measure = |of: &str, dim| {
            let node = self.given(run, &grafted, of, span, said)?;
            let value = tape.value(node);
            let least = matches!(of, "area" | "width" | "height");
            let fits = value.dim == dim && value.value >= 0.0 && (!least || value.value > 0.0);
            if !fits {
                let wanted = format!("{} above nothing", dim.words());
                said.push(odd(pack, SHAPE_HOOK, of, &wanted).at(span, ""));
            }
            fits.then_some(node)
        };
        let area = measure("area", Dim::AREA);
        let [perimeter, width, height, top, bottom, sides] =
            ["perimeter", "width", "height", "top", "bottom", "sides"]
                .map(|of| measure(of, Dim::LENGTH));
        Some(Measures {
            area: area?,
            perimeter: perimeter?,
            width: width?,
            height: height?,
            upright: height?,
            top: top?,
            bottom: bottom?,
            sides: sides?,
            radius: None,
        })
    }

    /// What of one opening is deducted and added; `None` after an error was said.
    pub(crate) fn opening(
        &mut self,
        tape: &mut Tape,
        asked: &AskedOpening,
        conditions: &[(String, String)],
        span: Span,
        said: &mut Vec<Diagnostic>,
    ) -> Option<Counted> {
        let Some(pack) = self.pack else {
            return Some(Counted {
                deducted: asked.area,
                reveal: asked.reveal,
            });
        };
        let mut inputs: Vec<Input<'_>> = vec![
            ("area", asked.area),
            ("perimeter", asked.perimeter),
            ("width", asked.width),
            ("height", asked.height),
            ("reveal_area", asked.reveal),
            ("face_area", asked.face),
        ];
        inputs.extend(asked.depth.map(|depth| ("depth", depth)));
        let subject = subject("opening", tape, &inputs, &["depth"], conditions);
        let (run, grafted) = self.ask(pack, OPENING_HOOK, &subject, tape, &inputs, span, said)?;
        let area = tape.value(asked.area).value;
        let reveal = tape.value(asked.reveal).value;
        let mut within = |name, most| {
            let node = self.given(run, &grafted, name, span, said)?;
            let value = tape.value(node);
            let fits = value.dim == Dim::AREA
                && (-ROOM * most..=most * (1.0 + ROOM)).contains(&value.value);
            if !fits {
                said.push(
                    odd(
                        pack,
                        OPENING_HOOK,
                        name,
                        "an area no larger than the opening has",
                    )
                    .at(span, ""),
                );
            }
            fits.then_some(node)
        };
        Some(Counted {
            deducted: within("deducted", area)?,
            reveal: within("reveal", reveal)?,
        })
    }

    /// What a face counts for before openings are deducted: its area, unless the rule says
    /// otherwise.
    pub(crate) fn gross(
        &mut self,
        tape: &mut Tape,
        inputs: &[Input<'_>],
        conditions: &[(String, String)],
        span: Span,
        said: &mut Vec<Diagnostic>,
    ) -> Option<NodeId> {
        let area = inputs.iter().find(|(name, _)| *name == "area")?.1;
        let Some(pack) = self.pack.filter(|pack| pack.has_hook(GROSS_HOOK)) else {
            return Some(area);
        };
        let subject = subject("face", tape, inputs, &["radius"], conditions);
        let (run, grafted) = self.ask(pack, GROSS_HOOK, &subject, tape, inputs, span, said)?;
        let node = self.given(run, &grafted, "area", span, said)?;
        let value = tape.value(node);
        if value.dim != Dim::AREA || value.value <= 0.0 {
            said.push(odd(pack, GROSS_HOOK, "area", "an area above nothing").at(span, ""));
            return None;
        }
        Some(node)
    }

    /// Replays a run of the class, or runs the hook afresh, and takes its tape over.
    #[allow(
        clippy::too_many_arguments,
        reason = "one call of a rule has that many sides"
    )]
    fn ask(
        &mut self,
        pack: &Pack,
        hook: &'static str,
        subject: &Subject,
        tape: &mut Tape,
        inputs: &[Input<'_>],
        span: Span,
        said: &mut Vec<Diagnostic>,
    ) -> Option<(usize, Grafted)> {
        let nodes: Vec<NodeId> = inputs.iter().map(|(_, node)| *node).collect();
        let key = (hook, subject.class_key().into_owned());
        let known = self.classes.get(&key).cloned().unwrap_or_default();
        let replayed = known.into_iter().find_map(|run| {
            let other = &self.runs.get(run)?.tape;
            Some((run, tape.graft(other, &nodes).ok()?))
        });
        if let Some((run, grafted)) = replayed {
            self.note_warnings(run, span);
            return Some((run, grafted));
        }
        let mut run = pack.run(&[hook], subject);
        if !run.errors.is_empty() {
            let errors = std::mem::take(&mut run.errors);
            said.extend(errors.into_iter().map(|error| error.at(span, "for this")));
            return None;
        }
        let grafted = tape.graft(&run.tape, &nodes);
        let number = self.runs.len();
        self.runs.push(run);
        self.classes.entry(key).or_default().push(number);
        self.note_warnings(number, span);
        match grafted {
            Ok(grafted) => Some((number, grafted)),
            Err(_) => {
                said.push(odd(pack, hook, "figures", "figures with a value").at(span, ""));
                None
            }
        }
    }

    fn given(
        &self,
        run: usize,
        grafted: &Grafted,
        name: &str,
        span: Span,
        said: &mut Vec<Diagnostic>,
    ) -> Option<NodeId> {
        let line = self.runs.get(run).and_then(|run| run.given(name));
        let node = line.and_then(|line| grafted.node(line.value));
        if node.is_none() {
            let message = format!("the measuring rule gives no `{name}`");
            let help = format!("write `give(\"{name}\", …)` on every way through the rule");
            said.push(Diagnostic::new(Code::RuleFailed, message, help).at(span, "for this"));
        }
        node
    }

    fn note_warnings(&mut self, run: usize, span: Span) {
        let Some(run) = self.runs.get(run) else {
            return;
        };
        for warning in &run.warnings {
            self.warnings
                .entry((Arc::clone(&warning.text), warning.place))
                .or_insert(span);
        }
    }

    /// What the rule warned of, each once.
    pub(crate) fn warnings(self) -> Vec<Diagnostic> {
        let help = "check the plan; if it is meant so, nothing needs to be done";
        let said = self.warnings.into_iter().map(|((text, place), span)| {
            let diagnostic = Diagnostic::new(Code::RuleWarning, &*text, help);
            let diagnostic = diagnostic.at(span, "said of this");
            match place {
                Some(place) => diagnostic.at(place, "by this rule"),
                None => diagnostic,
            }
        });
        said.collect()
    }
}

/// How far a share may be over the whole by binary noise.
const ROOM: f64 = 1e-9;

fn odd(pack: &Pack, hook: &str, name: &str, wanted: &str) -> Diagnostic {
    let message = format!(
        "rule `{hook}` of pack `{}` gives as `{name}` what is not {wanted}",
        pack.manifest.name
    );
    Diagnostic::new(
        Code::RuleFailed,
        message,
        "correct the rule, or ask its author",
    )
}

/// What a rule sees; those of `may_lack` that are not among the inputs are absent.
fn subject<'s>(
    kind: &'s str,
    tape: &Tape,
    inputs: &[Input<'s>],
    may_lack: &[&'s str],
    conditions: &'s [(String, String)],
) -> Subject<'s> {
    let quantities = inputs.iter().map(|(name, node)| {
        let place = tape.node(*node).and_then(|node| node.place);
        ((*name).into(), Value::Quantity(tape.value(*node), place))
    });
    let mut values: Vec<(Cow<'s, str>, Value<'s>)> = quantities.collect();
    let has = |name: &str| inputs.iter().any(|(known, _)| *known == name);
    let lacking = may_lack.iter().filter(|name| !has(name));
    values.extend(lacking.map(|name| ((*name).into(), Value::Absent)));
    values.push((
        "conditions".into(),
        crate::takeoff::subjects::conditions(conditions),
    ));
    Subject {
        kind: kind.into(),
        values,
    }
}
