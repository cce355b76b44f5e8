//! Options of real runs. Declarations only.

use std::path::PathBuf;

use super::PaperWord;

/// What a file of readings does not say itself.
#[derive(Debug, Default, clap::Args)]
pub(in crate::commands) struct Noted {
    /// A quantity that was noted once and is the same for all runs, such as `m='150 g'`
    #[arg(long, value_name = "NAME=QUANTITY")]
    pub(in crate::commands) set: Vec<String>,
    /// When the run began in the file's own time, such as `35 s`
    #[arg(long, value_name = "QUANTITY")]
    pub(in crate::commands) start: Option<String>,
}

#[derive(Debug, clap::Args)]
pub(in crate::commands) struct Fit {
    /// A catalogue id, or the path of a YAML file
    pub(in crate::commands) experiment: String,
    /// The readings: a filled form, a spreadsheet, or a logger's file
    #[arg(long, value_name = "FILE")]
    pub(in crate::commands) readings: PathBuf,
    /// Use the runs of these groups only (repeatable); without it, all runs in the file
    #[arg(long, value_name = "NAME")]
    pub(in crate::commands) group: Vec<String>,
    #[command(flatten)]
    pub(in crate::commands) noted: Noted,
    /// The bench file to write; a page about the fit is put beside it as PDF
    #[arg(long, value_name = "FILE")]
    pub(in crate::commands) out: Option<PathBuf>,
    /// Replace an existing bench file
    #[arg(long)]
    pub(in crate::commands) force: bool,
    /// Paper
    #[arg(long, default_value = "a4")]
    pub(in crate::commands) paper: PaperWord,
    /// Print JSON
    #[arg(long)]
    pub(in crate::commands) json: bool,
}
