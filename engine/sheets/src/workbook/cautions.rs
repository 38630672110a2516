//! The sheet of cautions: what whoever reads the figures must know besides.

use super::page::{Column, Frame, HEAD_ROW, Page};
use super::style::Look;
use crate::shown;
use parge_base::{Diagnostic, Severity, Sources};
use parge_calc::takeoff::{Audience, Caution};
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Cautions";

/// True of every workbook.
const GENERAL: &str = "The figures are estimates. They follow from the sizes stated in the plan \
                       and from the factors on sheet Factors; measure on site before ordering.";

/// What is to be said.
pub(super) struct Said<'a> {
    pub(super) cautions: &'a [Caution],
    pub(super) diagnostics: &'a [Diagnostic],
    pub(super) sources: &'a Sources,
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    said: &Said<'_>,
) -> Result<(), XlsxError> {
    let columns = vec![
        Column::text("Kind", 20.0),
        Column::text("What to know", 96.0),
        Column::number("Faces", Look::Count),
        Column::text("Place", 36.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    for text in [GENERAL].into_iter().chain(shown::OF_EVERY_ESTIMATE) {
        line(&mut page, "general", text)?;
        page.next()?;
    }
    let mut cautions: Vec<&Caution> = said.cautions.iter().collect();
    cautions.sort_by_key(|caution| caution.audience);
    for caution in cautions {
        line(&mut page, kind(caution.audience), &caution.text)?;
        if caution.faces > 0 {
            page.number(2, caution.faces as f64)?;
        } else {
            page.text(3, "the job as a whole")?;
        }
        page.next()?;
    }
    // Errors first: they say why a figure is missing.
    for severity in [Severity::Error, Severity::Warning] {
        let found = said.diagnostics.iter();
        for diagnostic in found.filter(|found| found.severity() == severity) {
            let text = format!(
                "{}. {}.",
                shown::sentence(&diagnostic.message),
                shown::sentence(&diagnostic.help)
            );
            line(&mut page, severity.word(), &text)?;
            if let Some(span) = diagnostic.span() {
                page.text(3, &shown::place(said.sources, span))?;
            }
            page.next()?;
        }
    }
    page.end()
}

/// What a caution is called by whom it is for: those for one are read apart from those for others.
fn kind(audience: Audience) -> &'static str {
    match audience {
        Audience::Both => "for client and crew",
        Audience::Client => "for the client",
        Audience::Crew => "for the crew",
    }
}

fn line(page: &mut Page<'_>, kind: &str, text: &str) -> Result<(), XlsxError> {
    page.blank()?;
    page.text(0, kind)?;
    page.text(1, text)
}
