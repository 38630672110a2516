//! Weather by days.
//!
//! One row a day. The columns, in any order, under a header row:
//!
//! | column | what it says |
//! | --- | --- |
//! | `date` | the day, as ISO 8601 |
//! | `air`, `mix` | temperatures of the air and of the fresh mix |
//! | `humidity` | relative humidity |
//! | `wind` | speed of the wind |
//!
//! A reading has its unit behind its number, `84F`, or its column has it in brackets:
//! `air (F)`. All columns but `date` may be left out, and so may any reading. Whether a reading is
//! possible at all is for the job to say, as it is for the readings of a plan.

use jiff::civil::Date;
use parge_base::forecast::{Forecast, ForecastDay};
use parge_base::{
    Code, Diagnostic, Dim, FileId, Quantity, Sources, Span, Unit, Units, diagnostic, suggest,
};
use parge_rules::csv_text::{CsvRow, CsvText, number};
use std::collections::BTreeMap;

/// The readings, with their kinds and an example of each.
const READINGS: [(&str, Dim, &str); 4] = [
    ("air", Dim::TEMPERATURE, "84F"),
    ("humidity", Dim::NONE, "40%"),
    ("wind", Dim::SPEED, "9mph"),
    ("mix", Dim::TEMPERATURE, "80F"),
];

/// The column of a reading.
struct Column {
    /// Its place in a row.
    at: usize,
    name: &'static str,
    dim: Dim,
    example: &'static str,
    /// The unit in its header, where there is one.
    unit: Option<Unit>,
}

/// Reads the weather of days. With an error there is none: a day that was passed over could be
/// the one that matters.
pub fn forecast(
    sources: &Sources,
    file: FileId,
    units: &Units,
) -> (Option<Forecast>, Vec<Diagnostic>) {
    let text = match CsvText::read(sources, file, Code::BadForecast) {
        Ok(text) => text,
        Err(diagnostic) => return (None, vec![diagnostic]),
    };
    let (date, columns) = match columns(&text, units) {
        Ok(columns) => columns,
        Err(diagnostics) => return (None, diagnostics),
    };
    let mut diagnostics = Vec::new();
    let mut days: Vec<ForecastDay> = Vec::new();
    let mut seen: BTreeMap<Date, Span> = BTreeMap::new();
    for row in &text.rows {
        let read = day(row, &text, date, &columns, units);
        let day = match read {
            Ok(day) => day,
            Err(diagnostic) => {
                diagnostics.push(diagnostic);
                continue;
            }
        };
        if let Some(first) = seen.insert(day.date, row.span) {
            let message = format!("the weather of {} stands in two rows", day.date);
            let twice = Diagnostic::new(Code::BadForecast, message, "keep the row that holds");
            diagnostics.push(twice.at(row.span, "again here").at(first, "first here"));
        }
        days.push(day);
    }
    if text.rows.is_empty() {
        let help = "add a row for each day, such as `2026-06-03,97F,18%,18mph,88F`";
        diagnostics.push(wrong(text.header_span, "the file has no day", help));
    }
    diagnostic::tidy(&mut diagnostics);
    let forecast = diagnostics.is_empty().then_some(Forecast { days });
    (forecast, diagnostics)
}

fn wrong(span: Span, message: impl Into<String>, help: impl Into<String>) -> Diagnostic {
    Diagnostic::new(Code::BadForecast, message, help).at(span, "")
}

