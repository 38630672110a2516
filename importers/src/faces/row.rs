//! The rows of one table, one by one.

use super::decide::Kind;
use super::heading::repeated;
use super::import::{doubt, question};
use super::openings::{self, Loose};
use super::running::Running;
use super::setup::Setup;
use super::sizes::{Stated, is_blank};
use super::{FaceRead, Guess, Import, Remark, RowRead, Sizes, TotalRead, Verdict, Weight};
use crate::cells::{self, LengthUnit, Manner, UnitFrom, UnitWord, given_length_at};
use crate::columns::{Column, Role, Words};
use crate::grid::{At, Cell, Content, Row};
use crate::profile::{Answers, Are, Take};

/// The longest heading, in characters.
const LONGEST_HEADING: usize = 80;

/// What keeps a row from being read.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Trouble {
    /// It is not taken over, and why.
    Reject(String),
    /// Something has to be answered: the key, the question, and where.
    Ask(&'static str, String, At),
}

/// The cells of one row within its table.
pub(super) struct Cells<'a> {
    setup: &'a Setup<'a>,
    columns: &'a [Column],
    row: &'a Row,
    pub(super) figures: Vec<(Role, f64)>,
    /// Those of them that are text in a file that has numbers.
    pub(super) as_text: Vec<(Role, f64)>,
    remarks: Vec<Remark>,
}

impl<'a> Cells<'a> {
    fn new(setup: &'a Setup<'a>, columns: &'a [Column], row: &'a Row) -> Self {
        Self {
            setup,
            columns,
            row,
            figures: Vec::new(),
            as_text: Vec::new(),
            remarks: Vec::new(),
        }
    }

    pub(super) fn cells(&self) -> impl Iterator<Item = &'a Cell> {
        let columns = self.setup.table.columns.clone();
        self.row
            .cells
            .iter()
            .filter(move |cell| columns.contains(&cell.column))
    }

    pub(super) fn words(&self) -> &'a Words {
        &self.setup.profile.words
    }

    pub(super) fn answers(&self) -> &'a Answers {
        &self.setup.profile.answers
    }

    pub(super) fn role(&self, column: u32) -> Option<Role> {
        let found = self.columns.iter().find(|known| known.column == column);
        found.map(|known| known.role)
    }

    pub(super) fn place(&self, column: u32) -> At {
        At {
            sheet: self.setup.table.sheet,
            row: self.row.number,
            column,
        }
    }

    pub(super) fn name(&self, at: At) -> String {
        self.setup.book.cell_name(at)
    }

    pub(super) fn dates_are_days(&self) -> bool {
        self.answers().dates == Some(false)
    }

    /// The cell of the first column of a role that has anything in it.
    pub(super) fn filled(&self, role: Role) -> Option<(Cell, At)> {
        self.all_of(role)
            .into_iter()
            .next()
            .map(|(cell, at, _)| (cell, at))
    }

    /// The cells of all columns of a role, with the units of their headers.
    pub(super) fn all_of(&self, role: Role) -> Vec<(Cell, At, Option<UnitWord>)> {
        let of_role = self.columns.iter().filter(|column| column.role == role);
        let cells = of_role.filter_map(|column| {
            let cell = self.row.cell(column.column)?.clone();
            Some((cell, self.place(column.column), column.unit))
        });
        cells.collect()
    }

    /// The words in the columns of a role, joined.
    pub(super) fn text(&self, role: Role) -> Option<String> {
        let texts: Vec<String> = self
            .all_of(role)
            .into_iter()
            .filter(|(cell, ..)| !is_blank(cell))
            .map(|(cell, ..)| cell.content.to_string())
            .collect();
        (!texts.is_empty()).then(|| texts.join(" "))
    }

    /// The first words of the row that are no measure.
    pub(super) fn first_text(&self) -> Option<String> {
        let words = self
            .cells()
            .find(|cell| cell.text().is_some() && self.is_words(cell));
        words.and_then(|cell| cell.text()).map(str::to_owned)
    }

    fn is_words(&self, cell: &Cell) -> bool {
        let role = self.role(cell.column);
        let digits = cell
            .text()
            .is_some_and(|text| text.starts_with(|ch: char| ch.is_ascii_digit()));
        !(role.is_some_and(|role| role.is_measure()) && digits)
    }

    pub(super) fn manner(&self, role: Role) -> Manner {
        let unit = self.columns.iter().find(|column| column.role == role);
        self.manner_of(unit.and_then(|column| column.unit))
    }

    pub(super) fn manner_of(&self, header: Option<UnitWord>) -> Manner {
        let answers = self.answers();
        let (note_length, note_area) = self.setup.note_units;
        let row = self
            .text(Role::Unit)
            .and_then(|text| cells::whole_unit(&text));
        let first = |header: Option<LengthUnit>, row, note: Option<LengthUnit>, own: Option<_>| {
            let stands = [
                header.map(|unit| (unit, UnitFrom::Header)),
                row,
                note.map(|unit| (unit, UnitFrom::Note)),
                own.map(|unit| (unit, UnitFrom::Profile)),
            ];
            stands.into_iter().flatten().next()
        };
        let of_row = |area: bool| match (row, area) {
            (Some(UnitWord::Length(unit)), false) | (Some(UnitWord::Area(unit)), true) => {
                Some((unit, UnitFrom::Row))
            }
            _ => None,
        };
        let header_area = match header {
            Some(UnitWord::Area(unit)) => Some(unit),
            _ => None,
        };
        let header_length = header.and_then(UnitWord::length);
        Manner {
            decimal: self.setup.decimal,
            length: first(header_length, of_row(false), note_length, answers.length),
            area: first(header_area, of_row(true), note_area, answers.area),
            dates_are_fractions: answers.dates == Some(true),
            has_numbers: self.setup.book.kind.has_numbers(),
        }
    }

    pub(super) fn was_text(&mut self, was_text: bool, at: At) {
        if was_text {
            let text = format!("{} holds a number as text", self.name(at));
            let help = "sums of the sheet pass over it: look at its totals";
            self.remarks.push(doubt(at, text, help));
        }
    }

    pub(super) fn was_a_day(&mut self, cell: &Cell, at: At) {
        if matches!(cell.content, Content::Date(..)) && self.answers().dates == Some(true) {
            let day = &cell.content;
            let text = format!("{} holds the day {day}, taken as a fraction", self.name(at));
            let help = "ask the client what was typed; it counts as answered";
            self.remarks.push(doubt(at, text, help));
        }
    }

    /// The area that a row states which is not taken over, for the sums of what is left out.
    fn keep_area(&mut self) {
        for role in [Role::Area, Role::NetArea] {
            if !self.figures.iter().any(|(known, _)| *known == role) {
                let _ = self.area(role);
            }
        }
        self.remarks.clear();
    }

    fn is_struck(&self) -> bool {
        self.cells().any(|cell| cell.struck)
    }
}

