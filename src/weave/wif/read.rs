//! A text into a [`Wif`]: sections in any order, each key once, complaints with their place.

use super::lines::{Line, Section, canonical, decode, say, sections};
use super::values::{self, Faults};
use super::{Entry, Form, Paint, Palette, STANDARD, Threads, Wif};
use crate::diag::{Diagnostic, any_error, settle};
use crate::weave::{MOST_SHAFTS, MOST_THREADS, Set};
use std::collections::BTreeMap;

/// What came of reading.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The file as text; the places of the diagnostics are in it.
    pub text: String,
    /// None when there is an error.
    pub wif: Option<Wif>,
    pub diagnostics: Vec<Diagnostic>,
}

/// Reads a file. Never fails: what cannot be used is an error among the diagnostics.
pub fn read(bytes: &[u8]) -> Reading {
    let (text, note) = match decode(bytes) {
        Ok(read) => read,
        Err(fault) => return Reading { text: String::new(), wif: None, diagnostics: vec![*fault] },
    };
    let mut faults: Faults = note.into_iter().collect();
    let wif = Reader::new(&text, &mut faults).whole();
    let bad = any_error(&faults);
    Reading { wif: if bad { None } else { Some(wif) }, diagnostics: settle(faults), text }
}

struct Reader<'t, 'f> {
    sections: Vec<Section<'t>>,
    faults: &'f mut Faults,
    wif: Wif,
    lists: Lists,
}

/// Lists of shafts and treadles as they stand, before it is known whether the file counts from 0.
#[derive(Default)]
struct Lists {
    tieup: BTreeMap<u32, Vec<u32>>,
    threading: BTreeMap<u32, Vec<u32>>,
    treadling: BTreeMap<u32, Vec<u32>>,
    liftplan: BTreeMap<u32, Vec<u32>>,
}

impl<'t, 'f> Reader<'t, 'f> {
    fn new(text: &'t str, faults: &'f mut Faults) -> Self {
        Reader { sections: sections(text, faults), faults, wif: Wif::default(), lists: Lists::default() }
    }

    fn whole(mut self) -> Wif {
        // What the table's colours mean stands in the palette, which may come after it.
        self.sections.sort_by_key(|s| (s.name != "COLOR PALETTE", s.at.start));
        for section in std::mem::take(&mut self.sections) {
            self.remarks(&section);
            self.section(&section);
            self.sections.push(Section { lines: Vec::new(), ..section });
        }
        let mut wif = self.wif;
        // In an order that does not depend on that of the sections, so that a file written anew says the same.
        wif.kept.sort_by_key(
            |(name, _)| if KNOWN.contains(&name.as_str()) { (0, name.clone()) } else { (1, String::new()) },
        );
        wif.remarks.sort_by(|(a, _), (b, _)| a.cmp(b));
        renumber(&mut wif, self.lists, self.faults);
        complete(&mut wif, &self.sections, self.faults);
        wif
    }

    fn remarks(&mut self, section: &Section) {
        let found = section.remarks.iter().map(|r| (section.name.clone(), (*r).to_string()));
        self.wif.remarks.extend(found);
    }

    /// Reads what is known of a section and keeps the rest.
    fn section(&mut self, section: &Section<'t>) {
        let mut rest: Vec<Entry> = Vec::new();
        let mut seen: BTreeMap<String, ()> = BTreeMap::new();
        for line in &section.lines {
            let key = canonical(line.key);
            if !self.line(&section.name, &key, line) {
                rest.push((line.key.to_string(), line.value.map(str::to_string)));
            } else if seen.insert(key, ()).is_some() {
                let message = format!("{} comes twice in {}; the later one counts", short(line.key), section.name);
                say(self.faults, || Diagnostic::warning("wif-key-twice", message).at(Some(line.at.clone())));
            }
        }
        let known = KNOWN.contains(&section.name.as_str());
        if !rest.is_empty() && section.name.is_empty() {
            let message = "lines before the first section";
            say(self.faults, || Diagnostic::warning("wif-stray", message).at(Some(section.lines[0].at.clone())));
        }
        if !rest.is_empty() || !known && !section.name.is_empty() {
            self.wif.kept.push((if known { section.name.clone() } else { section.title.to_string() }, rest));
        }
    }

