//! The command line. In: words. Out: options. Declarations only.

mod real;
mod words;

use std::path::PathBuf;

use clap::{Parser, Subcommand};

pub(super) use real::{Fit, Noted};
pub(super) use words::{EditionWord, FlavourWord, FormatWord, PaperWord, SortWord, Versions};

use crate::{copying::CopyLimit, language::Day, set::Part};

/// Worksheets with readings of their own for each student, and keys that match.
#[derive(Debug, Parser)]
#[command(name = "labquire", version, arg_required_else_help = true)]
pub(super) struct Args {
    #[command(subcommand)]
    pub(super) command: Command,
    /// Language of what is printed: of lists, of keys, and of the sheets of students whose row names none
    #[arg(long, global = true, default_value = "en")]
    pub(super) lang: String,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// List the experiments of the catalogue
    #[command(after_help = "Example: labquire list --lang de")]
    List(List),
    /// Show one experiment: kit, hazards, what is drawn, tasks, marks
    #[command(after_help = "Example: labquire show pumped-loop")]
    Show(Show),
    /// Make a class set: worksheets, keys, marking grid, notes, answers form, record
    #[command(after_help = "Example: labquire make pumped-loop --class 9b.csv --seed autumn")]
    Make(Make),
    /// Report how different, how fair and how copy-safe the sheets are
    #[command(after_help = "Example: labquire audit pumped-loop --class 9b.csv")]
    Audit(Audit),
    /// Mark the answers that were typed into a set's form
    #[command(after_help = "Example: labquire mark out/pumped-loop-9b --answers out/pumped-loop-9b/answers.csv")]
    Mark(Mark),
    /// Find out what the school's own bench is like from a real run
    #[command(after_help = "Example: labquire fit pumped-loop --readings run.csv --out our-bench.yaml")]
    Fit(Fit),
    /// Report everything that is wrong with definitions
    #[command(after_help = "Example: labquire check my-experiment.yaml")]
    Check(Check),
    /// Run the bench alone: true states and readings
    #[command(after_help = "Example: labquire simulate pumped-loop --set water_mass='120 g' --format csv")]
    Simulate(Simulate),
    /// Show one sheet and its key as PNG pages
    #[command(after_help = "Example: labquire preview pumped-loop --edition support --out look")]
    Preview(Preview),
    /// Print the JSON Schema of the definition format, for editors
    #[command(after_help = "Example: labquire schema > experiment.schema.json")]
    Schema,
}

