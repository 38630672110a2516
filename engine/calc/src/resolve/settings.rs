//! The settings of the job block.

use super::values::Values;
use super::weather::DayWeather;
use crate::estimate_class::EstimateClass;
use crate::job::{
    Bid, BidPlaces, Calendar, CrewClass, Figure, Profit, Rounding, Taxable, UnitSystem, Weather,
};
use jiff::civil::Date;
use parge_base::number::round_to;
use parge_base::{Code, Diagnostic, Dim, Span, Spanned, suggest};
use parge_grammar::ast::{BidTerm, Expr, JobSetting, Name, RoundTo};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// What the job block says, apart from its name.
#[derive(Debug, Default)]
pub(super) struct Settings {
    pub(super) client: Option<String>,
    pub(super) site: Option<String>,
    pub(super) date: Option<Date>,
    pub(super) valid_until: Option<Spanned<Date>>,
    pub(super) units: UnitSystem,
    pub(super) crew: Option<Figure>,
    pub(super) crew_classes: Vec<CrewClass>,
    pub(super) calendar: Calendar,
    pub(super) weather: Weather,
    pub(super) weather_on: DayWeather,
    pub(super) bid: Bid,
    pub(super) bid_places: BidPlaces,
}

/// Reports a setting that stands a second time.
#[derive(Default)]
pub(super) struct Once(BTreeMap<&'static str, Span>);

impl Once {
    pub(super) fn first(
        &mut self,
        word: &'static str,
        span: Span,
        diagnostics: &mut Vec<Diagnostic>,
    ) {
        if let Some(first) = self.0.insert(word, span) {
            let message = format!("`{word}` is given twice");
            let diagnostic =
                Diagnostic::new(Code::SettingTwice, message, "keep the one that holds")
                    .at(span, "again here")
                    .at(first, "first here");
            diagnostics.push(diagnostic);
        }
    }
}

impl Values<'_> {
    pub(super) fn settings(&mut self, settings: &[Spanned<JobSetting>]) -> Settings {
        let mut out = Settings::default();
        let mut once = Once::default();
        for setting in settings {
            if let Some(word) = word(&setting.node) {
                once.first(word, setting.span, &mut self.diagnostics);
            }
            match &setting.node {
                JobSetting::Client(name) => out.client = Some(name.node.clone()),
                JobSetting::Site(name) => out.site = Some(name.node.clone()),
                JobSetting::Date(date) => out.date = Some(date.node),
                JobSetting::Units(word) => {
                    const KNOWN: [(&str, UnitSystem); 2] =
                        [("us", UnitSystem::Us), ("metric", UnitSystem::Metric)];
                    out.units = self.choice("units", word, &KNOWN).unwrap_or_default();
                }
                // Whoever loads the packs and the price book has read these already, and
                // conditions are looked at before anything is measured.
                JobSetting::Rules(_)
                | JobSetting::Measure(_)
                | JobSetting::Prices(_)
                | JobSetting::Forecast(_)
                | JobSetting::Conditions(_) => {}
                // Days depend on each other, so they are looked at together.
                JobSetting::ValidUntil(_)
                | JobSetting::Valid(_)
                | JobSetting::Start(_)
                | JobSetting::Workdays(_)
                | JobSetting::Hours(_)
                | JobSetting::Holidays(_)
                | JobSetting::WeatherDays(_)
                | JobSetting::Travel(_) => {}
                JobSetting::Crew(crew) => {
                    (out.crew, out.crew_classes) = self.crew(crew, setting.span);
                }
                JobSetting::Weather(weather) => {
                    let readings = self.weather(&weather.readings);
                    match &weather.day {
                        None => out.weather = readings,
                        Some(day) => self.weather_on(*day, readings, &mut out.weather_on),
                    }
                }
                JobSetting::Bid(terms) => {
                    out.bid = self.bid(terms);
                    out.bid_places = bid_places(terms);
                }
            }
        }
        out.valid_until = self.valid_until(settings, out.date);
        out.calendar = self.calendar(settings, out.date);
        out
    }

    fn bid(&mut self, terms: &[Spanned<BidTerm>]) -> Bid {
        let mut bid = Bid::default();
        let mut once = Once::default();
        for term in terms {
            match &term.node {
                BidTerm::Burden(rate) => {
                    once.first("burden", term.span, &mut self.diagnostics);
                    bid.burden = self.rate(rate, "the burden on wages", 1.5);
                }
                BidTerm::Overhead(rate) => {
                    once.first("overhead", term.span, &mut self.diagnostics);
                    bid.overhead = self.rate(rate, "the overhead", 0.99);
                }
                BidTerm::Profit(kind, rate) => {
                    once.first("profit", term.span, &mut self.diagnostics);
                    bid.profit = self.profit(kind, rate);
                }
                BidTerm::Tax(rate, on) => {
                    once.first("tax", term.span, &mut self.diagnostics);
                    const KNOWN: [(&str, Taxable); 2] =
                        [("materials", Taxable::Materials), ("total", Taxable::Total)];
                    let rate = self.rate(rate, "the tax", 0.5);
                    let on = self.choice("tax … on", on, &KNOWN);
                    bid.tax = rate.zip(on);
                }
                BidTerm::Contingency(rate) => {
                    once.first("contingency", term.span, &mut self.diagnostics);
                    bid.contingency = self.rate(rate, "the contingency", 1.0);
                }
                BidTerm::Class(number) => {
                    once.first("class", term.span, &mut self.diagnostics);
                    bid.class = self.class(number);
                }
                BidTerm::Minimum(least) => {
                    once.first("minimum", term.span, &mut self.diagnostics);
                    bid.minimum = Some(least.node);
                }
                BidTerm::Round(to) => {
                    once.first("round", term.span, &mut self.diagnostics);
                    bid.rounding = self.rounding(to);
                }
            }
        }
        bid
    }

    fn profit(&mut self, kind: &Name, rate: &Expr) -> Option<Profit> {
        let share = self.rate(rate, "the profit", 1.5);
        match kind.node.as_str() {
            "markup" => share.map(Profit::Markup),
            "margin" if share.is_some_and(|share| share >= Decimal::ONE) => {
                let message = "a margin is a share of the price, so it must be below 100%";
                let help =
                    "write `profit margin 20%`, or `profit markup 150%` for a share of the cost";
                self.diagnostics
                    .push(Diagnostic::new(Code::OutOfRange, message, help).at(rate.span, ""));
                None
            }
            "margin" => share.map(Profit::Margin),
            _ => {
                self.unknown("profit", kind, ["markup", "margin"]);
                None
            }
        }
    }

    fn class(&mut self, expr: &Expr) -> Option<EstimateClass> {
        let figure = self.of_kind(expr, Dim::NONE, "the class of the estimate")?;
        let value = self.tape.value(figure.node).value;
        let class = EstimateClass::new(value);
        if class.is_none() {
            let message = format!("there is no class {} of an estimate", round_to(value, 6));
            let help = "write a class from 5 to 1, such as `class 3`: 5 is priced by a first idea, \
                        1 by complete drawings";
            self.diagnostics
                .push(Diagnostic::new(Code::OutOfRange, message, help).at(expr.span, ""));
        }
        class
    }

    fn rounding(&mut self, to: &RoundTo) -> Option<Rounding> {
        let multiple = to.multiple.node;
        if multiple.amount().is_zero() {
            let message = "a price cannot be rounded to a multiple of nothing";
            let help = "write what it becomes a multiple of, as in `round up to 10 USD`";
            let diagnostic = Diagnostic::new(Code::OutOfRange, message, help);
            self.diagnostics.push(diagnostic.at(to.multiple.span, ""));
            return None;
        }
        let up = to.up;
        Some(Rounding { up, multiple })
    }

    /// A rate on money, as an exact decimal: what was written, free of binary noise. `most` is
    /// more than anyone charges; a number over it has lost its percent sign.
    fn rate(&mut self, expr: &Expr, what: &str, most: f64) -> Option<Decimal> {
        let figure = self.of_kind(expr, Dim::NONE, what)?;
        let value = self.tape.value(figure.node).value;
        if !(0.0..=most).contains(&value) {
            let percent = |share: f64| format!("{}%", round_to(share * 100.0, 6));
            let message = format!(
                "{what} is {}, and must be between 0% and {}",
                percent(value),
                percent(most)
            );
            // A number well over 1 has most likely lost its sign.
            let likely = if value >= 2.0 { value.min(12.0) } else { 12.0 };
            let help = format!(
                "write a percentage with its sign, such as `{}%`",
                round_to(likely, 6)
            );
            self.diagnostics
                .push(Diagnostic::new(Code::OutOfRange, message, help).at(expr.span, ""));
            return None;
        }
        Decimal::try_from(value).ok().map(|rate| rate.round_dp(9))
    }

    fn choice<T: Copy>(
        &mut self,
        setting: &str,
        word: &Name,
        known: &[(&'static str, T)],
    ) -> Option<T> {
        let found = known.iter().find(|(name, _)| *name == word.node);
        if found.is_none() {
            self.unknown(setting, word, known.iter().map(|(name, _)| *name));
        }
        found.map(|(_, value)| *value)
    }

    pub(super) fn unknown<'a>(
        &mut self,
        setting: &str,
        word: &Name,
        known: impl IntoIterator<Item = &'a str, IntoIter: Clone>,
    ) {
        let message = format!("`{setting}` does not know `{}`", word.node);
        let help = suggest::help_for(&word.node, known.into_iter());
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownWord, message, help).at(word.span, ""));
    }
}

