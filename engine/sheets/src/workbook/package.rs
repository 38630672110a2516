//! The file of a workbook with long sheets: what the writer made, with the rows of long sheets put
//! where they stand.

use super::SheetError;
use super::rows::{Body, Packed, Packing};
use flate2::Crc;
use rust_xlsxwriter::utility::column_number_to_name;
use std::io::{self, Cursor, Read, Write};
use zip::{CompressionMethod, ZipArchive};

/// The first day that an archive can hold: 1980-01-01.
const FIRST_DAY: u16 = 0x21;
/// The version of the format that is needed, and the way the parts are packed.
const VERSION: u16 = 20;
const DEFLATED: u16 = 8;
const LOCAL: u32 = 0x0403_4b50;
const CENTRAL: u32 = 0x0201_4b50;
const END: u32 = 0x0605_4b50;

const ROWS_END: &str = "</sheetData>";
const ROW: &str = "<row r=\"";
const DIMENSION: &str = "<dimension ref=\"";

/// Writes the parts that the writer made of a workbook, `made`, with the bodies of its long
/// sheets, each with the number of its sheet from 1 on.
pub(super) fn write(
    made: Vec<u8>,
    bodies: Vec<(usize, Body)>,
    file: &mut impl Write,
) -> Result<(), SheetError> {
    let mut made = ZipArchive::new(Cursor::new(made)).map_err(told)?;
    let mut bodies: Vec<(String, Body)> = bodies
        .into_iter()
        .map(|(number, body)| (format!("xl/worksheets/sheet{number}.xml"), body))
        .collect();
    let mut archive = Archive::new(file);
    for number in 0..made.len() {
        let part = made.by_index_raw(number).map_err(told)?;
        let name = part.name().map_err(told)?.into_owned();
        if part.compression() != CompressionMethod::Deflated {
            return Err(told("a part is packed in another way"));
        }
        drop(part);
        match bodies.iter().position(|(of, _)| *of == name) {
            Some(found) => {
                let (_, mut body) = bodies.swap_remove(found);
                let mut text = String::new();
                let mut part = made.by_index(number).map_err(told)?;
                part.read_to_string(&mut text).map_err(told)?;
                let mut waiting = body.waiting.take();
                let parts = sheet(&text, body)?;
                let mut sum = Crc::new();
                parts.iter().for_each(|part| sum.combine(&part.sum));
                let length = parts.iter().map(|part| part.length).sum();
                let size = parts.iter().map(|part| part.size).sum();
                archive.begin(&name, sum.sum(), length, size)?;
                for part in &parts {
                    part.copy(waiting.as_mut(), archive.file).map_err(told)?;
                }
            }
            None => {
                let mut part = made.by_index_raw(number).map_err(told)?;
                let (sum, length) = (part.crc32(), part.size());
                archive.begin(&name, sum, length, part.compressed_size())?;
                io::copy(&mut part, archive.file).map_err(told)?;
            }
        }
    }
    match bodies.is_empty() {
        true => archive.end(),
        false => Err(told("a long sheet has no part")),
    }
}

fn told(why: impl ToString) -> SheetError {
    SheetError::Failed(why.to_string())
}

/// The part of a sheet: the text around the rows of its body, and these.
fn sheet(text: &str, body: Body) -> Result<Vec<Packed>, SheetError> {
    let (before, behind) = around(text, &body).ok_or_else(|| told("a long sheet has no rows"))?;
    let pack = |text: &str| {
        let mut packing = Packing::new();
        packing.write(text).map(|()| packing)
    };
    let first = pack(&before).and_then(Packing::open).map_err(told)?;
    let last = pack(behind).and_then(Packing::last).map_err(told)?;
    let mut parts = vec![first];
    parts.extend(body.parts);
    parts.push(last);
    Ok(parts)
}

