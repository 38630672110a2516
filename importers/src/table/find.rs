//! Headers and what stands under them.

use super::Table;
use super::stand::{covered, first_of_merged, text_at};
use crate::cells::whole_unit;
use crate::columns::{Head, Role, Words, header_words, roles_of_header};
use crate::grid::{Cell, Content, Row, Sheet};
use std::ops::RangeInclusive;

/// The longest text of a header, in characters.
const LONGEST_HEADER: usize = 48;

/// The most columns of a table.
const MOST_COLUMNS: usize = 256;

/// What was found on a sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Found {
    /// The tables, from the top and from the left.
    pub tables: Vec<Table>,
    /// The numbers of the rows in `Sheet::rows` that stand above all tables.
    pub above: Vec<usize>,
}

/// Finds the tables of a sheet. `told` are words of headers that a profile knows.
pub fn find(number: usize, sheet: &Sheet, words: &Words, told: &dyn Fn(&str) -> bool) -> Found {
    let mut found = Found::default();
    let mut open: Vec<Table> = Vec::new();
    let mut header: Vec<&Row> = Vec::new();
    let mut at = 0;
    while let Some(row) = sheet.rows.get(at) {
        if !open.is_empty() && is_repeated(sheet, at, &header) {
            // A header after a page break.
            let rows = sheet.rows.iter().skip(at).take(header.len());
            let rows: Vec<u32> = rows.map(|row| row.number).collect();
            at += rows.len();
            for table in &mut open {
                table.repeated.extend(rows.iter().copied());
            }
            continue;
        }
        let Some(own) = header_at(sheet, at, words, told) else {
            match open.is_empty() {
                true => found.above.push(at),
                false => open.iter_mut().for_each(|table| table.rows.push(at)),
            }
            at += 1;
            continue;
        };
        let title = title_above(sheet, at, own.rows.first().copied(), row);
        // What stands right above a header belongs to it, not to the table before.
        if title.is_some() {
            for table in &mut open {
                table.rows.pop();
            }
        }
        found.tables.append(&mut open);
        header = sheet.rows.iter().skip(at).take(own.taken).collect();
        at += own.taken;
        open = side_by_side(number, own, words, told, title);
    }
    found.tables.append(&mut open);
    found
}

/// Whether the rows from one on say what a header says, word for word; on later pages its cells need
/// not be merged as they were on the first.
fn is_repeated(sheet: &Sheet, at: usize, header: &[&Row]) -> bool {
    let mut places = header.iter().enumerate();
    places.all(|(place, first)| {
        let again = sheet.rows.get(at + place);
        again.is_some_and(|again| says_same(first, again))
    })
}

/// Whether two rows say the same, however their letters are capitalized.
fn says_same(one: &Row, other: &Row) -> bool {
    let same = |one: &Cell, other: &Cell| match (one.text(), other.text()) {
        (Some(one), Some(other)) if one.is_ascii() && other.is_ascii() => {
            one.eq_ignore_ascii_case(other)
        }
        _ => {
            let words = |cell: &Cell| cell.content.to_string().to_lowercase();
            words(one) == words(other)
        }
    };
    let mut cells = one.cells.iter().zip(&other.cells);
    one.cells.len() == other.cells.len()
        && cells.all(|(one, other)| one.column == other.column && same(one, other))
}

/// A header: its rows, and how many rows of the sheet it takes from the one looked at.
#[derive(Debug, Clone)]
struct Header {
    rows: Vec<u32>,
    heads: Vec<Head>,
    taken: usize,
}

fn header_at(
    sheet: &Sheet,
    at: usize,
    words: &Words,
    told: &dyn Fn(&str) -> bool,
) -> Option<Header> {
    let row = sheet.rows.get(at)?;
    let next = sheet
        .rows
        .get(at + 1)
        .filter(|next| next.number <= row.number + 1);
    let own = is_header(row, words, told);
    let under = next.filter(|next| own && is_under(row, next, sheet, words));
    // A row over a header that names nothing by itself: `Size` over `L`, `W`, `H`.
    let over = next
        .filter(|_| row.cells.len() > 1 && is_of_words(row))
        .filter(|next| is_header(next, words, told) && spans(sheet, row));
    let below = match (own, under, over) {
        (true, under, _) => under,
        (false, _, Some(over)) => Some(over),
        _ => return None,
    };
    let mut heads: Vec<Head> = Vec::new();
    let mut columns: Vec<u32> = row.cells.iter().map(|cell| cell.column).collect();
    columns.extend(
        below
            .iter()
            .flat_map(|below| below.cells.iter().map(|cell| cell.column)),
    );
    columns.extend(covered(sheet, row.number));
    columns.sort_unstable();
    columns.dedup();
    for column in columns {
        let upper = text_at(sheet, row, column);
        let lower = below
            .and_then(|below| below.cell(column))
            .and_then(|cell| cell.text());
        let head = match (upper, lower) {
            (Some(upper), Some(lower)) => (Some(upper.to_owned()), lower),
            (Some(upper), None) => (None, upper),
            (None, Some(lower)) => (None, lower),
            (None, None) => continue,
        };
        heads.push(Head {
            column,
            over: head.0,
            text: head.1.to_owned(),
        });
    }
    let rows = std::iter::once(row.number).chain(below.map(|below| below.number));
    Some(Header {
        rows: rows.collect(),
        heads,
        taken: 1 + usize::from(below.is_some()),
    })
}

