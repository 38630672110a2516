//! What an xlsb file says of its cells beside their values: hidden rows and columns, formats, and the
//! faults of formulas. calamine gives none of them, and passes over a formula that shows a fault.
//!
//! The parts are records of a type, a length and a body, as [MS-XLSB] lays them out; numbers are
//! little-endian. A body that is shorter than its record has to be is damaged.

use super::container::Archive;
use super::hidden::{Hidden, targets};
use super::open::damaged;
use super::{Kind, Merged};
use parge_base::Diagnostic;
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// The records that are looked at.
mod record {
    pub(super) const ROW: u16 = 0;
    pub(super) const FIRST_CELL: u16 = 1;
    pub(super) const FORMULA_FAULT: u16 = 11;
    pub(super) const FONT: u16 = 43;
    pub(super) const FORMAT: u16 = 44;
    pub(super) const STYLE: u16 = 47;
    pub(super) const COLUMNS: u16 = 60;
    pub(super) const SHEET: u16 = 156;
    pub(super) const MERGED: u16 = 176;
    pub(super) const STYLES_OF_CELLS: u16 = 617;
    pub(super) const STYLES_OF_CELLS_END: u16 = 618;
}

/// A row is hidden, in the second byte of its flags.
const ROW_IS_HIDDEN: u8 = 0x10;
/// Columns are hidden.
const COLUMNS_ARE_HIDDEN: u16 = 0x01;
/// A font strikes through.
const IS_STRUCK: u16 = 0x08;

/// What a sheet says beside values, rows and columns from 0.
#[derive(Debug, Default)]
pub(super) struct Looks {
    pub(super) hidden: Hidden,
    /// Cells with a look of their own: struck through, and the number format.
    pub(super) cells: BTreeMap<(u32, u32), Style>,
    /// Formulas that show a fault, with what they show.
    pub(super) faults: BTreeMap<(u32, u32), &'static str>,
    pub(super) merged: Vec<Merged>,
}

/// How a cell looks.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Style {
    pub(super) struck: bool,
    pub(super) format: Option<String>,
}

/// What the sheets say, by their names. The bytes were looked through under bounds before.
pub(super) fn looks(bytes: &[u8]) -> Result<BTreeMap<String, Looks>, Diagnostic> {
    all(bytes).ok_or_else(|| damaged(Kind::Xlsb))
}

fn all(bytes: &[u8]) -> Option<BTreeMap<String, Looks>> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).ok()?;
    let targets = targets(&mut archive, "xl/_rels/workbook.bin.rels")?;
    let styles = styles(&mut archive)?;
    let mut found = BTreeMap::new();
    for (name, id) in sheets(&part(&mut archive, "xl/workbook.bin")?)? {
        let Some(target) = targets.get(&id) else {
            continue;
        };
        let path = match target.strip_prefix('/') {
            Some(from_root) => from_root.to_owned(),
            None => format!("xl/{target}"),
        };
        let looks = sheet(&part(&mut archive, &path)?, &styles)?;
        found.insert(name, looks);
    }
    Some(found)
}

fn part(archive: &mut Archive<'_>, path: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::new();
    let mut part = archive.by_name(path).ok()?;
    part.read_to_end(&mut bytes).ok()?;
    Some(bytes)
}

/// The sheets with the numbers of their relations.
fn sheets(bytes: &[u8]) -> Option<Vec<(String, String)>> {
    let mut found = Vec::new();
    for record in Records(bytes) {
        let (kind, body) = record?;
        if kind == record::SHEET {
            let (id, length) = wide(body.get(8..)?)?;
            let (name, _) = wide(body.get(8 + length..)?)?;
            found.push((name, id));
        }
    }
    Some(found)
}

/// How the cells of each style look; a workbook without styles has none.
fn styles(archive: &mut Archive<'_>) -> Option<Vec<Style>> {
    let Some(bytes) = part(archive, "xl/styles.bin") else {
        return Some(Vec::new());
    };
    let (mut formats, mut fonts, mut styles) = (BTreeMap::new(), Vec::new(), Vec::new());
    let mut are_of_cells = false;
    for record in Records(&bytes) {
        let (kind, body) = record?;
        match kind {
            record::FORMAT => {
                let (code, _) = wide(body.get(2..)?)?;
                formats.insert(short(body, 0)?, code);
            }
            record::FONT => fonts.push(short(body, 2)? & IS_STRUCK != 0),
            record::STYLES_OF_CELLS => are_of_cells = true,
            record::STYLES_OF_CELLS_END => are_of_cells = false,
            record::STYLE if are_of_cells => styles.push(Style {
                struck: fonts.get(usize::from(short(body, 4)?)) == Some(&true),
                format: formats.get(&short(body, 2)?).cloned(),
            }),
            _ => {}
        }
    }
    Some(styles)
}

