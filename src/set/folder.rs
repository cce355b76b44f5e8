//! An output folder that appears whole or not at all. In: files. Out: the folder, or what stood there before.
//! A run that is killed at any moment must leave the old folder or none, never half of a new one.

use std::{
    fs::{self, File},
    io::{self, Write},
    path::{Path, PathBuf},
};

use crate::report::{Place, Problem};

/// How staging folders and their locks are named.
const PREFIX: &str = ".labquire-";

/// Why a folder could not be written.
#[derive(Debug, thiserror::Error)]
pub enum FolderError {
    /// It exists, and nobody said that it may be replaced.
    #[error("the folder `{}` exists already", .0.display())]
    Exists(PathBuf),
    /// It exists and is no set of ours.
    #[error("`{}` is not a class set and is not replaced", .0.display())]
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
    /// The error as a problem with a hint.
    pub fn problem(&self) -> Problem {
        let problem = Problem::error(self.to_string());
        match self {
            Self::Exists(path) => problem
                .hint("choose another folder with `--out`, or replace this set with `--force`")
                .at(Place::File(path.display().to_string())),
            Self::Foreign(_) => {
                problem.hint("it holds no `set.json`: choose another folder with `--out`, or empty it yourself")
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

/// A folder being written beside its later place.
#[derive(Debug)]
pub struct Folder {
    target: PathBuf,
    staging: PathBuf,
    /// Held while this run lives, so that later runs know dead stagings from living ones.
    lock: Option<File>,
    published: bool,
}

impl Folder {
    /// Starts a folder that will stand at `target`.
    ///
    /// # Errors
    /// A [`FolderError`] where something stands there that may not be replaced, or the disk refuses.
    pub fn stage(target: &Path, force: bool) -> Result<Self, FolderError> {
        let unfit = || FolderError::Unfit(target.to_owned());
        let name = target.file_name().ok_or_else(unfit)?.to_string_lossy().into_owned();
        let parent = target.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
        refuse(target, force)?;
        let disk = |path: &Path| {
            let path = path.to_owned();
            move |reason| FolderError::Disk { path, reason }
        };
        fs::create_dir_all(parent).map_err(disk(parent))?;
        sweep(parent);
        let staging = tempfile::Builder::new()
            .prefix(&format!("{PREFIX}{name}-"))
            .tempdir_in(parent)
            .map_err(disk(parent))?
            .keep();
        let lock_path = lock_path(&staging);
        let lock = File::create(&lock_path).map_err(disk(&lock_path))?;
        let _ = lock.lock();
        Ok(Self { target: target.to_owned(), staging, lock: Some(lock), published: false })
    }

    /// Writes a file of the folder and makes sure that it is on the disk.
    ///
    /// # Errors
    /// [`FolderError::Disk`] where the disk refuses.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), FolderError> {
        let path = self.staging.join(name);
        let written = || -> io::Result<()> {
            if let Some(parent) = path.parent() {
                fs::create_dir_all(parent)?;
            }
            let mut file = File::create(&path)?;
            file.write_all(bytes)?;
            file.sync_all()
        };
        written().map_err(|reason| FolderError::Disk { path: self.target.join(name), reason })
    }

    /// Puts the folder in its place, in one step.
    ///
    /// # Errors
    /// [`FolderError::Disk`] where the disk refuses; what stood there before still does.
    pub fn publish(mut self) -> Result<(), FolderError> {
        let placed = if self.target.exists() {
            exchange(&self.staging, &self.target)
        } else {
            fs::rename(&self.staging, &self.target)
        };
        placed.map_err(|reason| FolderError::Disk { path: self.target.clone(), reason })?;
        self.published = true;
        Ok(())
    }
}

impl Drop for Folder {
    /// Removes what is left beside the target: an unfinished folder, or the one that was replaced.
    fn drop(&mut self) {
        if self.staging.exists() {
            let _ = fs::remove_dir_all(&self.staging);
        }
        self.lock = None;
        let _ = fs::remove_file(lock_path(&self.staging));
    }
}

fn lock_path(staging: &Path) -> PathBuf {
    beside(staging, ".lock")
}

/// A path with an ending put behind the whole name, dots in it or not.
fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

fn refuse(target: &Path, force: bool) -> Result<(), FolderError> {
    if !target.exists() {
        return Ok(());
    }
    if !target.is_dir() {
        return Err(FolderError::Unfit(target.to_owned()));
    }
    let same = |other: io::Result<PathBuf>| other.ok().zip(fs::canonicalize(target).ok()).is_some_and(|(a, b)| a == b);
    if same(std::env::current_dir()) {
        return Err(FolderError::Unfit(target.to_owned()));
    }
    if !force {
        return Err(FolderError::Exists(target.to_owned()));
    }
    let empty = fs::read_dir(target).is_ok_and(|mut entries| entries.next().is_none());
    if empty || target.join("set.json").is_file() { Ok(()) } else { Err(FolderError::Foreign(target.to_owned())) }
}

/// Swaps two folders in one step where the system can, else in two renames.
fn exchange(staging: &Path, target: &Path) -> io::Result<()> {
    #[cfg(target_os = "linux")]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        match renameat_with(CWD, staging, CWD, target, RenameFlags::EXCHANGE) {
            Ok(()) => return Ok(()),
            Err(rustix::io::Errno::INVAL | rustix::io::Errno::NOSYS) => {}
            Err(error) => return Err(error.into()),
        }
    }
    let aside = beside(staging, ".old");
    fs::rename(target, &aside)?;
    fs::rename(staging, target).inspect_err(|_| {
        let _ = fs::rename(&aside, target);
    })?;
    let _ = fs::remove_dir_all(aside);
    Ok(())
}

/// Removes stagings of runs that were killed: their locks can be had.
fn sweep(parent: &Path) {
    let Ok(entries) = fs::read_dir(parent) else { return };
    for lock in entries.flatten().map(|entry| entry.path()) {
        let named = lock.file_name().is_some_and(|name| {
            let name = name.to_string_lossy();
            name.starts_with(PREFIX) && name.ends_with(".lock")
        });
        if !named {
            continue;
        }
        let Ok(file) = File::open(&lock) else { continue };
        if file.try_lock().is_ok() {
            let staging = lock.to_string_lossy().trim_end_matches(".lock").to_owned();
            let _ = fs::remove_dir_all(staging);
            let _ = fs::remove_file(&lock);
        }
    }
}
