//! The output folder: whole or not at all, whatever happens.

use std::{
    fs,
    path::Path,
    process::Command,
    time::{Duration, Instant},
};

use labquire::set::{Folder, FolderError};
use tempfile::TempDir;

fn names(path: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(path)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

fn publish(target: &Path, force: bool, text: &str) -> Result<(), FolderError> {
    let folder = Folder::stage(target, force)?;
    folder.write("set.json", text.as_bytes())?;
    folder.publish()
}

#[test]
fn a_folder_appears_whole_and_leaves_nothing_beside_it() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("deep/set.one");
    publish(&target, false, "new").expect("published");
    assert_eq!(names(&target), ["set.json"]);
    assert_eq!(names(target.parent().expect("a parent")), ["set.one"]);
}

#[test]
fn an_existing_folder_is_refused_and_replaced_only_by_force() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    publish(&target, false, "old").expect("published");
    assert!(matches!(publish(&target, false, "new"), Err(FolderError::Exists(_))));
    assert_eq!(fs::read_to_string(target.join("set.json")).expect("a file"), "old");
    publish(&target, true, "new").expect("replaced");
    assert_eq!(fs::read_to_string(target.join("set.json")).expect("a file"), "new");
    assert_eq!(names(dir.path()), ["set"]);
}

#[test]
fn what_is_no_set_of_ours_is_never_replaced() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("holiday");
    fs::create_dir(&target).expect("a folder");
    fs::write(target.join("photo.jpg"), "precious").expect("a file");
    assert!(matches!(publish(&target, true, "new"), Err(FolderError::Foreign(_))));
    assert_eq!(names(&target), ["photo.jpg"]);
    assert!(matches!(Folder::stage(&target.join("photo.jpg"), true), Err(FolderError::Unfit(_))));
    assert!(matches!(Folder::stage(Path::new("/"), true), Err(FolderError::Unfit(_))));
}

#[test]
fn a_failed_run_leaves_the_old_folder() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    publish(&target, false, "old").expect("published");
    let folder = Folder::stage(&target, true).expect("staged");
    folder.write("set.json", b"half").expect("written");
    drop(folder);
    assert_eq!(fs::read_to_string(target.join("set.json")).expect("a file"), "old");
    assert_eq!(names(dir.path()), ["set"]);
}

#[test]
fn what_the_disk_refuses_is_a_message() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = dir.path().join("file");
    fs::write(&file, "text").expect("a file");
    let error = Folder::stage(&file.join("set"), false).expect_err("below a file");
    assert!(error.problem().message.contains("can not be written"), "{error}");
    assert!(error.problem().hint.expect("a hint").contains("--out"));
}

/// `/dev/full` takes no byte, as a full disk does.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_a_message() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    let folder = Folder::stage(&target, false).expect("staged");
    let staging = fs::read_dir(dir.path())
        .expect("a folder")
        .map(|entry| entry.expect("an entry").path())
        .find(|path| path.is_dir())
        .expect("the staging folder");
    std::os::unix::fs::symlink("/dev/full", staging.join("worksheets.pdf")).expect("a link");
    let error = folder.write("worksheets.pdf", &[0; 100_000]).expect_err("no room");
    assert!(error.problem().hint.expect("a hint").contains("make room"), "{error}");
    drop(folder);
    assert!(names(dir.path()).is_empty());
}

/// Set in the process that is killed.
const VICTIM: &str = "LABQUIRE_TEST_VICTIM";

/// A process is killed while it writes: the old folder stands, and the next run sweeps the rest away.
#[test]
fn a_killed_run_leaves_the_old_folder() {
    if let Some(target) = std::env::var_os(VICTIM) {
        let folder = Folder::stage(Path::new(&target), true).expect("staged");
        for number in 0.. {
            folder.write(&format!("page-{number}.pdf"), &[0; 1000]).expect("written");
        }
    }
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    publish(&target, false, "old").expect("published");
    let mut victim = Command::new(std::env::current_exe().expect("this test"))
        .args(["--exact", "folder::a_killed_run_leaves_the_old_folder"])
        .env(VICTIM, &target)
        .spawn()
        .expect("a process");
    let staged = || names(dir.path()).iter().any(|name| name.ends_with(".lock"));
    let start = Instant::now();
    while !staged() && start.elapsed() < Duration::from_secs(60) {
        std::thread::sleep(Duration::from_millis(5));
    }
    assert!(staged(), "the other process never began to write");
    victim.kill().expect("killed");
    victim.wait().expect("ended");
    assert_eq!(names(&target), ["set.json"]);
    assert_eq!(fs::read_to_string(target.join("set.json")).expect("a file"), "old");
    assert!(names(dir.path()).len() > 1, "the dead run left its staging");
    publish(&target, true, "new").expect("published");
    assert_eq!(names(dir.path()), ["set"]);
}
