//! The table of plan keys: one row a key. The reader, the near names, `docs/plan.md`, the listing and the checks on an edit all
//! come from it, so that none of them can know a key the others do not.
//!
//! A row says what a key takes and what happens without it; ranges are what is possible at all, not what is usual: the unusual is
//! for the checks. Knows no formula.

mod bench;
mod cloth;
mod garment;
mod machines;

use crate::units::{AnyUnit, Kind};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// A key of the plan.
#[derive(Clone, Debug)]
pub struct Key {
    /// `spinner.motor.no_load`; `garment.piece[].name` in a table that may stand many times.
    pub path: &'static str,
    pub takes: Takes,
    /// One sentence for the reader.
    pub doc: &'static str,
    /// What happens without it, in words.
    pub absent: &'static str,
    /// As typed, quotes and all.
    pub example: &'static str,
}

/// A word that is taken, and what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    pub word: &'static str,
    pub means: &'static str,
}

/// The range of one kind of quantity, in a unit people use for it.
#[derive(Clone, Copy, Debug)]
pub struct Span {
    pub kind: Kind,
    pub unit: &'static str,
    pub low: f64,
    pub high: f64,
}

impl Span {
    /// The unit the range is written in.
    pub fn unit(&self) -> AnyUnit {
        let units = self.kind.units();
        units.iter().find(|unit| unit.name == self.unit).copied().unwrap_or(units[0])
    }
    /// Both ends in SI, the smaller first.
    pub fn in_si(&self) -> (f64, f64) {
        let (a, b) = (self.unit().scale.to_si(self.low), self.unit().scale.to_si(self.high));
        (a.min(b), a.max(b))
    }
}

