//! What every reader of tables keeps of their rows.

use super::import::question;
use super::row::Trouble;
use super::{Import, RowFigures, RowRead, Verdict};
use crate::table::Table;

impl Import {
    /// Keeps what became of a row of a table, in a block that is there so many times.
    pub(crate) fn keep(
        &mut self,
        table: &Table,
        row: u32,
        verdict: Verdict,
        figures: RowFigures,
        times: u32,
    ) {
        self.rows.push(RowRead {
            sheet: table.sheet,
            row,
            from_column: *table.columns.start(),
            verdict,
            figures,
            times,
        });
    }

    /// Keeps the rows of the header, and the title above them.
    pub(crate) fn keep_headers(&mut self, table: &Table) {
        for row in table.header_rows.iter().chain(&table.repeated) {
            let verdict = Verdict::Heading("the header of the table".to_owned());
            self.keep(table, *row, verdict, RowFigures::new(), 1);
        }
        if let Some((row, text)) = &table.title {
            let known = |kept: &RowRead| kept.sheet == table.sheet && kept.row == *row;
            if !self.rows.iter().any(known) {
                self.keep(
                    table,
                    *row,
                    Verdict::Heading(text.clone()),
                    RowFigures::new(),
                    1,
                );
            }
        }
    }

    /// The verdict on a row that was judged; a question is noted.
    pub(crate) fn settled(&mut self, judged: Result<Verdict, Trouble>) -> Verdict {
        judged.unwrap_or_else(|trouble| match trouble {
            Trouble::Reject(why) => Verdict::Rejected(why),
            Trouble::Ask(key, text, at) => {
                self.questions.push(question(key, &text, at));
                Verdict::Rejected("a question about it is open".to_owned())
            }
        })
    }
}
