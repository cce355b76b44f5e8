//! An output folder that appears whole or not at all. In: files. Out: the folder, or what stood there before.
//! A run that is killed at any moment must leave the old folder or none, never half of a new one.

use std::{
    fs::{self, File},
    io::{self, BufWriter, Write},
    path::{Component, Path, PathBuf},
};

use super::{
    FolderError,
    staging::{self, Staging},
};

/// A folder being written beside its later place.
#[derive(Debug)]
pub struct Folder {
    /// The place as it was named.
    target: PathBuf,
    /// The place itself, where a link leads to it.
    place: PathBuf,
    force: bool,
    /// The file by which a folder of this kind is known.
    mark: &'static str,
    staging: Staging,
}

impl Folder {
    /// Starts a folder that will stand at `target`; with `force` it may replace one that holds a file named `mark`, which
    /// only this program writes.
    ///
    /// # Errors
    /// A [`FolderError`] where something stands there that may not be replaced, or the disk refuses.
    pub fn stage(target: &Path, force: bool, mark: &'static str) -> Result<Self, FolderError> {
        let unfit = || FolderError::Unfit(target.to_owned());
        target.file_name().ok_or_else(unfit)?;
        let place = match fs::canonicalize(target) {
            Ok(place) => place,
            Err(_) if target.is_symlink() => return Err(unfit()),
            Err(_) => target.to_owned(),
        };
        place.file_name().ok_or_else(unfit)?;
        let parent = staging::parent(&place);
        staging::sweep(parent);
        refuse(target, force, mark)?;
        fs::create_dir_all(parent).map_err(FolderError::disk(parent))?;
        let staging = Staging::beside(&place)?;
        Ok(Self { target: target.to_owned(), place, force, mark, staging })
    }

    /// Writes a file of the folder and makes sure that it is on the disk; a name may lead through folders within.
    ///
    /// # Errors
    /// [`FolderError::Disk`] where the disk refuses, or the name leads out of the folder.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), FolderError> {
        self.fill(name, |file| file.write_all(bytes))
    }

    /// The same piece by piece, for a file that need not be in memory as a whole.
    ///
    /// # Errors
    /// As [`Folder::write`].
    pub fn fill(&self, name: &str, fill: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), FolderError> {
        let path = self.staging.path.join(name);
        let written = || -> io::Result<()> {
            let within = Path::new(name).components().all(|part| matches!(part, Component::Normal(_)));
            if !within || name.is_empty() {
                return Err(io::Error::new(io::ErrorKind::InvalidFilename, "the name leads out of the folder"));
            }
            fs::create_dir_all(staging::parent(&path))?;
            let mut file = BufWriter::new(File::create(&path)?);
            fill(&mut file)?;
            file.into_inner()?.sync_all()
        };
        written().map_err(FolderError::disk(&self.target.join(name)))
    }

    /// Puts the folder in its place, in one step.
    ///
    /// # Errors
    /// A [`FolderError`] where something stands there by now that may not be replaced, or the disk refuses; what stood
    /// there before still does.
    pub fn publish(self) -> Result<(), FolderError> {
        refuse(&self.target, self.force, self.mark)?;
        settle(&self.staging.path);
        let placed = if self.place.exists() {
            exchange(&self.staging, &self.place)
        } else {
            fs::rename(&self.staging.path, &self.place)
        };
        placed.map_err(FolderError::disk(&self.target))?;
        settle(staging::parent(&self.place));
        Ok(())
    }
}

/// Refuses a place where something stands that may not be replaced.
fn refuse(target: &Path, force: bool, mark: &str) -> Result<(), FolderError> {
    let Ok(place) = fs::canonicalize(target) else { return Ok(()) };
    // With the current folder, or one above it, the ground would go from under whoever called.
    if !place.is_dir() || std::env::current_dir().is_ok_and(|here| here.starts_with(&place)) {
        return Err(FolderError::Unfit(target.to_owned()));
    }
    if !force {
        return Err(FolderError::Exists(target.to_owned()));
    }
    let empty = fs::read_dir(&place).is_ok_and(|mut entries| entries.next().is_none());
    if empty || place.join(mark).is_file() { Ok(()) } else { Err(FolderError::Foreign(target.to_owned())) }
}

/// Swaps two folders in one step where the system can, else in two renames.
fn exchange(staging: &Staging, place: &Path) -> io::Result<()> {
    #[cfg(target_os = "linux")]
    {
        use rustix::{
            fs::{CWD, RenameFlags, renameat_with},
            io::Errno,
        };
        match renameat_with(CWD, &staging.path, CWD, place, RenameFlags::EXCHANGE) {
            Ok(()) => return Ok(()),
            Err(Errno::INVAL | Errno::NOSYS | Errno::OPNOTSUPP) => {}
            Err(error) => return Err(error.into()),
        }
    }
    two_renames(staging, place)
}

/// Moves the old folder aside and the new one in; killed in between, the next sweep puts the old one back.
fn two_renames(staging: &Staging, place: &Path) -> io::Result<()> {
    let aside = staging.aside();
    fs::rename(place, &aside)?;
    fs::rename(&staging.path, place).inspect_err(|_| {
        let _ = fs::rename(&aside, place);
    })?;
    // What can't be removed now is swept later.
    let _ = fs::remove_dir_all(aside);
    Ok(())
}

/// Has the names in a folder written to the disk, where the system knows such a thing.
fn settle(folder: &Path) {
    #[cfg(unix)]
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    #[cfg(not(unix))]
    let _ = folder;
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The way that is taken where two folders can't be exchanged, tried here on a system where they can.
    #[test]
    fn two_renames_replace_a_folder_and_leave_nothing() {
        let dir = tempfile::TempDir::new().expect("a temporary folder");
        let place = dir.path().join("set");
        fs::create_dir(&place).expect("a folder");
        fs::write(place.join("set.json"), "old").expect("a file");
        let folder = Folder::stage(&place, true, super::super::RECORD).expect("staged");
        folder.write("set.json", b"new").expect("written");
        two_renames(&folder.staging, &place).expect("replaced");
        assert_eq!(fs::read_to_string(place.join("set.json")).expect("a file"), "new");
        // Once more, with the new folder gone: the old one is put back.
        assert!(two_renames(&folder.staging, &place).is_err());
        assert_eq!(fs::read_to_string(place.join("set.json")).expect("a file"), "new");
        drop(folder);
        assert_eq!(fs::read_dir(dir.path()).expect("a folder").count(), 1);
    }
}