    /// One line of a known section; `false` when it is not known.
    fn line(&mut self, section: &str, key: &str, line: &Line<'t>) -> bool {
        if let Some(side) = section.strip_prefix("WARP").filter(|s| s.is_empty() || s.starts_with(' ')) {
            return threads_line(&mut self.wif.warp, side.trim_start(), key, line, self.faults);
        }
        if let Some(side) = section.strip_prefix("WEFT").filter(|s| s.is_empty() || s.starts_with(' ')) {
            return threads_line(&mut self.wif.weft, side.trim_start(), key, line, self.faults);
        }
        let (wif, lists, faults) = (&mut self.wif, &mut self.lists, &mut *self.faults);
        match section {
            "WIF" => wif_line(wif, key, line),
            // Written anew from what there is.
            "CONTENTS" => line.value.is_some(),
            "TEXT" => line.value.is_some_and(|v| {
                wif.text.push((line.key.to_string(), v.to_string()));
                true
            }),
            "NOTES" => numbered(&mut wif.notes, key, line, faults, |l, _| Some(l.value.unwrap_or("").to_string())),
            "WEAVING" => weaving_line(wif, key, line, faults),
            "COLOR PALETTE" => palette_line(wif, key, line, faults),
            "COLOR TABLE" => {
                let symbolic = wif.palette.as_ref().is_some_and(|p| p.form == Form::Symbolic);
                numbered(&mut wif.colours, key, line, faults, |l, f| match symbolic {
                    true => Some(Paint::Symbol(l.value.unwrap_or("").to_string())),
                    false => values::rgb(l, f).map(Paint::Rgb),
                })
            }
            "TIEUP" => numbered(&mut lists.tieup, key, line, faults, values::list),
            "THREADING" => numbered(&mut lists.threading, key, line, faults, values::list),
            "TREADLING" => numbered(&mut lists.treadling, key, line, faults, values::list),
            "LIFTPLAN" => numbered(&mut lists.liftplan, key, line, faults, values::list),
            _ => false,
        }
    }
}

/// Sections of which keys are understood.
const KNOWN: &[&str] = &[
    "",
    "WIF",
    "CONTENTS",
    "TEXT",
    "NOTES",
    "WEAVING",
    "WARP",
    "WEFT",
    "COLOR PALETTE",
    "COLOR TABLE",
    "TIEUP",
    "THREADING",
    "TREADLING",
    "LIFTPLAN",
    "WARP SYMBOL PALETTE",
    "WEFT SYMBOL PALETTE",
    "WARP SYMBOL TABLE",
    "WEFT SYMBOL TABLE",
    "WARP THICKNESS",
    "WEFT THICKNESS",
    "WARP THICKNESS ZOOM",
    "WEFT THICKNESS ZOOM",
    "WARP SPACING",
    "WEFT SPACING",
    "WARP SPACING ZOOM",
    "WEFT SPACING ZOOM",
    "WARP COLORS",
    "WEFT COLORS",
    "WARP SYMBOLS",
    "WEFT SYMBOLS",
];

fn wif_line(wif: &mut Wif, key: &str, line: &Line) -> bool {
    let value = line.value.map(str::to_string);
    match key {
        "SOURCE PROGRAM" => wif.source_program = value,
        "SOURCE VERSION" => wif.source_version = value,
        "VERSION" | "DATE" | "DEVELOPERS" => {
            let usual = STANDARD.iter().find(|(k, _)| k.eq_ignore_ascii_case(key)).map(|(k, v)| (*k, *v));
            if let (Some((name, usual)), Some(value)) = (usual, value)
                && value != usual
            {
                wif.standard.push((name.to_string(), value));
            }
        }
        _ => return false,
    }
    true
}

fn weaving_line(wif: &mut Wif, key: &str, line: &Line, faults: &mut Faults) -> bool {
    match key {
        "SHAFTS" => wif.shafts = values::count(line, MOST_SHAFTS, faults),
        "TREADLES" => wif.treadles = values::count(line, MOST_SHAFTS, faults),
        "RISING SHED" => wif.rising = values::boolean(line, faults),
        _ => return false,
    }
    true
}

