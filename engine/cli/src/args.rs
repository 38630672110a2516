//! The arguments.

mod actuals;
mod import;
mod learn;
mod rules;
mod whatif;

pub(crate) use actuals::ActualsArgs;
pub(crate) use import::ImportArgs;
pub(crate) use learn::LearnArgs;
pub(crate) use rules::*;
pub(crate) use whatif::*;

use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Take-off and estimate for decorative concrete on walls, columns and freestanding forms
#[derive(Debug, Parser)]
#[command(
    name = "parge",
    version,
    max_term_width = 100,
    disable_help_subcommand = true
)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Make a job folder to start from: a small plan and a price book
    New(NewArgs),
    /// Read plans with their rules and prices, and report every problem
    Check(CheckArgs),
    /// Measure a plan: faces, materials needed, hours
    Takeoff(TakeoffArgs),
    /// Price a plan, or all plans of a folder: on the terminal, as a workbook, as JSON, as CSV
    Estimate(EstimateArgs),
    /// Write the page of the bid for the client: price, scope, drawings
    Bid(BidArgs),
    /// Draw the faces of a plan to scale, with their sizes and openings
    Draw(DrawArgs),
    /// Plan the days of work: what is done and mixed on each; as calendar, chart or lines
    Days(DaysArgs),
    /// Tell how a figure came about, down to the lines of plan, rules, tables and prices
    Explain(ExplainArgs),
    /// Tell what changed between two plans: sizes, finishes, prices, quantities, money
    Diff(DiffArgs),
    /// Make a plan of a client's sheet, held against the sheet row by row and sum by sum
    Import(ImportArgs),
    /// Estimate a plan with some of its figures replaced, or find those that move its total most
    Whatif(WhatifArgs),
    /// Set what a job used beside what was estimated, or print the form to record it with
    Actuals(ActualsArgs),
    /// Let past jobs move the rows of a company's rule pack: as a proposal, or into its tables
    Learn(LearnArgs),
    /// Lay plans out in the one layout there is; nothing that they say is changed
    Fmt(FmtArgs),
    /// Rule packs: those of the program, and your own
    Rules(RulesArgs),
    /// List the published values that the program reproduces, beside what it computes
    Checks,
    /// Explain a diagnostic by its code, with an example; without a code, list all
    Why(WhyArgs),
}

