//! Every source once, from `sources.toml`: what it is, what kind it is, and whether it was seen.

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Known {
    /// Author, title, year.
    pub what: String,
    /// Standard or textbook, examination or course, trade page, or a house word that is no source.
    pub grade: String,
    /// How it was read.
    pub seen: String,
}

static ALL: LazyLock<BTreeMap<String, Known>> = LazyLock::new(|| {
    let table: toml::Table = include_str!("../../sources.toml").parse().expect("sources.toml is TOML");
    let word = |entry: &toml::Value, key: &str| entry.get(key).and_then(toml::Value::as_str).unwrap_or("").to_string();
    let known = |entry: &toml::Value| Known {
        what: word(entry, "what"),
        grade: word(entry, "grade"),
        seen: word(entry, "seen"),
    };
    table.iter().map(|(key, entry)| (key.clone(), known(entry))).collect()
});

/// All sources by key.
pub fn all() -> &'static BTreeMap<String, Known> {
    &ALL
}

/// What a source is, by its key; the key itself where it is not known, which a test forbids.
pub fn title(key: &str) -> &str {
    match ALL.get_key_value(key) {
        Some((_, known)) => known.what.trim_end_matches('.'),
        None => "an unknown source",
    }
}
