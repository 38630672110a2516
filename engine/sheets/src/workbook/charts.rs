//! The sheet of charts: what is easier looked at than read.

use super::page::{Frame, HEAD_ROW, at, lines_of};
use super::style::{self, Look};
use super::{labour, summary};
use crate::shown;
use parge_calc::days::DayPlan;
use parge_calc::price::Estimate;
use rust_xlsxwriter::{
    Chart, ChartDataLabel, ChartFormat, ChartSolidFill, ChartType, Worksheet, XlsxError,
};

pub(super) const NAME: &str = "Charts";

/// The column behind the charts, where what only they show stands.
const DATA: usize = 15;
/// Pixels of a chart.
const SIZE: (u32, u32) = (860, 340);
/// Rows from one chart to the next.
const APART: u32 = 19;

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    frame.begin(sheet, NAME)?;
    sheet.set_print_fit_to_pages(1, 1);
    let money = estimate.currency.code();
    let [labels, amounts] = summary::steps();
    let cost = bars("What the total is made of", money, &labels, &amounts);
    sheet.insert_chart(HEAD_ROW, 0, &cost)?;
    let mut row = HEAD_ROW + APART;
    if !estimate.labour.is_empty() {
        let [phases, hours] = labour::bars(estimate);
        let chart = bars("Hours by phase", "hours", &phases, &hours);
        sheet.insert_chart(row, 0, &chart)?;
        row += APART;
    }
    if let Some(plan) = &estimate.takeoff.days {
        let days = write_days(sheet, plan)?;
        let days = [0, 1].map(|column| lines_of(NAME, DATA + column, days));
        let [labels, people] = days;
        let chart = columns("People by day", "people", &labels, &people);
        sheet.insert_chart(row, 0, &chart)?;
    }
    Ok(())
}

/// The days with their people, for the chart alone; says how many.
fn write_days(sheet: &mut Worksheet, plan: &DayPlan) -> Result<usize, XlsxError> {
    let heads = [("Day", Look::Text), ("People", Look::Count)];
    for (column, (head, look)) in (DATA..).zip(heads) {
        sheet.write_string_with_format(HEAD_ROW, at(column), head, &style::head(look))?;
    }
    let (text, count) = (style::body(Look::Text), style::body(Look::Count));
    for (row, day) in (HEAD_ROW + 1..).zip(&plan.days) {
        let label = shown::sentence(&day.label);
        sheet.write_string_with_format(row, at(DATA), label, &text)?;
        let people = f64::from(day.people);
        sheet.write_number_with_format(row, at(DATA + 1), people, &count)?;
    }
    sheet.set_column_width(at(DATA), 14)?;
    Ok(plan.days.len())
}

/// Level bars, the first at the top.
fn bars(title: &str, unit: &str, labels: &str, values: &str) -> Chart {
    let mut chart = plain(ChartType::Bar, title, labels, values);
    chart.y_axis().set_reverse();
    chart.x_axis().set_name(unit);
    chart
}

/// Upright columns.
fn columns(title: &str, unit: &str, labels: &str, values: &str) -> Chart {
    let mut chart = plain(ChartType::Column, title, labels, values);
    chart.y_axis().set_name(unit);
    chart
}

fn plain(kind: ChartType, title: &str, labels: &str, values: &str) -> Chart {
    let mut chart = Chart::new(kind);
    let fill = ChartSolidFill::new().set_color(style::BAR).clone();
    let mut format = ChartFormat::new();
    format.set_solid_fill(&fill);
    chart
        .add_series()
        .set_categories(labels)
        .set_values(values)
        .set_gap(40)
        .set_format(&mut format)
        .set_data_label(ChartDataLabel::new().show_value());
    chart.title().set_name(title);
    chart.legend().set_hidden();
    chart.set_width(SIZE.0).set_height(SIZE.1);
    chart
}
