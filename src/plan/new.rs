//! A first plan from a few answers: commented, with the questions still open as lines to fill in.
//!
//! Answers are keys of the plan and what a person typed, so that the terminal and the browser ask the same and need no vocabulary
//! of their own.

use super::edit::{accepted, literal};
use super::keys::{GROUPS, Key, TABLE, Takes};
use super::last_name;
use crate::diag::Diagnostic;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// What is asked when a plan is started.
#[derive(Clone, Copy, Debug)]
pub struct Question {
    /// The key the answer is for.
    pub path: &'static str,
    pub ask: &'static str,
    /// Asked only where it matters.
    pub when: When,
    /// May be left open.
    pub optional: bool,
}

/// Where a question matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    Always,
    /// The article is one of these.
    Making(&'static [&'static str]),
    /// The fibre's name ends in, or begins with, this.
    Spinning(&'static str),
    /// This key was answered.
    Given(&'static str),
}

const fn question(path: &'static str, ask: &'static str, when: When, optional: bool) -> Question {
    Question { path, ask, when, optional }
}

const SIZED: &[&str] = &["towel", "scarf", "tote", "apron"];

/// The questions, in the order they are asked.
pub const QUESTIONS: &[Question] = &[
    question("title", "What shall it be called?", When::Always, true),
    question("show", "Metric or inches?", When::Always, true),
    question("garment.kind", "What do you want to make?", When::Always, false),
    question(
        "garment.cut",
        "Curved like a bought tee, or from rectangles with nearly no waste?",
        When::Making(&["tee"]),
        true,
    ),
    question(
        "garment.body.start",
        "For whom? A usual size to start from, like women p50 (50 of a hundred are smaller). Measured girths replace it.",
        When::Making(&["tee"]),
        false,
    ),
    question("garment.body.chest", "Chest girth, if you have measured it?", When::Making(&["tee"]), true),
    question("garment.body.head", "Head girth, if you have measured it?", When::Making(&["tee"]), true),
    question("garment.length", "How long, from nape to hem?", When::Making(&["tee"]), true),
    question("garment.finished.width", "How wide, finished?", When::Making(SIZED), false),
    question("garment.finished.length", "How long, finished?", When::Making(SIZED), false),
    question("garment.how_many", "How many?", When::Always, true),
    question("fibre.kind", "Which fibre?", When::Always, false),
    question("fibre.on_hand.seed_cotton", "How much cotton with its seeds is there?", When::Spinning("cotton"), true),
    question("fibre.on_hand.lint", "How much cotton without seeds is there?", When::Spinning("cotton"), true),
    question("fibre.on_hand.grease_wool", "How much wool as shorn is there?", When::Spinning("wool"), true),
    question("fibre.on_hand.scoured_wool", "How much washed wool is there?", When::Spinning("wool"), true),
    question("fibre.on_hand.retted_straw", "How much retted straw is there?", When::Spinning("flax"), true),
    question("fibre.on_hand.line", "How much hackled flax is there?", When::Spinning("flax"), true),
    question("cloth.mass", "How heavy shall the cloth be? A shirt is about 110 to 200 g/m2.", When::Always, true),
    question("loom.weaving_width", "Is there a loom? How wide does it weave?", When::Always, true),
    question(
        "loom.heddle.sett",
        "Is there a heddle? How many ends per length does it have?",
        When::Given("loom.weaving_width"),
        true,
    ),
    question("spinner.motor.rated", "Is there a motor? Its rated voltage?", When::Always, true),
    question("spinner.motor.no_load", "Its speed running free?", When::Given("spinner.motor.rated"), false),
    question("spinner.motor.no_load_current", "Its current running free?", When::Given("spinner.motor.rated"), false),
    question(
        "spinner.motor.resistance",
        "Resistance of its winding, measured at rest?",
        When::Given("spinner.motor.rated"),
        false,
    ),
    question("spinner.supply.voltage", "Voltage of the bought supply?", When::Given("spinner.motor.rated"), false),
    question("spinner.supply.current", "Its greatest current?", When::Given("spinner.motor.rated"), false),
    question("print.artwork", "Is there a picture to print? The file's name?", When::Always, true),
    question("print.width", "How wide shall it be on the garment?", When::Given("print.artwork"), false),
];

/// Answers by key.
pub type Answers = BTreeMap<String, String>;

impl Question {
    /// Whether it is to be asked after these answers.
    pub fn matters(&self, answers: &Answers) -> bool {
        let is = |path: &str, test: &dyn Fn(&str) -> bool| answers.get(path).is_some_and(|answer| test(answer.trim()));
        match self.when {
            When::Always => true,
            When::Making(kinds) => is("garment.kind", &|kind| kinds.contains(&kind)),
            When::Spinning(fibre) => is("fibre.kind", &|kind| kind.ends_with(fibre) || kind.starts_with(fibre)),
            When::Given(path) => answers.contains_key(path),
        }
    }
    /// The row of the table.
    pub fn key(&self) -> &'static Key {
        TABLE.key(self.path).unwrap_or_else(|| panic!("`{}` is not a key of the plan", self.path))
    }
    /// Whether the key takes an answer.
    ///
    /// # Errors
    /// A diagnostic with what is wrong and what would be taken.
    pub fn takes(&self, typed: &str) -> Result<(), Box<Diagnostic>> {
        accepted(self.key(), literal(self.key(), typed).to_string().trim())
    }
}