/// Where each term stands; the first holds where one is given twice, which is an error.
fn bid_places(terms: &[Spanned<BidTerm>]) -> BidPlaces {
    let mut places = BidPlaces::default();
    for term in terms {
        let place = match &term.node {
            BidTerm::Burden(_) => &mut places.burden,
            BidTerm::Overhead(_) => &mut places.overhead,
            BidTerm::Profit(..) => &mut places.profit,
            BidTerm::Tax(..) => &mut places.tax,
            BidTerm::Contingency(_) => &mut places.contingency,
            BidTerm::Class(_) => &mut places.class,
            BidTerm::Minimum(_) => &mut places.minimum,
            BidTerm::Round(_) => &mut places.rounding,
        };
        place.get_or_insert(term.span);
    }
    places
}

/// The word of a setting that stands once; none for the weather of a day.
fn word(setting: &JobSetting) -> Option<&'static str> {
    Some(match setting {
        JobSetting::Client(_) => "client",
        JobSetting::Site(_) => "site",
        JobSetting::Date(_) => "date",
        JobSetting::ValidUntil(_) => "valid_until",
        JobSetting::Valid(_) => "valid",
        JobSetting::Units(_) => "units",
        JobSetting::Measure(_) => "measure",
        JobSetting::Rules(_) => "rules",
        JobSetting::Prices(_) => "prices",
        JobSetting::Crew(_) => "crew",
        JobSetting::Weather(weather) if weather.day.is_some() => return None,
        JobSetting::Weather(_) => "weather",
        JobSetting::Bid(_) => "bid",
        JobSetting::Conditions(_) => "conditions",
        JobSetting::Start(_) => "start",
        JobSetting::Workdays(_) => "workdays",
        JobSetting::Hours(_) => "hours",
        JobSetting::Holidays(_) => "holidays",
        JobSetting::WeatherDays(_) => "weather_days",
        JobSetting::Travel(_) => "travel",
        JobSetting::Forecast(_) => "forecast",
    })
}