fn palette_line(wif: &mut Wif, key: &str, line: &Line, faults: &mut Faults) -> bool {
    let palette = wif.palette.get_or_insert(Palette { entries: None, form: Form::Rgb, range: (0, 255) });
    match key {
        "ENTRIES" => palette.entries = values::count(line, MOST_THREADS, faults),
        "FORM" => palette.form = values::form(line, faults).unwrap_or(palette.form),
        "RANGE" => palette.range = values::range(line, faults).unwrap_or(palette.range),
        _ => return false,
    }
    true
}

/// A line of WARP or WEFT (`part` "") or of one of their sections.
fn threads_line(t: &mut Threads, part: &str, key: &str, line: &Line, faults: &mut Faults) -> bool {
    let word = |l: &Line, _: &mut Faults| Some(l.value.unwrap_or("").to_string());
    match part {
        "" => return thread_line(t, key, line, faults),
        "SYMBOL PALETTE" if key == "ENTRIES" => t.symbol_entries = values::count(line, MOST_THREADS, faults),
        "SYMBOL TABLE" => return numbered(&mut t.symbol_table, key, line, faults, word),
        "THICKNESS" => return numbered(&mut t.thicknesses, key, line, faults, values::length),
        "SPACING" => return numbered(&mut t.spacings, key, line, faults, values::length),
        "THICKNESS ZOOM" => return numbered(&mut t.thickness_zooms, key, line, faults, values::whole),
        "SPACING ZOOM" => return numbered(&mut t.spacing_zooms, key, line, faults, values::whole),
        "COLORS" => return numbered(&mut t.colours, key, line, faults, values::hue),
        "SYMBOLS" => return numbered(&mut t.symbols, key, line, faults, word),
        _ => return false,
    }
    true
}

fn thread_line(t: &mut Threads, key: &str, line: &Line, faults: &mut Faults) -> bool {
    match key {
        "THREADS" => t.threads = values::count(line, MOST_THREADS, faults),
        "COLOR" => t.colour = values::hue(line, faults),
        "SYMBOL" => t.symbol = values::text(line).map(str::to_string),
        "SYMBOL NUMBER" => t.symbol_number = values::whole(line, faults),
        "UNITS" => t.units = values::units(line, faults),
        "SPACING" => t.spacing = values::length(line, faults),
        "THICKNESS" => t.thickness = values::length(line, faults),
        "SPACING ZOOM" => t.spacing_zoom = values::whole(line, faults),
        "THICKNESS ZOOM" => t.thickness_zoom = values::whole(line, faults),
        _ => return false,
    }
    true
}

/// A line `number=value`; `false` when the key is no number.
fn numbered<T>(
    map: &mut BTreeMap<u32, T>,
    key: &str,
    line: &Line,
    faults: &mut Faults,
    value: impl Fn(&Line, &mut Faults) -> Option<T>,
) -> bool {
    let Ok(number) = key.parse::<u64>() else { return false };
    if number > MOST_THREADS as u64 {
        let message = format!("number {} is more than can be woven here", short(key));
        let fault = Diagnostic::error("wif-too-many", message).at(Some(line.at.clone()));
        say(faults, || fault.accepts(format!("1 to {MOST_THREADS}")));
        return true;
    }
    if let Some(value) = value(line, faults) {
        map.insert(number as u32, value);
    }
    true
}

/// Brings a file that counts from 0 to counting from 1: threads where there is a 0 and not the last number, and with them shafts
/// and treadles where a 0 is among them and not the last. In other files a 0 is nothing.
fn renumber(wif: &mut Wif, lists: Lists, faults: &mut Faults) {
    let (ends, picks) = (wif.warp.threads, wif.weft.threads);
    let (shafts, treadles) = (wif.shafts, wif.treadles);
    let Lists { mut tieup, mut threading, mut treadling, mut liftplan } = lists;
    let threaded = moved(&mut threading, ends);
    let mut from_zero =
        threaded | moved(&mut treadling, picks) | moved(&mut liftplan, picks) | moved(&mut tieup, treadles);
    let shafts_from_zero = threaded && zero_is_a_number(&threading, shafts);
    let treadles_from_zero = from_zero && zero_is_a_number(&treadling, treadles);
    wif.threading = as_sets(threading, shafts_from_zero);
    wif.tieup = as_sets(tieup, shafts_from_zero);
    wif.liftplan = as_sets(liftplan, shafts_from_zero);
    wif.treadling = as_sets(treadling, treadles_from_zero);
    for threads in [&mut wif.warp, &mut wif.weft] {
        let number = threads.threads;
        from_zero |= moved(&mut threads.colours, number) | moved(&mut threads.spacings, number);
        from_zero |= moved(&mut threads.thicknesses, number) | moved(&mut threads.symbols, number);
        from_zero |= moved(&mut threads.spacing_zooms, number) | moved(&mut threads.thickness_zooms, number);
    }
    if from_zero {
        say(faults, || Diagnostic::note("wif-from-zero", "threads are numbered from 0 here; they were read as from 1"));
    }
}

