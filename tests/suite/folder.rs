//! The output folder: whole or not at all, whatever happens.

use std::{
    fs,
    path::Path,
    process::{Command, Stdio},
    time::{Duration, Instant},
};

use labquire::set::{Folder, FolderError, RECORD};
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
    let folder = Folder::stage(target, force, RECORD)?;
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
    assert!(matches!(Folder::stage(&target.join("photo.jpg"), true, RECORD), Err(FolderError::Unfit(_))));
    let here = std::env::current_dir().expect("a current folder");
    let above = here.parent().expect("a folder above").to_owned();
    for place in [Path::new("/"), Path::new("."), Path::new(".."), Path::new(""), &here, &above] {
        assert!(matches!(Folder::stage(place, true, RECORD), Err(FolderError::Unfit(_))), "{}", place.display());
    }
}

#[test]
fn a_failed_run_leaves_the_old_folder() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    publish(&target, false, "old").expect("published");
    let folder = Folder::stage(&target, true, RECORD).expect("staged");
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
    let mut refused = vec![file.join("set")];
    if cfg!(target_os = "linux") {
        // Not even the system's keeper makes a folder there.
        refused.push("/proc/labquire-set".into());
        refused.push("/proc/labquire/set".into());
    }
    for target in refused {
        let error = Folder::stage(&target, false, RECORD).expect_err("no folder can be made there");
        assert!(error.problem().message.contains("can not be written"), "{error}");
        assert!(error.problem().hint.expect("a hint").contains("--out"));
    }
}

/// `/dev/full` takes no byte, as a full disk does.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_a_message() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    let folder = Folder::stage(&target, false, RECORD).expect("staged");
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

/// A process that makes one set after the other is killed at many moments, amid writing, exchanging and sweeping:
/// every time a whole set stands, and the next run sweeps the rest away.
#[test]
fn a_killed_run_leaves_a_whole_folder() {
    if let Some(target) = std::env::var_os(VICTIM) {
        for round in 0_u32.. {
            set_of(Path::new(&target), &round.to_string()).expect("published");
        }
    }
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    set_of(&target, "old").expect("published");
    let mut left_behind = 0;
    for moment in 0..25 {
        let before = fs::read_to_string(target.join("set.json")).expect("a file");
        let mut victim = Command::new(std::env::current_exe().expect("this test"))
            .args(["--exact", "folder::a_killed_run_leaves_a_whole_folder"])
            .env(VICTIM, &target)
            .stdout(Stdio::null())
            .spawn()
            .expect("a process");
        let start = Instant::now();
        while fs::read_to_string(target.join("set.json")).is_ok_and(|text| text == before) {
            assert!(start.elapsed() < Duration::from_secs(60), "the other process never made a set");
            std::thread::sleep(Duration::from_millis(1));
        }
        std::thread::sleep(Duration::from_micros(moment * 397));
        victim.kill().expect("killed");
        victim.wait().expect("ended");
        assert_eq!(names(&target), ["keys.pdf", "set.json", "worksheets.pdf"], "moment {moment}");
        let text = fs::read_to_string(target.join("set.json")).expect("a file");
        for page in ["keys.pdf", "worksheets.pdf"] {
            assert_eq!(fs::read_to_string(target.join(page)).expect("a file"), text, "moment {moment}: {page}");
        }
        left_behind += names(dir.path()).len() - 1;
        set_of(&target, "old").expect("published");
        assert_eq!(names(dir.path()), ["set"], "moment {moment}");
    }
    assert!(left_behind > 0, "no kill came while something lay beside the set");
}

/// Replaces a set by one whose files all hold the same text.
fn set_of(target: &Path, text: &str) -> Result<(), FolderError> {
    let folder = Folder::stage(target, true, RECORD)?;
    for name in ["worksheets.pdf", "keys.pdf", "set.json"] {
        folder.write(name, text.as_bytes())?;
    }
    folder.publish()
}

