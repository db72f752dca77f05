//! One key changed or taken out, and everything else as it was.

use super::*;
use clothwright::plan::edit::{self, Change};

/// The lines that differ, as `- old` and `+ new`.
fn lines(before: &str, after: &str) -> String {
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let gone = old.iter().filter(|line| !new.contains(line)).map(|line| format!("- {line}\n"));
    let come = new.iter().filter(|line| !old.contains(line)).map(|line| format!("+ {line}\n"));
    gone.chain(come).collect()
}
fn set(path: &str, typed: &str) -> String {
    let edited = edit::set(TERN_BAY, path, typed).unwrap_or_else(|fault| panic!("{path}: {fault:?}"));
    let (plan, found) = plan::read(&edited.text, &files());
    assert!(plan.is_some(), "{}", diag::render(&found, &edited.text, "plan.toml", Look::Plain));
    lines(TERN_BAY, &edited.text)
}

#[test]
fn a_key_that_stands_changes_in_its_place() {
    assert_eq!(set("cloth.firmness", "72 %"), "- firmness = \"70 %\"\n+ firmness = \"72 %\"\n");
    assert_eq!(set("season.temperatures", "my-garden.csv"), "", "the same again changes nothing");
    assert_eq!(
        set("show", "inch"),
        "- show  = \"metric\"                    # or \"inch\"\n+ show  = \"inch\"                    # or \"inch\"\n"
    );
    assert_eq!(set("garment.how_many", "2"), "- how_many = 1\n+ how_many = 2\n");
    assert!(set("garment.body.chest", "100 cm").contains("+ body     = { chest = \"100 cm\", head = \"57 cm\""));
}

#[test]
fn a_key_that_does_not_stand_goes_where_it_belongs() {
    assert_eq!(
        set("garment.ease.hip", "10 cm"),
        "- ease     = { chest = \"14 cm\" }\n+ ease     = { chest = \"14 cm\", hip = \"10 cm\" }\n"
    );
    assert_eq!(set("cloth.width", "59 cm"), "+ width = \"59 cm\"\n");
    assert_eq!(set("loom.frame.height", "72 cm"), "+ frame = { height = \"72 cm\" }\n");
    assert_eq!(set("pace.spinning", "90 m/h"), "+ [pace]\n+ spinning = \"90 m/h\"\n");
    assert_eq!(set("spinner.pulleys.on_hand", "12 mm, 18 mm").matches("on_hand = [\"12 mm\", \"18 mm\"]").count(), 1);
    assert_eq!(
        set("cloth.picks.on_loom", "12 /cm"),
        "- picks    = \"balanced\"\n+ picks    = { on_loom = \"12 /cm\" }\n"
    );
    let started = edit::set("", "yarn.warp.count", "30 tex").unwrap().text;
    assert_eq!(started.trim_start(), "[yarn.warp]\ncount = \"30 tex\"\n");
    let rows = "fibre.kind = \"fine wool\"\ngarment.kind = \"pieces\"\n[[garment.piece]]\nwidth = \"2 cm\" # wide\nlength = \"3 cm\"\n";
    let edited = edit::set(rows, "garment.piece[0].how_many", "4").unwrap();
    assert_eq!(edited.text, format!("{rows}how_many = 4\n"));
    assert_eq!(
        edited.changed,
        [Change { path: "garment.piece[0].how_many".into(), before: None, after: Some("4".into()) }]
    );
    assert!(edit::set(rows, "garment.piece[1].how_many", "4").is_err());
}

#[test]
fn taking_a_key_out_keeps_the_comments() {
    let gone = |path| lines(TERN_BAY, &edit::remove(TERN_BAY, path).unwrap().text);
    assert_eq!(gone("cloth.firmness"), "- firmness = \"70 %\"\n");
    assert_eq!(
        gone("season.temperatures"),
        "- temperatures = \"my-garden.csv\"      # its unit declared in the header\n+ # its unit declared in the header\n"
    );
    assert_eq!(gone("garment.ease.chest"), "- ease     = { chest = \"14 cm\" }\n");
    assert!(gone("garment.body.chest").contains("+ body     = { head = \"57 cm\", neck_base"));
    assert!(gone("garment.body.upper_arm").contains("shoulder_breadth = \"44 cm\" }"));
    assert_eq!(gone("pace.spinning"), "");
    let edited = edit::all(TERN_BAY, &[("cloth.mass", None), ("yarn.warp.count", Some("52 tex"))]).unwrap();
    let said: Vec<&str> = edited.changed.iter().map(|change| change.path.as_str()).collect();
    assert_eq!(said, ["cloth.mass", "yarn.warp.count"]);
}

