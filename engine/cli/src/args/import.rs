//! The arguments of `parge import`.

use clap::Args as ClapArgs;
use std::path::PathBuf;

#[derive(Debug, ClapArgs)]
#[command(after_help = HELP)]
pub(crate) struct ImportArgs {
    /// The client's sheet (*.xlsx, *.xls, *.xlsb, *.ods, *.csv, *.tsv)
    pub(crate) sheet: PathBuf,
    /// Write the plan here (*.parge), or the price book (*.csv); without it, the sheet is read and
    /// reported on
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// How this client's sheets are read: a file (*.toml), or the name of a profile of the program
    #[arg(long, value_name = "FILE|NAME")]
    pub(crate) profile: Option<PathBuf>,
    /// Read this sheet of the file only; may be given several times
    #[arg(long = "sheet", value_name = "NAME")]
    pub(crate) sheets: Vec<String>,
    /// Answer a question, as `hidden=leave_out` or `column.E=height`; may be given several times
    #[arg(long = "answer", value_name = "KEY=VALUE")]
    pub(crate) answers: Vec<String>,
    /// The finish of faces whose row names none
    #[arg(long, value_name = "NAME")]
    pub(crate) finish: Option<String>,
    /// What faces are built of whose row does not say
    #[arg(long, value_name = "SUBSTRATE")]
    pub(crate) on: Option<String>,
    /// Write the report here: a copy of the sheet with a verdict beside each row (*.xlsx), JSON
    /// (*.json) or text (*.txt); may be given several times
    #[arg(long = "report", value_name = "FILE")]
    pub(crate) reports: Vec<PathBuf>,
    /// Keep all answers and what the columns were taken for as a profile (*.toml)
    #[arg(long, value_name = "PROFILE.toml")]
    pub(crate) learn: Option<PathBuf>,
    /// The plan is there already, and was edited since: take over what changed in the sheet
    #[arg(long, requires = "output")]
    pub(crate) update: bool,
    /// Read a price list, and write a price book (*.csv)
    #[arg(long, conflicts_with_all = ["update", "finish", "on"])]
    pub(crate) prices: bool,
    /// Replace files that are there already
    #[arg(long)]
    pub(crate) force: bool,
}

const HELP: &str = "A plan is written only if its sums are those of the sheet. What can be read in \
more than one way is asked: at a terminal at once, and else the question is told with the answers \
to give. Nothing is guessed in silence: the report has the reason for each column.";
