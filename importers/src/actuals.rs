//! Records of what a job used: a text that a foreman fills in, or a table as CSV or xlsx.
//!
//! # The text
//!
//! One line says one thing. What follows a `#` is a comment, but for weather and remarks, whose words
//! are kept as they are; empty lines are nothing.
//!
//! | line | what it says |
//! | --- | --- |
//! | `job "Sign wall"` | the job |
//! | `priced plan dljabmcaohne rules hh… prices kl…` | the fingerprints of what priced it |
//! | `rules our-rules 1.0` | the pack that priced it, with its version |
//! | `day 2026-06-01 to 2026-06-12` | the first and the last day on site |
//! | `days 9` | days on which work went on |
//! | `finish-mix 104 bags at 25.10 USD` | an item, how much of it was used, and what one of that unit cost |
//! | `hours place "Grotto" 36 h at 41 USD` | the hours of one person on a phase at a structure, and the wage |
//! | `hours place 80 h` | the same of the whole phase |
//! | `hours protect job 3 h` | the same of what belongs to no structure |
//! | `area "Grotto" 312 ft2` | the area as built, without openings and with reveals |
//! | `area "Grotto/back" 104 ft2` | the same of a face, all its equal ones together |
//! | `weather 2026-06-03 rain from noon` | the weather; the day may be left out |
//! | `remark two bags burst` | whatever else is to be known |
//!
//! An item is named as the pack names it or as the estimate describes it, and so is a phase. Names
//! stand in quotes where they have digits or would be taken for the first word of another line.
//! An amount has its unit, in the singular or plural, or the word of the pack that the item was
//! priced by: `2 pails`. It may be a sum, `64 + 40 bags`, and have a fraction, `7 1/2 gal`. A comma in
//! it is refused, since it means thousands to one and decimals to the other. What is left blank, as
//! `___`, is not recorded.
//!
//! # The table
//!
//! One row says one thing under a header, with the columns in any order:
//!
//! | column | what it says |
//! | --- | --- |
//! | `what` | `material`, `hours`, `area`, `job`, `priced plan`, `priced rules`, `priced prices`, `rules`, `first day`, `last day`, `days`, `weather`, `remark` |
//! | `name` | the item, phase, face, job, fingerprint, pack or day |
//! | `where` | the structure of hours and areas; `job` for hours that belong to none |
//! | `amount`, `unit` | as in the text; the unit may stand with the amount |
//! | `price`, `currency` | what one of that unit cost, or an hour |
//! | `note` | weather and remarks in words; the version of a pack |
//!
//! All but `what` and `name` may be left out. A row without an amount is not recorded. In a workbook
//! the sheet `Actuals` is read, or else the first; its table begins where a cell says `what`.

mod amount;
mod cut;
mod entry;
mod record;
mod table;
mod text;
mod uses;
mod workbook;

use parge_base::actuals::{Actuals, Lines};
use parge_base::{Diagnostic, FileId, Sources};

/// Reads a record in the text form. With an error there is none: what was passed over could be what
/// matters.
pub fn actuals_of_text(
    sources: &Sources,
    file: FileId,
    lines: &Lines,
) -> (Option<Actuals>, Vec<Diagnostic>) {
    let (entries, said) = text::read(sources, file, lines);
    record::record(file, entries, said, lines)
}

/// Reads a record in comma-separated text, under the same terms.
pub fn actuals_of_csv(
    sources: &Sources,
    file: FileId,
    lines: &Lines,
) -> (Option<Actuals>, Vec<Diagnostic>) {
    match table::of_csv(sources, file) {
        Ok(table) => of_table(file, &table, lines),
        Err(said) => (None, vec![said]),
    }
}

/// Reads a record in an xlsx workbook, under the same terms. Its rows are added to the sources under
/// the name to show for the workbook.
pub fn actuals_of_workbook(
    sources: &mut Sources,
    name: &str,
    bytes: &[u8],
    lines: &Lines,
) -> (Option<Actuals>, Vec<Diagnostic>) {
    match workbook::read(sources, name, bytes) {
        Ok((file, table)) => of_table(file, &table, lines),
        Err(said) => (None, vec![said]),
    }
}

fn of_table(
    file: FileId,
    table: &table::Table,
    lines: &Lines,
) -> (Option<Actuals>, Vec<Diagnostic>) {
    let (entries, said) = table.entries();
    record::record(file, entries, said, lines)
}

#[cfg(test)]
mod tests;