/// What faces are under at the moment.
#[derive(Debug, Clone, Default)]
struct Under {
    heading: Option<String>,
    times: u32,
    /// The structure that a column named last.
    structure: Option<String>,
    face: Option<usize>,
}

/// Reads the rows of a table.
pub(super) struct TableReader<'a> {
    setup: &'a Setup<'a>,
    columns: Vec<Column>,
    out: &'a mut Import,
    number: usize,
    under: Under,
    running: Running,
}

impl<'a> TableReader<'a> {
    pub(super) fn new(setup: &'a Setup<'a>, columns: Vec<Column>, out: &'a mut Import) -> Self {
        let title = setup.table.title.as_ref().map(|(_, text)| text.clone());
        // Above the only table stands the title of the sheet; above one of several, its own.
        let heading = title.filter(|_| !setup.is_alone);
        Self {
            number: out.tables.len() - 1,
            setup,
            columns,
            out,
            under: Under {
                heading,
                times: 1,
                ..Under::default()
            },
            running: Running::default(),
        }
    }

    pub(super) fn read(&mut self) {
        let table = self.setup.table;
        for row in table.header_rows.iter().chain(&table.repeated) {
            self.keep(
                *row,
                Verdict::Heading("the header of the table".to_owned()),
                Vec::new(),
            );
        }
        if let Some((row, text)) = &table.title {
            let known = |kept: &RowRead| kept.sheet == table.sheet && kept.row == *row;
            if !self.out.rows.iter().any(known) {
                self.keep(*row, Verdict::Heading(text.clone()), Vec::new());
            }
        }
        let columns = self.columns.clone();
        for (place, number) in table.rows.iter().enumerate() {
            let Some(row) = self.setup.sheet.rows.get(*number) else {
                continue;
            };
            let mut cells = Cells::new(self.setup, &columns, row);
            if cells.cells().next().is_none() {
                continue;
            }
            let verdict = self
                .judge(&mut cells, place)
                .unwrap_or_else(|trouble| match trouble {
                    Trouble::Reject(why) => Verdict::Rejected(why),
                    Trouble::Ask(key, text, at) => {
                        self.out.questions.push(question(key, &text, at));
                        Verdict::Rejected("a question about it is open".to_owned())
                    }
                });
            self.out.remarks.append(&mut cells.remarks);
            if matches!(verdict, Verdict::Rejected(_)) {
                cells.keep_area();
            }
            let figures = std::mem::take(&mut cells.figures);
            self.running.add_text(&cells.as_text);
            self.running
                .add(&self.with_area(&figures, &verdict), &verdict);
            self.keep(row.number, verdict, figures);
        }
    }

