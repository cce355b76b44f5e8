//! A single file that a command writes. In: bytes. Out: the file, whole or not at all.

use std::{
    io::{self, Write},
    path::Path,
};

use super::Stop;
use crate::report::{Place, Problem};

/// Writes a file; `what` names it in messages.
pub(super) fn keep(path: &Path, bytes: &[u8], what: &str) -> Result<(), Stop> {
    let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let written = || -> io::Result<()> {
        std::fs::create_dir_all(parent)?;
        let mut builder = tempfile::Builder::new();
        // Readable by whoever may read other files of this user.
        #[cfg(unix)]
        builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
        let mut file = builder.tempfile_in(parent)?;
        file.write_all(bytes)?;
        file.persist(path)?;
        Ok(())
    };
    written().map_err(|error| {
        let problem = Problem::error(format!("the {what} can not be written: {error}"));
        Stop::from(problem.at(Place::File(path.display().to_string())).hint("name another file with `--out`"))
    })
}