/// What a key takes.
#[derive(Clone, Debug)]
pub enum Takes {
    /// A number with its unit, in quotes. Kinds with a unit of no name (numbers, money) also stand bare.
    Quantity { spans: Vec<Span>, auto: bool, doubt: bool, words: Vec<Word> },
    /// Several quantities, in brackets.
    Quantities { span: Span, most: usize },
    /// A whole number.
    Whole { least: u32, most: u32 },
    /// One of some words.
    Choice(Vec<Word>),
    /// `true` or `false`.
    Flag,
    /// Words of the person's own.
    Text { longest: usize },
    /// The name of a file beside the plan.
    File { what: &'static str },
    /// Year, month and day.
    Date,
    /// A weave by name.
    Weave,
    /// The order of colours over the threads.
    Colours,
    /// One colour.
    Colour,
    /// A usual size: `women p50`.
    UsualSize,
}

impl Takes {
    /// `auto` asks the program to decide.
    fn auto(mut self) -> Self {
        if let Takes::Quantity { auto, .. } = &mut self {
            *auto = true;
        }
        self
    }
    /// Chosen, not measured: a doubt makes no sense.
    fn sure(mut self) -> Self {
        if let Takes::Quantity { doubt, .. } = &mut self {
            *doubt = false;
        }
        self
    }
    /// Also these words.
    fn or(mut self, also: &[Word]) -> Self {
        if let Takes::Quantity { words, .. } = &mut self {
            *words = also.to_vec();
        }
        self
    }
    /// The kinds of quantity among what is taken.
    pub fn kinds(&self) -> Vec<Kind> {
        match self {
            Takes::Quantity { spans, .. } => spans.iter().map(|span| span.kind).collect(),
            Takes::Quantities { span, .. } => vec![span.kind],
            _ => Vec::new(),
        }
    }
    /// The words among what is taken.
    pub fn words(&self) -> &[Word] {
        match self {
            Takes::Quantity { words, .. } => words,
            Takes::Choice(words) => words,
            _ => &[],
        }
    }
    /// Whether `auto` is taken.
    pub fn is_auto(&self) -> bool {
        matches!(self, Takes::Quantity { auto: true, .. })
    }
}

fn row(path: &'static str, takes: Takes, doc: &'static str, absent: &'static str, example: &'static str) -> Key {
    Key { path, takes, doc, absent, example }
}
const fn span(kind: Kind, unit: &'static str, low: f64, high: f64) -> Span {
    Span { kind, unit, low, high }
}
fn of(kind: Kind, unit: &'static str, low: f64, high: f64) -> Takes {
    any_of(vec![span(kind, unit, low, high)])
}
fn any_of(spans: Vec<Span>) -> Takes {
    Takes::Quantity { spans, auto: false, doubt: true, words: Vec::new() }
}
fn share(low: f64, high: f64) -> Takes {
    of(Kind::Ratio, "%", low, high)
}
fn mm(low: f64, high: f64) -> Takes {
    of(Kind::Length, "mm", low, high)
}
fn cm(low: f64, high: f64) -> Takes {
    of(Kind::Length, "cm", low, high)
}
const fn whole(least: u32, most: u32) -> Takes {
    Takes::Whole { least, most }
}
fn choice(words: &[Word]) -> Takes {
    Takes::Choice(words.to_vec())
}
const fn word(word: &'static str, means: &'static str) -> Word {
    Word { word, means }
}

/// The rows with their index.
pub struct Table {
    pub keys: Vec<Key>,
    by_path: BTreeMap<&'static str, usize>,
    /// Every path that has keys below it, `garment.piece[]` among them, and its sentence.
    pub groups: BTreeMap<&'static str, &'static str>,
}

/// All keys, in the order of the manual.
pub static TABLE: LazyLock<Table> = LazyLock::new(|| {
    let keys: Vec<Key> = [
        cloth::head(),
        cloth::fibre(),
        cloth::yarn(),
        cloth::cloth(),
        garment::garment(),
        machines::spinner(),
        machines::loom(),
        bench::rest(),
    ]
    .into_iter()
    .flatten()
    .collect();
    let by_path = keys.iter().enumerate().map(|(at, key)| (key.path, at)).collect();
    Table { keys, by_path, groups: GROUPS.iter().copied().collect() }
});

impl Table {
    /// Its place in `keys`.
    pub fn at(&self, path: &str) -> Option<usize> {
        self.by_path.get(path).copied()
    }
    /// The row of a key.
    pub fn key(&self, path: &str) -> Option<&Key> {
        self.at(path).map(|at| &self.keys[at])
    }
    /// The names that may stand directly below a group; `""` is the plan itself.
    pub fn names_in(&self, group: &str) -> Vec<&str> {
        let paths = self.keys.iter().map(|key| key.path).chain(self.groups.keys().copied());
        let names: BTreeSet<&str> = paths.filter_map(|path| name_in(group, path)).collect();
        names.into_iter().collect()
    }
}

/// The first name of `path` below `group`.
fn name_in<'a>(group: &str, path: &'a str) -> Option<&'a str> {
    let rest = if group.is_empty() { path } else { path.strip_prefix(group)?.strip_prefix('.')? };
    rest.split('.').next().map(|name| name.trim_end_matches("[]"))
}