    /// Where a face states no area, what its sizes make goes into the sums of areas.
    fn with_area(&self, figures: &[(Role, f64)], verdict: &Verdict) -> Vec<(Role, f64)> {
        let mut figures = figures.to_vec();
        let has_column = |role: Role| self.columns.iter().any(|column| column.role == role);
        let stated: Vec<Role> = figures.iter().map(|(role, _)| *role).collect();
        let times = f64::from(self.under.times.max(1));
        let (area, net) = match verdict {
            Verdict::Face(face) => {
                let Some(face) = self.out.faces.get(*face) else {
                    return figures;
                };
                let count = f64::from(face.count);
                let whole = face.gross() * count;
                for (_, value) in figures.iter_mut().filter(|(role, _)| is_area(*role)) {
                    // What a block states is there as often as the block, if it is not so yet.
                    if times > 1.0 && (*value - whole).abs() > whole * 1e-6 {
                        *value *= times;
                    }
                }
                (
                    face.gross() * count,
                    (face.gross() - face.deducted()) * count,
                )
            }
            Verdict::Opening(face, opening) => {
                let Some(face) = self.out.faces.get(*face) else {
                    return figures;
                };
                let area = face
                    .openings
                    .get(*opening)
                    .map_or(0.0, |opening| opening.area());
                let area = area * f64::from(face.count);
                for (_, value) in figures.iter_mut().filter(|(role, _)| is_area(*role)) {
                    *value *= times;
                }
                (area, area)
            }
            _ => return figures,
        };
        let missing: Vec<(Role, f64)> = [(Role::Area, area), (Role::NetArea, net)]
            .into_iter()
            .filter(|(role, _)| has_column(*role) && !stated.contains(role))
            .collect();
        figures.extend(missing);
        figures
    }

    fn keep(&mut self, row: u32, verdict: Verdict, figures: Vec<(Role, f64)>) {
        self.out.rows.push(RowRead {
            sheet: self.setup.table.sheet,
            row,
            columns: self.setup.table.columns.clone(),
            table: Some(self.number),
            verdict,
            figures,
        });
    }

    fn judge(&mut self, cells: &mut Cells<'_>, place: usize) -> Result<Verdict, Trouble> {
        let left_out = self.left_out(cells)?;
        if let Some(why) = left_out {
            // What it states is kept for the sums of what is not taken over.
            let _ = cells
                .billed()
                .and_then(|_| cells.sizes())
                .and_then(|_| cells.area(Role::Area));
            cells.remarks.clear();
            return Err(Trouble::Reject(why));
        }
        match cells.kind()? {
            Kind::Note => Ok(Verdict::Note),
            Kind::Total => Ok(self.total(cells, place)),
            Kind::Words(text) => Ok(self.heading(cells, place, text)?),
            Kind::Opening => self.opening(cells),
            Kind::Face => self.face(cells),
        }
    }

