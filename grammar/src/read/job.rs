//! `job "…" { … }`

use super::Reader;
use super::line::Kind;
use crate::ast::{BidTerm, Conditions, Crew, Expr, Job, JobSetting, Name, RoundTo, Weather};
use crate::errors::{literals, statements};
use crate::outline::Item;
use crate::syntax::{Pair, Rule};
use jiff::civil::Date;
use parge_base::{Money, Span, Spanned};

/// A setting that takes a block, before its block has come.
struct Awaiting {
    rule: Rule,
    span: Span,
    /// What stands between the word and the block.
    inner: Inner,
}

enum Inner {
    Nothing,
    /// It could not be read, which is reported.
    Bad,
    People(Expr),
    Day(Spanned<Date>),
}

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
        let mut last: Option<Awaiting> = None;
        let good = !item.broken
            && self.line(Kind::Job, item.head.clone(), |pair| {
                if let Some(before) = last.take() {
                    settings.extend(self.without_block(before));
                }
                match pair.as_rule() {
                    Rule::weather | Rule::bid | Rule::conditions | Rule::crew => {
                        last = Some(self.awaiting(pair));
                    }
                    _ => settings.extend(self.job_setting(pair)),
                }
            });
        match (last, &item.block) {
            (Some(setting), Some(block)) => settings.extend(self.with_block(setting, &block.items)),
            (Some(setting), None) => settings.extend(self.without_block(setting)),
            (None, Some(_)) if good => self.no_block(item),
            (None, Some(block)) => match self.word_of(item) {
                "weather" => drop(self.readings(&block.items)),
                "bid" => drop(self.bid(&block.items)),
                "conditions" => drop(self.conditions(&block.items)),
                "crew" => drop(self.classes(&block.items)),
                _ => {}
            },
            (None, None) => {}
        }
    }

    fn awaiting(&self, pair: Pair<'_>) -> Awaiting {
        let (rule, span) = (pair.as_rule(), self.span(&pair));
        let is_empty = pair
            .clone()
            .into_inner()
            .all(|part| !matches!(part.as_rule(), Rule::expr | Rule::day));
        let inner = match rule {
            _ if is_empty => Inner::Nothing,
            Rule::crew => self.only_expr(pair).map_or(Inner::Bad, Inner::People),
            _ => self.day(pair).map_or(Inner::Bad, Inner::Day),
        };
        Awaiting { rule, span, inner }
    }

    fn with_block(&self, setting: Awaiting, items: &[Item]) -> Option<Spanned<JobSetting>> {
        let node = match (setting.rule, setting.inner) {
            (Rule::crew, inner) => {
                let classes = self.classes(items);
                let people = match inner {
                    Inner::Bad => return None,
                    Inner::People(people) => Some(people),
                    Inner::Nothing | Inner::Day(_) => None,
                };
                JobSetting::Crew(Crew { people, classes })
            }
            (Rule::weather, inner) => {
                let readings = self.readings(items);
                let day = match inner {
                    Inner::Bad => return None,
                    Inner::Day(day) => Some(day),
                    Inner::Nothing | Inner::People(_) => None,
                };
                JobSetting::Weather(Weather { day, readings })
            }
            (Rule::conditions, _) => JobSetting::Conditions(self.conditions(items)),
            _ => JobSetting::Bid(self.bid(items)),
        };
        Some(Spanned::new(node, setting.span))
    }

    /// Only a crew by its number is whole without a block.
    fn without_block(&self, setting: Awaiting) -> Option<Spanned<JobSetting>> {
        match (setting.rule, setting.inner) {
            (Rule::crew, Inner::People(people)) => {
                let crew = Crew {
                    people: Some(people),
                    classes: Vec::new(),
                };
                return Some(Spanned::new(JobSetting::Crew(crew), setting.span));
            }
            (Rule::crew, Inner::Nothing) => self.report(statements::empty_crew(setting.span)),
            (Rule::crew, _) => {}
            (rule, _) => self.block_missing(rule, setting.span),
        }
        None
    }

    pub(super) fn block_missing(&self, rule: Rule, span: Span) {
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
            Rule::valid_until => JobSetting::ValidUntil(self.day(pair)?),
            Rule::valid => JobSetting::Valid(self.only_expr(pair)?),
            Rule::units => JobSetting::Units(self.name(pair)?),
            Rule::measure => JobSetting::Measure(self.name(pair)?),
            Rule::rules => JobSetting::Rules(self.name(pair)?),
            Rule::prices => JobSetting::Prices(self.name(pair)?),
            Rule::start => JobSetting::Start(self.day(pair)?),
            Rule::workdays => JobSetting::Workdays(self.weekdays(pair)),
            Rule::hours => JobSetting::Hours(self.only_expr(pair)?),
            Rule::holidays => JobSetting::Holidays(self.days(pair)),
            Rule::weather_days => JobSetting::WeatherDays(self.days(pair)),
            Rule::travel => JobSetting::Travel(self.only_expr(pair)?),
            Rule::forecast => JobSetting::Forecast(self.name(pair)?),
            _ => return None,
        };
        Some(Spanned::new(setting, span))
    }

    fn weekdays(&self, pair: Pair<'_>) -> Vec<Name> {
        let words = pair.into_inner();
        let words = words.filter(|part| part.as_rule() == Rule::weekday);
        words
            .map(|word| Name::new(word.as_str().to_owned(), self.span(&word)))
            .collect()
    }

    /// The days of a list that can be read; the others are reported.
    fn days(&self, pair: Pair<'_>) -> Vec<Spanned<Date>> {
        let days = pair.into_inner();
        let days = days.filter(|part| part.as_rule() == Rule::day);
        days.filter_map(|day| self.written_day(&day)).collect()
    }

    /// The one day of a setting.
    fn day(&self, pair: Pair<'_>) -> Option<Spanned<Date>> {
        self.written_day(&self.part(pair, &[Rule::day])?)
    }

    /// A day as ISO 8601 writes it.
    fn written_day(&self, pair: &Pair<'_>) -> Option<Spanned<Date>> {
        let span = self.span(pair);
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

    fn readings(&self, items: &[Item]) -> Vec<(Name, Expr)> {
        self.named_values(Kind::Weather, items)
    }

    fn classes(&self, items: &[Item]) -> Vec<(Name, Expr)> {
        self.named_values(Kind::Crew, items)
    }

    /// The lines of a block whose members are a word and a value each.
    fn named_values(&self, kind: Kind, items: &[Item]) -> Vec<(Name, Expr)> {
        let mut values = Vec::new();
        self.plain_lines(kind, items, |pair| {
            let mut parts = pair.into_inner();
            let name = parts.next().and_then(|word| self.name(word));
            let value = parts.next().and_then(|value| self.expr(value));
            values.extend(name.zip(value));
        });
        values
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
        match rule {
            Rule::minimum => return self.bid_amount(pair).map(BidTerm::Minimum),
            Rule::rounding => {
                let up = self.part(pair.clone(), &[Rule::up]).is_some();
                let multiple = self.bid_amount(pair)?;
                return Some(BidTerm::Round(RoundTo { up, multiple }));
            }
            _ => {}
        }
        let names = [Rule::profit_kind, Rule::name];
        let name = self
            .part(pair.clone(), &names)
            .and_then(|name| self.name(name));
        let share = self.only_expr(pair)?;
        Some(match rule {
            Rule::burden => BidTerm::Burden(share),
            Rule::overhead => BidTerm::Overhead(share),
            Rule::profit => BidTerm::Profit(name?, share),
            Rule::contingency => BidTerm::Contingency(share),
            Rule::class => BidTerm::Class(share),
            _ => BidTerm::Tax(share, name?),
        })
    }

    /// The one amount of money of a term.
    fn bid_amount(&self, pair: Pair<'_>) -> Option<Spanned<Money>> {
        let amount = self.part(pair, &[Rule::bid_amount])?;
        self.money(&amount)
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