fn moved<T>(map: &mut BTreeMap<u32, T>, last: Option<u32>) -> bool {
    let from_zero = map.contains_key(&0) && last.is_none_or(|n| !map.contains_key(&n));
    if from_zero {
        *map = std::mem::take(map).into_iter().map(|(n, v)| (n + 1, v)).collect();
    } else {
        map.remove(&0);
    }
    from_zero
}

fn zero_is_a_number(lists: &BTreeMap<u32, Vec<u32>>, last: Option<u32>) -> bool {
    let all = || lists.values().flatten();
    all().any(|n| *n == 0) && last.is_none_or(|last| all().all(|n| *n < last))
}

fn as_sets(lists: BTreeMap<u32, Vec<u32>>, from_zero: bool) -> BTreeMap<u32, Set> {
    let add = u32::from(from_zero);
    lists.into_iter().map(|(n, list)| (n, list.into_iter().map(|s| (s + add) as usize).collect())).collect()
}

/// Says what is missing, and whether the rest makes a draft.
fn complete(wif: &mut Wif, sections: &[Section], faults: &mut Faults) {
    let has = |name: &str| sections.iter().any(|s| s.name == name);
    let known = sections.iter().any(|s| !s.name.is_empty() && KNOWN.contains(&s.name.as_str()));
    if !known {
        let fault = Diagnostic::error("wif-not-wif", "there is no section of a WIF in this file");
        return say(faults, || fault.help("a WIF begins with [WIF]"));
    }
    for (name, code) in [("WIF", "wif-no-head"), ("CONTENTS", "wif-no-contents")] {
        if !has(name) {
            say(faults, || {
                Diagnostic::warning(code, format!("the section {name} is missing; the file was read without it"))
            });
        }
    }
    if any_error(faults) {
        return;
    }
    missing(wif, faults);
    if any_error(faults) {
        return;
    }
    if let Err(fault) = wif.draft() {
        say(faults, || Diagnostic::error("wif-draft", fault.message).help(fault.help));
    }
}

fn missing(wif: &mut Wif, faults: &mut Faults) {
    let error = |faults: &mut Faults, message: &str, help: &str| {
        say(faults, || Diagnostic::error("wif-missing", message).help(help));
    };
    if wif.threading.is_empty() {
        error(faults, "there is no threading in this file", "it takes a section [THREADING] with 1=shaft, 2=shaft ...");
    }
    if wif.treadling.is_empty() && wif.liftplan.is_empty() {
        error(
            faults,
            "there is no treadling and no lift plan in this file",
            "it takes [TREADLING] and [TIEUP], or [LIFTPLAN]",
        );
    } else if wif.liftplan.is_empty() && wif.tieup.is_empty() {
        let most = wif.treadling.values().filter_map(Set::last).max().unwrap_or(0);
        wif.tieup = (1..=most as u32).map(|n| (n, Set::of(&[n as usize]))).collect();
        let message = "there is no tie-up in this file; each treadle was taken to move the shaft of its own number";
        say(faults, || Diagnostic::warning("wif-no-tieup", message));
    }
    for (threads, drafted, what) in [
        (wif.warp.threads, wif.threading.keys().last().copied(), "ends"),
        (wif.weft.threads, wif.treadling.keys().chain(wif.liftplan.keys()).max().copied(), "picks"),
    ] {
        if let (Some(said), Some(last)) = (threads, drafted)
            && last > said
        {
            let message =
                format!("the file says it has {said} {what} and goes on to number {last}; those beyond are not woven");
            say(faults, || Diagnostic::warning("wif-beyond", message));
        }
        if threads.is_none() && drafted.is_some() {
            let message = format!("the file does not say how many {what} it has; they were counted");
            say(faults, || Diagnostic::note("wif-counted", message));
        }
    }
}

fn short(text: &str) -> String {
    text.chars().take(40).collect()
}
