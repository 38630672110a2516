//! The arguments of `parge learn`.

use clap::Args as ClapArgs;
use std::path::PathBuf;

#[derive(Debug, ClapArgs)]
#[command(after_help = LEARN_HELP)]
pub(crate) struct LearnArgs {
    /// The folder of past jobs: a folder each, with `job.parge` and its record beside it
    pub(crate) folder: PathBuf,
    /// The company's rule pack that is to learn, by its path
    #[arg(long, value_name = "PACK")]
    pub(crate) pack: String,
    /// Put what a line used to this row of a table, where others could have it as well; may be given
    /// several times
    #[arg(long = "row", value_name = "TABLE.KEY.KEY")]
    pub(crate) rows: Vec<String>,
    /// Tell what the proposal does to the total of these plans, row by row
    #[arg(long, value_name = "PLAN", num_args = 1..)]
    pub(crate) plans: Vec<PathBuf>,
    /// Go on without the jobs that cannot be learned from
    #[arg(long)]
    pub(crate) leave_out: bool,
    /// Write the proposal as JSON here; `-` writes it to the terminal in place of the tables
    #[arg(short, long, value_name = "FILE|-")]
    pub(crate) output: Option<PathBuf>,
    /// Draw estimate against actual here, a chart (*.svg) for each row; the folder must be there
    #[arg(long, value_name = "DIR")]
    pub(crate) plots: Option<PathBuf>,
    /// Write the proposed rows into the tables of the pack
    #[arg(long)]
    pub(crate) apply: bool,
    /// Replace a file that says something else
    #[arg(long)]
    pub(crate) force: bool,
}

const LEARN_HELP: &str = "Records are made with `parge actuals`. A material is put down to its \
wastes, or to its coverages where table `coverage` has it; with `--row mixes.finish-mix.yield` to the \
yield. Without `--apply` no table is changed.";
