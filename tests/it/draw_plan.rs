//! Drawings of the shipped plans: each is made in each of its formats and can be read again, and the command line writes them.

use crate::scene::{WORKING, root, with_history, without_pictures, worked};
use clothwright::draw::of_plan::{self, ALL, Format, Options};
use clothwright::draw::title::Paper;
use clothwright::outlook::Outcome;
use std::path::Path;
use std::process::{Command, Output};

/// What a plan may truly lack, by the drawing and a word of the reason.
const LACKING: &[(&str, &str)] = &[
    ("widths", "as wide as its cloth"),
    ("heddle", "not printed"),
    ("bobbins", "log"),
    ("stripes", "log"),
    ("preview", "prints nothing"),
    ("film", "prints nothing"),
    ("placement", "prints nothing"),
    ("teststrip", "prints nothing"),
];

fn may_lack(name: &str, why: &str) -> bool {
    LACKING.iter().any(|(drawing, word)| *drawing == name && why.contains(word))
}

/// Few dots: that pictures are made is asked here, not their beauty.
const COARSE: Options = Options { dpi: 40.0, paper: None, seed: 1 };

fn check(plan: &str, outcome: &Outcome, name: &str, format: Format) {
    let files = match of_plan::export(outcome, name, format, &COARSE) {
        Ok(files) => files,
        Err(why) => {
            assert!(may_lack(name, &why), "{plan} {name} {}: {why}", format.ending());
            return;
        }
    };
    assert!(!files.is_empty(), "{plan} {name}");
    for file in &files {
        let at = format!("{plan} {}", file.file_name);
        assert!(file.file_name.ends_with(format.ending()), "{at}");
        match format {
            Format::Svg => {
                let text = std::str::from_utf8(&file.bytes).expect("UTF-8");
                usvg::roxmltree::Document::parse(text).unwrap_or_else(|fault| panic!("{at}: {fault}"));
                let text = without_pictures(text);
                assert!(!text.contains("NaN") && !text.contains("inf\""), "{at}");
            }
            Format::Pdf => assert!(file.bytes.starts_with(b"%PDF-"), "{at}"),
            Format::Png => assert!(file.bytes.starts_with(b"\x89PNG\r\n"), "{at}"),
            Format::Dxf => assert!(file.bytes.len() > 500, "{at}"),
            Format::Stl => {
                let read = stl_io::read_stl(&mut std::io::Cursor::new(&file.bytes)).expect("an STL");
                read.validate().unwrap_or_else(|fault| panic!("{at}: {fault}"));
            }
            Format::Wif => {
                let reading = clothwright::weave::wif::read(&file.bytes);
                let draft = reading.wif.expect("a WIF").draft().expect("a draft");
                let woven = outcome.brief.woven.draft.repeat().expect("a repeat");
                assert_eq!(draft.repeat().expect("a repeat"), woven, "{at}");
            }
        }
    }
}

#[test]
fn every_drawing_of_every_shipped_plan_in_every_format() {
    for plan in WORKING {
        let mut outcome = worked(plan, 64);
        if *plan == WORKING[0] {
            with_history(&mut outcome);
        }
        for drawing in ALL {
            for format in drawing.formats {
                // the same picture is made for each: one plan is enough for the costly ones
                let costly = matches!(format, Format::Pdf | Format::Png);
                if !costly || *plan == WORKING[0] || drawing.name == "lay" {
                    check(plan, &outcome, drawing.name, *format);
                }
            }
        }
    }
}

#[test]
fn the_bobbins_are_drawn_of_the_log_alone() {
    let mut outcome = worked(WORKING[0], 64);
    for name in ["bobbins", "stripes"] {
        assert!(of_plan::sheets(&outcome, name).is_err_and(|why| why.contains("in the log yet")), "{name}");
    }
    with_history(&mut outcome);
    let text = |name| {
        let files = of_plan::export(&outcome, name, Format::Svg, &COARSE).unwrap_or_else(|why| panic!("{name}: {why}"));
        files.iter().map(|file| String::from_utf8_lossy(&file.bytes).into_owned()).collect::<Vec<_>>()
    };
    let bobbins = text("bobbins");
    assert!(bobbins[0].contains("too thick") && bobbins[0].contains("Warp: bobbins"), "{}", bobbins[0]);
    let stripes = text("stripes");
    assert!(stripes.len() == 2 && stripes[0].contains("the warp") && stripes[1].contains("the weft"));
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let made = || {
        let outcome = worked(WORKING[0], 64);
        let files = |name, format| of_plan::export(&outcome, name, format, &COARSE).expect("drawn");
        (files("lay", Format::Pdf), files("hours", Format::Svg), files("spinner", Format::Stl))
    };
    assert_eq!(made(), made());
}

