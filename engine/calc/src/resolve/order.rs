//! The order in which structures are built.

use super::site::Site;
use super::values::Values;
use parge_base::{Code, Diagnostic, Span};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The structures that one waits for, by number, each with the place that says so.
type Waits = Vec<(usize, Span)>;

impl Values<'_> {
    /// Looks up which structures must be done before another begins. What is in a circle waits
    /// for nothing, after the circle was reported.
    pub(super) fn look_at_order(&mut self) {
        let site: Rc<Site<'_>> = self.site.clone();
        let mut waits: Vec<Waits> = Vec::new();
        for standing in &site.standings {
            let mut seen: BTreeMap<usize, Span> = BTreeMap::new();
            let mut own = Waits::new();
            for name in standing.after {
                let Some(number) = self.named_structure(name) else {
                    continue;
                };
                if let Some(first) = seen.insert(number, name.span) {
                    let message = format!("`after` names `{}` twice", name.node);
                    let twice =
                        Diagnostic::new(Code::SettingTwice, message, "remove one of the two");
                    self.diagnostics
                        .push(twice.at(name.span, "again here").at(first, "first here"));
                    continue;
                }
                own.push((number, name.span));
            }
            waits.push(own);
        }
        let stuck = stuck(&waits);
        for circle in circles(&waits, &stuck) {
            self.report_waiting(&circle);
        }
        for (number, structure) in self.structures.iter_mut().enumerate() {
            if !stuck.get(number).copied().unwrap_or(true) {
                let own = waits.get(number).into_iter().flatten();
                structure.after = own.map(|(before, _)| *before).collect();
            }
        }
    }

    fn report_waiting(&mut self, circle: &Waits) {
        let names = circle.iter().chain(circle.first());
        let names: Vec<String> = names
            .map(|(number, _)| {
                let standing = self.site.standings.get(*number);
                let name = standing.map_or("", |standing| standing.name.node.as_str());
                format!("`{name}`")
            })
            .collect();
        let message = format!("these wait for each other: {}", names.join(" after "));
        let help = "let one of them begin first: remove one of these `after`";
        let told = Diagnostic::new(Code::OrderCircle, message, help);
        let told = circle
            .iter()
            .fold(told, |told, (_, span)| told.at(*span, ""));
        self.diagnostics.push(told);
    }
}

/// Which structures can never begin: those in a circle, and those that wait for one.
fn stuck(waits: &[Waits]) -> Vec<bool> {
    let mut open: Vec<usize> = waits.iter().map(Vec::len).collect();
    let mut followers: Vec<Vec<usize>> = vec![Vec::new(); waits.len()];
    for (number, own) in waits.iter().enumerate() {
        for (before, _) in own {
            if let Some(followers) = followers.get_mut(*before) {
                followers.push(number);
            }
        }
    }
    let free = open.iter().enumerate().filter(|(_, open)| **open == 0);
    let mut free: Vec<usize> = free.map(|(number, _)| number).collect();
    let mut stuck = vec![true; waits.len()];
    while let Some(number) = free.pop() {
        if let Some(stuck) = stuck.get_mut(number) {
            *stuck = false;
        }
        for follower in followers.get(number).into_iter().flatten() {
            if let Some(open) = open.get_mut(*follower) {
                *open = open.saturating_sub(1);
                if *open == 0 {
                    free.push(*follower);
                }
            }
        }
    }
    stuck
}

/// The circles among the structures that are stuck. Each member stands with the place where the
/// one before it names it; of circles that share a structure, one is found.
fn circles(waits: &[Waits], stuck: &[bool]) -> Vec<Waits> {
    let is_stuck = |number: usize| stuck.get(number).copied().unwrap_or(false);
    let mut seen = vec![false; waits.len()];
    let mut circles = Vec::new();
    for start in (0..waits.len()).filter(|number| is_stuck(*number)) {
        let mut path = Waits::new();
        let mut places: BTreeMap<usize, usize> = BTreeMap::new();
        let mut at = start;
        while let Some(seen) = seen.get_mut(at).filter(|seen| !**seen) {
            *seen = true;
            let next = waits.get(at).into_iter().flatten();
            let Some((next, span)) = next.copied().find(|(next, _)| is_stuck(*next)) else {
                break;
            };
            places.insert(at, path.len());
            path.push((at, span));
            at = next;
        }
        if let Some(begin) = places.get(&at) {
            circles.extend(path.get(*begin..).map(<[_]>::to_vec));
        }
    }
    circles
}

#[cfg(test)]
mod tests;
