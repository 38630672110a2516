//! `parge import --prices`: a price list becomes a price book.

use super::{ending, read};
use crate::args::ImportArgs;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Currency, Diagnostic, FileId, Units, diagnostic};
use parge_importers::grid::{At, Book, Shown};
use parge_importers::price_book;
use parge_importers::price_list::{PriceList, price_list};
use std::io;

/// The words of the two answers that a price list may need.
const HELP: &str = "answer with `--answer currency=USD`";

pub(super) fn run(
    args: &ImportArgs,
    mut session: Session,
    world: &mut World<'_>,
) -> io::Result<Exit> {
    let made = make(args, &mut session, world);
    if let Some((list, file)) = made {
        let text = session.sources.text(file).to_owned();
        match write(args, text, world) {
            Ok(wrote) => {
                let (priced, sum) = (list.priced, list.sum);
                writeln!(
                    world.out,
                    "{priced} items; the sum of their prices is {sum}"
                )?;
                let rejected = list.rejected.len();
                writeln!(world.out, "{rejected} rows are not taken over")?;
                if let Some(wrote) = wrote {
                    writeln!(world.out, "wrote {wrote}")?;
                }
            }
            Err(error) => session.diagnostics.push(error),
        }
        let exit = session.report(world)?;
        return Ok(match exit {
            Exit::Fine if !list.rejected.is_empty() => Exit::Problems,
            exit => exit,
        });
    }
    session.report(world)
}

/// The list, and its book among the sources, read again without a fault.
fn make(
    args: &ImportArgs,
    session: &mut Session,
    world: &World<'_>,
) -> Option<(PriceList, FileId)> {
    let book = read(&args.sheet, world)
        .map_err(|error| session.diagnostics.push(error))
        .ok()?;
    let mut currency = None;
    for answer in &args.answers {
        let value = answer.strip_prefix("currency=").map(str::to_uppercase);
        match value.filter(|value| Currency::from_code(value).is_some()) {
            Some(value) => currency = Some(value),
            None => {
                let message = format!("`{answer}` answers no question of a price list");
                session
                    .diagnostics
                    .push(Diagnostic::new(Code::SheetQuestion, message, HELP));
                return None;
            }
        }
    }
    let shown = Shown::new(&book, &mut session.sources);
    let Some(list) = price_list(&book, currency.as_deref(), None) else {
        let message = format!("{} has no table of prices", book.name);
        let help = "a table has a header that names its columns, such as `Item`, `Unit`, `Price`";
        session
            .diagnostics
            .push(Diagnostic::new(Code::NoTable, message, help));
        return None;
    };
    told(&list, &book, &shown, session);
    let file = session.sources.add("the price book", list.text.clone());
    let (_, said) = price_book(&session.sources, file, &Units::standard());
    let failed = diagnostic::any_error(&said);
    session.diagnostics.extend(said);
    (list.open.is_empty() && !failed).then_some((list, file))
}

fn told(list: &PriceList, book: &Book, shown: &Shown, session: &mut Session) {
    let at = |said: Diagnostic, at: &At| match shown.row(at.sheet, at.row) {
        Some(span) => said.at(span, ""),
        None => said,
    };
    if let Some((_, question, place)) = list.open.first() {
        let said = Diagnostic::new(Code::SheetQuestion, question.clone(), HELP);
        session.diagnostics.push(at(said, place));
    }
    for (place, why) in &list.rejected {
        let message = format!(
            "row {} of {} is not taken over: {why}",
            place.row + 1,
            book.name
        );
        let help = "mend the row, or write its price into the price book by hand";
        let said = Diagnostic::new(Code::RowRejected, message, help);
        session.diagnostics.push(at(said, place));
    }
}

fn write(args: &ImportArgs, text: String, world: &World<'_>) -> Result<Option<String>, Diagnostic> {
    let Some(path) = &args.output else {
        return Ok(None);
    };
    let output = Output {
        path: ending(path, "csv", world)?,
        bytes: text.into_bytes(),
    };
    let read = [world.folder.join(&args.sheet)];
    outputs::write(&[output], &read, |_| false, args.force)?;
    Ok(Some(path.display().to_string()))
}
