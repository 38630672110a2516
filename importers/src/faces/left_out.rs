//! Rows that are hidden or struck through.

use super::import::doubt;
use super::row::{Cells, Trouble};
use crate::profile::Take;

impl Cells<'_> {
    /// Whether the row is hidden or struck through.
    pub(super) fn is_marked(&self) -> bool {
        self.row.hidden || self.seen.struck
    }

    /// Why a row that is hidden or struck through is left out; none where it counts.
    pub(crate) fn left_out(&mut self) -> Result<Option<String>, Trouble> {
        if !self.has_measure() || !self.is_marked() {
            return Ok(None);
        }
        let at = self.at();
        let answers = self.answers();
        let marks = [
            (self.row.hidden, "hidden", "hidden", answers.hidden),
            (self.seen.struck, "struck", "struck through", answers.struck),
        ];
        for (is_set, key, words, answer) in marks {
            let number = self.row.number + 1;
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
                    self.remarks.push(doubt(at, text, help));
                }
            }
        }
        Ok(None)
    }
}
