//! The program as a whole, on files, in this process.

use crate::PRICES;
use crate::stages::{Fault, Site};
use parge_cli::{Exit, World};
use rust_xlsxwriter::{Workbook, XlsxError};
use std::ffi::OsString;
use std::{fs, io};
use tempfile::TempDir;

/// A plan to be estimated as JSON.
#[derive(Debug)]
pub struct Estimate(TempDir);

/// A client's sheet to be imported.
#[derive(Debug)]
pub struct Import {
    folder: TempDir,
    sheet: Vec<u8>,
}

impl Estimate {
    /// The plan of a site with its price book, as files.
    pub fn of(site: &Site) -> Result<Self, Fault> {
        let files = [("job.parge", site.text()), ("prices.csv", PRICES)];
        folder_with(&files.map(|(name, text)| (name, text.as_bytes()))).map(Self)
    }

    /// From the plan to priced JSON.
    pub fn run(&self) -> Result<(), Fault> {
        let words = ["estimate", "job.parge", "--json", "out.json", "--force"];
        run(&self.0, &words)
    }
}

impl Import {
    /// A sheet with so many rows, each a face.
    pub fn of(rows: usize) -> Result<Self, Fault> {
        let sheet = sheet(rows).map_err(|error| error.to_string())?;
        let folder = folder_with(&[("sheet.xlsx", &sheet)])?;
        Ok(Self { folder, sheet })
    }

    /// The sheet as bytes.
    pub fn sheet(&self) -> &[u8] {
        &self.sheet
    }

    /// From the sheet to a plan.
    pub fn run(&self) -> Result<(), Fault> {
        let words = ["import", "sheet.xlsx", "-o", "out.parge", "--force"];
        run(&self.folder, &words)
    }
}

fn folder_with(files: &[(&str, &[u8])]) -> Result<TempDir, Fault> {
    let folder = tempfile::tempdir().map_err(|error| error.to_string())?;
    for (name, bytes) in files {
        fs::write(folder.path().join(name), bytes).map_err(|error| error.to_string())?;
    }
    Ok(folder)
}

fn run(folder: &TempDir, words: &[&str]) -> Result<(), Fault> {
    let (mut out, mut err) = (io::sink(), Vec::new());
    let mut world = World {
        out: &mut out,
        err: &mut err,
        input: None,
        folder: folder.path().to_owned(),
        width: 100,
        colour: false,
        watched: false,
    };
    let words = ["parge"].iter().chain(words).map(OsString::from);
    match parge_cli::run(words, &mut world) {
        Exit::Fine => Ok(()),
        _ => Err(String::from_utf8_lossy(&err).into_owned()),
    }
}

fn sheet(rows: usize) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet_with_low_memory()?;
    for (column, head) in (0..).zip(["Location", "Item", "Length (ft)", "Height (ft)", "Qty"]) {
        sheet.write_string(0, column, head)?;
    }
    for (row, number) in (1..).zip(0..rows) {
        sheet.write_string(row, 0, format!("Block {}", number / 20 + 1))?;
        sheet.write_string(row, 1, format!("Wall {}", number % 20 + 1))?;
        sheet.write_number(row, 2, 8.0 + (number % 17) as f64 * 0.75)?;
        sheet.write_number(row, 3, 6.0 + (number % 5) as f64 * 0.5)?;
        sheet.write_number(row, 4, 1.0 + (number % 3) as f64)?;
    }
    book.save_to_buffer()
}
