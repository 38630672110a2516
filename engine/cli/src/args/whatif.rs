//! The arguments of `parge whatif`.

use clap::{Args as ClapArgs, ValueEnum};
use rust_decimal::Decimal;
use std::path::PathBuf;

#[derive(Debug, ClapArgs)]
#[command(after_help = WHATIF_HELP)]
pub(crate) struct WhatifArgs {
    /// The plan (*.parge)
    pub(crate) plan: PathBuf,
    /// Replace a figure for this run alone; may be given several times
    #[arg(
        long = "set",
        value_name = "NAME=VALUE",
        required_unless_present = "most",
        conflicts_with = "most"
    )]
    pub(crate) sets: Vec<String>,
    /// List the N figures that move the total most, each moved by a share of its value
    #[arg(long, value_name = "N")]
    pub(crate) most: Option<usize>,
    /// The share by which each is moved, down and up; 10% unless told otherwise
    #[arg(long, value_name = "SHARE", requires = "most", conflicts_with = "sets", value_parser = share)]
    pub(crate) by: Option<Decimal>,
    /// Draw what moves the total most as a chart here (*.svg)
    #[arg(
        short,
        long,
        value_name = "FILE.svg",
        requires = "most",
        conflicts_with = "sets"
    )]
    pub(crate) output: Option<PathBuf>,
    /// The form of the result
    #[arg(long, value_enum, default_value_t = WhatifFormat::Text)]
    pub(crate) format: WhatifFormat,
    /// Replace a file that says something else
    #[arg(long)]
    pub(crate) force: bool,
}

/// The form of a result.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhatifFormat {
    /// As tables
    Text,
    /// As JSON
    Json,
}

const WHATIF_HELP: &str = "Names:
  waste.finish-mix.stamp=12%   a cell of a table of the rule pack: table and keys, as
                               `parge rules show` and the sheets name it; a shorter name such
                               as `waste.stamp` where only one row has it;
                               measure.TABLE.KEY for a table of the measuring rule
  prices.sealer=61             the price of one pack; prices.labour is the wage of an hour
  packs.sealer=5gal            what one pack holds
  bid.overhead=14%             a term of the bid; bid.profit=\"markup 20%\" changes its kind
  let.planter_h=3ft            a name of the plan: any expression
  crew=4, crew.lead=2          how many the crew are, or those of one wage class

Values are written as in plans and tables, with their units. Nothing on the disk changes.";

/// A share between nothing and all: `5%`.
fn share(text: &str) -> Result<Decimal, String> {
    let example = || format!("`{text}` is no share: write a percentage such as `5%`");
    let number = text.trim().strip_suffix('%').ok_or_else(example)?;
    let percent: Decimal = number.trim().parse().map_err(|_| example())?;
    if percent > Decimal::ZERO && percent < Decimal::ONE_HUNDRED {
        Ok(percent / Decimal::ONE_HUNDRED)
    } else {
        Err("the share lies between 0% and 100%".to_owned())
    }
}