/// Lines a new plan holds, open where they are not answered: keys, or groups in braces.
const OFFERED: &[(&str, &[&str])] = &[
    ("fibre", &["kind", "fineness", "length", "on_hand", "losses", "yield"]),
    ("yarn.warp", &["count", "plies", "twist", "direction"]),
    ("yarn.weft", &["same_as"]),
    ("cloth", &["weave", "firmness", "mass", "picks", "relax", "shrink", "width"]),
    ("garment", &["kind", "cut", "how_many", "length", "body", "ease", "neck", "sleeve", "finished", "handles"]),
    ("spinner", &["drive", "motor", "supply", "pulleys", "bobbin", "pace", "stroke"]),
    ("loom", &["weaving_width", "heddle", "depth", "shed", "shuttle", "beam", "ratchet", "timber", "waste"]),
    ("print", &["artwork", "width", "place", "method"]),
    ("season", &["temperatures", "start"]),
    ("hours", &["per_week"]),
];

/// A commented plan from answers.
///
/// # Errors
/// The first answer that its key does not take.
pub fn write(answers: &Answers) -> Result<String, Box<Diagnostic>> {
    for (path, typed) in answers {
        let unknown = || Box::new(Diagnostic::error("unknown-key", format!("the plan has no key `{path}`")));
        let key = TABLE.key(path).ok_or_else(unknown)?;
        accepted(key, literal(key, typed).to_string().trim())?;
    }
    let mut out = String::from(
        "# A plan for clothwright. Quantities stand in quotes with their unit; \"auto\", or leaving a line out, asks the program to\n\
         # decide. Take the # away from a line to use it. All keys are in docs/plan.md; `clothwright check` says what does not fit.\n",
    );
    for name in ["title", "show"] {
        line(&mut out, "", name, answers);
    }
    for (section, names) in OFFERED {
        let doc = GROUPS.iter().find(|(group, _)| group == section).map_or("", |(_, doc)| doc);
        let body = body(section, names, answers);
        if body.is_empty() {
            continue;
        }
        let _ = write!(out, "\n# {doc}\n[{section}]\n{body}");
    }
    Ok(out)
}

fn body(section: &str, names: &[&str], answers: &Answers) -> String {
    let mut out = String::new();
    let extra = answers.keys().filter_map(|path| path.strip_prefix(section)?.strip_prefix('.')?.split('.').next());
    let mut all: Vec<&str> = names.to_vec();
    for name in extra {
        if !all.contains(&name) {
            all.push(name);
        }
    }
    for name in all {
        if fits(section, name, answers) {
            line(&mut out, section, name, answers);
        }
    }
    out
}

