//! WIF, the Weaving Information File 1.1: an open interchange text for drafts, in the manner of an INI file. Read tolerantly
//! (any case, any order, missing CONTENTS, threads numbered from 0, colours to 255 or 999, booleans in four spellings, any of the
//! usual encodings) and written strictly; what is read and written again has lost nothing, private sections and remarks included.
//!
//! The sections and keys are from memory of the standard and public-domain notes on it. A text is judged as hostile: sizes are
//! bounded before anything is made from them, and every complaint points at its place. Knows drafts, not looms.

mod lines;
mod read;
mod values;
mod write;

pub use lines::{MOST_BYTES, decode};
pub use read::{Reading, read};
pub use write::write;

use super::colour::{Colour, NATURAL, Run};
use super::{ColourOrder, Draft, Fault, Lifts, Set, Shed};
use crate::units::{INCH, Length, MM, Q};
use std::collections::BTreeMap;

/// A key and its value, as they stand in a section this program has no use for; a line without `=` has no value.
pub type Entry = (String, Option<String>);

/// All that a file says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wif {
    /// Version, date and address of the standard, where they differ from 1.1's.
    pub standard: Vec<(String, String)>,
    pub source_program: Option<String>,
    pub source_version: Option<String>,
    /// Title, Author, Address, EMail, Telephone, FAX.
    pub text: Vec<(String, String)>,
    /// Lines of free text by number.
    pub notes: BTreeMap<u32, String>,
    pub shafts: Option<u32>,
    pub treadles: Option<u32>,
    /// Whether tied shafts go up.
    pub rising: Option<bool>,
    pub palette: Option<Palette>,
    pub colours: BTreeMap<u32, Paint>,
    pub warp: Threads,
    pub weft: Threads,
    /// Shafts of each treadle.
    pub tieup: BTreeMap<u32, Set>,
    /// Shafts of each end.
    pub threading: BTreeMap<u32, Set>,
    /// Treadles of each pick.
    pub treadling: BTreeMap<u32, Set>,
    /// Shafts of each pick.
    pub liftplan: BTreeMap<u32, Set>,
    /// Sections and keys that are kept and not understood, by section: private ones, bitmaps, translations, and whatever
    /// else was there.
    pub kept: Vec<(String, Vec<Entry>)>,
    /// Lines of remark, each with the section it stands in ("" before the first).
    pub remarks: Vec<(String, String)>,
}

/// What the numbers of colours mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Palette {
    pub entries: Option<u32>,
    pub form: Form,
    /// Least and greatest value of a part of a colour.
    pub range: (i64, i64),
}

/// How colours are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    Rgb,
    Symbolic,
}

/// A colour of the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Paint {
    /// Red, green, blue within the palette's range.
    Rgb([i64; 3]),
    /// Whatever a symbolic palette says.
    Symbol(String),
}

/// Which colour a thread has: its place in the table, and sometimes its parts as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hue {
    pub index: u32,
    pub rgb: Option<[i64; 3]>,
}

/// How lengths are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// 1/720 inch.
    Decipoints,
    Inches,
    Centimeters,
}

/// The warp or the weft: values for all threads, and those of single threads that differ.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Threads {
    pub threads: Option<u32>,
    pub colour: Option<Hue>,
    pub symbol: Option<String>,
    pub symbol_number: Option<i64>,
    pub units: Option<Units>,
    pub spacing: Option<f64>,
    pub thickness: Option<f64>,
    pub spacing_zoom: Option<i64>,
    pub thickness_zoom: Option<i64>,
    /// Number of symbols, and the symbols.
    pub symbol_entries: Option<u32>,
    pub symbol_table: BTreeMap<u32, String>,
    pub spacings: BTreeMap<u32, f64>,
    pub thicknesses: BTreeMap<u32, f64>,
    pub spacing_zooms: BTreeMap<u32, i64>,
    pub thickness_zooms: BTreeMap<u32, i64>,
    pub colours: BTreeMap<u32, Hue>,
    pub symbols: BTreeMap<u32, String>,
}