    /// Why a row that is hidden or struck through is left out; none where it counts.
    fn left_out(&mut self, cells: &mut Cells<'_>) -> Result<Option<String>, Trouble> {
        if !cells.has_measure() {
            return Ok(None);
        }
        let at = cells.at();
        let answers = cells.answers();
        let marks = [
            (cells.row.hidden, "hidden", "hidden", answers.hidden),
            (
                cells.is_struck(),
                "struck",
                "struck through",
                answers.struck,
            ),
        ];
        for (is_set, key, words, answer) in marks {
            let number = cells.row.number + 1;
            match answer {
                _ if !is_set => {}
                None => {
                    let text = format!("row {number} is {words}: does it count?");
                    return Err(Trouble::Ask(key, text, at));
                }
                Some(Take::LeaveOut) => {
                    return Ok(Some(format!("it is {words}, and left out as answered")));
                }
                Some(Take::Include) => {
                    let help = "look at it in the spreadsheet program; it counts as answered";
                    let text = format!("row {number} is {words}, and counts");
                    cells.remarks.push(doubt(at, text, help));
                }
            }
        }
        Ok(None)
    }

    /// Words alone name what follows, if anything does.
    fn heading(
        &mut self,
        cells: &Cells<'_>,
        place: usize,
        text: String,
    ) -> Result<Verdict, Trouble> {
        let leads = self.leads_to_figures(place);
        let texts = cells.cells().filter(|cell| cell.text().is_some()).count();
        if texts > 1 && cells.text(Role::Face).is_some() && cells.text(Role::Note).is_none() {
            return Err(Trouble::Reject("it states no size".to_owned()));
        }
        if texts > 1 && cells.text(Role::Note).is_some() {
            return Err(Trouble::Reject(
                "it states no size; see its remark".to_owned(),
            ));
        }
        if !leads || text.chars().count() > LONGEST_HEADING {
            return Ok(Verdict::Note);
        }
        let (name, times) = match repeated(&text) {
            None => (text.clone(), 1),
            Some((name, times)) => match cells.answers().repeats {
                Some(true) => (name, times),
                Some(false) => (text.clone(), 1),
                None => {
                    let words =
                        format!("heading `{text}` says that what follows is there {times} times");
                    return Err(Trouble::Ask("repeats", words, cells.at()));
                }
            },
        };
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
        self.under = Under {
            heading: Some(name.clone()),
            times,
            ..Under::default()
        };
        self.running.heading();
        Ok(Verdict::Heading(name))
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
            let cells = Cells::new(self.setup, &self.columns, above);
            above.number + 1 == own.number && matches!(cells.kind(), Ok(Kind::Face | Kind::Opening))
        })
    }

    /// Whether rows with figures follow, perhaps behind another heading.
    fn leads_to_figures(&self, place: usize) -> bool {
        let table = self.setup.table;
        let following = table.rows.iter().skip(place + 1);
        let rows = following.filter_map(|at| self.setup.sheet.rows.get(*at));
        let mut rows = rows.map(|row| Cells::new(self.setup, &self.columns, row));
        let next: Vec<bool> = rows
            .by_ref()
            .filter(|cells| cells.cells().next().is_some())
            .take(2)
            .map(|cells| cells.has_measure() && !matches!(cells.kind(), Ok(Kind::Total)))
            .collect();
        next.contains(&true)
    }

    fn structure(&mut self, cells: &Cells<'_>) -> String {
        const SAME: [&str; 5] = ["\"", "''", "do", "ditto", "-\"-"];
        let own = cells.text(Role::Structure);
        let own = own.filter(|text| !SAME.contains(&text.to_lowercase().as_str()));
        if own.is_some() && own != self.under.structure {
            self.under.structure.clone_from(&own);
            self.under.face = None;
        }
        let parts = [&self.under.heading, &self.under.structure];
        let parts: Vec<&str> = parts.into_iter().flatten().map(String::as_str).collect();
        match parts.as_slice() {
            [] => {
                let guess = Guess {
                    what: format!(
                        "faces without a heading belong to `{}`",
                        self.setup.sheet.name
                    ),
                    reason: "it is the name of their sheet".to_owned(),
                };
                if !self.out.guesses.contains(&guess) {
                    self.out.guesses.push(guess);
                }
                self.setup.sheet.name.clone()
            }
            parts => parts.join(", "),
        }
    }

    fn face(&mut self, cells: &mut Cells<'_>) -> Result<Verdict, Trouble> {
        let structure = self.structure(cells);
        if let Some(total) = self.restated(cells) {
            return Ok(total);
        }
        let billed = cells.billed()?;
        let own = match billed {
            Some(_) => None,
            None => cells.count()?,
        };
        let count = own
            .map_or(1, |count| count.number)
            .saturating_mul(self.under.times);
        let stated = match billed {
            Some(stated) => stated,
            None => cells.sizes()?,
        };
        let sizes = self.sizes(cells, stated, count)?;
        let beside: &[Role] = match &sizes {
            Sizes::Rect(..) => &[Role::Area, Role::NetArea],
            Sizes::Area { area, .. } if cells.role(area.at().column) != Some(Role::NetArea) => {
                &[Role::NetArea]
            }
            Sizes::Area { .. } => &[],
        };
        let mut areas = Vec::new();
        for role in beside {
            areas.extend(cells.area(*role)?.map(|figure| (*role, figure)));
        }
        let number = cells.row.number + 1;
        let name = cells.text(Role::Face).or_else(|| cells.text(Role::Kind));
        let mut face = FaceRead {
            structure,
            name: name.unwrap_or_else(|| format!("row {number}")),
            sizes,
            count,
            times: self.under.times,
            finish: cells.text(Role::Finish),
            substrate: cells.text(Role::Substrate).map(|text| text.to_lowercase()),
            openings: Vec::new(),
            at: cells.at(),
            stated: areas,
            table: self.number,
        };
        if let Some(loose) = cells.own_opening()? {
            openings::put(&mut face, loose, cells.answers())?;
        }
        self.out.faces.push(face);
        self.under.face = Some(self.out.faces.len() - 1);
        Ok(Verdict::Face(self.out.faces.len() - 1))
    }

    /// A nameless row that states nothing but the sum of those above it is a total.
    fn restated(&mut self, cells: &mut Cells<'_>) -> Option<Verdict> {
        let named = cells.first_text().is_some();
        let other = |cell: &Cell| {
            let role = cells.role(cell.column);
            role.is_some_and(|role| role.is_measure())
                && !matches!(
                    role,
                    Some(Role::Area | Role::NetArea | Role::Count | Role::Deduction)
                )
        };
        if named || cells.cells().any(other) {
            return None;
        }
        let area = cells.area(Role::Area).ok()??;
        cells.figures.clear();
        if !self
            .running
            .is_sum(Role::Area, area.size(), area.half_digit())
        {
            return None;
        }
        self.out.guesses.push(Guess {
            what: format!("row {} is a total", cells.row.number + 1),
            reason: "it has no name, and states the sum of the rows above it".to_owned(),
        });
        Some(self.total(cells, usize::MAX))
    }

    fn sizes(
        &mut self,
        cells: &mut Cells<'_>,
        stated: Stated,
        count: u32,
    ) -> Result<Sizes, Trouble> {
        let at = cells.at();
        match stated {
            Stated::Rect(level, upright) => Ok(Sizes::Rect(level, upright)),
            Stated::Nothing => Err(Trouble::Reject("it states no size".to_owned())),
            Stated::Level(level) => {
                let height = height(cells, at, "states a length and no height")?;
                Ok(Sizes::Rect(level, height))
            }
            Stated::Area(area) => {
                let of = match (count, cells.answers().areas_are) {
                    (1, _) => Are::All,
                    (_, Some(of)) => of,
                    (_, None) => {
                        let name = cells.name(area.at());
                        let text = format!("{name} states an area beside a count of {count}");
                        return Err(Trouble::Ask("areas_are", text, area.at()));
                    }
                };
                let height = height(cells, at, "states an area alone")?;
                Ok(Sizes::Area { area, of, height })
            }
        }
    }

    fn opening(&mut self, cells: &mut Cells<'_>) -> Result<Verdict, Trouble> {
        let _ = self.structure(cells);
        let name = cells.text(Role::Face).or_else(|| cells.first_text());
        let name = name.unwrap_or_else(|| "opening".to_owned());
        let loose: Loose = cells.opening_row(&name)?;
        let answers = cells.answers();
        let found = self
            .under
            .face
            .and_then(|at| Some((at, self.out.faces.get_mut(at)?)));
        let Some((number, face)) = found else {
            return Err(Trouble::Reject(
                "no face stands above the opening".to_owned(),
            ));
        };
        let opening = openings::put(face, loose, answers)?;
        Ok(Verdict::Opening(number, opening))
    }

    fn total(&mut self, cells: &mut Cells<'_>, place: usize) -> Verdict {
        let is_last = !self.leads_to_figures(place) || place == usize::MAX;
        let mut first = None;
        let columns: Vec<(u32, Role)> = self
            .columns
            .iter()
            .filter(|column| column.role.is_measure())
            .map(|column| (column.column, column.role))
            .collect();
        let bills_areas = matches!(
            cells
                .text(Role::Unit)
                .and_then(|text| cells::whole_unit(&text)),
            Some(UnitWord::Area(_))
        );
        for (column, role) in columns {
            let at = cells.place(column);
            let role = if bills_areas && role == Role::Count {
                Role::Area
            } else {
                role
            };
            let Some(cell) = cells.row.cell(column).filter(|cell| !is_blank(cell)) else {
                continue;
            };
            let Some((stated, off)) = figure_of(cells, cell, at, role) else {
                if matches!(cell.content, Content::Nothing | Content::Fault(_)) {
                    let text = format!(
                        "{}, a total, has no result that could be held against the rows",
                        cells.name(at)
                    );
                    let help =
                        "open the file in a spreadsheet program, save it, and import it again";
                    cells.remarks.push(doubt(at, text, help));
                }
                continue;
            };
            let held = self.running.hold(role, stated, off, is_last);
            self.running.total(role, stated);
            if !held.agrees {
                let hint = held
                    .hint
                    .map(|hint| format!(": {hint}"))
                    .unwrap_or_default();
                cells.remarks.push(Remark {
                    weight: Weight::Contradiction,
                    at,
                    text: format!(
                        "{} totals {}, and {} make {}{hint}",
                        cells.name(at),
                        shown(stated, role, &cells.manner(role)),
                        held.of,
                        shown(held.found, role, &cells.manner(role)),
                    ),
                    help: "the plan has the rows and not the total; ask which is right".to_owned(),
                });
            }
            self.out.totals.push(TotalRead {
                at,
                role,
                stated,
                found: held.found,
                of: held.of.to_owned(),
                agrees: held.agrees,
            });
            first.get_or_insert(self.out.totals.len() - 1);
        }
        cells.figures.clear();
        Verdict::Total(first)
    }
}

