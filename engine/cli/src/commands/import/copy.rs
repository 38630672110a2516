//! Fills in the copy of a sheet with a verdict beside each row.

use parge_importers::faces::Import;
use parge_importers::grid::{Book, Content};
use parge_importers::report::{Makes, Report};
use parge_sheets::verdicts::{Cell, Verdict, VerdictBook, VerdictRow, VerdictSheet};
use std::collections::BTreeMap;

pub(super) fn copy(book: &Book, import: &Import, report: &Report) -> VerdictBook {
    // The lines of the report stand in the order of the rows.
    let mut verdicts: BTreeMap<(usize, u32), Vec<Verdict>> = BTreeMap::new();
    for (row, line) in import.rows.iter().zip(&report.rows) {
        verdicts
            .entry((row.sheet, row.row))
            .or_default()
            .push(Verdict {
                word: line.verdict.to_owned(),
                detail: line.detail.clone(),
                look: line.verdict == "rejected",
            });
    }
    for (remark, line) in import.remarks.iter().zip(&report.remarks) {
        let key = (remark.at.sheet, remark.at.row);
        verdicts.entry(key).or_default().push(Verdict {
            word: line.weight.to_owned(),
            detail: line.text.clone(),
            look: true,
        });
    }
    let sheets = book.sheets.iter().enumerate().map(|(number, sheet)| {
        let rows = sheet.rows.iter().map(|row| VerdictRow {
            row: row.number,
            cells: row
                .cells
                .iter()
                .map(|cell| (cell.column, shown(&cell.content)))
                .collect(),
            verdicts: verdicts.remove(&(number, row.number)).unwrap_or_default(),
        });
        VerdictSheet {
            name: sheet.name.clone(),
            rows: rows.collect(),
        }
    });
    let sheets = sheets.collect();
    let unit = |unit: &str| {
        if unit == "1" {
            String::new()
        } else {
            format!(", {unit}")
        }
    };
    let sums = report.sums.iter().map(|sum| {
        let what = format!("{}{}", sum.what, unit(sum.unit));
        (what, sum.sheet, sum.plan, sum.agrees)
    });
    let totals = report.totals.iter().map(|total| {
        let what = format!("total in {}{}", total.cell, unit(total.unit));
        (what, total.stated, total.rows, total.agrees)
    });
    let guesses = report
        .guesses
        .iter()
        .map(|guess| format!("{}, since {}", guess.what, guess.reason));
    let to_fill_in = report.to_fill_in.iter();
    let to_fill_in = to_fill_in.map(|line| format!("to fill in: {line}"));
    let kept = report.update.iter().flat_map(|update| &update.kept);
    let kept = kept.map(|what| format!("kept as it is in the plan: {what}"));
    let deleted = report.update.iter().flat_map(|update| &update.deleted);
    let deleted =
        deleted.map(|what| format!("deleted in the plan, and still in the sheet: {what}"));
    VerdictBook {
        title: report.file.clone(),
        made: match report.makes {
            Makes::Plan => "Plan",
            Makes::PriceBook => "Price book",
        },
        sheets,
        sums: sums.chain(totals).collect(),
        lines: guesses
            .chain(to_fill_in)
            .chain(kept)
            .chain(deleted)
            .collect(),
    }
}

fn shown(content: &Content) -> Cell {
    match content {
        Content::Number(number) => Cell::Number(*number),
        other => Cell::Text(other.to_string()),
    }
}
