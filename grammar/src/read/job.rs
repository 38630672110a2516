//! `job "…" { … }`

use super::Reader;
use super::line::Kind;
use crate::ast::{BidTerm, Conditions, Expr, Job, JobSetting, Name};
use crate::errors::{literals, statements};
use crate::outline::Item;
use crate::syntax::{Pair, Rule};
use jiff::civil::Date;
use parge_base::Spanned;

impl Reader<'_> {
    pub(super) fn job(&self, item: &Item) -> Option<Job> {
        let name = if item.broken {
            None
        } else {
            self.head_name(Rule::job_head, item)
        };
        let settings = self.job_settings(&self.need_block(item)?.items);
        Some(Job {
            name: name?,
            settings,
        })
    }

    /// The name in a head that holds little more.
    pub(super) fn head_name(&self, rule: Rule, item: &Item) -> Option<Name> {
        let pairs = self.head(rule, item.head.clone())?;
        let names = [Rule::name, Rule::quoted, Rule::text];
        self.name(
            pairs
                .into_iter()
                .find(|pair| names.contains(&pair.as_rule()))?,
        )
    }

    pub(super) fn job_settings(&self, items: &[Item]) -> Vec<Spanned<JobSetting>> {
        let mut settings = Vec::new();
        for item in items {
            self.job_item(item, &mut settings);
        }
        settings
    }

    /// One line; a block behind it belongs to the last setting of the line.
    fn job_item(&self, item: &Item, settings: &mut Vec<Spanned<JobSetting>>) {
        let mut last = None;
        let good = !item.broken
            && self.line(Kind::Job, item.head.clone(), |pair| {
                if let Some((rule, span)) = last.take() {
                    self.block_missing(rule, span);
                }
                match pair.as_rule() {
                    rule @ (Rule::weather | Rule::bid | Rule::conditions) => {
                        last = Some((rule, self.span(&pair)))
                    }
                    _ => settings.extend(self.job_setting(pair)),
                }
            });
        match (last, &item.block) {
            (Some((rule, span)), Some(block)) => {
                let setting = match rule {
                    Rule::weather => JobSetting::Weather(self.weather(&block.items)),
                    Rule::conditions => JobSetting::Conditions(self.conditions(&block.items)),
                    _ => JobSetting::Bid(self.bid(&block.items)),
                };
                settings.push(Spanned::new(setting, span));
            }
            (Some((rule, span)), None) => self.block_missing(rule, span),
            (None, Some(_)) if good => self.no_block(item),
            (None, Some(block)) => match self.word_of(item) {
                "weather" => drop(self.weather(&block.items)),
                "bid" => drop(self.bid(&block.items)),
                "conditions" => drop(self.conditions(&block.items)),
                _ => {}
            },
            (None, None) => {}
        }
    }

    pub(super) fn block_missing(&self, rule: Rule, span: parge_base::Span) {
        let word = match rule {
            Rule::weather => "weather",
            Rule::bid => "bid",
            _ => "conditions",
        };
        self.report(statements::setting_without_block(span, word));
    }

    fn job_setting(&self, pair: Pair<'_>) -> Option<Spanned<JobSetting>> {
        let span = self.span(&pair);
        let setting = match pair.as_rule() {
            Rule::client => JobSetting::Client(self.name(pair)?),
            Rule::site => JobSetting::Site(self.name(pair)?),
            Rule::date => JobSetting::Date(self.day(pair)?),
            Rule::units => JobSetting::Units(self.name(pair)?),
            Rule::measure => JobSetting::Measure(self.name(pair)?),
            Rule::rules => JobSetting::Rules(self.name(pair)?),
            Rule::prices => JobSetting::Prices(self.name(pair)?),
            Rule::crew => JobSetting::Crew(self.only_expr(pair)?),
            _ => return None,
        };
        Some(Spanned::new(setting, span))
    }

    /// A day as ISO 8601 writes it.
    fn day(&self, pair: Pair<'_>) -> Option<Spanned<Date>> {
        let pair = self.part(pair, &[Rule::day])?;
        let span = self.span(&pair);
        let written = pair.as_str();
        let digits = |range| {
            written
                .get(range)
                .filter(|part: &&str| part.bytes().all(|b| b.is_ascii_digit()))
        };
        let parts = (
            digits(0..4),
            written.get(4..5),
            digits(5..7),
            written.get(7..8),
            digits(8..10),
        );
        let (Some(year), Some("-"), Some(month), Some("-"), Some(day), 10) =
            (parts.0, parts.1, parts.2, parts.3, parts.4, written.len())
        else {
            self.report(literals::odd_date(span, written));
            return None;
        };
        let date = match (year.parse(), month.parse(), day.parse()) {
            (Ok(year), Ok(month), Ok(day)) => Date::new(year, month, day).ok(),
            _ => None,
        };
        if date.is_none() {
            self.report(literals::no_such_day(span, written));
        }
        Some(Spanned::new(date?, span))
    }

    fn weather(&self, items: &[Item]) -> Vec<(Name, Expr)> {
        let mut readings = Vec::new();
        self.plain_lines(Kind::Weather, items, |pair| {
            let mut parts = pair.into_inner();
            let name = parts.next().and_then(|word| self.name(word));
            let value = parts.next().and_then(|value| self.expr(value));
            readings.extend(name.zip(value));
        });
        readings
    }

    pub(super) fn conditions(&self, items: &[Item]) -> Conditions {
        let mut conditions = Conditions::new();
        self.plain_lines(Kind::Conditions, items, |pair| {
            let mut parts = pair.into_inner();
            let kind = parts.next().and_then(|kind| self.name(kind));
            let word = parts.next().and_then(|word| self.name(word));
            conditions.extend(kind.zip(word));
        });
        conditions
    }

    fn bid(&self, items: &[Item]) -> Vec<Spanned<BidTerm>> {
        let mut terms = Vec::new();
        self.plain_lines(Kind::Bid, items, |pair| {
            let span = self.span(&pair);
            terms.extend(self.bid_term(pair).map(|term| Spanned::new(term, span)));
        });
        terms
    }

    fn bid_term(&self, pair: Pair<'_>) -> Option<BidTerm> {
        let rule = pair.as_rule();
        let names = [Rule::profit_kind, Rule::name];
        let name = self
            .part(pair.clone(), &names)
            .and_then(|name| self.name(name));
        let share = self.only_expr(pair)?;
        Some(match rule {
            Rule::burden => BidTerm::Burden(share),
            Rule::overhead => BidTerm::Overhead(share),
            Rule::profit => BidTerm::Profit(name?, share),
            _ => BidTerm::Tax(share, name?),
        })
    }

    /// Reads the lines of a block whose members take no block themselves.
    pub(super) fn plain_lines<'s>(
        &'s self,
        kind: Kind,
        items: &[Item],
        mut take: impl FnMut(Pair<'s>),
    ) {
        for item in items {
            if !item.broken && self.line(kind, item.head.clone(), &mut take) {
                self.no_block(item);
            }
        }
    }

    /// The one expression of a setting.
    pub(super) fn only_expr(&self, pair: Pair<'_>) -> Option<Expr> {
        self.expr(self.part(pair, &[Rule::expr])?)
    }
}