/// The text before a body, with the dimension of the whole sheet, and the text behind it.
fn around<'t>(text: &'t str, body: &Body) -> Option<(String, &'t str)> {
    let end = text.find(ROWS_END)?;
    let mut rows = text.match_indices(ROW);
    let below = rows.find(|(at, _)| {
        let digits = text
            .get(at + ROW.len()..)
            .and_then(|rest| rest.split('"').next());
        // Rows count from 1 there.
        digits.and_then(|row| row.parse::<u32>().ok()) > Some(body.first)
    });
    let (before, behind) = text.split_at_checked(below.map_or(end, |(at, _)| at))?;
    let (head, rest) = before.split_once(DIMENSION)?;
    let (known, rest) = rest.split_once('"')?;
    let all = dimension(known, body.last)?;
    Some((format!("{head}{DIMENSION}{all}\"{rest}"), behind))
}

/// The cells from the first to the last one that is known or that the body has.
fn dimension(known: &str, [row, column]: [u32; 2]) -> Option<String> {
    let last = known.rsplit(':').next()?;
    let digits = last.find(|letter: char| letter.is_ascii_digit())?;
    let (letters, known_row) = last.split_at_checked(digits)?;
    let number = |sum: u32, letter: u8| sum * 26 + u32::from(letter.saturating_sub(b'A')) + 1;
    let known_column = letters.bytes().fold(0, number).saturating_sub(1);
    let row = known_row.parse::<u32>().ok()?.max(row + 1);
    let column = u16::try_from(known_column.max(column)).ok()?;
    Some(format!("A1:{}{row}", column_number_to_name(column)))
}

/// A zip archive that is being written, without clock and rights, so that the same parts are the
/// same bytes.
struct Archive<'f, W> {
    file: &'f mut W,
    /// Bytes written so far.
    length: u64,
    parts: u16,
    /// The list of parts that ends the archive.
    list: Vec<u8>,
}

impl<'f, W: Write> Archive<'f, W> {
    fn new(file: &'f mut W) -> Self {
        Self {
            file,
            length: 0,
            parts: 0,
            list: Vec::new(),
        }
    }

    /// Begins a part: the sum and length of its text, and the size of what is packed of it, which
    /// is to follow.
    fn begin(&mut self, name: &str, sum: u32, length: u64, size: u64) -> Result<(), SheetError> {
        let at = small(self.length)?;
        let mut facts = Vec::new();
        // No flags; the time of day and the day.
        for fact in [VERSION, 0, DEFLATED, 0, FIRST_DAY] {
            facts.extend(fact.to_le_bytes());
        }
        for fact in [sum, small(size)?, small(length)?] {
            facts.extend(fact.to_le_bytes());
        }
        let name_length = u16::try_from(name.len()).map_err(told)?;
        // The length of the name, and of what stands beside it.
        for fact in [name_length, 0] {
            facts.extend(fact.to_le_bytes());
        }
        self.put(&LOCAL.to_le_bytes())?;
        self.put(&facts)?;
        self.put(name.as_bytes())?;
        self.length += size;
        self.list.extend(CENTRAL.to_le_bytes());
        self.list.extend(VERSION.to_le_bytes());
        self.list.extend(&facts);
        // No comment, the first disk, no attributes.
        self.list.extend([0; 2 + 2 + 2 + 4]);
        self.list.extend(at.to_le_bytes());
        self.list.extend(name.as_bytes());
        self.parts += 1;
        Ok(())
    }

    fn end(mut self) -> Result<(), SheetError> {
        let (at, size) = (small(self.length)?, small(self.list.len() as u64)?);
        let mut end = std::mem::take(&mut self.list);
        end.extend(END.to_le_bytes());
        // This disk is the first, and so is that of the list.
        for fact in [0, 0, self.parts, self.parts] {
            end.extend(fact.to_le_bytes());
        }
        for fact in [size, at] {
            end.extend(fact.to_le_bytes());
        }
        // No comment.
        end.extend(0u16.to_le_bytes());
        self.put(&end)?;
        self.file.flush().map_err(told)
    }

    fn put(&mut self, bytes: &[u8]) -> Result<(), SheetError> {
        self.length += bytes.len() as u64;
        self.file.write_all(bytes).map_err(told)
    }
}

/// A length as an archive holds it, which is as large as what common programs open.
fn small(length: u64) -> Result<u32, SheetError> {
    let large =
        |_| told("it would be larger than the 4 GB that a workbook can hold: divide the job");
    u32::try_from(length).map_err(large)
}

#[cfg(test)]
mod tests;
