//! The map is true: layers use only those above them, and every folder and check is where the pages say.
#![expect(clippy::disallowed_methods, reason = "the test reads the tree")]

use crate::scene::root;
use std::path::{Path, PathBuf};

/// The layers, top first.
const LAYERS: &[&str] = &[
    "units", "diag", "geom", "nest", "formulas", "trade", "weave", "plan", "garment", "machine", "print", "chain",
    "checks", "measure", "outlook", "draw", "disk", "log", "book", "web", "cli",
];

fn sources(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, out);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            out.push(path);
        }
    }
}

#[test]
fn a_layer_uses_only_those_above_it() {
    let mut wrong = Vec::new();
    for (at, layer) in LAYERS.iter().enumerate() {
        let mut files = Vec::new();
        sources(&root().join("src").join(layer), &mut files);
        for file in files {
            let text = std::fs::read_to_string(&file).expect("a source");
            let code: String =
                text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
            for below in &LAYERS[at + 1..] {
                if code.contains(&format!("crate::{below}::")) || code.contains(&format!("crate::{below};")) {
                    wrong.push(format!("{} uses {below}", file.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_map_names_every_layer_and_nothing_else() {
    let map = std::fs::read_to_string(root().join("ARCHITECTURE.md")).expect("the map");
    let mut named: Vec<&str> = map.lines().filter_map(|line| line.strip_prefix("| `")?.split('`').next()).collect();
    named.retain(|name| !name.is_empty());
    assert_eq!(named, LAYERS);
    let mut folders: Vec<String> = std::fs::read_dir(root().join("src"))
        .expect("src")
        .map(|entry| entry.expect("an entry"))
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    folders.sort();
    let mut expected: Vec<&str> = LAYERS.to_vec();
    expected.sort_unstable();
    assert_eq!(folders, expected);
    let library = std::fs::read_to_string(root().join("src/lib.rs")).expect("lib.rs");
    let order: Vec<&str> =
        library.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    assert_eq!(order, LAYERS, "lib.rs lists the layers in their order");
}

#[test]
fn every_check_is_a_file_of_its_name() {
    let mut files: Vec<String> = std::fs::read_dir(root().join("src/checks"))
        .expect("checks")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .filter(|name| !["mod.rs", "knobs.rs", "mend.rs"].contains(&name.as_str()))
        .collect();
    files.sort();
    let mut codes: Vec<String> =
        clothwright::checks::ALL.iter().map(|check| format!("{}.rs", check.code.replace('-', "_"))).collect();
    codes.sort();
    assert_eq!(files, codes);
}

/// A key of the plan that nothing reads would be a promise not kept. A path is read as it stands, or by its last word where its head is
/// put together (`yarn.warp.` and `yarn.weft.`, the parts of a body).
#[test]
fn every_plan_key_is_read() {
    let mut files = Vec::new();
    sources(&root().join("src"), &mut files);
    files.retain(|file| !file.starts_with(root().join("src/plan/keys")));
    let all: String = files.iter().map(|file| std::fs::read_to_string(file).expect("a source")).collect();
    let unread = |path: &&str| {
        let last = path.rsplit('.').next().unwrap_or(path);
        !all.contains(&format!("\"{path}\""))
            && !all.contains(&format!(".{last}\""))
            && !all.contains(&format!("\"{last}\""))
    };
    let found: Vec<&str> = clothwright::plan::keys::TABLE.keys.iter().map(|key| key.path).filter(unread).collect();
    assert!(found.is_empty(), "{found:?}");
}

/// What the README shows of the program is what it says, line for line as far as it is shown.
#[test]
fn the_readme_shows_what_the_program_says() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("the README");
    let shown: Vec<&str> = readme.split("```text\n$ clothwright ").skip(1).collect();
    assert!(!shown.is_empty());
    for block in shown {
        let (command, lines) = block.split_once('\n').expect("what it says");
        let lines = lines.split_once("```").expect("an end").0;
        let run = std::process::Command::new(env!("CARGO_BIN_EXE_clothwright"))
            .args(command.split(' '))
            .current_dir(root())
            .output()
            .expect("it runs");
        let said = String::from_utf8_lossy(&run.stdout);
        let mut rest = said.lines().map(str::trim_end);
        for line in lines.lines().map(str::trim_end).filter(|line| !line.is_empty()) {
            assert!(rest.any(|said| said == line), "`{command}` does not say `{line}`:\n{said}");
        }
    }
}
