//! A hidden folder for files on their way. In: the place that they are meant for. Out: a path to write to, gone in the end.
//! It must sweep away nothing but what dead runs of this program left.
//!
//! A run holds a lock on `.labquire-XXXXXX.lock` as long as it lives, and the system lets go of it when the run dies in
//! whatever way. Where such a lock can be had, its run is dead, and `.labquire-XXXXXX` beside it is a leftover of ours.

use std::{
    ffi::OsStr,
    fs::{self, File, TryLockError},
    io::{self, Read, Write},
    path::{Path, PathBuf},
};

use super::FolderError;

/// How staging folders and their locks are named.
const PREFIX: &str = ".labquire-";

/// The ending of a lock.
const LOCK: &str = ".lock";

/// How often another name is tried when a sweep took the new lock before it was held.
const TRIES: usize = 100;

/// A staging folder, removed with all that it holds when the value goes.
#[derive(Debug)]
pub(super) struct Staging {
    pub(super) path: PathBuf,
    lock: Option<File>,
}

impl Staging {
    /// A new staging folder beside a place.
    ///
    /// # Errors
    /// [`FolderError::Disk`] where the disk refuses.
    pub(super) fn beside(place: &Path) -> Result<Self, FolderError> {
        let parent = parent(place);
        for _ in 0..TRIES {
            let (lock, lock_path) = tempfile::Builder::new()
                .prefix(PREFIX)
                .suffix(LOCK)
                .tempfile_in(parent)
                .and_then(|file| file.keep().map_err(io::Error::from))
                .map_err(FolderError::disk(parent))?;
            // Where a file system has no locks, no run can find this one dead: it is left alone.
            let _ = lock.lock();
            if !lock_path.exists() {
                continue;
            }
            let staging = Self { path: lock_path.with_extension(""), lock: Some(lock) };
            staging.prepare(place.file_name().unwrap_or_default()).map_err(FolderError::disk(parent))?;
            return Ok(staging);
        }
        Err(FolderError::disk(parent)(io::Error::from(io::ErrorKind::ResourceBusy)))
    }

    fn prepare(&self, name: &OsStr) -> io::Result<()> {
        if let (Some(mut lock), Some(name)) = (self.lock.as_ref(), name.to_str()) {
            lock.write_all(name.as_bytes())?;
        }
        fs::create_dir(&self.path)
    }

    /// Where the folder that is replaced lies for a moment, on systems that can't exchange two folders.
    pub(super) fn aside(&self) -> PathBuf {
        aside(&self.path)
    }
}

impl Drop for Staging {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.path);
        self.lock = None;
        // What could not be removed is left to the next sweep, which knows it by its lock.
        if !self.path.exists() && !self.aside().exists() {
            let _ = fs::remove_file(ending(&self.path, LOCK));
        }
    }
}

/// The folder that a place lies in.
pub(super) fn parent(place: &Path) -> &Path {
    place.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Removes what dead runs left in a folder, and puts back a set that such a run had moved aside.
pub(super) fn sweep(parent: &Path) {
    let Ok(entries) = fs::read_dir(parent) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let ours = name.to_str().is_some_and(|name| name.starts_with(PREFIX) && name.ends_with(LOCK));
        if ours && entry.file_type().is_ok_and(|kind| kind.is_file()) {
            sweep_one(&entry.path());
        }
    }
}

fn sweep_one(lock_path: &Path) {
    let Ok(mut lock) = File::options().read(true).write(true).open(lock_path) else { return };
    match lock.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock | TryLockError::Error(_)) => return,
    }
    let staging = lock_path.with_extension("");
    let aside = aside(&staging);
    if aside.exists() {
        let mut name = String::new();
        let known = lock.read_to_string(&mut name).is_ok() && Path::new(&name).file_name() == Some(OsStr::new(&name));
        let place = lock_path.with_file_name(&name);
        let _ = match (known, place.exists()) {
            (true, false) => fs::rename(&aside, &place),
            (true, true) => fs::remove_dir_all(&aside),
            (false, _) => Ok(()),
        };
    }
    let _ = fs::remove_dir_all(&staging);
    if !staging.exists() && !aside.exists() {
        let _ = fs::remove_file(lock_path);
    }
}

fn aside(staging: &Path) -> PathBuf {
    ending(staging, ".old")
}

/// A path with an ending put behind the whole name.
fn ending(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}
