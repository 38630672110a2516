//! The weather: in general, of single days, and from a forecast. Wherever a reading comes from,
//! it must be possible.

use super::values::{Values, twice};
use crate::job::{Figure, Weather};
use jiff::civil::Date;
use parge_base::forecast::Forecast;
use parge_base::{Code, Diagnostic, Dim, Quantity, Span, Spanned};
use parge_grammar::ast::{Expr, Name};
use std::collections::BTreeMap;

/// The weather of single days, each with the place that names the day.
pub(super) type DayWeather = BTreeMap<Date, (Weather, Span)>;

const AIR: &str = "the air temperature";
const MIX: &str = "the temperature of the mix";
const HUMIDITY: &str = "the humidity";
const WIND: &str = "the wind";

impl Values<'_> {
    pub(super) fn weather(&mut self, readings: &[(Name, Expr)]) -> Weather {
        let mut weather = Weather::default();
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        for (name, expr) in readings {
            if let Some(first) = seen.insert(&name.node, name.span) {
                let diagnostic = twice("weather", name, first);
                self.diagnostics.push(diagnostic);
            }
            match name.node.as_str() {
                "air" => {
                    let figure = self.of_kind(expr, Dim::TEMPERATURE, AIR);
                    weather.air = figure.and_then(|figure| self.temperature(figure, AIR));
                }
                "mix" => {
                    let figure = self.of_kind(expr, Dim::TEMPERATURE, MIX);
                    weather.mix = figure.and_then(|figure| self.temperature(figure, MIX));
                }
                "humidity" => {
                    let figure = self.of_kind(expr, Dim::NONE, HUMIDITY);
                    weather.humidity = figure.and_then(|figure| self.humidity(figure));
                }
                "wind" => {
                    let figure = self.of_kind(expr, Dim::SPEED, WIND);
                    weather.wind = figure.and_then(|figure| self.wind(figure));
                }
                _ => self.unknown("weather", name, ["air", "humidity", "wind", "mix"]),
            }
        }
        weather
    }

    /// Takes the weather of one day that the plan states.
    pub(super) fn weather_on(
        &mut self,
        day: Spanned<Date>,
        readings: Weather,
        days: &mut DayWeather,
    ) {
        if let Some((_, first)) = days.insert(day.node, (readings, day.span)) {
            let message = format!("the weather of {} is given twice", day.node);
            let twice = Diagnostic::new(Code::SettingTwice, message, "keep the one that holds");
            let twice = twice.at(day.span, "again here").at(first, "first here");
            self.diagnostics.push(twice);
        }
    }

    /// Takes over the days of a forecast. The place of each reading is its row.
    pub(super) fn forecast(&mut self, forecast: &Forecast) -> DayWeather {
        let days = forecast.days.iter().map(|day| {
            let mut figure = |reading: Option<Quantity>| {
                reading.map(|value| Figure {
                    node: self.tape.literal(value, Some(day.span)),
                    span: day.span,
                })
            };
            let [air, humidity, wind, mix] =
                [day.air, day.humidity, day.wind, day.mix].map(&mut figure);
            let weather = Weather {
                air: air.and_then(|air| self.temperature(air, AIR)),
                humidity: humidity.and_then(|humidity| self.humidity(humidity)),
                wind: wind.and_then(|wind| self.wind(wind)),
                mix: mix.and_then(|mix| self.temperature(mix, MIX)),
                evaporation: None,
                dew_point: None,
            };
            (day.date, (weather, day.span))
        });
        days.collect()
    }

    /// A temperature at which somebody could be at work, from -40 to 60 °C.
    fn temperature(&mut self, figure: Figure, what: &str) -> Option<Figure> {
        self.within(
            figure,
            what,
            |kelvin| (233.15..=333.15).contains(&kelvin),
            "between -40F and 140F (-40C and 60C)",
            "write `84F` or `29C`",
        )
    }

    fn humidity(&mut self, figure: Figure) -> Option<Figure> {
        self.within(
            figure,
            HUMIDITY,
            // Air without any moisture has no dew point and is found nowhere.
            |share| share > 0.0 && share <= 1.0,
            "over 0% and at most 100%",
            "write a percentage, such as `60%`",
        )
    }

    fn wind(&mut self, figure: Figure) -> Option<Figure> {
        self.within(
            figure,
            WIND,
            |speed| speed >= 0.0,
            "no less than nothing",
            "write `9mph`",
        )
    }
}

/// The days of a plan and of its forecast. Where both have a reading of a day, the plan's holds.
pub(super) fn joined(plan: DayWeather, forecast: DayWeather) -> BTreeMap<Date, Weather> {
    let days = forecast
        .into_iter()
        .map(|(day, (weather, _))| (day, weather));
    let mut days: BTreeMap<Date, Weather> = days.collect();
    for (day, (own, _)) in plan {
        let foreseen = days.get(&day).copied().unwrap_or_default();
        days.insert(day, own.or(foreseen));
    }
    days
}

#[cfg(test)]
mod tests;
