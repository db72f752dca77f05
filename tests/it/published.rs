//! The printed values of `published/` and the second reading of `recomputed.toml`, run against the code; and every source key of the
//! program against `sources.toml`. A printed value is kept as the text that was printed: its tolerance is half a unit in the last
//! digit, a fraction is exact, and a wider one (`within`) needs a `because`. `must_differ` marks printed slips that the code must
//! not reproduce, `memory` values that no page at hand confirmed.
#![expect(clippy::disallowed_methods, reason = "reads the tables from the tree")]

use clothwright::formulas;
use clothwright::formulas::registry::{Entry, Evidence};
use clothwright::units::{AnyUnit, Kind, text};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use toml::{Table, Value};

const FORM: &str = "the source prints the form; a printed example of it was not at hand";
const LOST: &str = "the example's inputs were read, its printed answer was not; worked out in recomputed.toml";
const WORDS: &str = "the source says it in words, without an example";
/// Published formulas that no printed value reaches, and why that is so. The list may only shrink.
const UNCHECKED: &[(&str, &str)] = &[
    ("tension-from-push", FORM),
    ("twist-from-tex-factor", LOST),
    ("surface-angle", LOST),
    ("slip-factor", FORM),
    ("strength-by-twist", FORM),
    ("sett-from-firmness", WORDS),
    ("closer", LOST),
    ("wider", LOST),
    ("cloth-mass-ounces", LOST),
    ("thickness", "the one printed example is a slip, kept as a row that must differ"),
    ("average-yarn-number", "a statute: it gives the rule and no example"),
    ("sleeve-cap-height", FORM),
    ("scye-depth", FORM),
    ("quarter-width", FORM),
    (
        "heat-units",
        "the one printed example is a slip, kept as a row that must differ; the same mean is met by heat-units-maize",
    ),
    ("peak-power", "the course prints speed and torque at that point, not the power"),
    ("flyer-speed", WORDS),
    ("bobbin-lags", WORDS),
    ("bobbin-leads", WORDS),
    ("twist-bobbin-driven", "the manual prints its two terms, not their difference"),
    ("belt-wrap", FORM),
    ("stall-current", WORDS),
    ("belt-cut-length", WORDS),
    ("tint-density", FORM),
    ("dot-area", FORM),
];
/// How many printed values the tables hold at least, slips and values from memory not counted; may only grow.
const LEAST_PRINTED: usize = 240;
/// How many published formulas may be without one; may only fall.
const MOST_UNCHECKED: usize = 25;

struct Row {
    file: String,
    source: String,
    table: Table,
}

