//! The crew: how many, and of which wage class.

use super::values::{Values, twice};
use crate::job::{CrewClass, Figure};
use parge_base::{Code, Diagnostic, Operator, Span};
use parge_grammar::ast::Crew;
use std::collections::BTreeMap;

impl Values<'_> {
    /// The number of people and the classes. Where the number is left out it is the sum of the
    /// classes; where it is not, they must add to it.
    pub(super) fn crew(&mut self, crew: &Crew, span: Span) -> (Option<Figure>, Vec<CrewClass>) {
        let stated = crew.people.as_ref().map(|people| {
            let count = self.count(people, "the crew");
            count.map(|(figure, _)| figure)
        });
        if stated.is_none() && crew.classes.is_empty() {
            let help = "write `crew 3`, or `crew { lead 1  finisher 2 }`";
            let nobody = Diagnostic::new(Code::MissingSetting, "the crew has nobody in it", help);
            self.diagnostics.push(nobody.at(span, ""));
            return (None, Vec::new());
        }
        let Some(classes) = self.classes(crew) else {
            return (stated.flatten(), Vec::new());
        };
        let sum = self.sum(&classes, span);
        match (stated, sum) {
            (None, sum) => (sum, classes),
            (Some(None), _) => (None, classes),
            (Some(Some(people)), Some(sum)) => {
                self.say_other_sum(people, sum, &classes);
                (Some(people), classes)
            }
            (Some(people), None) => (people, classes),
        }
    }

    /// The classes; none after a fault in any of them, which is reported.
    fn classes(&mut self, crew: &Crew) -> Option<Vec<CrewClass>> {
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        let mut classes = Some(Vec::new());
        for (name, people) in &crew.classes {
            if let Some(first) = seen.insert(&name.node, name.span) {
                self.diagnostics.push(twice("wage class", name, first));
                classes = None;
            }
            let what = format!("the number of `{}`", name.node);
            let people = self.count(people, &what);
            classes = classes.zip(people).map(|(mut classes, (people, _))| {
                classes.push(CrewClass {
                    name: name.node.clone(),
                    span: name.span,
                    people,
                });
                classes
            });
        }
        classes
    }

    /// All people of the classes; none where there are no classes.
    fn sum(&mut self, classes: &[CrewClass], span: Span) -> Option<Figure> {
        let (first, rest) = classes.split_first()?;
        let mut node = first.people.node;
        for class in rest {
            let sum = self
                .tape
                .combine(Operator::Add, node, class.people.node, Some(span));
            node = self.checked(sum, span)?;
        }
        Some(Figure { node, span })
    }

    fn say_other_sum(&mut self, people: Figure, sum: Figure, classes: &[CrewClass]) {
        let [people_stated, people_of_classes] =
            [people, sum].map(|figure| self.tape.value(figure.node).value);
        if people_stated == people_of_classes {
            return;
        }
        let message =
            format!("the wage classes add to {people_of_classes}, and the crew is {people_stated}");
        let help = format!(
            "correct one of the two, or leave the number out: `crew {{ … }}` alone is \
             {people_of_classes}"
        );
        let wrong = Diagnostic::new(Code::OutOfRange, message, help).at(people.span, "the crew");
        let ends = classes.first().zip(classes.last());
        let wrong = match ends {
            Some((first, last)) => wrong.at(first.span.to(last.people.span), "its classes"),
            None => wrong,
        };
        self.diagnostics.push(wrong);
    }
}

#[cfg(test)]
mod tests;