#[derive(Debug, ClapArgs)]
pub(crate) struct NewArgs {
    /// The folder to make; it must not be there yet
    pub(crate) dir: PathBuf,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct CheckArgs {
    /// The plans (*.parge)
    #[arg(required = true)]
    pub(crate) plans: Vec<PathBuf>,
    /// How problems are told; all but `text` go where results go
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
}

/// How diagnostics are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// With the lines that they concern
    Text,
    /// One line a problem: `job.parge:12:5: error[E0202]: …`
    Concise,
    /// As JSON
    Json,
    /// As SARIF 2.1.0, for code review tools
    Sarif,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct WhyArgs {
    /// The code, such as E0202
    pub(crate) code: Option<String>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct TakeoffArgs {
    /// The plan (*.parge)
    pub(crate) plan: PathBuf,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct EstimateArgs {
    /// The plan (*.parge), or a folder: then every plan in it and below that has a job block
    pub(crate) plan: PathBuf,
    /// Write the workbook here (*.xlsx); of a folder, one with a row a job
    #[arg(short, long, value_name = "FILE.xlsx")]
    pub(crate) output: Option<PathBuf>,
    /// Write the estimate as JSON here, or the jobs of a folder; `-` writes it to the terminal in
    /// place of the tables
    #[arg(long, value_name = "FILE|-")]
    pub(crate) json: Option<PathBuf>,
    /// Tell the range in which the total is likely to lie, by what past jobs taught the pack
    #[arg(long)]
    pub(crate) range: bool,
    /// Write the bill of materials here, a line each (*.csv); of a folder, the jobs
    #[arg(long, value_name = "FILE.csv")]
    pub(crate) csv: Option<PathBuf>,
    /// Of a folder: write the workbook of each job into this one, by the path of its plan
    #[arg(long, value_name = "FOLDER")]
    pub(crate) workbooks: Option<PathBuf>,
    /// Replace a file even if it was changed since the program wrote it
    #[arg(long)]
    pub(crate) force: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct BidArgs {
    /// The plan (*.parge)
    pub(crate) plan: PathBuf,
    /// Write the page here (*.html) instead of to the terminal
    #[arg(short, long, value_name = "FILE.html")]
    pub(crate) output: Option<PathBuf>,
    /// Replace a file even if it was changed since the program wrote it
    #[arg(long)]
    pub(crate) force: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct DrawArgs {
    /// The plan (*.parge)
    pub(crate) plan: PathBuf,
    /// Write the drawing here (*.svg) instead of to the terminal
    #[arg(short, long, value_name = "FILE.svg")]
    pub(crate) output: Option<PathBuf>,
    /// Draw this face alone, such as `Kiosk/front`
    #[arg(long, value_name = "STRUCTURE/FACE")]
    pub(crate) face: Option<String>,
    /// Replace a file even if it was changed since the program wrote it
    #[arg(long)]
    pub(crate) force: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct DaysArgs {
    /// The plan (*.parge)
    pub(crate) plan: PathBuf,
    /// Write the days here: a calendar (*.ics), a chart (*.svg) or lines of values (*.csv)
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Replace a file that says something else
    #[arg(long)]
    pub(crate) force: bool,
}

#[derive(Debug, ClapArgs)]
#[command(after_help = EXPLAIN_HELP)]
pub(crate) struct ExplainArgs {
    /// The plan (*.parge)
    pub(crate) plan: PathBuf,
    /// The figure, such as `total` or `street.area`; without one, the names of all are listed
    pub(crate) figure: Option<String>,
    /// The form of the explanation
    #[arg(long, value_enum, default_value_t = ExplainFormat::Text)]
    pub(crate) format: ExplainFormat,
    /// Write the explanation here instead of to the terminal
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// As text, go so many levels down; a step of the price goes 2 unless told otherwise
    #[arg(long, value_name = "N")]
    pub(crate) depth: Option<usize>,
    /// As text, show every face, and each in full
    #[arg(long)]
    pub(crate) all: bool,
    /// Replace a file even if the program did not write it
    #[arg(long)]
    pub(crate) force: bool,
}

/// The form of an explanation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExplainFormat {
    /// A tree
    Text,
    /// As JSON
    Json,
    /// A page to be opened, folded and printed
    Html,
}

const EXPLAIN_HELP: &str = "Figures:
  street.area              a measure of a face, of one of its equal ones
  street.finish-mix        what a face takes of a material, all equal ones together
  street.hours.place       the hours of a phase on a face
  planter_h                a name that the plan gives with `let`
  finish-mix               a material: its cost, with packs, need and waste beneath it;
                           finish-mix.need, .waste, .packs and .cost each alone
  hours.place, place.cost  the hours of a phase, and what they cost
  batch.2026-06-03.finish-mix.drystone
                           the largest batch of a mix for a finish on a day of work;
                           of a plan without dates, batch.\"day 3\".finish-mix.drystone
  total                    materials, labour, burden, overhead, profit, allowances, tax, total

A name with blanks stands in double quotes: '\"Entry planter\".street.area'.";

#[derive(Debug, ClapArgs)]
pub(crate) struct FmtArgs {
    /// The plans (*.parge); they are replaced in place
    #[arg(required = true)]
    pub(crate) plans: Vec<PathBuf>,
    /// Write nothing: name the plans that would change, and end with exit code 4 if there are any
    #[arg(long)]
    pub(crate) check: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct DiffArgs {
    /// The plan before: a file, or `REV:PLAN` for a plan in a revision of a git repository
    pub(crate) old: PathBuf,
    /// The plan after: a file, or `REV:PLAN`
    pub(crate) new: PathBuf,
    /// Write a change order here (*.xlsx)
    #[arg(short, long, value_name = "FILE.xlsx")]
    pub(crate) output: Option<PathBuf>,
    /// Write what changed as JSON here; `-` writes it to the terminal in place of the tables
    #[arg(long, value_name = "FILE|-")]
    pub(crate) json: Option<PathBuf>,
    /// Replace a file even if it was changed since the program wrote it
    #[arg(long)]
    pub(crate) force: bool,
}