#[derive(Debug, clap::Args)]
pub(super) struct List {
    /// Print JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, clap::Args)]
pub(super) struct Show {
    /// A catalogue id, or the path of a YAML file
    pub(super) experiment: String,
    /// Print JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, clap::Args)]
pub(super) struct Make {
    /// A catalogue id, or the path of a YAML file
    pub(super) experiment: String,
    /// The class, a csv or xlsx file; without it, a built-in demo class
    #[arg(long, value_name = "FILE")]
    pub(super) class: Option<PathBuf>,
    /// The seed; the same seed gives the same set
    #[arg(long, value_name = "TEXT")]
    pub(super) seed: Option<String>,
    /// Readings of their own for each student, or so many versions, dealt so that neighbours differ
    #[arg(long, value_name = "each|N", default_value = "each")]
    pub(super) versions: Versions,
    /// The largest share of a sheet's numeric marks that another student's answers may earn on it
    #[arg(long, value_name = "SHARE", default_value = "20%")]
    pub(super) copied: CopyLimit,
    /// Add the class file's new students to this printed set; those recorded stay as they are. With `--only`, print some of it again
    #[arg(long, value_name = "SETDIR", conflicts_with_all = ["seed", "versions", "copied"])]
    pub(super) extend: Option<PathBuf>,
    /// Edition of students whose row names none
    #[arg(long, default_value = "core")]
    pub(super) edition: EditionWord,
    /// Print only these students, by id or code; their data is as in the whole set
    #[arg(long, value_name = "ID|CODE")]
    pub(super) only: Vec<String>,
    /// Paper
    #[arg(long, default_value = "a4")]
    pub(super) paper: PaperWord,
    /// How PDFs are written
    #[arg(long, default_value = "accessible")]
    pub(super) pdf: FlavourWord,
    /// Make one of several parts of the set, on one of several machines; `array` takes which from a job array's environment
    #[arg(long, value_name = "I/N", conflicts_with_all = ["only", "extend"])]
    pub(super) part: Option<Part>,
    /// The output folder
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Replace an existing set
    #[arg(long)]
    pub(super) force: bool,
    /// Print on one side of the paper: no blank pages, the wide margin always left
    #[arg(long)]
    pub(super) single_sided: bool,
    /// Make all sheets of a file equally long with blank pages, so that a copier can staple every so many
    #[arg(long)]
    pub(super) pad: bool,
    /// Order of the marking grid; without it, as the sheets lie
    #[arg(long, value_name = "name|seat|code")]
    pub(super) sort: Option<SortWord>,
    /// The day of the lesson, such as 2026-12-03, printed in the box for the date
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(super) date: Option<Day>,
    /// A folder with the school's own font for text (and one for mathematics, if there is one): ttf, otf or ttc files
    #[arg(long, value_name = "DIR")]
    pub(super) fonts: Option<PathBuf>,
    /// Empty tables for a real run, with a form to type its readings into
    #[arg(long, conflicts_with_all = ["versions", "copied", "extend", "measured", "split"])]
    pub(super) blank: bool,
    /// Readings that were really taken, by group or student: the filled form, a spreadsheet, or a logger's file
    #[arg(long, value_name = "FILE", conflicts_with_all = ["versions", "copied", "extend"])]
    pub(super) measured: Option<PathBuf>,
    #[command(flatten)]
    pub(super) noted: Noted,
    /// A fitted bench file, which `labquire fit` writes
    #[arg(long, value_name = "FILE", conflicts_with = "extend")]
    pub(super) bench: Option<PathBuf>,
    /// Print codes only, no names
    #[arg(long)]
    pub(super) no_names: bool,
    /// One PDF for each student as well
    #[arg(long)]
    pub(super) split: bool,
}

#[derive(Debug, clap::Args)]
pub(super) struct Audit {
    /// A catalogue id, the path of a YAML file, or the folder of a printed set
    #[arg(value_name = "EXPERIMENT|SETDIR")]
    pub(super) subject: String,
    /// The class, a csv or xlsx file; without it, a built-in demo class
    #[arg(long, value_name = "FILE")]
    pub(super) class: Option<PathBuf>,
    /// The seed
    #[arg(long, value_name = "TEXT")]
    pub(super) seed: Option<String>,
    /// Edition of students whose row names none
    #[arg(long, default_value = "core")]
    pub(super) edition: EditionWord,
    /// So many versions in place of readings of their own for each student
    #[arg(long, value_name = "each|N")]
    pub(super) versions: Option<Versions>,
    /// The largest share of a sheet's numeric marks that another's answers may earn on it; 20%, or as the set was made
    #[arg(long, value_name = "SHARE")]
    pub(super) copied: Option<CopyLimit>,
    /// Paper
    #[arg(long, default_value = "a4")]
    pub(super) paper: PaperWord,
    /// The PDF with the pictures
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// Print JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, clap::Args)]
pub(super) struct Mark {
    /// The folder of a printed set
    #[arg(value_name = "SETDIR")]
    pub(super) set: PathBuf,
    /// The form with the answers: csv, xlsx or ods
    #[arg(long, value_name = "FILE")]
    pub(super) answers: PathBuf,
    /// Paper
    #[arg(long, default_value = "a4")]
    pub(super) paper: PaperWord,
    /// Print JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, clap::Args)]
pub(super) struct Preview {
    /// A catalogue id, or the path of a YAML file
    pub(super) experiment: String,
    /// The edition of the sheet
    #[arg(long, default_value = "core")]
    pub(super) edition: EditionWord,
    /// Large print
    #[arg(long)]
    pub(super) large: bool,
    /// The seed; another one gives other readings
    #[arg(long, value_name = "TEXT", default_value = "preview")]
    pub(super) seed: String,
    /// Paper
    #[arg(long, default_value = "a4")]
    pub(super) paper: PaperWord,
    /// Dots per inch, 20 to 600
    #[arg(long, value_name = "N", default_value_t = 90, value_parser = clap::value_parser!(u16).range(20..=600))]
    pub(super) dpi: u16,
    /// A folder with the school's own font for text (and one for mathematics, if there is one): ttf, otf or ttc files
    #[arg(long, value_name = "DIR")]
    pub(super) fonts: Option<PathBuf>,
    /// The output folder
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Replace what an earlier preview wrote there
    #[arg(long)]
    pub(super) force: bool,
}

#[derive(Debug, clap::Args)]
pub(super) struct Check {
    /// Catalogue ids, or paths of YAML files; without any, the whole catalogue
    pub(super) files: Vec<String>,
    /// Print JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, clap::Args)]
pub(super) struct Simulate {
    /// A catalogue id, or the path of a YAML file
    pub(super) experiment: String,
    /// Set an input of the bench or a drawn quantity, such as `water_mass='120 g'`
    #[arg(long, value_name = "NAME=QUANTITY")]
    pub(super) set: Vec<String>,
    /// The seed
    #[arg(long, value_name = "TEXT")]
    pub(super) seed: Option<String>,
    /// A fitted bench file, which `labquire fit` writes
    #[arg(long, value_name = "FILE")]
    pub(super) bench: Option<PathBuf>,
    /// Readings without offset, noise and rounding
    #[arg(long)]
    pub(super) exact: bool,
    /// Form of the output
    #[arg(long, default_value = "json")]
    pub(super) format: FormatWord,
}
