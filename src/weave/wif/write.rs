//! A [`Wif`] into text, as the standard has it: WIF and CONTENTS first, a section for each thing that is there.

use super::{Entry, Form, Hue, Paint, STANDARD, Threads, Units, Wif};
use crate::weave::Set;
use std::collections::BTreeMap;
use std::fmt::Display;

/// One section: its name and its lines.
type Part = (String, Vec<String>);

/// The file. Lines end as in an INI file.
pub fn write(wif: &Wif) -> String {
    let mut parts = parts(wif);
    for (name, entries) in &wif.kept {
        let lines = entries.iter().map(line_of).collect::<Vec<_>>();
        match parts.iter_mut().find(|(n, _)| n == name) {
            Some((_, known)) => known.extend(lines),
            None => parts.push((name.clone(), lines)),
        }
    }
    // A name that would be taken for a remark or a section cannot stand in a list of names.
    let listed = |n: &&String| !n.is_empty() && !n.starts_with([';', '[']) && *n != "WIF" && *n != "CONTENTS";
    let contents: Vec<String> = parts.iter().map(|(n, _)| n).filter(listed).map(|n| format!("{n}=true")).collect();
    let at = parts.iter().position(|(n, _)| n == "WIF").map_or(0, |i| i + 1);
    match parts.iter_mut().find(|(n, _)| n == "CONTENTS") {
        Some((_, lines)) => lines.splice(0..0, contents).for_each(drop),
        None => parts.insert(at, ("CONTENTS".into(), contents)),
    }
    let mut out = Vec::new();
    let remarks = |name: &str| {
        let name = super::lines::canonical(name);
        wif.remarks
            .iter()
            .filter(move |(n, _)| *n == name)
            .map(|(_, r)| format!("; {r}").trim_end().to_string())
            .collect::<Vec<_>>()
    };
    out.extend(remarks(""));
    // Lines that stood before the first section come first again.
    out.extend(parts.iter().filter(|(n, _)| n.is_empty()).flat_map(|(_, lines)| lines.clone()));
    for (name, lines) in parts.iter().filter(|(n, _)| !n.is_empty()) {
        out.push(format!("[{name}]"));
        out.extend(remarks(name));
        out.extend(lines.iter().cloned());
        out.push(String::new());
    }
    // A remark whose section has nothing else in it.
    for (name, remark) in &wif.remarks {
        if !name.is_empty() && !parts.iter().any(|(n, _)| super::lines::canonical(n) == *name) {
            out.extend([format!("[{name}]"), format!("; {remark}"), String::new()]);
        }
    }
    out.join("\r\n")
}

fn line_of((key, value): &Entry) -> String {
    match value {
        Some(value) => format!("{key}={value}"),
        None => key.clone(),
    }
}

fn parts(wif: &Wif) -> Vec<Part> {
    let mut parts: Vec<Part> = vec![("WIF".into(), head(wif))];
    let mut add = |name: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            parts.push((name.to_string(), lines));
        }
    };
    add("TEXT", wif.text.iter().map(|(k, v)| format!("{k}={v}")).collect());
    add("NOTES", table(&wif.notes, String::clone));
    add("WEAVING", weaving(wif));
    add("WARP", threads(&wif.warp));
    add("WEFT", threads(&wif.weft));
    if let Some(palette) = &wif.palette {
        let form = if palette.form == Form::Rgb { "RGB" } else { "Symbolic" };
        let mut lines = said("Entries", palette.entries);
        lines.extend([format!("Form={form}"), format!("Range={},{}", palette.range.0, palette.range.1)]);
        add("COLOR PALETTE", lines);
    }
    add("WARP SYMBOL PALETTE", said("Entries", wif.warp.symbol_entries));
    add("WEFT SYMBOL PALETTE", said("Entries", wif.weft.symbol_entries));
    add("TIEUP", table(&wif.tieup, Set::to_string));
    add("COLOR TABLE", table(&wif.colours, paint));
    add("WARP SYMBOL TABLE", table(&wif.warp.symbol_table, String::clone));
    add("WEFT SYMBOL TABLE", table(&wif.weft.symbol_table, String::clone));
    add("THREADING", table(&wif.threading, Set::to_string));
    each(&mut add, "WARP", &wif.warp);
    add("TREADLING", table(&wif.treadling, Set::to_string));
    add("LIFTPLAN", table(&wif.liftplan, Set::to_string));
    each(&mut add, "WEFT", &wif.weft);
    parts
}

fn head(wif: &Wif) -> Vec<String> {
    let own = |key: &str| wif.standard.iter().find(|(k, _)| k == key).map(|(_, v)| v.as_str());
    let mut lines: Vec<String> = STANDARD.iter().map(|(k, v)| format!("{k}={}", own(k).unwrap_or(v))).collect();
    lines.extend(said("Source Program", wif.source_program.as_ref()));
    lines.extend(said("Source Version", wif.source_version.as_ref()));
    lines
}

fn weaving(wif: &Wif) -> Vec<String> {
    [said("Shafts", wif.shafts), said("Treadles", wif.treadles), said("Rising Shed", wif.rising)].concat()
}

fn threads(t: &Threads) -> Vec<String> {
    let units = t.units.map(|u| match u {
        Units::Decipoints => "Decipoints",
        Units::Inches => "Inches",
        Units::Centimeters => "Centimeters",
    });
    [
        said("Threads", t.threads),
        said("Color", t.colour.as_ref().map(hue)),
        said("Symbol", t.symbol.as_ref()),
        said("Symbol Number", t.symbol_number),
        said("Units", units),
        said("Spacing", t.spacing),
        said("Thickness", t.thickness),
        said("Spacing Zoom", t.spacing_zoom),
        said("Thickness Zoom", t.thickness_zoom),
    ]
    .concat()
}

fn each(add: &mut impl FnMut(&str, Vec<String>), side: &str, t: &Threads) {
    add(&format!("{side} THICKNESS"), table(&t.thicknesses, f64::to_string));
    add(&format!("{side} THICKNESS ZOOM"), table(&t.thickness_zooms, i64::to_string));
    add(&format!("{side} SPACING"), table(&t.spacings, f64::to_string));
    add(&format!("{side} SPACING ZOOM"), table(&t.spacing_zooms, i64::to_string));
    add(&format!("{side} COLORS"), table(&t.colours, hue));
    add(&format!("{side} SYMBOLS"), table(&t.symbols, String::clone));
}

fn said(key: &str, value: Option<impl Display>) -> Vec<String> {
    value.map(|v| format!("{key}={v}")).into_iter().collect()
}

fn table<T>(map: &BTreeMap<u32, T>, value: impl Fn(&T) -> String) -> Vec<String> {
    map.iter().map(|(n, v)| format!("{n}={}", value(v))).collect()
}

fn hue(hue: &Hue) -> String {
    match hue.rgb {
        Some([r, g, b]) => format!("{},{r},{g},{b}", hue.index),
        None => hue.index.to_string(),
    }
}

fn paint(paint: &Paint) -> String {
    match paint {
        Paint::Rgb([r, g, b]) => format!("{r},{g},{b}"),
        Paint::Symbol(symbol) => symbol.clone(),
    }
}
