//! Where a cell stands, as formulas and defined names write it.

use std::fmt;

/// A cell of a workbook. Rows and columns are counted from 1.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Place {
    pub(super) sheet: String,
    pub(super) row: u32,
    pub(super) column: u32,
}

impl Place {
    pub(super) fn new(sheet: &str, row: u32, column: u32) -> Self {
        Self {
            sheet: sheet.to_owned(),
            row,
            column,
        }
    }

    /// Reads `Labour!B3` and `'Day plan'!$B$3`, and nothing that is more than one cell.
    pub(super) fn read(text: &str) -> Option<Self> {
        let (sheet, cell) = text.strip_prefix('=').unwrap_or(text).rsplit_once('!')?;
        let sheet = match sheet.strip_prefix('\'') {
            Some(quoted) => quoted.strip_suffix('\'')?.replace("''", "'"),
            None => sheet.to_owned(),
        };
        let cell = cell.replace('$', "");
        let digits = cell.find(|letter: char| letter.is_ascii_digit())?;
        let (letters, row) = cell.split_at(digits);
        let column = letters.chars().try_fold(0_u32, |column, letter| {
            let value = letter.to_digit(36)?.checked_sub(9)?;
            column.checked_mul(26)?.checked_add(value)
        })?;
        let row = row.parse().ok()?;
        (row > 0 && column > 0).then_some(Self { sheet, row, column })
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (row, column) = (self.row - 1, self.column - 1);
        let cell = rust_xlsxwriter::utility::row_col_to_cell(row, column.try_into().unwrap());
        write!(f, "{}!{cell}", self.sheet)
    }
}

#[test]
fn places_are_read_as_formulas_write_them() {
    let read = |text| Place::read(text).unwrap();
    assert_eq!(read("Labour!B3"), Place::new("Labour", 3, 2));
    assert_eq!(read("='Day plan'!$AB$30"), Place::new("Day plan", 30, 28));
    assert_eq!(read("'It''s'!A1").sheet, "It's");
    assert_eq!(read("'Day plan'!$AB$30").to_string(), "Day plan!AB30");
    for none in ["B3", "Labour!B", "Labour!3", "Labour!A1:B2", "Labour!B0"] {
        assert_eq!(Place::read(none), None, "{none}");
    }
}
