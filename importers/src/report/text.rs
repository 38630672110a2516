//! The report as text.

use super::{Report, RowLine, SumLine, TotalLine, UpdateLines};
use crate::faces::rounded;

/// The most rows that are told one by one; the others are in the report as a file.
const MAX_REJECTED: usize = 40;

/// The report as lines of text. `rows` tells every row, and not only those that need a look.
pub fn text(report: &Report, rows: bool) -> String {
    let mut lines = vec![format!("{}: {}", report.file, state(report))];
    if !report.profile.is_empty() {
        lines.push(format!("profile: {}", report.profile));
    }
    let counts = report.verdicts.iter().filter(|(_, count)| *count > 0);
    let counts: Vec<String> = counts
        .map(|(word, count)| format!("{count} {word}"))
        .collect();
    lines.push(format!("rows: {}", counts.join(", ")));
    let sums = report
        .sums
        .iter()
        .map(|line| sum(line, report.makes.word()));
    section(&mut lines, "Sums", sums);
    section(
        &mut lines,
        "Totals of the sheet",
        report.totals.iter().map(total),
    );
    let columns = report.columns.iter().map(|column| {
        let unit = column
            .unit
            .as_ref()
            .map(|unit| format!(" in {unit}"))
            .unwrap_or_default();
        format!(
            "{}!{} `{}`: {}{unit}, since {}",
            column.sheet, column.column, column.header, column.role, column.reason
        )
    });
    section(&mut lines, "Columns", columns);
    let guesses = report
        .guesses
        .iter()
        .map(|guess| format!("{}, since {}", guess.what, guess.reason));
    section(&mut lines, "Taken for granted", guesses);
    section(&mut lines, "To fill in", report.to_fill_in.iter().cloned());
    if rows {
        // At a terminal each is told with the line that it concerns.
        let remarks = report.remarks.iter();
        let remarks = remarks.map(|remark| format!("{}: {}", remark.weight, remark.text));
        section(&mut lines, "To look at", remarks);
        section(&mut lines, "Rows", report.rows.iter().map(row));
    } else {
        let rejected = report.rows.iter().filter(|row| row.verdict == "rejected");
        let rejected = rejected.take(MAX_REJECTED);
        let rejected = rejected.map(|row| format!("{}: {}", place(row), row.detail));
        section(&mut lines, "Not taken over", rejected);
    }
    let update = report.update.iter().flat_map(update);
    section(&mut lines, "Update", update);
    lines.join("\n") + "\n"
}

fn update(update: &UpdateLines) -> impl Iterator<Item = String> {
    let changes = update.changes.iter().map(|line| format!("changed: {line}"));
    let deleted = update
        .deleted
        .iter()
        .map(|line| format!("deleted in the plan, and still in the sheet: {line}"));
    let kept = update
        .kept
        .iter()
        .map(|line| format!("kept as it is in the plan: {line}"));
    changes.chain(kept).chain(deleted)
}

fn state(report: &Report) -> &'static str {
    match report.in_order {
        true => "in order",
        false => "NOT IN ORDER, look at what is said of it",
    }
}

fn section(lines: &mut Vec<String>, head: &str, items: impl Iterator<Item = String>) {
    let items: Vec<String> = items.map(|item| format!("  {item}")).collect();
    if !items.is_empty() {
        lines.push(format!("\n{head}"));
        lines.extend(items);
    }
}

fn place(row: &RowLine) -> String {
    let from = row
        .from_column
        .as_ref()
        .map(|column| format!(" from {column}"));
    format!("{}, row {}{}", row.sheet, row.row, from.unwrap_or_default())
}

fn row(row: &RowLine) -> String {
    match row.detail.is_empty() {
        true => format!("{}: {}", place(row), row.verdict),
        false => format!("{}: {}: {}", place(row), row.verdict, row.detail),
    }
}

fn total(total: &TotalLine) -> String {
    let agrees = match &total.only {
        Some(only) => format!("AGREES ONLY with {only}"),
        None if total.agrees => "agrees".to_owned(),
        None => "DOES NOT AGREE".to_owned(),
    };
    let (stated, rows) = (rounded(total.stated), rounded(total.rows));
    let unit = shown_unit(total.unit);
    format!(
        "{} {}: states {stated}{unit}, {} make {rows}{unit}: {agrees}",
        total.cell, total.of, total.which
    )
}

fn sum(sum: &SumLine, makes: &str) -> String {
    let unit = shown_unit(sum.unit);
    let agrees = if sum.agrees { "agree" } else { "DO NOT AGREE" };
    let measured = sum
        .measured
        .map(|value| format!(", measured {}{unit}", rounded(value)));
    let left = match sum.not_taken == 0.0 {
        true => String::new(),
        false => format!("; not taken over {}{unit}", rounded(sum.not_taken)),
    };
    format!(
        "{}: sheet {}{unit}, {makes} {}{unit}{}: {agrees}{left}",
        sum.what,
        rounded(sum.sheet),
        rounded(sum.plan),
        measured.unwrap_or_default(),
    )
}

fn shown_unit(unit: &str) -> String {
    match unit {
        "1" => String::new(),
        unit => format!(" {unit}"),
    }
}