/// The column of the date and those of the readings.
fn columns(text: &CsvText, units: &Units) -> Result<(usize, Vec<Column>), Vec<Diagnostic>> {
    let span = text.header_span;
    if let [only] = text.header.as_slice()
        && only.contains(';')
    {
        let help = "save it with commas between the fields and a point in decimals: \
                    `date,air,humidity,wind,mix`";
        return Err(vec![wrong(
            span,
            "the fields are divided by semicolons",
            help,
        )]);
    }
    let mut date = None;
    let mut columns: Vec<Column> = Vec::new();
    let mut diagnostics = Vec::new();
    for (at, written) in text.header.iter().enumerate() {
        let (name, unit) = match written
            .strip_suffix(')')
            .and_then(|head| head.split_once('('))
        {
            Some((name, unit)) => (name.trim_end(), Some(unit.trim())),
            None => (written.as_str(), None),
        };
        let known = READINGS.into_iter().find(|(known, ..)| *known == name);
        match (known, unit) {
            (None, None) if name == "date" => date = Some(at),
            (None, _) => {
                let message = format!("the file has a column `{written}` that is not known");
                let known = READINGS.map(|(known, ..)| known);
                let known = ["date"].into_iter().chain(known);
                diagnostics.push(wrong(span, message, suggest::help_for(name, known)));
            }
            (Some((name, ..)), _) if columns.iter().any(|column| column.name == name) => {
                let message = format!("two columns are called `{name}`");
                diagnostics.push(wrong(span, message, "keep the one that holds"));
            }
            (Some((name, dim, example)), unit) => {
                let unit = unit.map(|unit| unit_of(unit, dim, units)).transpose();
                match unit {
                    Ok(unit) => columns.push(Column {
                        at,
                        name,
                        dim,
                        example,
                        unit,
                    }),
                    Err(message) => {
                        let help = format!("write a unit as in `{example}`, in brackets");
                        diagnostics.push(wrong(span, message, help));
                    }
                }
            }
        }
    }
    if date.is_none() && diagnostics.is_empty() {
        let help = "begin with `date,air,humidity,wind,mix`";
        diagnostics.push(wrong(span, "the file has no column `date`", help));
    }
    match date {
        Some(date) if diagnostics.is_empty() => Ok((date, columns)),
        _ => Err(diagnostics),
    }
}

/// A unit of the kind of a reading, however it is capitalized: names of columns are kept in small
/// letters.
fn unit_of(written: &str, dim: Dim, units: &Units) -> Result<Unit, String> {
    let plain = written.trim_start_matches('°');
    let upper = plain.to_uppercase();
    let of_kind = |word: &str| units.parse(word).ok().filter(|unit| unit.dim() == dim);
    of_kind(plain)
        .or_else(|| of_kind(&upper))
        .ok_or_else(|| format!("`{written}` is no unit of {}", dim.words()))
}

fn day(
    row: &CsvRow,
    text: &CsvText,
    date: usize,
    columns: &[Column],
    units: &Units,
) -> Result<ForecastDay, Diagnostic> {
    row.check_length(text.header.len(), Code::BadForecast)?;
    let written = row.field(date);
    let date = written.parse::<Date>().map_err(|_| {
        let message = match written {
            "" => "the row names no day".to_owned(),
            written => format!("`{written}` is no date"),
        };
        wrong(row.span, message, "write year-month-day: `2026-06-03`")
    })?;
    let mut day = ForecastDay {
        date,
        air: None,
        humidity: None,
        wind: None,
        mix: None,
        span: row.span,
    };
    for column in columns {
        let value = reading(row.field(column.at), column, units)
            .map_err(|(message, help)| wrong(row.span, message, help))?;
        match column.name {
            "air" => day.air = value,
            "humidity" => day.humidity = value,
            "wind" => day.wind = value,
            _ => day.mix = value,
        }
    }
    Ok(day)
}

/// One reading; none where the field is empty.
fn reading(
    field: &str,
    column: &Column,
    units: &Units,
) -> Result<Option<Quantity>, (String, String)> {
    if field.is_empty() {
        return Ok(None);
    }
    let Column { name, example, .. } = column;
    let end = field
        .find(|letter: char| !(letter.is_ascii_digit() || matches!(letter, '.' | '-' | '+')))
        .unwrap_or(field.len());
    let (digits, behind) = field.split_at_checked(end).unwrap_or((field, ""));
    let value = number(digits).ok_or_else(|| {
        let message = format!("`{field}` is no reading of `{name}`");
        (
            message,
            format!("write a number and its unit, as in `{example}`"),
        )
    })?;
    let own = match behind.trim() {
        "" => None,
        written => Some(
            unit_of(written, column.dim, units)
                .map_err(|message| (message, format!("write the reading as in `{example}`")))?,
        ),
    };
    let unit = match (&own, &column.unit) {
        (Some(own), Some(header)) if own != header => {
            let message = format!(
                "`{field}` has another unit than its column, `{}`",
                header.text()
            );
            let help = "write the unit in one of the two places".to_owned();
            return Err((message, help));
        }
        (Some(unit), _) | (None, Some(unit)) => unit,
        (None, None) => {
            let message = format!("`{field}` of `{name}` has no unit");
            let help = format!("write it as in `{example}`, or name the column as in `air (F)`");
            return Err((message, help));
        }
    };
    let value = unit
        .quantity(value)
        .map_err(|error| (error.to_string(), "write a smaller number".to_owned()))?;
    Ok(Some(value))
}

#[cfg(test)]
mod tests;