fn sheet(bytes: &[u8], styles: &[Style]) -> Option<Looks> {
    let mut looks = Looks::default();
    let mut row = 0;
    for record in Records(bytes) {
        let (kind, body) = record?;
        match kind {
            record::ROW => {
                row = long(body, 0)?;
                if body.get(11)? & ROW_IS_HIDDEN != 0 {
                    looks.hidden.rows.insert(row);
                }
            }
            record::FIRST_CELL..=record::FORMULA_FAULT => {
                let at = (row, long(body, 0)?);
                if kind == record::FORMULA_FAULT {
                    looks.faults.insert(at, fault(*body.get(8)?));
                }
                // The number of the style takes three bytes of the four.
                let style = styles.get((long(body, 4)? & 0x00FF_FFFF) as usize);
                if let Some(style) = style.filter(|style| **style != Style::default()) {
                    looks.cells.insert(at, style.clone());
                }
            }
            record::COLUMNS if short(body, 16)? & COLUMNS_ARE_HIDDEN != 0 => {
                looks.hidden.hide_columns(long(body, 0)?, long(body, 4)?);
            }
            record::MERGED => looks.merged.push(Merged {
                first: (long(body, 0)?, long(body, 8)?),
                last: (long(body, 4)?, long(body, 12)?),
            }),
            _ => {}
        }
    }
    Some(looks)
}

/// What a formula shows for a fault, by its number.
fn fault(number: u8) -> &'static str {
    match number {
        0x00 => "#NULL!",
        0x07 => "#DIV/0!",
        0x0F => "#VALUE!",
        0x17 => "#REF!",
        0x1D => "#NAME?",
        0x24 => "#NUM!",
        0x2A => "#N/A",
        _ => "a fault",
    }
}

/// The records of a part, each with its type; `None` once for one that is cut off.
struct Records<'a>(&'a [u8]);

impl<'a> Iterator for Records<'a> {
    type Item = Option<(u16, &'a [u8])>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.0.is_empty() {
            return None;
        }
        let read = record(self.0);
        self.0 = read.map_or(&[], |(_, _, rest)| rest);
        Some(read.map(|(kind, body, _)| (kind, body)))
    }
}

fn record(bytes: &[u8]) -> Option<(u16, &[u8], &[u8])> {
    let (kind, rest) = sevens(bytes, 2)?;
    let (length, rest) = sevens(rest, 4)?;
    let (body, rest) = rest.split_at_checked(length as usize)?;
    Some((kind as u16, body, rest))
}

/// A number in bytes of seven bits, the lowest first; the eighth says that another follows.
fn sevens(bytes: &[u8], most: usize) -> Option<(u32, &[u8])> {
    let mut number = 0;
    for at in 0..most {
        let byte = *bytes.get(at)?;
        number |= u32::from(byte & 0x7F) << (7 * at);
        if byte & 0x80 == 0 {
            return Some((number, bytes.get(at + 1..)?));
        }
    }
    Some((number, bytes.get(most..)?))
}

fn short(body: &[u8], at: usize) -> Option<u16> {
    let bytes = body.get(at..at + 2)?.try_into().ok()?;
    Some(u16::from_le_bytes(bytes))
}

fn long(body: &[u8], at: usize) -> Option<u32> {
    let bytes = body.get(at..at + 4)?.try_into().ok()?;
    Some(u32::from_le_bytes(bytes))
}

/// A text behind its length, and how many bytes both take.
fn wide(body: &[u8]) -> Option<(String, usize)> {
    let letters = long(body, 0)?;
    // What is null has no letters.
    let letters = if letters == u32::MAX {
        0
    } else {
        letters as usize
    };
    let end = letters.checked_mul(2)?.checked_add(4)?;
    let units = body.get(4..end)?.chunks_exact(2);
    let units = units.map(|pair| {
        pair.iter()
            .rev()
            .fold(0, |unit, byte| unit << 8 | u16::from(*byte))
    });
    Some((String::from_utf16_lossy(&units.collect::<Vec<_>>()), end))
}
