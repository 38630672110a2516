//! Reads what is to be replaced: `waste.finish-mix.stamp=12%`, `prices.sealer=61`.

use super::input::{Input, Names};
use super::plan::{Part, Reading};
use super::present::named;
use super::{Basis, NewValue, Set};
use crate::change::Value;
use crate::price::{Estimate, offer_of};
use parge_base::prices::PackSize;
use parge_base::{Code, Currency, Diagnostic, Money, Sources, Span, diagnostic};
use parge_grammar::ast::ExprKind;
use parge_rules::amount;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// What is to be replaced, each as `NAME=VALUE`, in an estimate and what it rests on. Every one
/// that cannot be read is reported.
pub fn read(
    words: &[String],
    basis: &Basis,
    estimate: &Estimate,
    sources: &mut Sources,
) -> (Vec<Set>, Vec<Diagnostic>) {
    let (mut sets, mut wrong) = (Vec::new(), Vec::new());
    let mut first: BTreeMap<Input, Span> = BTreeMap::new();
    for word in words {
        let file = sources.add("--set", word.as_str());
        let word = Word {
            text: word,
            span: Span::new(file, 0, word.len()),
        };
        match word.set(&Names { basis, estimate }, sources) {
            Ok(set) => {
                if let Some(first) = first.insert(set.input.clone(), word.span) {
                    let message = format!("`{}` is set twice", set.input);
                    let twice =
                        Diagnostic::new(Code::SettingTwice, message, "keep the one that is meant");
                    wrong.push(twice.at(word.span, "again here").at(first, "first here"));
                }
                sets.push(set);
            }
            Err(mut said) => wrong.append(&mut said),
        }
    }
    diagnostic::tidy(&mut wrong);
    (sets, wrong)
}

/// A word of the command with its place.
#[derive(Clone, Copy)]
struct Word<'w> {
    text: &'w str,
    span: Span,
}

