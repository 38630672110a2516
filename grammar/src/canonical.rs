//! What a plan says, as one text: the same for two plans that parse to the same tree, and another
//! for any others.
//!
//! Fingerprints of plans are made of it, and records of jobs cite them for years. So it follows
//! neither the layout of a plan nor the types of the tree, but the list below; what a plan does not
//! state is not written, so that what the language may state one day changes no text of today.

mod expression;
mod faces;
mod job;

use crate::ast::{
    Allowance, AlternateChange, Finish, FinishSetting, Name, Plan, Statement, Template,
};
use parge_base::Money;

/// The text of a plan. Statements of included files stand in their place if they were joined.
pub fn canonical(plan: &Plan) -> String {
    let mut text = Canonical::default();
    text.add(plan);
    text.into_text()
}

/// The text of a plan that is read part by part.
#[derive(Default)]
pub struct Canonical(Text);

impl Canonical {
    /// The next part of the plan.
    pub fn add(&mut self, part: &Plan) {
        if let Some(version) = &part.version {
            self.0.word("parge");
            self.0.word(&version.node.to_string());
        }
        for statement in &part.statements {
            self.0.statement(statement);
        }
    }

    /// The text of all parts.
    pub fn into_text(self) -> String {
        self.0.0
    }
}

/// The text being written: words with a blank behind each.
#[derive(Default)]
struct Text(String);

impl Text {
    /// A word that no user chose.
    fn word(&mut self, word: &str) {
        self.0.push_str(word);
        self.0.push(' ');
    }

    /// What a user wrote, with its length before it, so that no two texts run into each other.
    fn said(&mut self, text: &str) {
        self.word(&format!("{}:{text}", text.len()));
    }

    /// A word of the list and the name behind it.
    fn named(&mut self, word: &str, name: &Name) {
        self.word(word);
        self.said(&name.node);
    }

    /// What belongs together, between brackets.
    fn within(&mut self, write: impl FnOnce(&mut Self)) {
        self.word("(");
        write(self);
        self.word(")");
    }

    fn money(&mut self, amount: Money) {
        self.word(&amount.amount().normalize().to_string());
        self.word(amount.currency().code());
    }

    fn statement(&mut self, statement: &Statement) {
        match statement {
            Statement::Job(job) => self.job(job),
            Statement::Let(found) => {
                self.named("let", &found.name);
                self.expression(&found.value);
            }
            Statement::Finish(finish) => self.finish(finish),
            Statement::Structure(structure) => self.structure(structure),
            Statement::Template(template) => self.template(template),
            Statement::Include(path) => self.named("include", path),
            Statement::Alternate(alternate) => {
                self.named("alternate", &alternate.name);
                self.within(|text| alternate.changes.iter().for_each(|one| text.change(one)));
            }
            Statement::Allowance(Allowance { name, amount }) => {
                self.named("allowance", name);
                self.money(amount.node);
            }
            Statement::Exclude(words) => self.named("exclude", words),
            Statement::Note(words) => self.named("note", words),
            Statement::Terms(words) => self.named("terms", words),
        }
    }

    fn change(&mut self, change: &AlternateChange) {
        match change {
            AlternateChange::Finish { structure, finish } => {
                self.named("structure", structure);
                self.named("finish", finish);
            }
            AlternateChange::Omit(structure) => self.named("omit", structure),
        }
    }

    fn finish(&mut self, Finish { name, settings }: &Finish) {
        self.named("finish", name);
        self.within(|text| {
            for setting in settings {
                text.finish_setting(&setting.node);
            }
        });
    }

    fn finish_setting(&mut self, setting: &FinishSetting) {
        match setting {
            FinishSetting::Technique(name) => self.named("technique", name),
            FinishSetting::Thickness(value) => self.valued("thickness", value),
            FinishSetting::Relief(value) => self.valued("relief", value),
            FinishSetting::Colours(colours) => {
                self.word("colours");
                self.within(|text| {
                    for (colour, share) in colours {
                        text.said(&colour.node);
                        text.expression(share);
                    }
                });
            }
            FinishSetting::Sealer(sheen, coats) => {
                self.named("sealer", sheen);
                self.maybe("coats", coats.as_ref());
            }
        }
    }

    fn template(&mut self, template: &Template) {
        let Template {
            name,
            parameters,
            substrate,
            body,
        } = template;
        self.named("template", name);
        self.within(|text| {
            for parameter in parameters {
                text.said(&parameter.node);
            }
        });
        self.maybe_named("on", substrate.as_ref());
        self.body(body);
    }
}

#[cfg(test)]
mod tests;