/// Whether a row is a header by itself: words alone, at least two of them known, one of a measure,
/// and no fewer known than not.
fn is_header(row: &Row, words: &Words, told: &dyn Fn(&str) -> bool) -> bool {
    if row.cells.len() > MOST_COLUMNS {
        return false;
    }
    // Most rows have a number, and then their words need not be looked at.
    if !is_of_words(row) {
        return false;
    }
    let texts: Vec<&str> = row.cells.iter().filter_map(|cell| cell.text()).collect();
    if texts
        .iter()
        .any(|text| text.chars().count() > LONGEST_HEADER)
    {
        return false;
    }
    let mut known: Vec<Role> = Vec::new();
    let mut named = 0;
    for text in &texts {
        let roles = roles_of_header(text, words);
        if told(text) || !roles.is_empty() {
            named += 1;
        }
        known.extend(roles);
        if told(text) {
            // Whatever the profile makes of it, it is a header.
            known.push(Role::Count);
        }
    }
    named >= 2 && known.iter().any(|role| role.is_measure()) && 2 * named >= texts.len()
}

/// Whether all cells of a row hold words.
fn is_of_words(row: &Row) -> bool {
    row.cells.iter().all(|cell| cell.text().is_some())
}

/// Whether a row goes on with the header above it: units, or names under one that spans them.
fn is_under(row: &Row, next: &Row, sheet: &Sheet, words: &Words) -> bool {
    let all_words = next.cells.iter().all(|cell| match &cell.content {
        Content::Text(text) => {
            let inside = text.trim_matches(['(', ')', '[', ']', ' ']);
            let (own, _) = header_words(text);
            whole_unit(inside).is_some() || !roles_of_header(&own, words).is_empty()
        }
        _ => false,
    });
    // A second header of its own right below is another table, not a part of this one.
    let under_one = next.cells.iter().any(|cell| {
        first_of_merged(sheet, row.number, cell.column).is_some()
            || cell.text().is_some_and(|text| {
                whole_unit(text.trim_matches(['(', ')', '[', ']', ' '])).is_some()
            })
    });
    !next.cells.is_empty() && all_words && under_one
}

/// Whether cells of a row are merged over several columns, but not over all of them as a title is.
fn spans(sheet: &Sheet, row: &Row) -> bool {
    let wide = sheet.merged.iter().filter(|area| {
        area.first.0 == row.number && area.last.0 == row.number && area.last.1 > area.first.1
    });
    wide.count() > 0
}

/// One short text right above a header.
fn title_above(sheet: &Sheet, at: usize, header: Option<u32>, row: &Row) -> Option<(u32, String)> {
    let above = at.checked_sub(1).and_then(|above| sheet.rows.get(above))?;
    let near = above.number + 2 >= header.unwrap_or(row.number);
    match above.cells.as_slice() {
        [only] if near => {
            let text = only
                .text()
                .filter(|text| text.chars().count() <= LONGEST_HEADER)?;
            Some((above.number, text.to_owned()))
        }
        _ => None,
    }
}

/// A header with empty columns in it may head several tables beside each other: each part has to
/// be one by itself.
fn side_by_side(
    sheet: usize,
    header: Header,
    words: &Words,
    told: &dyn Fn(&str) -> bool,
    title: Option<(u32, String)>,
) -> Vec<Table> {
    let mut parts: Vec<Vec<Head>> = Vec::new();
    for head in header.heads {
        let joins = parts
            .last()
            .and_then(|part| part.last())
            .is_some_and(|last| last.column + 1 == head.column);
        match parts.last_mut().filter(|_| joins) {
            Some(part) => part.push(head),
            None => parts.push(vec![head]),
        }
    }
    let heads_one = |part: &Vec<Head>| {
        let roles: Vec<Role> = part
            .iter()
            .flat_map(|head| roles_of_header(&head.text, words))
            .collect();
        let named = part
            .iter()
            .filter(|head| told(&head.text) || !roles_of_header(&head.text, words).is_empty());
        named.count() >= 2 && roles.iter().any(|role| role.is_measure())
    };
    if parts.len() > 1 && !parts.iter().all(heads_one) {
        parts = vec![parts.concat()];
    }
    let last = parts.len().saturating_sub(1);
    let tables = parts.into_iter().enumerate().map(|(number, heads)| Table {
        sheet,
        columns: columns_of(&heads, number == 0, number == last),
        header_rows: header.rows.clone(),
        heads,
        rows: Vec::new(),
        repeated: Vec::new(),
        title: title.clone(),
    });
    tables.collect()
}

/// The columns of a table: the first of several takes what stands left of it, the last what stands
/// right of it, so that no cell is nobody's.
fn columns_of(heads: &[Head], is_first: bool, is_last: bool) -> RangeInclusive<u32> {
    let first = heads.first().map_or(0, |head| head.column);
    let last = heads.last().map_or(0, |head| head.column);
    // One empty column lies between tables.
    let first = if is_first { 0 } else { first };
    let last = if is_last { u32::MAX } else { last + 1 };
    first..=last
}
