use super::*;

fn read(text: &str) -> (Option<Forecast>, Vec<String>) {
    let mut sources = Sources::new();
    let file = sources.add("weather.csv", text);
    let (forecast, diagnostics) = forecast(&sources, file, &Units::standard());
    let lines = diagnostics.iter().map(|d| {
        let at = d.span().map_or("", |span| sources.slice(span));
        format!("{} at `{at}`: {} | {}", d.code.id(), d.message, d.help)
    });
    (forecast, lines.collect())
}

fn good(text: &str) -> Vec<ForecastDay> {
    let (forecast, wrong) = read(text);
    assert_eq!(wrong, Vec::<String>::new());
    forecast.unwrap().days
}

/// 97 °F are (97 + 459.67) · 5/9 K, 18 mph are 18 · 0.44704 m/s.
#[test]
fn a_row_becomes_the_weather_of_a_day() {
    let days = good("date,air,humidity,wind,mix\n2026-06-03,97F,18%,18mph,88F\n");
    let [day] = days.as_slice() else {
        panic!("{days:?}");
    };
    assert_eq!(day.date.to_string(), "2026-06-03");
    let near = |got: Option<Quantity>, wanted: f64| {
        let got = got.unwrap().value;
        assert!((got - wanted).abs() < 1e-9, "{got} is not {wanted}");
    };
    near(day.air, (97.0 + 459.67) * 5.0 / 9.0);
    near(day.humidity, 0.18);
    near(day.wind, 18.0 * 0.44704);
    near(day.mix, (88.0 + 459.67) * 5.0 / 9.0);
}

#[test]
fn units_stand_in_the_header_or_behind_the_numbers() {
    let behind = good("date,air,humidity,wind,mix\n2026-06-03,-5.5C,18%,4m/s,\n");
    let header = good("date,air (C),Humidity (%),wind (m/s),mix (C)\n2026-06-03,-5.5,18,4,\n");
    let both = good("date,air (°C),humidity (%),wind (m/s)\n2026-06-03,-5.5°C,18%,4\n");
    let readings = |days: &[ForecastDay]| {
        let of = |day: &ForecastDay| [day.air, day.humidity, day.wind, day.mix];
        days.iter().map(of).collect::<Vec<_>>()
    };
    assert_eq!(readings(&behind), readings(&header));
    assert_eq!(readings(&behind), readings(&both));
    assert_eq!(behind[0].mix, None);
}

#[test]
fn what_spreadsheets_put_around_rows_is_passed_over() {
    let plain = good("date,air (F)\n2026-06-03,97\n2026-06-04,98\n");
    let saved = good("\u{feff}Date,Air (F)\r\n2026-06-03,97\r\n\r\n2026-06-04,98\r\n,\r\n");
    let airs = |days: &[ForecastDay]| days.iter().map(|day| day.air).collect::<Vec<_>>();
    assert_eq!(airs(&plain), airs(&saved));
}

#[test]
fn mistakes() {
    let said = [
        "",
        "date,air\n",
        "day,air\n2026-06-03,97F\n",
        "date,air (ft)\n2026-06-03,97\n",
        "date,air (F),air (C)\n2026-06-03,97,36\n",
        "date;air\n2026-06-03;97F\n",
        "air\n97F\n",
        "date,air\n2026-06-03,97\n",
        "date,air\n2026-06-03,warm\n",
        "date,air\n2026-06-03,97ft\n",
        "date,air (C)\n2026-06-03,97F\n",
        "date,air\n6/3/2026,97F\n",
        "date,air\n,97F\n",
        "date,air\n2026-06-03,97F\n2026-06-03,98F\n",
        "date,air\n2026-06-03,97,5F\n",
    ]
    .map(|text| {
        let (forecast, said) = read(text);
        assert_eq!(forecast, None, "{text}");
        said.join("\n")
    });
    insta::assert_snapshot!(said.join("\n"));
}
