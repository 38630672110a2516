//! The arguments of `parge actuals`.

use clap::Args as ClapArgs;
use std::path::PathBuf;

#[derive(Debug, ClapArgs)]
#[command(after_help = ACTUALS_HELP)]
pub(crate) struct ActualsArgs {
    /// The plan that priced the job: a file, or `REV:PLAN` of a git repository
    pub(crate) plan: PathBuf,
    /// What was used: a form that was filled in (*.txt, *.csv, *.xlsx); without it, `actuals.txt`,
    /// `actuals.csv` or `actuals.xlsx` beside the plan
    #[arg(conflicts_with = "form")]
    pub(crate) record: Option<PathBuf>,
    /// Print a blank form in place of comparing: as text, or by the ending of `-o`
    #[arg(long, conflicts_with_all = ["json", "changed"])]
    pub(crate) form: bool,
    /// Write the estimate's workbook with a sheet `Actuals` here (*.xlsx); a form: *.txt, *.csv, *.xlsx
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Write the comparison as JSON here; `-` writes it to the terminal in place of the tables
    #[arg(long, value_name = "FILE|-")]
    pub(crate) json: Option<PathBuf>,
    /// Compare although plan, rules or prices are not those that priced the job; the result says so
    #[arg(long)]
    pub(crate) changed: bool,
    /// Replace a file even if it was changed since the program wrote it
    #[arg(long)]
    pub(crate) force: bool,
}

const ACTUALS_HELP: &str = "A record, line by line:
  finish-mix 104 bags          an item, and how much of it was used; 64 + 40 bags adds up
  sealer 2 pails at 228 USD    counted in packs, and what one of that unit cost
  hours place \"Grotto\" 36 h    the hours of one person on a phase at a structure
  hours place 80 h             the same of the whole phase
  hours protect job 3 h        of a phase, what belongs to no structure
  area \"Grotto\" 312 ft2        what was coated, where it is not as in the plan
  day 2026-06-01 to 2026-06-12, days 9, weather …, remark …

What is left blank, as ___, is not recorded; what was not used is 0.";