impl Threads {
    /// How many: as said, else as far as the single threads go.
    fn number(&self, drafted: &BTreeMap<u32, Set>) -> usize {
        self.threads.or_else(|| drafted.keys().last().copied()).unwrap_or(0) as usize
    }
    fn length(&self, value: f64) -> Q<Length> {
        match self.units.unwrap_or(Units::Centimeters) {
            Units::Decipoints => Q::new(value / 720.0, &INCH),
            Units::Inches => Q::new(value, &INCH),
            Units::Centimeters => Q::new(value * 10.0, &MM),
        }
    }
    /// Middle to middle of a thread (from 1) and its neighbour, if the file says.
    pub fn spacing_of(&self, thread: u32) -> Option<Q<Length>> {
        self.spacings.get(&thread).copied().or(self.spacing).map(|v| self.length(v))
    }
    /// Thickness of a thread (from 1), if the file says.
    pub fn thickness_of(&self, thread: u32) -> Option<Q<Length>> {
        self.thicknesses.get(&thread).copied().or(self.thickness).map(|v| self.length(v))
    }
}

/// Address of those who keep the standard, which it wants in every file.
const DEVELOPERS: &str = "wif@mhsoft.com";
/// Version and date of the standard.
const STANDARD: [(&str, &str); 3] = [("Version", "1.1"), ("Date", "April 20, 1997"), ("Developers", DEVELOPERS)];

impl Wif {
    /// What the file calls itself.
    pub fn title(&self) -> &str {
        self.text.iter().find(|(k, _)| k.eq_ignore_ascii_case("title")).map_or("", |(_, v)| v)
    }

    /// The draft. A lift plan goes before treadling; threads without an entry hang on nothing.
    pub fn draft(&self) -> Result<Draft, Fault> {
        let (ends, picks) = (self.warp.number(&self.threading), self.weft.number(self.by_pick()));
        let list = |sets: &BTreeMap<u32, Set>, most: usize| -> Vec<Set> {
            (1..=most as u32).map(|n| sets.get(&n).copied().unwrap_or(Set::EMPTY)).collect()
        };
        for (number, what) in [(ends, "ends"), (picks, "picks")] {
            if number > super::MOST_THREADS {
                return Err(Fault::new(format!("{number} {what}"), format!("at most {}", super::MOST_THREADS)));
            }
        }
        let lifts = if self.liftplan.is_empty() {
            let treadles = self.treadles.unwrap_or(0).max(self.tieup.keys().last().copied().unwrap_or(0)) as usize;
            let pressed = self.treadling.values().filter_map(Set::last).max().unwrap_or(0);
            let treadles = treadles.max(pressed).min(super::MOST_SHAFTS);
            Lifts::Treadled { tieup: list(&self.tieup, treadles), treadling: list(&self.treadling, picks) }
        } else {
            Lifts::Plan(list(&self.liftplan, picks))
        };
        let shed = if self.rising.unwrap_or(true) { Shed::Rising } else { Shed::Sinking };
        Draft::new(self.title(), self.shafts_used(), list(&self.threading, ends), lifts, shed)
    }

    fn by_pick(&self) -> &BTreeMap<u32, Set> {
        if self.liftplan.is_empty() { &self.treadling } else { &self.liftplan }
    }
    fn shafts_used(&self) -> usize {
        let last = |sets: &BTreeMap<u32, Set>| sets.values().filter_map(Set::last).max().unwrap_or(0);
        let used = last(&self.threading).max(last(&self.tieup)).max(last(&self.liftplan));
        used.max(self.shafts.unwrap_or(0) as usize)
    }

