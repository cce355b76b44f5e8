//! One build serves running and testing: typst takes minutes, and a feature that only tests ask for would build it twice.

use std::{collections::BTreeSet, process::Command};

/// Packages with their features, as cargo would build them.
fn packages(edges: &str) -> BTreeSet<String> {
    let output = Command::new(env!("CARGO"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["tree", "--offline", "--edges", edges, "--prefix", "none", "--format", "{p} {f}"])
        .output()
        .expect("cargo");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).expect("text");
    text.lines().map(|line| line.trim_end_matches(" (*)").to_owned()).collect()
}

#[test]
fn tests_ask_for_no_other_features_than_the_program() {
    let program = packages("normal,build");
    let tests = packages("normal,build,dev");
    assert!(program.len() > 200, "{} packages", program.len());
    let other: Vec<&String> = program.difference(&tests).collect();
    assert!(other.is_empty(), "built twice, since tests want other features: {other:?}");
}
