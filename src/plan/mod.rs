//! The plan file: text and files in, a typed plan and diagnostics out; edits that keep comments.
//!
//! All of it hangs on the table in [`keys`]: [`read()`] walks the text by it, [`edit`] changes one key by it, [`new`] starts a plan
//! and [`page`] prints the manual from it. Knows what may be typed, not what follows from it.

pub mod edit;
pub mod keys;
pub mod new;
pub mod page;

mod path;
mod read;
mod rules;
mod syntax;
mod value;

pub use read::read;

use crate::trade::body::Group;
use crate::units::show::{self, Style};
use crate::units::text::{Reading, Stated, Strand};
use crate::units::{Dimension, Kind, Length};
use keys::TABLE;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;
use value::{Entry, Value};

/// Longest plan text, in bytes.
pub const LONGEST: usize = 1 << 20;

/// The files a plan may name, by the name it uses.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Files(BTreeMap<String, Arc<[u8]>>);

impl Files {
    /// Adds or replaces one.
    pub fn insert(&mut self, name: impl Into<String>, bytes: impl Into<Vec<u8>>) {
        self.0.insert(name.into(), Arc::from(bytes.into()));
    }
    /// Its bytes.
    pub fn get(&self, name: &str) -> Option<&[u8]> {
        self.0.get(name).map(|bytes| &**bytes)
    }
    /// The names, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }
}

/// The values of one table: the plan itself, or one of many alike.
#[derive(Clone, Debug, Default)]
struct Values(BTreeMap<usize, Entry>);

impl Values {
    fn at(&self, path: &str) -> Option<&Entry> {
        let Some(at) = TABLE.at(path) else { panic!("`{path}` is not a key of the plan") };
        self.0.get(&at)
    }
    fn reading(&self, path: &str) -> Option<&Reading> {
        match &self.at(path)?.value {
            Value::Quantity(reading) => Some(reading),
            _ => None,
        }
    }
    fn quantity<D: Dimension>(&self, path: &str) -> Option<Stated<D>> {
        let reading = self.reading(path);
        let takes = TABLE.key(path).is_some_and(|key| key.takes.kinds().contains(&D::KIND));
        assert!(takes, "`{path}` does not take {}", D::KIND.words());
        reading?.stated()
    }
    fn text(&self, path: &str) -> Option<&str> {
        match &self.at(path)?.value {
            Value::Text(text) => Some(text),
            Value::Word(word) => Some(word),
            _ => None,
        }
    }
    fn whole(&self, path: &str) -> Option<u32> {
        match &self.at(path)?.value {
            Value::Whole(number) => Some(*number),
            _ => None,
        }
    }
    fn flag(&self, path: &str) -> Option<bool> {
        match &self.at(path)?.value {
            Value::Flag(flag) => Some(*flag),
            _ => None,
        }
    }
    fn choice(&self, path: &str) -> Option<&'static str> {
        match &self.at(path)?.value {
            Value::Word(word) => Some(word),
            _ => None,
        }
    }
    fn span(&self, path: &str) -> Option<Range<usize>> {
        self.at(path).map(|entry| entry.span.clone())
    }
}

/// A piece of the person's own, from a `[[garment.piece]]` table.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceWish {
    pub name: String,
    pub width: Option<Stated<Length>>,
    pub length: Option<Stated<Length>>,
    /// Cut for one article.
    pub how_many: u32,
    /// Half of them are cut turned over.
    pub pairs: bool,
    /// Name of the file with its outline.
    pub outline: Option<String>,
    pub allowance: Option<Stated<Length>>,
    /// Where it stands in the plan.
    pub span: Range<usize>,
}

/// A board, dowel or tube, from a `[[loom.stock]]` table.
#[derive(Clone, Debug, PartialEq)]
pub struct StockWish {
    pub name: Option<String>,
    /// `board`, `dowel` or `tube`.
    pub section: &'static str,
    pub width: Option<Stated<Length>>,
    pub thickness: Option<Stated<Length>>,
    pub length: Option<Stated<Length>>,
    /// None: as many as needed.
    pub how_many: Option<u32>,
    pub price: Option<f64>,
    /// Where it stands in the plan.
    pub span: Range<usize>,
}