    /// From a draft, with colours if it has any.
    pub fn of_draft(draft: &Draft, colours: &[Colour], warp: &ColourOrder, weft: &ColourOrder) -> Self {
        let map = |sets: &[Set]| -> BTreeMap<u32, Set> {
            let filled = sets.iter().enumerate().filter(|(_, s)| !s.is_empty());
            filled.map(|(i, s)| (i as u32 + 1, *s)).collect()
        };
        let mut wif = Wif {
            source_program: Some("Clothwright".into()),
            source_version: Some(env!("CARGO_PKG_VERSION").into()),
            text: if draft.name.is_empty() { Vec::new() } else { vec![("Title".into(), draft.name.clone())] },
            shafts: Some(draft.shafts() as u32),
            rising: Some(draft.shed() == Shed::Rising),
            threading: map(draft.threading()),
            ..Wif::default()
        };
        match draft.lifts() {
            Lifts::Treadled { tieup, treadling } => {
                wif.treadles = Some(tieup.len() as u32);
                (wif.tieup, wif.treadling) = (map(tieup), map(treadling));
            }
            Lifts::Plan(plan) => wif.liftplan = map(plan),
        }
        wif.warp.threads = Some(draft.ends() as u32);
        wif.weft.threads = Some(draft.picks() as u32);
        if !colours.is_empty() {
            wif.palette = Some(Palette { entries: Some(colours.len() as u32), form: Form::Rgb, range: (0, 255) });
            wif.colours = (1..).zip(colours).map(|(n, c)| (n, Paint::Rgb(c.rgb.map(i64::from)))).collect();
            wif.warp.dye(warp, draft.ends());
            wif.weft.dye(weft, draft.picks());
        }
        wif
    }

    /// Colours and their orders in warp and weft. Undyed where the file says nothing.
    pub fn orders(&self) -> (Vec<Colour>, ColourOrder, ColourOrder) {
        let mut colours = Vec::new();
        let ends = self.warp.number(&self.threading);
        let picks = self.weft.number(self.by_pick());
        let warp = self.order(&self.warp, ends, &mut colours);
        let weft = self.order(&self.weft, picks, &mut colours);
        (colours, warp, weft)
    }

    fn order(&self, threads: &Threads, number: usize, colours: &mut Vec<Colour>) -> ColourOrder {
        let mut places: BTreeMap<[u8; 3], usize> = colours.iter().enumerate().map(|(i, c)| (c.rgb, i)).collect();
        let mut place = |rgb: [u8; 3]| {
            *places.entry(rgb).or_insert_with(|| {
                let name = format!("#{:02x}{:02x}{:02x}", rgb[0], rgb[1], rgb[2]);
                colours.push(Colour { name: if rgb == NATURAL { "natural".into() } else { name }, rgb });
                colours.len() - 1
            })
        };
        let usual = threads.colour.and_then(|hue| self.srgb(hue)).unwrap_or(NATURAL);
        let runs: Vec<Run> = (1..=number.clamp(1, super::MOST_THREADS) as u32)
            .map(|n| threads.colours.get(&n).and_then(|hue| self.srgb(*hue)).unwrap_or(usual))
            .map(|rgb| Run { colour: place(rgb), threads: 1 })
            .collect();
        let whole = super::drawdown::period(runs.len(), |a, b| runs[a] == runs[b]);
        ColourOrder::new(runs[..whole].to_vec()).expect("at least one thread, and not more than a draft has")
    }

    fn srgb(&self, hue: Hue) -> Option<[u8; 3]> {
        let parts = match (hue.rgb, self.colours.get(&hue.index)) {
            (Some(rgb), _) => rgb,
            (None, Some(Paint::Rgb(rgb))) => *rgb,
            _ => return None,
        };
        let (low, high) = self.palette.as_ref().map_or((0, 255), |p| p.range);
        let span = (high as f64 - low as f64).max(1.0);
        Some(parts.map(|v| ((v as f64 - low as f64) / span * 255.0).round().clamp(0.0, 255.0) as u8))
    }
}

impl Threads {
    /// The commonest colour for all, the others thread by thread.
    fn dye(&mut self, order: &ColourOrder, threads: usize) {
        let most = order.runs().iter().map(|r| r.colour).max().unwrap_or(0) + 1;
        let counts = order.counts(threads, most);
        let usual = (0..most).max_by_key(|&c| (counts[c], std::cmp::Reverse(c))).unwrap_or(0);
        let hue = |colour: usize| Hue { index: colour as u32 + 1, rgb: None };
        self.colour = Some(hue(usual));
        self.colours = (0..threads)
            .map(|t| (t as u32 + 1, order.at(t)))
            .filter(|(_, c)| *c != usual)
            .map(|(t, c)| (t, hue(c)))
            .collect();
    }
}
