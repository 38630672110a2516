//! What the cells of a sheet take, and which of them stand out.

use super::super::style;
use super::{Page, at};
use rust_xlsxwriter::{
    ConditionalFormatCell, ConditionalFormatCellRule, ConditionalFormatText,
    ConditionalFormatTextRule, DataValidation, DataValidationRule, XlsxError,
};

impl Page<'_> {
    /// Makes the cells of a column stand out that hold such words.
    pub(in super::super) fn alarm(
        &mut self,
        [first, last]: [u32; 2],
        column: usize,
        words: &str,
    ) -> Result<(), XlsxError> {
        let rule = ConditionalFormatTextRule::Contains(words.to_owned());
        let format = ConditionalFormatText::new()
            .set_rule(rule)
            .set_format(style::alarm());
        let column = at(column);
        self.sheet
            .add_conditional_format(first, column, last, column, &format)?;
        Ok(())
    }

    /// Makes the cells of a column of marks stand out where they are set.
    pub(in super::super) fn alarm_above_nothing(
        &mut self,
        [first, last]: [u32; 2],
        column: usize,
    ) -> Result<(), XlsxError> {
        let format = ConditionalFormatCell::new()
            .set_rule(ConditionalFormatCellRule::GreaterThan(0))
            .set_format(style::alarm());
        let column = at(column);
        if first <= last {
            self.sheet
                .add_conditional_format(first, column, last, column, &format)?;
        }
        Ok(())
    }

    /// Lets a column take whole numbers above nothing only.
    pub(in super::super) fn whole_numbers(
        &mut self,
        rows: [u32; 2],
        column: usize,
    ) -> Result<(), XlsxError> {
        let rule = DataValidationRule::Between(1, 1_000_000);
        let said = "a whole number from 1 to 1,000,000";
        self.validate(
            rows,
            column,
            DataValidation::new().allow_whole_number(rule),
            said,
        )
    }

    /// Lets a column take numbers between two bounds only.
    pub(in super::super) fn numbers_between(
        &mut self,
        rows: [u32; 2],
        column: usize,
        [least, most]: [f64; 2],
        said: &str,
    ) -> Result<(), XlsxError> {
        let rule = DataValidationRule::Between(least, most);
        let validation = DataValidation::new().allow_decimal_number(rule);
        self.validate(rows, column, validation, said)
    }

    fn validate(
        &mut self,
        [first, last]: [u32; 2],
        column: usize,
        validation: DataValidation,
        said: &str,
    ) -> Result<(), XlsxError> {
        let validation = validation
            .set_error_title("This cell is reckoned with")?
            .set_error_message(format!("Write {said}."))?;
        let column = at(column);
        if first <= last {
            self.sheet
                .add_data_validation(first, column, last, column, &validation)?;
        }
        Ok(())
    }

    /// Lets the lines under the header be filtered.
    pub(in super::super) fn filter(&mut self, lines: usize) -> Result<(), XlsxError> {
        let last = self.head + u32::try_from(lines).unwrap_or(u32::MAX / 2);
        if lines > 0 {
            let columns = at(self.table.columns.len().saturating_sub(1));
            self.sheet.autofilter(self.head, 0, last, columns)?;
        }
        Ok(())
    }
}
