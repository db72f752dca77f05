//! The manual page, the listing and the first plan, all from the table of keys.
#![expect(clippy::disallowed_methods, reason = "the manual is a file")]

use super::*;
use clothwright::plan::{new, page};

const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/plan.md");

#[test]
fn the_manual_is_what_the_table_says() {
    let is = std::fs::read_to_string(PAGE).unwrap_or_default();
    let same = is == page::page();
    assert!(same, "docs/plan.md is behind the table: cargo test --test it write_the_manual -- --ignored");
}

#[test]
#[ignore = "writes docs/plan.md"]
fn write_the_manual() {
    std::fs::write(PAGE, page::page()).expect("docs can be written");
}

#[test]
fn every_key_is_in_manual_and_listing() {
    let (page, listing) = (page::page(), page::listing());
    let listed: Vec<&str> = listing.as_array().unwrap().iter().map(|row| row["path"].as_str().unwrap()).collect();
    for key in &plan::keys::TABLE.keys {
        assert!(page.contains(key.doc) && listed.contains(&key.path), "{}", key.path);
    }
}

/// Each example of the table is read where it stands, by itself.
#[test]
fn every_example_is_taken() {
    for key in &plan::keys::TABLE.keys {
        let path = key.path.replace("[]", "[0]");
        let base =
            "title = \"x\"\n[[garment.piece]]\n[[loom.stock]]\n[[loom.bought]]\n[[spinner.bought]]\n[[print.ink]]\n";
        let edited = plan::edit::set(base, &path, key.example.trim_matches('"'));
        assert!(edited.is_ok(), "{path}: {edited:?}");
    }
}

fn answers(all: &[(&str, &str)]) -> new::Answers {
    all.iter().map(|(path, typed)| (path.to_string(), typed.to_string())).collect()
}

#[test]
fn a_new_plan_reads_without_a_word_said() {
    for all in [
        &[
            ("garment.kind", "tee"),
            ("fibre.kind", "upland cotton"),
            ("garment.body.start", "women p50"),
            ("title", "First \"tee\""),
        ][..],
        &[
            ("garment.kind", "tee"),
            ("garment.cut", "straight"),
            ("fibre.kind", "flax line"),
            ("garment.body.chest", "38 1/2 in"),
            ("show", "inch"),
        ],
        &[
            ("garment.kind", "towel"),
            ("fibre.kind", "flax tow"),
            ("garment.finished.width", "42 cm"),
            ("garment.finished.length", "75 cm"),
            ("garment.how_many", "4"),
        ],
        &[
            ("garment.kind", "scarf"),
            ("fibre.kind", "fine wool"),
            ("fibre.on_hand.grease_wool", "2 kg"),
            ("garment.finished.width", "30 cm"),
            ("garment.finished.length", "180 cm"),
            ("loom.weaving_width", "50 cm"),
            ("loom.heddle.sett", "4 /cm"),
        ],
        &[
            ("garment.kind", "tote"),
            ("fibre.kind", "brown cotton"),
            ("garment.finished.width", "38 cm"),
            ("garment.finished.length", "42 cm"),
            ("spinner.motor.rated", "18 V"),
            ("spinner.motor.no_load", "7200 rpm"),
            ("spinner.motor.no_load_current", "0.12 A"),
            ("spinner.motor.resistance", "5 ohm"),
            ("spinner.supply.voltage", "16 V"),
            ("spinner.supply.current", "3.5 A"),
            ("print.artwork", "tern.svg"),
            ("print.width", "20 cm"),
        ],
    ] {
        let text = new::write(&answers(all)).unwrap();
        let plan = super::read(&text);
        for (path, _) in all {
            assert!(plan.is_given(path), "{path} is not in\n{text}");
        }
    }
}

/// The lines behind a # are lines that may be used: all at once they read as well.
#[test]
fn the_lines_to_fill_in_are_sound() {
    for kind in ["tee", "apron"] {
        let sized: &[(&str, &str)] = if kind == "tee" {
            &[]
        } else {
            &[("garment.finished.width", "60 cm"), ("garment.finished.length", "80 cm")]
        };
        let all = [&[("garment.kind", kind), ("fibre.kind", "upland cotton")], sized].concat();
        let text = new::write(&answers(&all)).unwrap();
        let used: String = text
            .lines()
            .map(|line| match line.strip_prefix("# ") {
                Some(open)
                    if open
                        .split_once(" = ")
                        .is_some_and(|(name, _)| name.chars().all(|c| c.is_ascii_lowercase() || c == '_')) =>
                {
                    format!("{open}\n")
                }
                _ => format!("{line}\n"),
            })
            .collect();
        assert!(used.lines().filter(|line| !line.starts_with('#')).count() > 40);
        let (plan, found) = plan::read(&used, &super::files());
        assert!(plan.is_some(), "{}\n{used}", diag::render(&found, &used, "plan.toml", Look::Plain));
    }
}

#[test]
fn questions_matter_where_they_should() {
    let asked = |all: &[(&str, &str)]| -> Vec<&str> {
        let answers = answers(all);
        new::QUESTIONS.iter().filter(|q| q.matters(&answers)).map(|q| q.path).collect()
    };
    let towel = asked(&[("garment.kind", "towel"), ("fibre.kind", "flax tow")]);
    assert!(towel.contains(&"garment.finished.width") && towel.contains(&"fibre.on_hand.retted_straw"));
    assert!(!towel.contains(&"garment.body.chest") && !towel.contains(&"spinner.motor.no_load"));
    let fault = new::QUESTIONS.iter().find(|q| q.path == "fibre.kind").unwrap().takes("upland coton").unwrap_err();
    assert_eq!(fault.near.as_deref(), Some("upland cotton"));
    assert!(new::write(&answers(&[("fibre.kind", "silk")])).is_err());
}