/// Leaves out what the article or the fibre has no use for.
fn fits(section: &str, name: &str, answers: &Answers) -> bool {
    let kind = answers.get("garment.kind").map_or("", |kind| kind.trim());
    let tee = ["cut", "length", "body", "ease", "neck", "sleeve"];
    match (section, name) {
        ("garment", "finished") => SIZED.contains(&kind),
        ("garment", "handles") => matches!(kind, "tote" | "apron"),
        ("garment", name) if tee.contains(&name) => kind == "tee",
        _ => true,
    }
}

/// One line: in use where it is answered, else as an example behind a `#`.
fn line(out: &mut String, section: &str, name: &str, answers: &Answers) {
    let path = super::path::joined(section, name);
    let (doc, given, example) = match TABLE.key(&path) {
        Some(key) => (key.doc, value(key, answers), key.example.to_string()),
        None => braces(&path, answers),
    };
    let text = match given {
        Some(given) => format!("{name} = {given}"),
        None => format!("# {name} = {example}"),
    };
    let _ = if text.chars().count() + doc.chars().count() < 110 {
        writeln!(out, "{text:<44}  # {doc}")
    } else {
        writeln!(out, "# {doc}\n{text}")
    };
}

fn value(key: &Key, answers: &Answers) -> Option<String> {
    let typed = answers.get(key.path).map(String::as_str).or_else(|| usual(key.path))?;
    Some(literal(key, typed).to_string().trim().to_string())
}

/// Written into each new plan, so that a person sees the word to change.
fn usual(path: &str) -> Option<&'static str> {
    match path {
        "show" => Some("metric"),
        "yarn.weft.same_as" => Some("warp"),
        "cloth.weave" => Some("plain"),
        "cloth.picks" => Some("balanced"),
        _ => None,
    }
}

/// A group in braces: its sentence, what is answered, and an example with all its usual keys.
fn braces(group: &str, answers: &Answers) -> (&'static str, Option<String>, String) {
    let doc = GROUPS.iter().find(|(path, _)| *path == group).map_or("", |(_, doc)| doc);
    let below = format!("{group}.");
    let keys: Vec<&Key> = TABLE.keys.iter().filter(|key| key.path.starts_with(&below)).collect();
    let wool = answers.get("fibre.kind").is_some_and(|kind| kind.ends_with("wool"));
    let flax = answers.get("fibre.kind").is_some_and(|kind| kind.starts_with("flax"));
    let shown = |key: &&&Key| match last_name(key.path) {
        "seed_cotton" | "ginning_keeps" | "bolls_per_plant" | "boll_mass" | "germination" => !wool && !flax,
        "grease_wool" | "scouring_keeps" | "fleece" => wool,
        "retted_straw" | "breaking_keeps" | "scutching_keeps" | "hackling_keeps" | "straw" => flax,
        name => EXAMPLES.contains(&name),
    };
    let one = |key: &&Key, text: String| format!("{} = {text}", last_name(key.path));
    let given: Vec<String> = keys.iter().filter_map(|key| value(key, answers).map(|text| one(key, text))).collect();
    let example: Vec<String> = keys.iter().filter(shown).map(|key| one(key, key.example.to_string())).collect();
    let wrap = |parts: &[String]| format!("{{ {} }}", parts.join(", "));
    (doc, (!given.is_empty()).then(|| wrap(&given)), wrap(&example))
}

/// Keys that stand in an example in braces.
const EXAMPLES: &[&str] = &[
    "carding_keeps",
    "spinning_keeps",
    "width",
    "length",
    "chest",
    "head",
    "style",
    "rated",
    "no_load",
    "no_load_current",
    "resistance",
    "voltage",
    "current",
    "motor",
    "spindle",
    "centres",
    "belt",
    "core",
    "flange",
    "blade",
    "eye",
    "gap",
    "heddles",
    "fell_to_heddle",
    "heddle_to_back",
    "lift",
    "height",
    "section",
    "diameter",
    "span",
    "teeth",
    "pawls",
    "front",
    "back",
    "piece",
    "below_neck",
];

/// Whether a question's answer is one of some words, for a menu.
pub fn words(question: &Question) -> Vec<&'static str> {
    match &question.key().takes {
        Takes::Choice(words) => words.iter().map(|word| word.word).collect(),
        _ => Vec::new(),
    }
}
