//! What the columns of a table are, and what has to be asked about them.

use super::{BLOCK, Import, Question, TableRead};
use crate::cells::{Decimal, LengthUnit};
use crate::columns::{
    Column, Content, Head, Recognised, Role, Subject, pair_feet_and_inches, recognise,
};
use crate::grid::{At, Book, Cell, Sheet, letters};
use crate::profile::{Profile, Take};
use crate::table::Table;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// A table with all that is known around it.
pub(crate) struct Setup<'a> {
    pub(crate) book: &'a Book,
    pub(crate) sheet: &'a Sheet,
    pub(super) profile: &'a Profile,
    pub(crate) table: &'a Table,
    pub(super) decimal: Decimal,
    /// The units of lengths and areas that notes on the sheet name.
    pub(super) note_units: (Option<LengthUnit>, Option<LengthUnit>),
    /// Whether no other table stands on the sheet.
    pub(super) is_alone: bool,
    /// What its sheet is of.
    pub(super) of: Subject,
    /// What stands in each column, once it was counted.
    pub(super) contents: OnceLock<BTreeMap<u32, Holds>>,
}

/// What stands in a column.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Holds {
    content: Content,
    /// Whether any cell of it is text.
    has_text: bool,
}

impl Setup<'_> {
    /// Whether any cell of a column is text.
    pub(super) fn has_text(&self, column: u32) -> bool {
        let contents = self.contents.get_or_init(|| contents(self));
        contents.get(&column).is_some_and(|holds| holds.has_text)
    }

    /// A place in the first row of the header.
    pub(crate) fn head_at(&self, column: u32) -> At {
        At {
            sheet: self.table.sheet,
            row: self.table.header_rows.first().copied().unwrap_or(0),
            column,
        }
    }
}

/// The columns of a table; none where it cannot be read before a question is answered. The table is
/// noted either way.
pub(super) fn columns(setup: &Setup<'_>, out: &mut Import) -> Option<Vec<Column>> {
    let asked = out.questions.len();
    let mut columns = Vec::new();
    let contents = setup.contents.get_or_init(|| contents(setup));
    for head in heads(setup, contents) {
        let content = contents
            .get(&head.column)
            .copied()
            .unwrap_or_default()
            .content;
        let told = setup
            .profile
            .role_of(&setup.sheet.name, &letters(head.column), &head.shown());
        let told = told.or_else(|| setup.profile.role_of("", "", &head.text));
        match recognise(&head, content, told, &setup.profile.words) {
            Recognised::Known(column) => columns.push(column),
            Recognised::Open {
                column,
                header,
                choices,
            } => out.questions.push(ask(setup, column, &header, &choices)),
        }
    }
    pair_feet_and_inches(&mut columns);
    if setup.of == Subject::Faces {
        name_of_faces(&mut columns);
    }
    hidden(setup, &mut columns, out);
    settle(setup, contents, &columns, out);
    out.tables.push(TableRead {
        sheet: setup.table.sheet,
        row: setup.table.header_rows.first().copied().unwrap_or(0),
        columns: columns.clone(),
    });
    (out.questions.len() == asked || !columns.is_empty()).then_some(columns)
}

/// The headers, and a nameless one for each column that holds anything under none.
fn heads(setup: &Setup<'_>, contents: &BTreeMap<u32, Holds>) -> Vec<Head> {
    let mut heads = setup.table.heads.clone();
    let bare: Vec<u32> = contents
        .keys()
        .copied()
        .filter(|column| setup.table.columns.contains(column))
        .filter(|column| !heads.iter().any(|head| head.column == *column))
        .collect();
    heads.extend(bare.into_iter().map(|column| Head {
        column,
        over: None,
        text: String::new(),
    }));
    heads.sort_by_key(|head| head.column);
    heads
}

