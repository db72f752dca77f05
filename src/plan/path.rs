//! Unknown keys: what they were probably meant to be, and where a key of that name belongs.

use super::keys::TABLE;
use crate::diag::{Diagnostic, near, quote};
use std::ops::Range;

/// Other people's words for our keys, as `group.word` or `word` anywhere.
const OTHER_WORDS: &[(&str, &str)] = &[
    ("spinner.draw", "pace"),
    ("spinner.speed", "pace"),
    ("garment.size", "finished"),
    ("garment.count", "how_many"),
    ("garment.measurements", "body"),
    ("loom.heddle.strip", "blade"),
    ("loom.heddle.slot", "gap"),
    ("loom.heddle.hole", "eye"),
    ("loom.heddle.count", "heddles"),
    ("loom.heddle.dents", "sett"),
    ("loom.width", "weaving_width"),
    ("cloth.epi", "sett"),
    ("cloth.ppi", "picks"),
    ("cloth.weight", "mass"),
    ("cloth.gsm", "mass"),
    ("cloth.shrinkage", "shrink"),
    ("fibre.staple", "length"),
    ("fibre.micronaire", "fineness"),
    ("garment.body.bust", "chest"),
    ("garment.body.height", "stature"),
    ("garment.body.shoulder", "shoulder_breadth"),
    ("garment.body.back_length", "back_waist"),
    ("garment.body.biceps", "upper_arm"),
    ("garment.body.hips", "hip"),
    ("number", "how_many"),
    ("quantity", "how_many"),
    ("color", "colour"),
    ("fiber", "fibre"),
    ("units", "show"),
    ("name", "title"),
    ("weight", "mass"),
    ("material", "timber"),
    ("wood", "timber"),
];

/// `group.name`, or the name alone in the plan itself.
pub fn joined(group: &str, name: &str) -> String {
    if group.is_empty() { name.to_string() } else { format!("{group}.{name}") }
}

/// The diagnostic for a key that the table does not have below `group`.
pub fn unknown(group: &str, name: &str, span: Range<usize>) -> Diagnostic {
    let names = TABLE.names_in(group);
    let place = if group.is_empty() { String::from("the plan") } else { format!("[{}]", group.trim_end_matches("[]")) };
    let shown = quote(name);
    let found = Diagnostic::error("unknown-key", format!("{place} has no key `{shown}`")).at(Some(span)).given(shown);
    let full = format!("{}.{name}", group.trim_end_matches("[]"));
    let other = OTHER_WORDS
        .iter()
        .find(|(word, key)| (*word == full || *word == name) && names.contains(key))
        .map(|(_, key)| *key);
    let close = other.or_else(|| near(name, names.iter().copied()));
    let found = found.accepts(listed(&names)).near(close.map(String::from));
    let renamed = OTHER_WORDS.iter().filter_map(|(word, key)| {
        let (group, last) = word.rsplit_once('.')?;
        (last == name).then(|| joined(group, key))
    });
    let same = TABLE.keys.iter().map(|key| key.path).chain(TABLE.groups.keys().copied());
    let same = same.filter(|path| super::last_name(path) == name).map(String::from);
    let elsewhere: Vec<String> = same.chain(renamed).take(4).collect();
    match (close, elsewhere.is_empty()) {
        (None, false) => found
            .help(format!("there is {}", elsewhere.iter().map(|p| format!("`{p}`")).collect::<Vec<_>>().join(", "))),
        _ => found,
    }
}

fn listed(names: &[&str]) -> String {
    match names.split_last() {
        None => String::new(),
        Some((only, [])) => (*only).to_string(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
