//! Workbooks worked out again by a spreadsheet engine that knows nothing of this program.
//!
//! A workbook is opened with the results that were stored in it, so that a formula that says
//! something else is not seen until an office changes a cell. Here every formula is computed, as
//! it is and after changes, and held against what the program says of the same job.
//!
//! `tests/libreoffice.sh` does the first half of it with the program of an office.

mod actuals;
mod agreement;
mod book;
mod changes;
mod edit;
mod engine;
mod find;
mod live;
mod office;
mod parts;
mod place;
mod value;

use parge_cli::Exit;
use parge_tests::{Folder, Said};

/// The demo jobs. Each has its plan in `job.parge`.
const EXAMPLES: [&str; 3] = ["alder-marsh", "tern-quay", "heron-yard"];

/// What the program makes of a job: its workbook and what it says of it as JSON.
struct Made {
    workbook: Vec<u8>,
    json: serde_json::Value,
}

impl Made {
    /// Estimates the job of a folder, which has no mistakes in it.
    #[track_caller]
    fn of(folder: &Folder) -> Self {
        let said: Said = folder.parge("estimate job.parge -o book.xlsx --json -");
        assert_eq!(said.exit, Exit::Fine, "{said}");
        Self {
            workbook: std::fs::read(folder.path("book.xlsx")).unwrap(),
            json: serde_json::from_str(&said.out).unwrap(),
        }
    }

    /// The total as it is bid.
    fn total(&self) -> f64 {
        self.json["price"]["total"]
            .as_str()
            .unwrap()
            .parse()
            .unwrap()
    }
}

/// What a list of cells says, a line each, for the message of a test.
fn said<T: ToString>(list: &[T]) -> String {
    let line = |one: &T| format!("\n  {}", one.to_string());
    list.iter().map(line).collect()
}
