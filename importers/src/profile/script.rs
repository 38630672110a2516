//! What a profile's script makes of odd cells.

use super::Profile;
use crate::faces::{Remark, Weight};
use crate::grid::{At, Book, Content};
use parge_base::{Code, Diagnostic, Sources, Span};
use parge_rules::CellScript;
use std::borrow::Cow;

/// A file as a script reads it, with a remark for each cell that it changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Scripted<'b> {
    /// The file; itself where no script changes it.
    pub book: Cow<'b, Book>,
    /// What was changed.
    pub remarks: Vec<Remark>,
}

/// Lets the script of a profile read every text of a file. Without a script, the file stays as it
/// is.
pub fn scripted<'b>(
    book: &'b Book,
    profile: &Profile,
    sources: &mut Sources,
) -> Result<Scripted<'b>, Diagnostic> {
    let mut out = Scripted {
        book: Cow::Borrowed(book),
        remarks: Vec::new(),
    };
    let Some(text) = &profile.script else {
        return Ok(out);
    };
    let file = sources.add(
        format!("the script of profile {}", profile.name),
        text.clone(),
    );
    let whole = Span::new(file, 0, text.len());
    let script = CellScript::compile(text, file, whole)?;
    let cells = book
        .sheets
        .iter()
        .flat_map(|sheet| &sheet.rows)
        .flat_map(|row| &row.cells);
    let made = script
        .read(cells.filter_map(|cell| cell.text()))
        .map_err(|why| {
            let help = "mend the script, or take the cell out of the sheet";
            Diagnostic::new(Code::BadProfile, why, help).at(whole, "")
        })?;
    let mut made = made.into_iter();
    for (number, sheet) in out.book.to_mut().sheets.iter_mut().enumerate() {
        for row in &mut sheet.rows {
            for cell in &mut row.cells {
                let Content::Text(was) = &cell.content else {
                    continue;
                };
                let Some(is) = made.next().filter(|is| is.as_str() != was.as_str()) else {
                    continue;
                };
                let at = At {
                    sheet: number,
                    row: row.number,
                    column: cell.column,
                };
                out.remarks.push(Remark {
                    weight: Weight::Doubt,
                    at,
                    text: format!("{} says `{was}`, read as `{is}`", book.cell_name(at)),
                    help: "the script of the profile reads it so".to_owned(),
                });
                cell.content = Content::Text(is.into());
            }
        }
    }
    Ok(out)
}