#[test]
fn runs_side_by_side_do_not_sweep_each_other() {
    let dir = TempDir::new().expect("a temporary folder");
    std::thread::scope(|scope| {
        for run in 0..4 {
            let target = dir.path().join(format!("set-{run}"));
            scope.spawn(move || {
                for round in 0..60 {
                    let done = set_of(&target, &round.to_string());
                    done.unwrap_or_else(|error| panic!("run {run}, round {round}: {error:?}"));
                }
            });
        }
    });
    assert_eq!(names(dir.path()), ["set-0", "set-1", "set-2", "set-3"]);
}

#[test]
fn of_two_runs_for_one_place_the_later_is_refused() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    let [first, second] = [(); 2].map(|()| Folder::stage(&target, false, RECORD).expect("staged"));
    first.write("set.json", b"first").expect("written");
    second.write("set.json", b"second").expect("written");
    first.publish().expect("published");
    assert!(matches!(second.publish(), Err(FolderError::Exists(_))));
    assert_eq!(fs::read_to_string(target.join("set.json")).expect("a file"), "first");
    assert_eq!(names(dir.path()), ["set"]);
}

#[test]
fn no_file_is_written_outside_the_folder() {
    let dir = TempDir::new().expect("a temporary folder");
    let folder = Folder::stage(&dir.path().join("set"), false, RECORD).expect("staged");
    let outside = dir.path().join("outside");
    for name in ["../outside", "students/../../outside", outside.to_str().expect("a name"), ""] {
        let error = folder.write(name, b"text").expect_err(name);
        assert!(matches!(error, FolderError::Disk { .. }), "{name}: {error}");
    }
    folder.write("students/K7Q2.pdf", b"text").expect("a folder within is fine");
    assert!(!outside.exists());
}

#[cfg(unix)]
#[test]
fn behind_a_link_the_folder_itself_is_replaced() {
    let dir = TempDir::new().expect("a temporary folder");
    let (real, link) = (dir.path().join("disk/set"), dir.path().join("link"));
    set_of(&real, "old").expect("published");
    std::os::unix::fs::symlink(&real, &link).expect("a link");
    set_of(&link, "new").expect("replaced");
    assert!(link.is_symlink());
    assert_eq!(fs::read_to_string(real.join("set.json")).expect("a file"), "new");
    assert_eq!(names(dir.path()), ["disk", "link"]);
    assert_eq!(names(&dir.path().join("disk")), ["set"]);
    fs::remove_dir_all(&real).expect("removed");
    assert!(matches!(Folder::stage(&link, true, RECORD), Err(FolderError::Unfit(_))), "a link that leads nowhere");
}

#[cfg(unix)]
#[test]
fn a_set_is_as_open_to_others_as_any_new_folder() {
    use std::os::unix::fs::PermissionsExt;
    let dir = TempDir::new().expect("a temporary folder");
    let (target, plain) = (dir.path().join("set"), dir.path().join("plain"));
    set_of(&target, "new").expect("published");
    fs::create_dir(&plain).expect("a folder");
    let mode = |path: &Path| fs::metadata(path).expect("a folder").permissions().mode();
    assert_eq!(mode(&target), mode(&plain));
}

/// What a run killed between the two renames of a system without an exchange leaves: the old set lies aside.
#[test]
fn an_old_set_left_aside_is_put_back() {
    let dir = TempDir::new().expect("a temporary folder");
    let target = dir.path().join("set");
    for name in [".labquire-abc", ".labquire-abc.old"] {
        fs::create_dir(dir.path().join(name)).expect("a folder");
    }
    fs::write(dir.path().join(".labquire-abc.old/set.json"), "old").expect("a file");
    fs::write(dir.path().join(".labquire-abc.lock"), "set").expect("a file");
    set_of(&dir.path().join("other"), "new").expect("published");
    assert_eq!(fs::read_to_string(target.join("set.json")).expect("a file"), "old");
    assert_eq!(names(dir.path()), ["other", "set"]);
}

#[test]
fn what_is_not_ours_is_never_swept() {
    let dir = TempDir::new().expect("a temporary folder");
    fs::create_dir(dir.path().join(".labquire-mine")).expect("a folder");
    fs::create_dir(dir.path().join("plans")).expect("a folder");
    fs::write(dir.path().join("plans.lock"), "").expect("a file");
    set_of(&dir.path().join("set"), "new").expect("published");
    assert_eq!(names(dir.path()), [".labquire-mine", "plans", "plans.lock", "set"]);
}