impl Word<'_> {
    fn set(self, names: &Names<'_>, sources: &mut Sources) -> Result<Set, Vec<Diagnostic>> {
        let Some((name, value)) = self.text.split_once('=') else {
            let message = format!("`{}` gives no value", self.text);
            return Err(vec![self.wrong(Code::Syntax, message, EXAMPLE)]);
        };
        if self.text.contains(char::is_control) {
            let message = "a value stands on one line";
            return Err(vec![self.wrong(Code::Syntax, message, EXAMPLE)]);
        }
        let file = self.span.file;
        let of_name = Span::new(file, 0, name.len());
        let of_value = Span::new(file, name.len() + 1, self.text.len());
        if value.trim().is_empty() {
            let message = format!("`{name}` gets no value");
            return Err(vec![
                Diagnostic::new(Code::Syntax, message, EXAMPLE).at(of_name, ""),
            ]);
        }
        let input = names
            .find(name.trim(), of_name)
            .map_err(|said| vec![said])?;
        let word = Word {
            text: value.trim(),
            span: of_value,
        };
        let value = word.value(&input, names.basis, sources)?;
        word.same_kind(&input, &value, names.estimate)?;
        Ok(Set { input, value })
    }

    /// A let of another kind fits nowhere: said here, and not at each place that uses it. What an
    /// expression comes to is known only when the plan is resolved.
    fn same_kind(
        self,
        input: &Input,
        value: &NewValue,
        estimate: &Estimate,
    ) -> Result<(), Vec<Diagnostic>> {
        let job = &estimate.takeoff.measured.job;
        let (Input::Let(name), NewValue::Plan(Part::Let(new))) = (input, value) else {
            return Ok(());
        };
        let (Some(figure), ExprKind::Literal(new)) = (named(job, name), &new.value.node) else {
            return Ok(());
        };
        let was = job.value(figure);
        if new.dim == was.dim {
            return Ok(());
        }
        let kind = was.dim.words();
        let message = format!("`{name}` is {kind}, not {}", new.dim.words());
        let help = format!(
            "write it as {kind}, such as `{}`",
            Value::Quantity(was).words(job.units)
        );
        let code = match new.dim.is_none() {
            true => Code::MissingUnit,
            false => Code::WrongKind,
        };
        Err(vec![self.wrong(code, message, help)])
    }

    fn value(
        self,
        input: &Input,
        basis: &Basis,
        sources: &mut Sources,
    ) -> Result<NewValue, Vec<Diagnostic>> {
        let one = |said: Diagnostic| vec![said];
        let span = self.span;
        let mut reading = Reading { sources, span };
        Ok(match input {
            Input::Row { whose, table, keys } => {
                let row = basis.row(*whose, table, keys).zip(basis.pack_of(*whose));
                let (row, pack) = row.ok_or_else(Vec::new)?;
                NewValue::Cell(row.other(self.text, pack.units(), span).map_err(one)?)
            }
            Input::Price(_) => NewValue::Price(self.price(basis.book.currency).map_err(one)?),
            Input::Pack(item) => NewValue::Size(self.size(item, basis).map_err(one)?),
            Input::Bid(term) => NewValue::Plan(reading.a_term(term, self.text, &basis.plan)?),
            Input::Let(name) => NewValue::Plan(reading.a_let(name, self.text)?),
            Input::Crew(None) => NewValue::Plan(Part::Crew(reading.people(self.text)?)),
            Input::Crew(Some(class)) => {
                NewValue::Plan(Part::Class(class.clone(), reading.people(self.text)?))
            }
        })
    }

    /// The price of a pack, in the currency of the book whether it is written or not.
    fn price(self, currency: Currency) -> Result<Money, Diagnostic> {
        let digits = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '-' | '+');
        let end = self.text.find(|letter| !digits(letter));
        let (number, code) = self.text.split_at(end.unwrap_or(self.text.len()));
        let code = code.trim();
        let known = Currency::from_code(code);
        if let Some(other) = known.filter(|other| *other != currency) {
            let message = format!(
                "the price is in {}, and the price book is in {}",
                other.code(),
                currency.code()
            );
            let help = format!(
                "write it in {}; Parge knows no rates of exchange",
                currency.code()
            );
            return Err(self.wrong(Code::OtherCurrency, message, help));
        }
        let amount = number.parse::<Decimal>().ok();
        let amount = amount.filter(|price| !price.is_sign_negative());
        match amount.filter(|_| code.is_empty() || known.is_some()) {
            Some(amount) => Ok(Money::new(amount, currency)),
            None => {
                let message = format!("`{}` is no price of a pack", self.text);
                let help = format!(
                    "write an amount such as `61` or `61.50 {}`",
                    currency.code()
                );
                Err(self.wrong(Code::BadNumber, message, help))
            }
        }
    }

    /// What a pack holds, in a unit of the kind that it has.
    fn size(self, item: &str, basis: &Basis) -> Result<PackSize, Diagnostic> {
        let Some(offer) = offer_of(&basis.book, item) else {
            let message = format!("the price book has no row `{item}`");
            return Err(self.wrong(Code::UnknownName, message, EXAMPLE));
        };
        let was = &offer.pack;
        let help = format!("write it as `{}{}`", was.written, was.unit.text());
        let Some((written, unit)) = amount(self.text, basis.rules.units()) else {
            let message = format!("`{}` is no number with a unit", self.text);
            return Err(self.wrong(Code::BadNumber, message, help));
        };
        let Some(unit) = unit else {
            let message = format!("`{}` has no unit", self.text);
            return Err(self.wrong(Code::MissingUnit, message, help));
        };
        if unit.dim() != was.size.dim {
            let message = format!(
                "a pack of `{item}` holds {}, not {}",
                was.size.dim.words(),
                unit.dim().words()
            );
            return Err(self.wrong(Code::WrongKind, message, help));
        }
        let size = unit.quantity(written).ok().filter(|_| written > 0.0);
        match size {
            Some(size) => Ok(PackSize {
                size,
                written,
                unit,
                name: was.name.clone(),
            }),
            None => {
                let message = format!("`{}` is no size of a pack", self.text);
                Err(self.wrong(Code::OutOfRange, message, help))
            }
        }
    }

    fn wrong(self, code: Code, message: impl Into<String>, help: impl Into<String>) -> Diagnostic {
        Diagnostic::new(code, message, help).at(self.span, "")
    }
}

const EXAMPLE: &str = "write a name and its value, such as `--set waste.finish-mix.stamp=12%`";
