//! The form as a workbook.

use super::{COLUMNS, Form, What};
use crate::workbook::{FormSheet, SheetError};
use parge_calc::price::Estimate;

const TITLE: &str = "Actuals";
const NOTE: &str = "Write how much into the shaded cells. What is left blank counts as not recorded; \
                    write 0 for what was not used.";

pub(super) fn workbook(form: &Form, estimate: &Estimate) -> Result<Vec<u8>, SheetError> {
    let rows = form.rows.iter().map(|row| {
        let cells = form.cells(row);
        let is_input = |column: &str| {
            let filled_in: &[&str] = match row.what {
                What::Material | What::Hours => &["amount", "price"],
                What::Area | What::Days => &["amount"],
                What::FirstDay | What::LastDay => &["name"],
                What::Weather | What::Remark => &["name", "note"],
                _ => &[],
            };
            filled_in.contains(&column)
        };
        COLUMNS.map(is_input).into_iter().zip(cells).collect()
    });
    FormSheet {
        title: TITLE,
        note: NOTE,
        columns: &COLUMNS,
        rows: rows.collect(),
    }
    .workbook(estimate)
}
