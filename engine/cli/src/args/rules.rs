//! The arguments of `parge rules`.

use clap::{Args as ClapArgs, Subcommand};
use std::path::PathBuf;

#[derive(Debug, ClapArgs)]
pub(crate) struct RulesArgs {
    #[command(subcommand)]
    pub(crate) command: RulesCommand,
}

#[derive(Debug, Subcommand)]
pub(crate) enum RulesCommand {
    /// List the rule packs
    List,
    /// Show what is in force in a pack, and where it comes from
    Show(ShowArgs),
    /// Read a pack and the packs under it, and report every problem
    Check(PackArgs),
    /// Make a company pack: a folder that extends another pack and changes nothing yet
    New(NewPackArgs),
    /// Tell what one pack has otherwise than another, and what that does to a plan
    Diff(PackDiffArgs),
    /// Run the tests of a pack: what its files `tests/*.toml` expect
    Test(PackArgs),
    /// Write a reference page of a pack: its rules, helpers and tables
    Doc(DocArgs),
    /// Write the rule packs into a folder, to be read and edited
    Export(ExportArgs),
}

#[derive(Debug, ClapArgs)]
pub(crate) struct PackArgs {
    /// The pack: a name of the program, a folder, or `REV:FOLDER` of a git repository
    pub(crate) pack: String,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct ShowArgs {
    /// The pack: a name of the program, a folder, or `REV:FOLDER` of a git repository
    pub(crate) pack: String,
    /// A table, rule or helper to show whole
    #[arg(value_name = "TABLE or RULE")]
    pub(crate) what: Option<String>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct NewPackArgs {
    /// The folder to make; it must not be there yet
    pub(crate) folder: PathBuf,
    /// The pack to start from: a name of the program, or a folder
    #[arg(long, value_name = "PACK", default_value = "vertical-concrete")]
    pub(crate) extends: String,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct PackDiffArgs {
    /// The pack before: a name of the program, a folder, or `REV:FOLDER` of a git repository
    pub(crate) old: String,
    /// The pack after
    pub(crate) new: String,
    /// Estimate this plan under the one and under the other, whatever pack it asks for
    #[arg(long)]
    pub(crate) plan: Option<PathBuf>,
    /// Write what differs as JSON here; `-` writes it to the terminal in place of the tables
    #[arg(long, value_name = "FILE|-")]
    pub(crate) json: Option<PathBuf>,
    /// Replace a file even if the program did not write it
    #[arg(long)]
    pub(crate) force: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct DocArgs {
    /// The pack: a name of the program, a folder, or `REV:FOLDER` of a git repository
    pub(crate) pack: String,
    /// The file to write, in Markdown; without it the page is printed
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Replace a file even if it was changed since the program wrote it
    #[arg(long)]
    pub(crate) force: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct ExportArgs {
    /// The folder to put the packs into
    pub(crate) dir: PathBuf,
}
