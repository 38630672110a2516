use super::*;
use crate::contract::Packs;
use crate::job::Job;
use crate::resolve::resolve_with;
use crate::testing::{SCRIPT, pack, shown};
use jiff::civil::date;
use parge_base::Sources;
use parge_base::forecast::ForecastDay;

const ROW: &str = "2026-06-03,97F,118%,18mph,";

/// Resolves a plan with such settings and such a humidity in the forecast of 3 June.
fn resolved(settings: &str, humidity: f64) -> (Job, Vec<String>, Sources) {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let text = format!(
        "parge 1\njob \"Test\" {{\n  rules \"small\"\n  forecast \"weather.csv\"\n{settings}\n}}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on block {{ face f rect 4ft x 4ft plain }}\n"
    );
    let file = sources.add("plan.parge", text.as_str());
    let rows = sources.add("weather.csv", ROW);
    let quantity = |value, dim| Some(Quantity::new(value, dim).unwrap());
    let forecast = Forecast {
        days: vec![ForecastDay {
            date: date(2026, 6, 3),
            air: quantity(310.0, Dim::TEMPERATURE),
            humidity: quantity(humidity, Dim::NONE),
            wind: quantity(8.0, Dim::SPEED),
            mix: None,
            span: Span::new(rows, 0, ROW.len()),
        }],
    };
    let parsed = parge_grammar::parse(file, sources.text(file));
    assert_eq!(parsed.diagnostics, []);
    let end = Span::new(file, 0, 0);
    let (job, said) = resolve_with(&parsed.plan, Packs::of(&pack), Some(&forecast), end);
    let said = said.iter().map(|d| shown(d, &sources)).collect();
    (job.unwrap(), said, sources)
}

/// Air in kelvin, humidity, wind in metres per second, mix in kelvin, to two decimals.
fn readings(job: &Job, day: Date) -> [Option<f64>; 4] {
    let weather = job.weather_of(day);
    let readings = [weather.air, weather.humidity, weather.wind, weather.mix];
    readings.map(|figure| figure.map(|figure| (job.value(figure).value * 100.0).round() / 100.0))
}

#[test]
fn each_reading_is_the_plans_own_of_the_day_or_foreseen_or_the_general_one() {
    let (job, said, sources) = resolved(
        "weather { air 300K  humidity 40%  mix 295K }\n\
         weather 2026-06-03 { humidity 30% }\nweather 2026-06-04 { wind 5m/s }",
        0.18,
    );
    assert_eq!(said, Vec::<String>::new());
    let third = date(2026, 6, 3);
    assert_eq!(
        readings(&job, third),
        [Some(310.0), Some(0.3), Some(8.0), Some(295.0)]
    );
    assert_eq!(
        readings(&job, date(2026, 6, 4)),
        [Some(300.0), Some(0.4), Some(5.0), Some(295.0)]
    );
    assert_eq!(
        readings(&job, date(2026, 6, 5)),
        [Some(300.0), Some(0.4), None, Some(295.0)]
    );
    let place = |figure: Option<Figure>| {
        let figure = figure.unwrap();
        let node = job.tape.node(figure.node).unwrap();
        assert_eq!(
            node.place.map(|place| sources.slice(place)),
            Some(sources.slice(figure.span))
        );
        sources.slice(figure.span)
    };
    let weather = job.weather_of(third);
    assert_eq!(place(weather.air), ROW);
    assert_eq!(place(weather.humidity), "30%");
    assert_eq!(place(weather.mix), "295K");
}

#[test]
fn mistakes_in_the_weather_of_days() {
    let said = [
        ("weather 2026-06-04 { humidity 140%  wind -3mph }", 0.18),
        ("weather 2026-06-04 { air 200F  mix 80  air 84F }", 0.18),
        (
            "weather 2026-06-04 { air 84F }\nweather 2026-06-04 { wind 9mph }",
            0.18,
        ),
        ("weather { air 84F }\nweather { wind 9mph }", 0.18),
        ("", 1.18),
    ]
    .map(|(settings, humidity)| {
        let (_, said, _) = resolved(settings, humidity);
        format!("{settings}\n{}\n", said.join("\n"))
    });
    insta::assert_snapshot!(said.join("\n"));
}
