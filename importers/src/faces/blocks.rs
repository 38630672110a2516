//! Headings: what they name, and how often what stands under them is there.

use super::decide::Kind;
use super::heading::repeated;
use super::reader::{TableReader, Under};
use super::row::{Cells, Trouble};
use super::{Guess, Verdict};
use crate::columns::Role;
use compact_str::{CompactString, format_compact};

/// The longest heading, in characters.
const LONGEST_HEADING: usize = 80;

impl TableReader<'_> {
    /// Words alone name what follows, if anything does.
    pub(super) fn heading(&mut self, cells: &Cells<'_>, place: usize) -> Result<Verdict, Trouble> {
        let text = cells.first_text().unwrap_or_default();
        let texts = cells.cells().filter(|cell| cell.text().is_some()).count();
        let has_note = cells.stated_cell(Role::Note).is_some();
        if texts > 1 && has_note {
            let why = "it states no size; see its remark";
            return Err(Trouble::Reject(why.to_owned()));
        }
        if texts > 1 && cells.stated_cell(Role::Face).is_some() {
            return Err(Trouble::Reject("it states no size".to_owned()));
        }
        if !self.leads_to_figures(place) || text.chars().count() > LONGEST_HEADING {
            return Ok(Verdict::Note);
        }
        let (name, times) = repeats(cells, text)?;
        self.took_heading(cells, place, text, (&name, times));
        self.under = Under {
            heading: Some(name.as_str().into()),
            times,
            ..Under::default()
        };
        self.running.heading();
        Ok(Verdict::Heading(name))
    }

    /// What was taken for granted of a heading.
    fn took_heading(
        &mut self,
        cells: &Cells<'_>,
        place: usize,
        text: &str,
        (name, times): (&str, u32),
    ) {
        if times > 1 {
            self.out.guesses.push(Guess {
                what: format!("all under `{name}` counts {times} times"),
                reason: format!("its heading says `{text}`, and so it was answered"),
            });
        }
        if self.under.face.is_some() && self.after_face(place) {
            self.out.guesses.push(Guess {
                what: format!(
                    "row {}, `{text}`, names the rows below it",
                    cells.row.number + 1
                ),
                reason: "it states no figure; if it is a face, its sizes are missing".to_owned(),
            });
        }
    }

    /// Whether the row right above states figures, and no empty row stands between.
    fn after_face(&self, place: usize) -> bool {
        let table = self.setup.table;
        let row = |place: usize| {
            let at = table.rows.get(place)?;
            self.setup.sheet.rows.get(*at)
        };
        let above = place.checked_sub(1).and_then(row);
        above.zip(row(place)).is_some_and(|(above, own)| {
            let cells = Cells::new(self.setup, self.roles, above);
            above.number + 1 == own.number && matches!(cells.kind(), Ok(Kind::Face | Kind::Opening))
        })
    }

    /// Whether rows with figures follow, perhaps behind another heading.
    pub(super) fn leads_to_figures(&self, place: usize) -> bool {
        let table = self.setup.table;
        let following = table.rows.iter().skip(place + 1);
        let rows = following.filter_map(|at| self.setup.sheet.rows.get(*at));
        let mut rows = rows.map(|row| Cells::new(self.setup, self.roles, row));
        let next: Vec<bool> = rows
            .by_ref()
            .filter(|cells| !cells.is_empty())
            .take(2)
            .map(|cells| cells.has_measure() && !matches!(cells.kind(), Ok(Kind::Total)))
            .collect();
        next.contains(&true)
    }

    /// The structure that a row belongs to, from the headings above it and its own column.
    pub(super) fn structure(&mut self, cells: &Cells<'_>) -> CompactString {
        const SAME: [&str; 5] = ["\"", "''", "do", "ditto", "-\"-"];
        let is_same = |text: &str| SAME.iter().any(|word| word.eq_ignore_ascii_case(text));
        let own = cells.shown(Role::Structure).filter(|text| !is_same(text));
        let known = self.under.structure.as_deref();
        if let Some(own) = own.filter(|own| known != Some(own.as_ref())) {
            self.under.structure = Some(own.into());
            self.under.face = None;
        }
        match (&self.under.heading, &self.under.structure) {
            (Some(heading), Some(structure)) => format_compact!("{heading}, {structure}"),
            (Some(one), None) | (None, Some(one)) => one.clone(),
            (None, None) => self.structure_of_sheet(),
        }
    }

    /// Where nothing names a structure, the sheet does, which is told once.
    fn structure_of_sheet(&mut self) -> CompactString {
        let sheet = &self.setup.sheet.name;
        let guess = Guess {
            what: format!("faces without a heading belong to `{sheet}`"),
            reason: "it is the name of their sheet".to_owned(),
        };
        if !self.out.guesses.contains(&guess) {
            self.out.guesses.push(guess);
        }
        sheet.into()
    }
}

/// The name that a heading gives, and how often what stands under it is there.
fn repeats(cells: &Cells<'_>, text: &str) -> Result<(String, u32), Trouble> {
    let Some((name, times)) = repeated(text) else {
        return Ok((text.to_owned(), 1));
    };
    match cells.answers().repeats {
        Some(true) => Ok((name, times)),
        Some(false) => Ok((text.to_owned(), 1)),
        None => {
            let words = format!("heading `{text}` says that what follows is there {times} times");
            Err(Trouble::Ask("repeats", words, cells.at()))
        }
    }
}
