//! One change of a job, said twice: in the files that the program reads, and in cells of the
//! workbook that it made of the job before.

use super::book::Recalculated;
use super::find::At;
use super::value::Value;
use parge_tests::Folder;

/// A change in a file of the job.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Rewrite {
    /// A text of the plan, the first that begins and ends so: `overhead ` and `%` for a rate. What
    /// is between them is replaced.
    Between {
        file: String,
        begin: String,
        end: String,
        with: String,
    },
    /// A cell of a table as a price book or a table of a pack: in the first row that begins with
    /// these cells, the cell under this head.
    Cell {
        file: String,
        row: Vec<String>,
        head: String,
        with: String,
    },
}

/// A change, in the files of a job and in its workbook.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Edit {
    pub(super) files: Vec<Rewrite>,
    pub(super) cells: Vec<(At, Value)>,
}

impl Rewrite {
    #[track_caller]
    fn write(&self, folder: &Folder) {
        match self {
            Self::Between {
                file,
                begin,
                end,
                with,
            } => {
                let text = folder.read(file).unwrap();
                let place = text.find(begin.as_str()).map(|at| at + begin.len());
                let start = place.unwrap_or_else(|| panic!("`{begin}` is not in {file}"));
                let length = text[start..].find(end.as_str()).unwrap();
                let (before, after) = (&text[..start], &text[start + length..]);
                folder
                    .write(file, format!("{before}{with}{after}"))
                    .unwrap();
            }
            Self::Cell {
                file,
                row,
                head,
                with,
            } => {
                let text = replace_cell(&folder.read(file).unwrap(), row, head, with);
                folder.write(file, text).unwrap();
            }
        }
    }
}

impl Edit {
    /// Another price of an item of the price book `prices.csv`. `lines` are the lines of the
    /// workbook that this row prices.
    pub(super) fn price(item: &str, lines: &[String], price: &str) -> Self {
        let cell = |line: &String| {
            let at = At::line("Materials", &[line], "Price of a pack");
            (at, price.parse::<f64>().unwrap().into())
        };
        Self {
            files: vec![Rewrite::price(item, price)],
            cells: lines.iter().map(cell).collect(),
        }
    }

    /// Another wage of an hour.
    pub(super) fn wage(wage: &str) -> Self {
        let at = At::Beside {
            sheet: "Labour",
            label: "Wage of an hour before burden",
        };
        Self {
            files: vec![Rewrite::price("labour", wage)],
            cells: vec![(at, wage.parse::<f64>().unwrap().into())],
        }
    }

    /// Another rate of the bid, in per cent: `overhead ` of the plan is `Overhead` of the summary.
    pub(super) fn rate(words: &str, item: &str, percent: &str) -> Self {
        let file = Rewrite::Between {
            file: "job.parge".to_owned(),
            begin: words.to_owned(),
            end: "%".to_owned(),
            with: percent.to_owned(),
        };
        let rate = percent.parse::<f64>().unwrap() / 100.0;
        Self {
            files: vec![file],
            cells: vec![(At::line("Summary", &[item], "Rate"), rate.into())],
        }
    }

    /// Makes the change in the files of a job.
    #[track_caller]
    pub(super) fn write(&self, folder: &Folder) {
        for file in &self.files {
            file.write(folder);
        }
    }

    /// Makes the change in a workbook.
    #[track_caller]
    pub(super) fn type_in(&self, book: &mut Recalculated) {
        for (at, value) in &self.cells {
            let place = book.find(at);
            book.set(&place, value.clone());
        }
    }
}

impl Rewrite {
    fn price(item: &str, price: &str) -> Self {
        Self::Cell {
            file: "prices.csv".to_owned(),
            row: vec![item.to_owned()],
            head: "price".to_owned(),
            with: price.to_owned(),
        }
    }
}

#[track_caller]
fn replace_cell(text: &str, row: &[String], head: &str, with: &str) -> String {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let column = heads.iter().position(|known| known == head);
    let column = column.unwrap_or_else(|| panic!("no column `{head}` in {heads:?}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(&heads).unwrap();
    let mut done = false;
    for record in reader.records() {
        let record = record.unwrap();
        let is_row = !done
            && record
                .iter()
                .zip(row)
                .filter(|(one, two)| one == two)
                .count()
                == row.len();
        done |= is_row;
        let cells = record.iter().enumerate();
        let cells = cells.map(|(at, cell)| if is_row && at == column { with } else { cell });
        writer.write_record(cells).unwrap();
    }
    assert!(done, "no row begins with {row:?}");
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

#[test]
fn a_cell_of_a_table_is_replaced_and_nothing_else() {
    let table = "mix,property,value\nfine,air,2\nfine,yield,0.48\n\"a, b\",yield,0.5\n";
    let row = ["fine".to_owned(), "yield".to_owned()];
    let changed = replace_cell(table, &row, "value", "0.47");
    assert_eq!(changed, table.replace("0.48", "0.47"));
}
