//! Finding a cell by what an office reads around it, so that tests outlive a change of layout.

use super::book::Recalculated;
use super::place::Place;
use super::value::Value;

/// How somebody points at a cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum At {
    /// A line of a table, by the words in it from left to right, and a head of its columns.
    Line {
        sheet: &'static str,
        words: Vec<String>,
        head: &'static str,
    },
    /// The cell to the right of a label.
    Beside {
        sheet: &'static str,
        label: &'static str,
    },
    /// A cell that has a name.
    Name(String),
}

impl At {
    pub(super) fn line(sheet: &'static str, words: &[&str], head: &'static str) -> Self {
        Self::Line {
            sheet,
            words: words.iter().map(|&word| word.to_owned()).collect(),
            head,
        }
    }
}

/// Whether a label or a head is the one that is looked for; the currency behind it is not asked.
fn is(text: &Value, label: &str) -> bool {
    let Value::Text(text) = text else {
        return false;
    };
    text.strip_prefix(label)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with(", "))
}

impl Recalculated {
    /// The one cell that is pointed at.
    #[track_caller]
    pub(super) fn find(&self, at: &At) -> Place {
        match at {
            At::Line { sheet, words, head } => {
                let found = self.lines(sheet, words, head);
                assert_eq!(found.len(), 1, "{at:?} is not one cell: {found:?}");
                found.into_iter().next().unwrap()
            }
            At::Beside { sheet, label } => {
                let found = self.beside(sheet, label);
                found.unwrap_or_else(|| panic!("{at:?} is not one cell"))
            }
            At::Name(name) => self.named(name),
        }
    }

    /// What a cell shows that is pointed at.
    #[track_caller]
    pub(super) fn show(&self, at: &At) -> Value {
        self.read(&self.find(at))
    }

    /// The words under a head of a sheet, from the top down.
    #[track_caller]
    pub(super) fn words_under(&self, sheet: &str, head: &str) -> Vec<String> {
        let rows = self.rows(sheet);
        let heads = rows.iter().flatten().filter(|(_, text)| is(text, head));
        let places: Vec<&Place> = heads.map(|(place, _)| place).collect();
        assert_eq!(places.len(), 1, "`{head}` on sheet {sheet} is not one head");
        let head = places[0];
        let words = rows
            .iter()
            .flatten()
            .filter_map(|(place, value)| match value {
                Value::Text(text) if place.column == head.column && place.row > head.row => {
                    Some(text.clone())
                }
                _ => None,
            });
        words.collect()
    }

    /// The text to the right of a label that stands once on a sheet, where there is one.
    pub(super) fn fact(&self, sheet: &str, label: &str) -> Option<String> {
        match self.read(&self.beside(sheet, label)?) {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    fn beside(&self, sheet: &str, label: &str) -> Option<Place> {
        let rows = self.rows(sheet);
        let mut labels = rows.iter().flatten().filter(|(_, text)| is(text, label));
        let (place, _) = labels.next()?;
        let right = Place::new(sheet, place.row, place.column + 1);
        labels.next().is_none().then_some(right)
    }

    /// The cells of a column in the lines that hold all the words, from left to right. A line's
    /// head is the nearest above it.
    fn lines(&self, sheet: &str, words: &[String], head: &str) -> Vec<Place> {
        let mut column = None;
        let mut found = Vec::new();
        for row in self.rows(sheet) {
            if let Some((place, _)) = row.iter().find(|(_, text)| is(text, head)) {
                column = Some(place.column);
            } else if let (Some(column), Some((place, _))) = (column, row.first()) {
                let mut cells = row.iter().map(|(_, value)| value);
                let says = |word: &String| cells.any(|cell| *cell == word.as_str().into());
                if words.iter().all(says) {
                    found.push(Place::new(sheet, place.row, column));
                }
            }
        }
        found
    }

    /// The rows of a sheet in which something stands.
    fn rows(&self, sheet: &str) -> Vec<Vec<(Place, Value)>> {
        let mut cells = self.cells();
        cells.retain(|(place, _)| place.sheet == sheet);
        cells
            .chunk_by(|(one, _), (two, _)| one.row == two.row)
            .map(<[_]>::to_vec)
            .collect()
    }
}