/// Whether a column is of areas.
fn is_area(role: Role) -> bool {
    matches!(role, Role::Area | Role::NetArea)
}

/// A figure in base units as its column writes it.
pub(crate) fn shown(value: f64, role: Role, manner: &Manner) -> String {
    let unit = match role {
        Role::Area | Role::NetArea | Role::Deduction => manner.area,
        Role::Count | Role::OpeningCount => None,
        _ => manner.length,
    };
    let is_area = matches!(role, Role::Area | Role::NetArea | Role::Deduction);
    match unit {
        Some((unit, _)) if is_area => {
            let number = value / (unit.metres() * unit.metres());
            format!("{} {}2", rounded(number), unit.word())
        }
        Some((unit, _)) => format!("{} {}", rounded(value / unit.metres()), unit.word()),
        None if is_area => format!("{} m2", rounded(value)),
        None => rounded(value),
    }
}

/// A number to four decimals, without zeros behind.
pub(crate) fn rounded(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// What a cell of a total states, and how far it may be off for having been rounded.
fn figure_of(cells: &Cells<'_>, cell: &Cell, at: At, role: Role) -> Option<(f64, f64)> {
    let manner = cells.manner(role);
    match role {
        Role::Count | Role::OpeningCount => {
            let count = cells::count(cell, at, &manner).ok()?;
            Some((f64::from(count.number), 0.0))
        }
        Role::Area | Role::NetArea | Role::Deduction => {
            let area = cells::area(cell, at, &manner).ok()?;
            Some((area.size(), area.half_digit()))
        }
        _ => match cells::lengths(cell, at, &manner).ok()?.as_slice() {
            [one] => Some((one.size(), one.half_digit())),
            _ => None,
        },
    }
}

/// The height that was answered for rows that state none.
fn height(cells: &mut Cells<'_>, at: At, states: &str) -> Result<cells::Figure, Trouble> {
    let Some(text) = &cells.answers().height else {
        let number = cells.row.number + 1;
        let text = format!("row {number} {states}: how high are such faces?");
        return Err(Trouble::Ask("height", text, at));
    };
    let height = given_length_at(text, at);
    height.map_err(|_| Trouble::Reject("the height that was answered cannot be read".to_owned()))
}