/// What stands in each column of a table, counted in blocks of rows on all cores: so it is asked for
/// first where nothing else is done on them, since a core that counts takes up other work as it waits.
fn contents(setup: &Setup<'_>) -> BTreeMap<u32, Holds> {
    let blocks = setup.table.rows.par_chunks(BLOCK);
    let blocks: Vec<Counted> = blocks.map(|rows| counted(setup, rows)).collect();
    let mut all = Counted::new();
    for (column, own) in blocks.into_iter().flatten() {
        if let Some(counting) = of_column(&mut all, column) {
            counting.and(own);
        }
    }
    let columns = all.into_iter();
    columns
        .map(|(column, counting)| (column, counting.holds()))
        .collect()
}

/// What is counted in some columns, in the order of their numbers.
type Counted = Vec<(u32, Counting)>;

/// What stands in each column of a stretch of rows.
fn counted(setup: &Setup<'_>, rows: &[usize]) -> Counted {
    let mut counted = Counted::new();
    let rows = rows.iter().filter_map(|at| setup.sheet.rows.get(*at));
    for cell in rows.flat_map(|row| &row.cells) {
        if let Some(counting) = of_column(&mut counted, cell.column) {
            counting.cell(cell);
        }
    }
    counted
}

/// What is counted in one of the columns, which is put between them where it is not there yet.
fn of_column(counted: &mut Counted, column: u32) -> Option<&mut Counting> {
    let found = counted.binary_search_by_key(&column, |(own, _)| *own);
    let at = found.unwrap_or_else(|at| {
        counted.insert(at, (column, Counting::default()));
        at
    });
    counted.get_mut(at).map(|(_, counting)| counting)
}

/// What is counted in one column.
#[derive(Debug, Default)]
struct Counting {
    content: Content,
    has_text: bool,
    first: Option<f64>,
    last: Option<f64>,
    /// Some number does not follow the one above it.
    jumps: bool,
}

impl Counting {
    fn cell(&mut self, cell: &Cell) {
        let number = match (&cell.content, cell.text()) {
            (crate::grid::Content::Number(number), _) => Some(*number),
            (_, Some(text)) => number_in(text),
            _ => None,
        };
        let begins = |text: &str| {
            let text = text.trim_start_matches(['(', '-', '.', '+', ' ']);
            text.starts_with(|ch: char| ch.is_ascii_digit())
        };
        self.has_text |= cell.text().is_some();
        match cell.text() {
            Some(text) if !begins(text) => self.content.words += 1,
            _ => self.content.figures += 1,
        }
        if let Some(number) = number {
            self.jumps |= self.jumps_to(number);
            self.first = self.first.or(Some(number));
            self.last = Some(number);
        }
    }

    /// Whether a number does not follow the last one.
    fn jumps_to(&self, number: f64) -> bool {
        let follows = |last: f64| number == last + 1.0 || number == 1.0;
        !self.last.is_none_or(follows)
    }

    /// Adds what stands in the rows below.
    fn and(&mut self, below: Self) {
        self.jumps |= below.jumps || below.first.is_some_and(|first| self.jumps_to(first));
        self.content.figures += below.content.figures;
        self.content.words += below.content.words;
        self.has_text |= below.has_text;
        self.first = self.first.or(below.first);
        self.last = below.last.or(self.last);
    }

    fn holds(self) -> Holds {
        let counts = !self.jumps && self.content.figures >= 3;
        Holds {
            content: Content {
                counts_through: counts && self.last.is_some_and(|last| last >= 3.0),
                ..self.content
            },
            has_text: self.has_text,
        }
    }
}

/// The number that is all of a text, but for a point behind it.
fn number_in(text: &str) -> Option<f64> {
    // Most texts are words, and need no second look: of letters a number has those of `inf` and
    // `nan` in front.
    let may_be = text.starts_with(|ch: char| !ch.is_alphabetic() || "iInN".contains(ch));
    let number = may_be.then(|| text.trim_end_matches('.').parse());
    number.and_then(Result::ok)
}

