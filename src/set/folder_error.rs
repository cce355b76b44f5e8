//! What can go wrong with an output folder. In: a refusal of ours or of the disk. Out: words and a hint.
//! It must touch no file.

use std::{
    io,
    path::{Path, PathBuf},
};

use crate::report::{Place, Problem};

/// Why a folder could not be written.
#[derive(Debug, thiserror::Error)]
pub enum FolderError {
    /// It exists, and nobody said that it may be replaced.
    #[error("the folder `{}` exists already", .0.display())]
    Exists(PathBuf),
    /// It exists and is no set of ours.
    #[error("`{}` holds nothing of ours and is not replaced", .0.display())]
    Foreign(PathBuf),
    /// The path leads to no folder that could be made.
    #[error("`{}` can not be an output folder", .0.display())]
    Unfit(PathBuf),
    /// The disk refused.
    #[error("`{}` can not be written: {reason}", path.display())]
    Disk {
        /// What was written.
        path: PathBuf,
        /// What the disk said.
        reason: io::Error,
    },
}

impl FolderError {
    /// A refusal of the disk.
    pub(super) fn disk(path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_owned();
        move |reason| Self::Disk { path, reason }
    }

    /// The error as a problem with a hint.
    pub fn problem(&self) -> Problem {
        let problem = Problem::error(self.to_string());
        match self {
            Self::Exists(path) => problem
                .hint("choose another folder with `--out`, or replace this set with `--force`")
                .at(Place::File(path.display().to_string())),
            Self::Foreign(_) => {
                problem.hint("it was not written by labquire: choose another folder with `--out`, or empty it yourself")
            }
            Self::Unfit(_) => problem.hint("name a folder below the current one, such as `out/monday`"),
            Self::Disk { reason, .. } => problem.hint(match reason.kind() {
                io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
                    "make room on the disk; nothing was changed"
                }
                io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                    "you may not write there; choose another folder with `--out`"
                }
                io::ErrorKind::NotADirectory => "a part of this path is a file; choose another folder with `--out`",
                _ => "nothing was changed; choose another folder with `--out`",
            }),
        }
    }
}
