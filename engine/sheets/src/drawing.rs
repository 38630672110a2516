//! Drawings of the faces (SVG): every one true to scale, with its dimensions and openings. A
//! structure has a sheet, or several where its faces need the room.
//!
//! Lengths on paper are in millimetres. A sheet is as wide as A4 and Letter both print.

mod canvas;
mod caption;
mod chain;
mod dimension;
mod face;
mod scale;
mod sheet;

pub use dimension::dimension;

use crate::text::{escape, isolated};
use parge_calc::measure::Measured;
use std::fmt::Write;

/// Width of a sheet.
const WIDTH: f64 = 180.0;

/// The styles of what is drawn.
const STYLE: &str = "\
.pd text{font-family:Helvetica,Arial,\"DejaVu Sans\",sans-serif;font-size:2.5px;fill:#222}
.pd .pd-head{font-size:4px;font-weight:bold}
.pd .pd-name{font-size:2.8px;font-weight:bold}
.pd .pd-small{font-size:2.3px;fill:#555}
.pd .pd-mid{text-anchor:middle}
.pd .pd-end{text-anchor:end}
.pd .pd-face{fill:#ece8e1;stroke:#222;stroke-width:.35;fill-rule:evenodd}
.pd .pd-unknown{fill:#f6f4f0;stroke:#222;stroke-width:.3;stroke-dasharray:1.6 1}
.pd .pd-hole{fill:#fff;stroke:#222;stroke-width:.25}
.pd .pd-dim{stroke:#666;stroke-width:.15}
.pd .pd-tick{stroke:#222;stroke-width:.3}
.pd .pd-hidden{stroke:#888;stroke-width:.15;stroke-dasharray:1 .8}
.pd .pd-rule{stroke:#222;stroke-width:.3}
.pd .pd-bar{fill:#222;stroke:#222;stroke-width:.2}
.pd .pd-gap{fill:#fff;stroke:#222;stroke-width:.2}
";

/// A sheet with the faces of one structure.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// The structure.
    pub structure: String,
    /// The scale: `1/4\" = 1'-0\"`, or `1:50`.
    pub scale: String,
    /// Height of the sheet.
    height: f64,
    /// What is drawn.
    body: String,
}

impl Sheet {
    /// The sheet as a part of a page. It has its styles with it, since some of those who print pages
    /// look for them nowhere else.
    pub fn element(&self) -> String {
        let (height, body) = (self.height, &self.body);
        let title = escape(&format!("{}: {}", isolated(&self.structure), self.scale));
        format!(
            "<svg class=\"pd\" role=\"img\" width=\"{WIDTH}mm\" height=\"{height:.2}mm\" \
             viewBox=\"0 0 {WIDTH} {height:.2}\">\n<title>{title}</title>\n<style>\n{STYLE}</style>\n{body}</svg>\n"
        )
    }
}

/// The sheets of all structures, or of one measured face by its number in [`Measured::faces`].
pub fn sheets(measured: &Measured, only: Option<usize>) -> Vec<Sheet> {
    sheet::of_structures(measured, only)
}

/// Sheets under each other as a file of their own.
pub fn svg(sheets: &[Sheet]) -> String {
    const GAP: f64 = 8.0;
    const MARGIN: f64 = 10.0;
    let wide = WIDTH + 2.0 * MARGIN;
    let (mut body, mut y) = (String::new(), MARGIN);
    for sheet in sheets {
        // Writing to a string does not fail.
        let _ = write!(
            body,
            "<g transform=\"translate({MARGIN} {y:.2})\">\n{}</g>\n",
            sheet.body
        );
        y += sheet.height + GAP;
    }
    let high = y - if sheets.is_empty() { 0.0 } else { GAP } + MARGIN;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"pd\" width=\"{wide}mm\" \
         height=\"{high:.2}mm\" viewBox=\"0 0 {wide} {high:.2}\">\n<style>\n{STYLE}</style>\n\
         <rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{body}</svg>\n"
    )
}

#[cfg(test)]
mod tests;
