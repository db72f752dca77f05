//! The shipped plans, read from the tree as the program reads them.
#![expect(clippy::disallowed_methods, reason = "tests read the shipped plans")]

use clothwright::chain::decide::decide;
use clothwright::diag::show::{Look, render};
use clothwright::log::samples::samples;
use clothwright::log::{Log, Moment, Options};
use clothwright::outlook::ahead::{Asked, ahead};
use clothwright::outlook::{Outcome, work_up};
use clothwright::plan::{Files, Plan, read};
use std::path::{Path, PathBuf};

/// The root of the tree.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Plans that work, by file name.
pub const WORKING: &[&str] =
    &["tern-bay-tee.toml", "tern-bay-apron.toml", "tern-bay-scarf.toml", "tern-bay-tote.toml", "tern-bay-towel.toml"];

/// A shipped plan's text and its files.
pub fn source(name: &str) -> (String, Files) {
    let path = root().join("plans").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    let mut files = Files::default();
    for entry in std::fs::read_dir(root().join("plans/files")).expect("plans/files") {
        let entry: PathBuf = entry.expect("an entry").path();
        let name = entry.file_name().and_then(|name| name.to_str()).expect("a plain name").to_string();
        files.insert(format!("files/{name}"), std::fs::read(&entry).expect("a file"));
    }
    (text, files)
}

/// A plan from text, without faults.
pub fn plan_of(text: &str, files: &Files) -> Plan {
    let (plan, found) = read(text, files);
    plan.unwrap_or_else(|| panic!("{}", render(&found, text, "plan", Look::Plain)))
}

/// A shipped plan worked up.
pub fn worked(name: &str, trials: usize) -> Outcome {
    let (text, files) = source(name);
    outcome_of(&text, &files, trials)
}

/// A plan's text worked up.
pub fn outcome_of(text: &str, files: &Files, trials: usize) -> Outcome {
    let brief =
        decide(&plan_of(text, files)).unwrap_or_else(|found| panic!("{}", render(&found, text, "plan", Look::Plain)));
    work_up(brief, trials)
}

/// Puts the shipped history of the tee beside its outcome.
pub fn with_history(outcome: &mut Outcome) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let mut log = Log::open(&folder.path().join("a.log"), &Options::default()).expect("a log");
    let csv = std::fs::read_to_string(root().join("plans/tern-bay-history.csv")).expect("the history");
    log.import_csv(&csv, Moment::from_millis(0)).expect("a sound history");
    let samples = samples(&log.list().expect("entries"));
    let asked = Asked { today: samples.last_day.unwrap_or(0), rescues: false };
    outcome.ahead = Some(ahead(&outcome.brief, &samples, asked).unwrap_or_else(|why| panic!("{}", why.why)));
}

/// The plain text of a working plan with one line's value replaced.
pub fn with(text: &str, from: &str, to: &str) -> String {
    assert_eq!(text.matches(from).count(), 1, "`{from}` stands once");
    text.replace(from, to)
}

/// A page's or drawing's text without the pictures in it, whose letters say anything.
pub fn without_pictures(text: &str) -> String {
    let mut parts = text.split("base64,");
    let first = parts.next().unwrap_or_default().to_string();
    parts.fold(first, |text, part| text + part.split_once('"').map_or("", |(_, rest)| rest))
}