fn ask(setup: &Setup<'_>, column: u32, header: &str, choices: &[Role]) -> Question {
    let name = letters(column);
    let text = match (header.is_empty(), choices.is_empty()) {
        (true, _) => format!("column {name} has figures and no header: what are they?"),
        (false, true) => format!("column {name}, `{header}`, has figures: what are they?"),
        (false, false) => format!("column {name}, `{header}`, can be several things: which is it?"),
    };
    let roles: Vec<Role> = match choices {
        [] => setup.of.roles(),
        some => some.iter().copied().chain([Role::Ignore]).collect(),
    };
    Question {
        key: format!("column.{}!{name}", setup.sheet.name),
        text,
        choices: roles
            .into_iter()
            .map(|role| (role.word().to_owned(), String::new()))
            .collect(),
        at: setup.head_at(column),
    }
}

/// Where no column names the faces, the first that holds words and is not known does.
fn name_of_faces(columns: &mut [Column]) {
    if columns
        .iter()
        .any(|column| matches!(column.role, Role::Face | Role::Structure))
    {
        return;
    }
    let unknown = columns
        .iter_mut()
        .find(|column| column.role == Role::Note && column.is_unknown);
    if let Some(column) = unknown {
        column.role = Role::Face;
        column.reason = "it holds words, and no other column names the faces".to_owned();
    }
}

/// Hidden columns of measures are asked about; left out, they are nothing.
fn hidden(setup: &Setup<'_>, columns: &mut [Column], out: &mut Import) {
    for column in columns {
        let hidden = setup.sheet.hidden_columns.contains(&column.column);
        if !hidden || matches!(column.role, Role::Note | Role::Ignore | Role::Number) {
            continue;
        }
        let at = setup.head_at(column.column);
        let text = format!(
            "column {}, `{}`, is hidden",
            letters(column.column),
            column.header
        );
        match setup.profile.answers.hidden {
            None => out
                .questions
                .push(super::import::question("hidden", &text, at)),
            Some(Take::Include) => {
                let help = "look at it in the spreadsheet program; it counts";
                out.remarks.push(super::import::doubt(at, text, help));
            }
            Some(Take::LeaveOut) => {
                let help = "look at it in the spreadsheet program; it is left out";
                out.remarks.push(super::import::doubt(at, text, help));
                column.role = Role::Ignore;
                column.reason = "it is hidden, and left out as answered".to_owned();
            }
        }
    }
}

/// Two columns of one role, or three sizes, are asked about.
fn settle(
    setup: &Setup<'_>,
    contents: &BTreeMap<u32, Holds>,
    columns: &[Column],
    out: &mut Import,
) {
    for at in 1..columns.len() {
        let (before, behind) = columns.split_at(at);
        let Some(column) = behind.first().filter(|column| !column.role.may_repeat()) else {
            continue;
        };
        let twice = before
            .iter()
            .find(|other| other.role == column.role && !column.is_inches);
        if let Some(other) = twice {
            let mut question = ask(setup, column.column, &column.header, &[]);
            question.text = format!(
                "columns {} and {} both seem to be {}: what is {}, `{}`?",
                letters(other.column),
                letters(column.column),
                column.role.word(),
                letters(column.column),
                column.header
            );
            out.questions.push(question);
        }
    }
    // A column that waits to be filled in states no third size.
    let of = |role: Role| {
        let mut of_role = columns.iter().filter(|column| column.role == role);
        of_role.find(|column| {
            let holds = contents.get(&column.column);
            holds.is_some_and(|holds| holds.content.figures > 0)
        })
    };
    if let (Some(_), Some(width), Some(_)) = (of(Role::Length), of(Role::Width), of(Role::Height)) {
        let mut question = ask(setup, width.column, &width.header, &[]);
        question.text = format!(
            "length, width and height stand beside each other, and a face has two sizes: what is {}, `{}`?",
            letters(width.column),
            width.header
        );
        question.choices = [
            ("ignore", "the thickness, or nothing a face needs"),
            ("reveal", "the depth of reveals"),
        ]
        .map(|(word, means)| (word.to_owned(), means.to_owned()))
        .to_vec();
        out.questions.push(question);
    }
}

#[cfg(test)]
mod tests;