/// Groups of keys in the order of the manual, each with its sentence.
pub const GROUPS: &[(&str, &str)] = &[
    ("fibre", "What is spun, how much of it is there, and what is lost on the way."),
    ("fibre.on_hand", "What is there already, weighed, by the stage it has reached."),
    ("fibre.losses", "What each step keeps of what goes into it."),
    ("fibre.yield", "What the plants or the flock give."),
    ("yarn", "The two yarns of the cloth."),
    ("yarn.warp", "The yarn along the cloth, which is stretched and rubbed while weaving."),
    ("yarn.weft", "The yarn across the cloth."),
    ("cloth", "The weave, how close and how heavy, and what washing takes."),
    ("cloth.picks", "Picks counted on the loom instead of off it."),
    ("cloth.shrink", "What washing and drying takes of the off-loom cloth."),
    ("warp", "Lengths and yarn beyond what the cloth itself takes."),
    ("garment", "What is made, and for which body or to which size."),
    ("garment.body", "The body, measured as the name says; what is missing is taken from a usual size."),
    ("garment.ease", "Room between body and garment, as girth of the garment less girth of the body."),
    ("garment.neck", "The opening for the head, at its finished edge."),
    ("garment.sleeve", "The sleeve of a tee."),
    ("garment.finished", "Size of the finished towel, scarf, tote or apron."),
    ("garment.handles", "Handles of a tote, straps of an apron."),
    ("garment.seam", "How seams are sewn."),
    ("garment.piece[]", "A piece of your own; write one such table for each."),
    ("spinner", "The motor-driven spinner and the hand that feeds it."),
    ("spinner.motor", "From the motor's plate, or from a meter with the motor running free."),
    ("spinner.supply", "The bought, closed supply."),
    ("spinner.driver", "The speed control between supply and motor."),
    ("spinner.pulleys", "Pulleys and belt."),
    ("spinner.bobbin", "The bobbin that fills."),
    ("spinner.flyer", "The flyer that twists."),
    ("spinner.brake", "What holds the bobbin (or the flyer) back."),
    ("spinner.bought[]", "What a bought part of the spinner or of its wiring costs; write one such table for each."),
    ("loom", "The two-beam loom and its heddle."),
    ("loom.heddle", "The rigid heddle, or string heddles on shafts: what it is made of, or the sett it has."),
    ("loom.reed", "A reed of its own, as string heddles need."),
    ("loom.depth", "Distances along the warp."),
    ("loom.shed", "The opening for the shuttle."),
    ("loom.shuttle", "The shuttle's size."),
    ("loom.beam", "The beams that hold the warp."),
    ("loom.ratchet", "What keeps the beam from turning back."),
    ("loom.frame", "The frame that holds the beams apart."),
    ("loom.waste", "Warp that cannot become cloth."),
    (
        "loom.stock[]",
        "A board, dowel or tube that is there or can be bought, for loom and spinner; write one such table for each.",
    ),
    ("loom.bought[]", "What a bought part of the loom costs; write one such table for each."),
    ("print", "The picture on the garment."),
    ("print.place", "Where the picture goes."),
    ("print.mesh", "The screen's mesh."),
    ("print.ink[]", "An ink of its own; write one such table for each, first printed first."),
    ("season", "The growing season."),
    ("pace", "Your own pace, where you have timed it: working, without long pauses."),
    ("hours", "When you work."),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::text;

    #[test]
    fn every_row_is_whole() {
        let mut seen = BTreeSet::new();
        for key in &TABLE.keys {
            assert!(seen.insert(key.path), "{} stands twice", key.path);
            assert!(key.doc.ends_with('.') && !key.absent.is_empty() && !key.example.is_empty(), "{}", key.path);
            let spans = match &key.takes {
                Takes::Quantity { spans, .. } => spans.clone(),
                Takes::Quantities { span, .. } => vec![*span],
                _ => Vec::new(),
            };
            for span in spans {
                assert!(
                    text::find_unit(span.unit, &[span.kind]).is_some() || span.unit.is_empty(),
                    "{}: {}",
                    key.path,
                    span.unit
                );
                assert!(span.in_si().0 < span.in_si().1, "{}", key.path);
            }
            let group = key.path.rsplit_once('.').map_or("", |(group, _)| group);
            assert!(group.is_empty() || TABLE.groups.contains_key(group), "{group} has no sentence");
        }
        for (group, _) in GROUPS {
            let is_used = TABLE.keys.iter().any(|key| key.path.starts_with(&format!("{group}.")));
            assert!(is_used, "{group} has no keys");
        }
    }

    /// The words are those of the tables of the trade, whose rows they choose.
    #[test]
    fn fibres_and_timbers_are_those_of_the_trade() {
        let words = |path| TABLE.key(path).map(|key| key.takes.words().iter().map(|w| w.word).collect::<Vec<_>>());
        let fibres: Vec<&str> = crate::trade::fibres::ALL.iter().map(|fibre| fibre.name).collect();
        let timbers: Vec<&str> = crate::trade::timber::TIMBERS.iter().map(|timber| timber.name).collect();
        assert_eq!(words("fibre.kind"), Some(fibres));
        assert_eq!(words("loom.timber"), Some(timbers));
    }
}