/// What a bought part costs, from a `[[loom.bought]]` or `[[spinner.bought]]` table.
#[derive(Clone, Debug, PartialEq)]
pub struct BoughtWish {
    /// `loom` or `spinner`.
    pub machine: &'static str,
    /// Its mark on the drawing.
    pub mark: Option<String>,
    /// Of one.
    pub price: Option<f64>,
    /// Where it stands in the plan.
    pub span: Range<usize>,
}

/// An ink, from a `[[print.ink]]` table.
#[derive(Clone, Debug, PartialEq)]
pub struct InkWish {
    pub name: Option<String>,
    /// sRGB.
    pub colour: [u8; 3],
    pub opaque: bool,
    /// Where it stands in the plan.
    pub span: Range<usize>,
}

/// A plan as read: what the person asked for, typed, with its place in the text. No value in it is decided.
///
/// The getters take paths of the table in [`keys`] and panic on any other: such a path is a slip in this program.
#[derive(Clone, Debug)]
pub struct Plan {
    values: Values,
    pieces: Vec<PieceWish>,
    stock: Vec<StockWish>,
    bought: Vec<BoughtWish>,
    inks: Vec<InkWish>,
    files: Files,
}

impl Plan {
    /// The quantity at `path`; none when it is absent, `auto`, a word, or of another of the kinds the key takes. For a yarn
    /// count see also [`Plan::strand`]: it is the number as typed, which in `20/2 Ne` is the single's.
    pub fn quantity<D: Dimension>(&self, path: &str) -> Option<Stated<D>> {
        self.values.quantity(path)
    }
    /// Which strand a count counts, and the plies it names.
    pub fn strand(&self, path: &str) -> Option<(Strand, Option<u32>)> {
        self.values.reading(path).map(|reading| (reading.strand, reading.plies))
    }
    /// The word at `path`, of those the key takes.
    pub fn choice(&self, path: &str) -> Option<&'static str> {
        self.values.choice(path)
    }
    /// The person's own words at `path`: a title, a file's name, a weave, an order of colours.
    pub fn text(&self, path: &str) -> Option<&str> {
        self.values.text(path)
    }
    /// The whole number at `path`.
    pub fn whole(&self, path: &str) -> Option<u32> {
        self.values.whole(path)
    }
    /// The flag at `path`.
    pub fn flag(&self, path: &str) -> Option<bool> {
        self.values.flag(path)
    }
    /// The day at `path`.
    pub fn date(&self, path: &str) -> Option<jiff::civil::Date> {
        match &self.values.at(path)?.value {
            Value::Date(date) => Some(*date),
            _ => None,
        }
    }
    /// The quantities at `path`, empty when absent.
    pub fn list(&self, path: &str) -> &[Reading] {
        match self.values.at(path).map(|entry| &entry.value) {
            Some(Value::Quantities(readings)) => readings,
            _ => &[],
        }
    }
    /// Whether the program is to decide: `auto`, or left out where `auto` is taken.
    pub fn is_auto(&self, path: &str) -> bool {
        match self.values.at(path) {
            Some(entry) => entry.value == Value::Auto,
            None => TABLE.key(path).is_some_and(|key| key.takes.is_auto()),
        }
    }
    /// Whether the key stands in the plan, be it as `auto`.
    pub fn is_given(&self, path: &str) -> bool {
        self.values.at(path).is_some()
    }
    /// What the person typed at `path`, without quotes.
    pub fn typed(&self, path: &str) -> Option<&str> {
        self.values.at(path).map(|entry| entry.typed.as_str())
    }
    /// The bytes of the value at `path` in the plan's text.
    pub fn span(&self, path: &str) -> Option<Range<usize>> {
        self.values.span(path)
    }
    /// Pieces of the person's own.
    pub fn pieces(&self) -> &[PieceWish] {
        &self.pieces
    }
    /// Boards, dowels and tubes to be had.
    pub fn stock(&self) -> &[StockWish] {
        &self.stock
    }
    /// Prices of bought parts.
    pub fn bought(&self) -> &[BoughtWish] {
        &self.bought
    }
    /// Inks, first printed first.
    pub fn inks(&self) -> &[InkWish] {
        &self.inks
    }
    /// The bytes of a file the plan names.
    pub fn file(&self, name: &str) -> Option<&[u8]> {
        self.files.get(name)
    }
    /// Its title, empty when it has none.
    pub fn title(&self) -> &str {
        self.text("title").unwrap_or("")
    }
    /// The units the outcome is shown in.
    pub fn style(&self) -> Style {
        if self.choice("show") == Some("inch") { Style::Inch } else { Style::Metric }
    }
    /// The same plan with other words at some paths, read as if they stood in the text; none where one is not sound there.
    pub fn with(&self, changes: &[(&str, &str)]) -> Option<Plan> {
        let mut plan = self.clone();
        for (path, typed) in changes {
            let at = TABLE.at(path)?;
            let source = toml::Value::String((*typed).to_string()).to_string();
            let text = format!("k = {source}");
            let tree = toml::de::DeTable::parse(&text).ok()?;
            let (_, value) = tree.get_ref().iter().next()?;
            plan.values.0.insert(at, value::read(&TABLE.keys[at], value, &text).ok()?);
        }
        Some(plan)
    }
    /// The usual size the body starts from: whose table, and how many of a hundred are smaller.
    pub fn usual_size(&self) -> Option<(Group, f64)> {
        value::usual_size(self.text("garment.body.start")?)
    }
    /// A quantity as this person would type it at `path`: in the unit used there before, else the one of the manual's example.
    /// Rounded to four digits, which no maker can tell from the number itself.
    pub fn phrase(&self, path: &str, kind: Kind, si: f64) -> String {
        let example = TABLE.key(path).and_then(|key| value::example_unit(key, kind));
        let used = self.values.reading(path).filter(|reading| reading.kind == kind).map(|reading| reading.unit);
        let Some(unit) = used.or(example).or_else(|| kind.units().first().copied()) else { return String::new() };
        let number = show::rounded(unit.scale.from_si(si), 4).replace('\u{202f}', "").replace('−', "-");
        if unit.name.is_empty() { number } else { format!("{number} {}", unit.name) }
    }
    /// Every key the plan has with what was typed, by section, in the order of the manual.
    pub fn sections(&self) -> Vec<(&'static str, Vec<(&'static str, &str)>)> {
        let mut out: Vec<(&str, Vec<(&str, &str)>)> = Vec::new();
        for (at, entry) in &self.values.0 {
            let path = TABLE.keys[*at].path;
            let section = path.split_once('.').map_or("", |(section, _)| section);
            match out.last_mut() {
                Some((last, keys)) if *last == section => keys.push((path, &entry.typed)),
                _ => out.push((section, vec![(path, &entry.typed)])),
            }
        }
        out
    }
    /// Whether both ask for the same, whatever their comments and order.
    pub fn asks_the_same(&self, other: &Plan) -> bool {
        self.differences(other).is_empty()
    }
    /// The keys and tables in which two plans differ.
    pub fn differences(&self, other: &Plan) -> Vec<&'static str> {
        let same = |at: usize| {
            let (a, b) = (self.values.0.get(&at), other.values.0.get(&at));
            a.map(|entry| &entry.value) == b.map(|entry| &entry.value)
        };
        let mut out: Vec<&str> = (0..TABLE.keys.len()).filter(|at| !same(*at)).map(|at| TABLE.keys[at].path).collect();
        let unplaced = |plan: &Plan| {
            let mut plan = plan.clone();
            plan.pieces.iter_mut().for_each(|piece| piece.span = 0..0);
            plan.stock.iter_mut().for_each(|stock| stock.span = 0..0);
            plan.bought.iter_mut().for_each(|bought| bought.span = 0..0);
            plan.inks.iter_mut().for_each(|ink| ink.span = 0..0);
            plan
        };
        let (a, b) = (unplaced(self), unplaced(other));
        out.extend((a.pieces != b.pieces).then_some("garment.piece[]"));
        out.extend((a.stock != b.stock).then_some("loom.stock[]"));
        let of = |plan: &Plan, machine: &str| -> Vec<BoughtWish> {
            plan.bought.iter().filter(|bought| bought.machine == machine).cloned().collect()
        };
        out.extend((of(&a, "loom") != of(&b, "loom")).then_some("loom.bought[]"));
        out.extend((of(&a, "spinner") != of(&b, "spinner")).then_some("spinner.bought[]"));
        out.extend((a.inks != b.inks).then_some("print.ink[]"));
        out
    }
}

/// The last name of a path.
fn last_name(path: &str) -> &str {
    path.rsplit_once('.').map_or(path, |(_, name)| name)
}
