//! `parge import --prices`: a price list becomes a price book, with a report as for a plan.

use super::{Answered, Made, answered, beside, ending, said, tell_report, tell_written};
use crate::args::ImportArgs;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic, Label};
use parge_importers::grid::Shown;
use parge_importers::price_book;
use parge_importers::price_list::{OfferRead, book_text, price_list, read_again};
use parge_importers::report;
use std::io;

/// What is done about a row that is not taken over.
const ADD_PRICE: &str = "mend the row, or write its price into the price book by hand";

pub(super) fn run(
    args: &ImportArgs,
    mut session: Session,
    world: &mut World<'_>,
) -> io::Result<Exit> {
    let Some(made) = make(args, &mut session, world)? else {
        return session.report(world);
    };
    match write(args, &made, world) {
        Ok(outputs) => {
            tell_report(&made.report, world)?;
            tell_written(&outputs, world)?;
        }
        Err(error) => session.diagnostics.push(error),
    }
    let exit = session.report(world)?;
    Ok(match exit {
        Exit::Fine if !made.report.in_order => Exit::Problems,
        exit => exit,
    })
}

/// The list, and the text of its book, which was read again. `None` after it was told why not.
fn make(
    args: &ImportArgs,
    session: &mut Session,
    world: &mut World<'_>,
) -> io::Result<Option<Made>> {
    let Some(answered) = answered(args, price_list, session, world)? else {
        return Ok(None);
    };
    let Answered {
        book,
        profile,
        import,
    } = answered;
    let shown = Shown::new(&book, &mut session.sources);
    if !import.tables.is_empty() {
        said::remarks(&import, &book, &shown, ADD_PRICE, session);
    }
    if import.offers.is_empty() {
        let message = match import.tables.is_empty() {
            true => format!("{} has no table of prices", book.name),
            false => format!("no row of {} has a price that can be taken over", book.name),
        };
        let help =
            "a table has a header that names its columns, such as `Item`, `Pack`, `Unit`, `Price`";
        session
            .diagnostics
            .push(Diagnostic::new(Code::NoTable, message, help));
        return Ok(None);
    }
    let text = book_text(&import.offers);
    let Ok(again) = read_again(&text) else {
        // Each offer is one by itself: what is wrong is between them, and told at their cells.
        let file = session.sources.add("the price book", text);
        let units = parge_base::Units::standard();
        let (_, said) = price_book(&session.sources, file, &units);
        let starts = starts(&import.offers);
        let said = said
            .into_iter()
            .map(|said| at_cells(said, &starts, &import.offers, &shown));
        session.diagnostics.extend(said);
        return Ok(None);
    };
    let report = report::of_prices(&book, &import, again, &profile.name);
    if let Some(wrong) = report.sums.iter().find(|sum| !sum.agrees) {
        let message = format!(
            "the price book would not say what the list says: {}, {} in the list, {} in the book",
            wrong.what, wrong.sheet, wrong.plan
        );
        let help =
            "nothing was written; this is a fault of the program: please report it with the list";
        let said = Diagnostic::new(Code::NotReconciled, message, help);
        session.diagnostics.push(said);
        return Ok(None);
    }
    Ok(Some(Made {
        book,
        import,
        profile,
        text,
        report,
    }))
}

/// Where each offer begins in the text of the price book.
fn starts(offers: &[OfferRead]) -> Vec<usize> {
    let header = book_text(&[]).len();
    let mut next = header;
    let starts = offers.iter().map(|offer| {
        let start = next;
        next += book_text(std::slice::from_ref(offer)).len() - header;
        start
    });
    starts.collect()
}

/// What is said of lines of the price book, said of the client's cells that they were made of.
fn at_cells(said: Diagnostic, starts: &[usize], offers: &[OfferRead], shown: &Shown) -> Diagnostic {
    let labels = said.labels.iter().filter_map(|label| {
        let behind = starts.partition_point(|start| *start <= label.span.start as usize);
        let offer = offers.get(behind.checked_sub(1)?)?;
        let span = shown.cell(offer.at)?;
        let text = label.text.clone();
        Some(Label { span, text })
    });
    Diagnostic {
        labels: labels.collect(),
        ..said
    }
}

fn write(args: &ImportArgs, made: &Made, world: &World<'_>) -> Result<Vec<Output>, Diagnostic> {
    let mut outputs = Vec::new();
    if let Some(path) = &args.output {
        outputs.push(Output {
            path: ending(path, "csv", world)?,
            bytes: made.text.clone().into_bytes(),
        });
    }
    outputs.extend(beside(args, made, world)?);
    let read = [world.folder.join(&args.sheet)];
    let is_untouched = |bytes: &[u8]| parge_sheets::is_untouched(bytes);
    outputs::write(&outputs, &read, is_untouched, args.force)?;
    Ok(outputs)
}