impl Row {
    fn text(&self, key: &str) -> Option<&str> {
        self.table.get(key).map(|value| value.as_str().unwrap_or_else(|| panic!("{self}: {key} is no text")))
    }
    fn is(&self, key: &str) -> bool {
        self.table
            .get(key)
            .is_some_and(|value| value.as_bool().unwrap_or_else(|| panic!("{self}: {key} is no yes or no")))
    }
    /// What is counted: printed and seen, from memory, a slip, or worked out by us.
    fn sort(&self) -> Sort {
        match () {
            () if self.text("recomputed").is_some() => Sort::Recomputed,
            () if self.is("must_differ") => Sort::Slip,
            () if self.is("memory") => Sort::Memory,
            () => Sort::Printed,
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Sort {
    Printed,
    Memory,
    Slip,
    Recomputed,
}

impl std::fmt::Display for Row {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let id = self.table.get("id").and_then(Value::as_str).unwrap_or("without an id");
        write!(f, "{} row {id}", self.file)
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn files(under: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(under)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("a folder of the tree") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|found| found == ending) {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn rows() -> Vec<Row> {
    let mut paths = files("published", "toml");
    paths.push(root().join("tests/it/recomputed.toml"));
    let mut rows = Vec::new();
    for path in paths {
        let file = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        let table: Table = read(&path).parse().unwrap_or_else(|error| panic!("{file}: {error}"));
        let of_file = table.get("source").and_then(Value::as_str).unwrap_or("recomputed");
        for row in table["row"].as_array().expect("a list of rows") {
            let table = row.as_table().expect("a row").clone();
            let source = table.get("source").and_then(Value::as_str).unwrap_or(of_file).to_owned();
            rows.push(Row { file: file.clone(), source, table });
        }
    }
    rows
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn unit_of(kind: Kind, name: &str) -> AnyUnit {
    let found = kind.units().iter().find(|unit| unit.name == name);
    *found.unwrap_or_else(|| panic!("{} has no unit {name}", kind.words()))
}

/// An input in SI: a number in the formula's unit, a text with a unit of its own, or another formula's result.
fn given(value: &Value, kind: Kind, unit: &str) -> f64 {
    match value {
        Value::Integer(n) => unit_of(kind, unit).scale.to_si(*n as f64),
        Value::Float(n) => unit_of(kind, unit).scale.to_si(*n),
        Value::String(typed) => text::read(typed, &[kind]).unwrap_or_else(|fault| panic!("{typed}: {fault:?}")).middle,
        Value::Table(inner) => {
            let (si, made) = by_formula(inner);
            assert_eq!(made, kind, "a formula's result of the wrong kind");
            si
        }
        other => panic!("{other}: no input"),
    }
}

/// The result of the formula that a table names with its inputs, in SI, and its kind.
fn by_formula(table: &Table) -> (f64, Kind) {
    let name = table["formula"].as_str().expect("a formula's name");
    let entry = formulas::find(name).unwrap_or_else(|| panic!("no formula {name}"));
    let inputs = table["in"].as_table().expect("inputs");
    let takes = entry.takes();
    for letter in inputs.keys() {
        assert!(takes.iter().any(|arg| arg.name == letter), "{name} takes no {letter}");
    }
    let values: Vec<f64> = takes
        .iter()
        .map(|arg| {
            let value = inputs.get(arg.name).unwrap_or_else(|| panic!("{name} without its {}", arg.name));
            let number = unit_of(arg.kind, arg.unit).scale.from_si(given(value, arg.kind, arg.unit));
            assert!(
                (arg.from..=arg.to).contains(&number),
                "{name}: {} of {number} is outside {}..{}",
                arg.name,
                arg.from,
                arg.to
            );
            number
        })
        .collect();
    assert!(entry.holds(&values), "{name}: not where {}", entry.only());
    let (_, unit, kind) = entry.gives();
    (unit_of(kind, unit).scale.to_si(entry.eval(&values)), kind)
}

/// What the code says to a row, in the row's unit.
fn answer(row: &Row) -> f64 {
    if let Some(typed) = row.text("unit_of") {
        let to = row.text("unit").expect("the unit to convert to");
        let found = Kind::ALL.iter().filter(|kind| kind.units().iter().any(|unit| unit.name == to));
        let read: Vec<(Kind, f64)> =
            found.filter_map(|kind| Some((*kind, text::read(typed, &[*kind]).ok()?.middle))).collect();
        assert_eq!(read.len(), 1, "{typed} in {to}: not one kind of quantity");
        return unit_of(read[0].0, to).scale.from_si(read[0].1);
    }
    let (si, kind) = by_formula(&row.table);
    let own = formulas::find(row.text("formula").unwrap_or("")).map_or("", |entry| entry.gives().1);
    unit_of(kind, row.text("unit").unwrap_or(own)).scale.from_si(si)
}

fn number(value: &Value) -> f64 {
    value.as_float().or(value.as_integer().map(|n| n as f64)).unwrap_or_else(|| panic!("{value}: no number"))
}

/// A printed number and half a unit of its last digit; `6 6/7` is exact.
fn printed(text: &str) -> (f64, f64) {
    if let Some((first, below)) = text.split_once('/') {
        let (whole, above) = first.rsplit_once(' ').unwrap_or(("0", first));
        let [whole, above, below] = [whole, above, below].map(|part| part.parse::<f64>().expect("a fraction"));
        let value = whole + above / below;
        return (value, 1e-9 * value.abs());
    }
    let digits = text.replace(' ', "");
    let after = digits.split_once('.').map_or(0, |(_, after)| after.len());
    let half = (0..after).fold(0.5, |half, _| half / 10.0);
    (digits.parse().expect("a number"), half)
}

#[test]
fn the_code_gives_what_was_printed() {
    let mut counted: BTreeMap<Sort, usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    let mut ids = BTreeSet::new();
    for row in rows() {
        assert!(ids.insert((row.file.clone(), row.text("id").unwrap_or("").to_owned())), "{row}: twice");
        let known = [
            "id",
            "source",
            "formula",
            "in",
            "unit_of",
            "unit",
            "printed",
            "recomputed",
            "within",
            "because",
            "at",
            "memory",
            "must_differ",
        ];
        assert!(row.table.keys().all(|key| known.contains(&key.as_str())), "{row}: an unknown key");
        let text = row.text("printed").or(row.text("recomputed")).unwrap_or_else(|| panic!("{row}: nothing printed"));
        let (expected, half) = printed(text);
        let asks = row.table.contains_key("within") || row.is("must_differ");
        assert_eq!(
            asks,
            row.text("because").is_some(),
            "{row}: a wider tolerance or a slip, and a reason, go together"
        );
        let within = row.table.get("within").map_or(half, number);
        let found = std::panic::catch_unwind(|| answer(&row)).unwrap_or(f64::NAN);
        let near = (found - expected).abs() <= within * (1.0 + 1e-9) + 1e-12 * expected.abs();
        if near == row.is("must_differ") || found.is_nan() {
            wrong.push(format!("{row}: printed {text}, the code gives {found}"));
        }
        *counted.entry(row.sort()).or_default() += 1;
    }
    println!("rows run against the code: {counted:?}");
    assert!(wrong.is_empty(), "{} rows differ\n{}", wrong.len(), wrong.join("\n"));
    assert!(counted[&Sort::Printed] >= LEAST_PRINTED, "{} printed values", counted[&Sort::Printed]);
}

/// The names a row calls, its inputs' formulas included.
fn called(table: &Table, into: &mut BTreeSet<String>) {
    if let Some(name) = table.get("formula").and_then(Value::as_str) {
        into.insert(name.to_owned());
    }
    for value in table.get("in").and_then(Value::as_table).into_iter().flat_map(Table::values) {
        if let Value::Table(inner) = value {
            called(inner, into);
        }
    }
}

#[test]
fn published_formulas_meet_printed_values() {
    let mut reached = BTreeSet::new();
    for row in rows().iter().filter(|row| row.text("printed").is_some() && !row.is("must_differ")) {
        called(&row.table, &mut reached);
    }
    let published = |entry: &&dyn Entry| entry.evidence() == Evidence::Published;
    let missing: Vec<&str> =
        formulas::all().filter(published).map(Entry::name).filter(|name| !reached.contains(*name)).collect();
    println!("{} published formulas without a printed value of their own", missing.len());
    let unexplained: Vec<&&str> =
        missing.iter().filter(|name| UNCHECKED.iter().all(|(known, _)| known != *name)).collect();
    assert!(unexplained.is_empty(), "published, but no printed value and no reason: {unexplained:?}");
    assert!(UNCHECKED.len() <= MOST_UNCHECKED, "the list may only shrink");
    for (name, because) in UNCHECKED {
        assert!(missing.contains(name), "{name} is checked now: take it off the list");
        assert!(because.len() > 10, "{name}: a reason");
    }
}

#[test]
fn every_formula_meets_a_number_worked_out_apart_from_it() {
    let mut reached = BTreeSet::new();
    for row in rows() {
        called(&row.table, &mut reached);
    }
    let bare: Vec<&str> = formulas::all()
        .filter(|entry| !matches!(entry.evidence(), Evidence::Identity | Evidence::Practice))
        .map(Entry::name)
        .filter(|name| !reached.contains(*name))
        .collect();
    assert!(bare.is_empty(), "work these out by hand and add rows to tests/it/recomputed.toml: {bare:?}");
}

/// Source keys as they stand in the program's text: the text after an evidence word, or the key of a source.
fn keys_in_text() -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    for path in files("src", "rs") {
        let text = read(&path);
        for word in ["Published", "Identity", "Derived", "Practice", "Memory", "Source { key:"] {
            for (at, _) in text.match_indices(word) {
                let after = text[at + word.len()..].trim_start_matches(|c: char| c == ',' || c.is_whitespace());
                keys.extend(after.strip_prefix('"').and_then(|key| key.split('"').next()).map(str::to_owned));
            }
        }
    }
    keys
}

#[test]
fn every_source_stands_once_in_the_list_and_no_other() {
    let list: Table = read(&root().join("sources.toml")).parse().expect("sources.toml");
    let mut used = keys_in_text();
    used.extend(formulas::all().map(|entry| entry.source().key.to_owned()));
    used.extend(rows().iter().filter(|row| row.sort() != Sort::Recomputed).map(|row| row.source.clone()));
    let listed: BTreeSet<String> = list.keys().cloned().collect();
    let missing: Vec<&String> = used.difference(&listed).collect();
    let idle: Vec<&String> = listed.difference(&used).collect();
    assert!(missing.is_empty() && idle.is_empty(), "not in sources.toml: {missing:?}\nused nowhere: {idle:?}");
    let grades = ["standard or textbook", "examination or course", "trade page", "house"];
    for (key, entry) in &list {
        let field = |name: &str| entry.get(name).and_then(Value::as_str).unwrap_or_else(|| panic!("{key}: no {name}"));
        assert!(field("what").len() > 10 && field("seen").len() > 3, "{key}: says too little");
        assert!(grades.contains(&field("grade")), "{key}: grade {}", field("grade"));
    }
    println!("{} sources", list.len());
}