#[test]
fn names_are_told_apart_and_wrong_ones_answered() {
    let outcome = worked(WORKING[0], 0);
    for (at, drawing) in ALL.iter().enumerate() {
        assert!(ALL[at + 1..].iter().all(|other| other.name != drawing.name), "{}", drawing.name);
        assert!(drawing.says.ends_with('.') && !drawing.title.ends_with('.'), "{}", drawing.name);
    }
    assert!(of_plan::sheets(&outcome, "loam").unwrap_err().contains("did you mean `loom`"));
    let wrong = of_plan::export(&outcome, "hours", Format::Stl, &COARSE).unwrap_err();
    assert!(wrong.contains("not made as stl") && wrong.contains("svg"), "{wrong}");
}

#[test]
fn a_plan_without_machines_says_so() {
    let (text, files) = crate::scene::source("tern-bay-tee.toml");
    let cut = text.split("[spinner]").next().expect("the part before").to_string();
    let outcome = crate::scene::outcome_of(&cut, &files, 0);
    for name in ["spinner", "knob", "brake", "wiring"] {
        assert!(of_plan::sheets(&outcome, name).unwrap_err().contains("spinner.motor"), "{name}");
    }
    for name in ["loom", "shed", "heddle", "parts", "cuts"] {
        assert!(of_plan::sheets(&outcome, name).unwrap_err().contains("loom.weaving_width"), "{name}");
    }
    assert!(of_plan::sheets(&outcome, "lay").is_ok());
}

fn run(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_clothwright")).args(words).output().expect("the program runs")
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).expect("the folder");
    let mut names: Vec<String> =
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn the_command_line_writes_files() {
    let folder = folder();
    let plan = root().join("plans/tern-bay-tee.toml").to_string_lossy().into_owned();
    let out = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    for (drawing, file) in [("lay", "l.pdf"), ("hours", "hours.SVG"), ("spinner", "s.stl"), ("shed", "shed.dxf")] {
        let done = run(&["draw", drawing, &plan, "-o", &out(file)]);
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    }
    assert_eq!(
        names_in(folder.path()),
        ["hours.SVG", "l.pdf", "s-bobbin.stl", "s-motor-pulley.stl", "s-spindle-pulley.stl", "shed.dxf"]
    );
    let listed = String::from_utf8(run(&["draw", &plan]).stdout).expect("UTF-8");
    assert!(ALL.iter().all(|drawing| listed.contains(drawing.name)), "{listed}");
}

#[test]
fn the_command_line_says_what_is_wrong_and_leaves_nothing_behind() {
    let folder = folder();
    let plan = root().join("plans/tern-bay-tee.toml").to_string_lossy().into_owned();
    let out = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let cases = [
        (vec!["draw".into(), "lai".into(), plan.clone(), "-o".into(), out("a.pdf")], "did you mean `lay`"),
        (vec!["draw".into(), "lay".into(), plan.clone(), "-o".into(), out("a.doc")], "`doc` is no format"),
        (vec!["draw".into(), "lay".into(), plan.clone(), "-o".into(), out("a")], "needs an ending"),
        (vec!["draw".into(), "hours".into(), plan.clone(), "-o".into(), out("a.stl")], "not made as stl"),
        (vec!["draw".into(), "lay".into(), plan.clone(), "-o".into(), out("no/such/a.pdf")], "no/such"),
    ];
    for (words, says) in cases {
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let refused = run(&words);
        let why = String::from_utf8_lossy(&refused.stderr).into_owned();
        assert_eq!(refused.status.code(), Some(2), "{words:?}");
        assert!(why.contains(says), "{words:?}: {why}");
    }
    assert_eq!(names_in(folder.path()), Vec::<String>::new());
}

#[test]
fn a_sheet_larger_than_the_paper_is_tiled_and_a_page_is_not() {
    let outcome = worked(WORKING[0], 0);
    let tiled = Options { paper: Some(Paper::A4), ..COARSE };
    let pages = |name, options| of_plan::export(&outcome, name, Format::Pdf, options).expect("drawn").len();
    assert_eq!((pages("hours", &tiled), pages("lay", &tiled)), (1, 1));
    // the comb of a heddle is wider than a page
    assert!(pages("heddle", &tiled) > 1 && pages("heddle", &COARSE) == 1);
}