#[test]
fn what_a_key_does_not_take_is_refused_and_nothing_is_changed() {
    for (path, typed, code) in [
        ("cloth.firmness", "70", "no-unit"),
        ("cloth.firmness", "", "not-a-number"),
        ("cloth.firmnes", "70 %", "unknown-key"),
        ("garment.how_many", "two", "wrong-type"),
        ("garment.kind", "shirt", "unknown-word"),
        ("title", "\"]\n[loom", "control-character"),
    ] {
        let fault = edit::set(TERN_BAY, path, typed).expect_err(path);
        assert_eq!(fault.code, code, "{path} = {typed}: {}", fault.message);
    }
    let fault = edit::set("kind = \"tee\n", "title", "x").expect_err("a broken text");
    assert_eq!((fault.code, fault.help.as_deref()), ("syntax", Some("mend this by hand first: nothing was changed")));
}

#[test]
fn line_ends_stay_as_they_are() {
    let text = "title = \"a\"\r\n\r\n[fibre]\r\nkind = \"fine wool\" # of the flock\r\n";
    assert_eq!(edit::set(text, "title", "b").unwrap().text, text.replace("\"a\"", "\"b\""));
    let added = edit::set(text, "fibre.length", "70 mm").unwrap().text;
    assert_eq!(added, format!("{text}length = \"70 mm\"\r\n"));
}

/// Every comment of a text, in order.
fn comments(text: &str) -> Vec<&str> {
    text.lines().filter_map(|line| line.split_once('#')).map(|(_, comment)| comment.trim()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Any key set to its example, then taken out again: the rest reads as before, and no comment is lost.
    #[test]
    fn an_edit_changes_its_key_alone(at in 0..plan::keys::TABLE.keys.len()) {
        let key = &plan::keys::TABLE.keys[at];
        prop_assume!(!key.path.contains("[]"));
        let typed = key.example.trim_matches('"');
        let with = edit::set(TERN_BAY, key.path, typed).map_err(|fault| TestCaseError::fail(format!("{}: {fault:?}", key.path)))?;
        let without = edit::remove(&with.text, key.path).map_err(|fault| TestCaseError::fail(format!("{fault:?}")))?;
        prop_assert_eq!(comments(&with.text), comments(TERN_BAY));
        prop_assert_eq!(comments(&without.text), comments(TERN_BAY));
        let allowed = |path: &str| path == key.path || path.starts_with(&format!("{}.", key.path)) || key.path.starts_with(&format!("{path}."));
        for change in with.changed.iter().chain(&without.changed) {
            prop_assert!(allowed(&change.path), "{} changed {}", key.path, change.path);
        }
        let stands = plan::read(&without.text, &files()).0.is_some_and(|plan| plan.is_given(key.path));
        prop_assert!(!stands, "{} still stands", key.path);
        let before = plan::read(TERN_BAY, &files()).0;
        if let (Some(before), Some(after)) = (before, plan::read(&with.text, &files()).0) {
            for path in before.differences(&after) {
                prop_assert!(allowed(path), "{} changed {path}", key.path);
            }
        }
    }

    #[test]
    fn any_edit_of_any_text_ends(text in mutated(), at in 0..plan::keys::TABLE.keys.len(), typed in "[ -~½±]{0,20}") {
        let path = plan::keys::TABLE.keys[at].path.replace("[]", "[0]");
        if let Ok(edited) = edit::set(&text, &path, &typed) {
            prop_assert!(edited.changed.len() <= 2 || edited.text != text);
        }
        let _ = edit::remove(&text, &path);
    }
}
