//! How units are spelt: their own names, what else people write for them, and what they are called in a sentence.

use crate::units::{AnyUnit, Kind};

/// The units of `kinds` as a list for a person: `m, cm, mm, in or ft`.
pub fn unit_list(kinds: &[Kind]) -> String {
    let names: Vec<&str> =
        kinds.iter().flat_map(|k| k.units()).map(|u| u.name).filter(|name| !name.is_empty()).collect();
    match names.split_last() {
        None => String::from("a plain number"),
        Some((only, [])) => (*only).to_string(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}

/// What `kinds` are called: `a length`, `a twist multiplier or a number per length`.
pub fn kind_words(kinds: &[Kind]) -> String {
    let words: Vec<&str> = kinds.iter().map(|k| k.words()).collect();
    words.join(" or ")
}

/// Other ways to write a unit. Looked up without regard to case after blanks are taken out and `per` is made a stroke.
const ALIASES: &[(&str, &str)] = &[
    ("percent", "%"),
    ("meter", "m"),
    ("meters", "m"),
    ("metre", "m"),
    ("metres", "m"),
    ("centimetre", "cm"),
    ("centimetres", "cm"),
    ("millimetre", "mm"),
    ("millimetres", "mm"),
    ("µm", "um"),
    ("μm", "um"),
    ("micron", "um"),
    ("microns", "um"),
    ("inch", "in"),
    ("inches", "in"),
    ("\"", "in"),
    ("″", "in"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("'", "ft"),
    ("′", "ft"),
    ("yard", "yd"),
    ("yards", "yd"),
    ("yds", "yd"),
    ("m²", "m2"),
    ("m^2", "m2"),
    ("cm²", "cm2"),
    ("yd²", "yd2"),
    ("sqyd", "yd2"),
    ("litre", "l"),
    ("litres", "l"),
    ("kilogram", "kg"),
    ("kilograms", "kg"),
    ("gram", "g"),
    ("grams", "g"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("lbs", "lb"),
    ("ounce", "oz"),
    ("ounces", "oz"),
    ("denier", "den"),
    ("decitex", "dtex"),
    ("millitex", "mtex"),
    ("km/kg", "Nm"),
    ("lea", "NeL"),
    ("lea/lb", "NeL"),
    ("runs", "run"),
    ("yard/pound", "yd/lb"),
    ("yards/pound", "yd/lb"),
    ("yds/lb", "yd/lb"),
    ("ypp", "yd/lb"),
    ("micronaire", "mic"),
    ("g/cm³", "g/cm3"),
    ("epi", "/in"),
    ("ppi", "/in"),
    ("tpi", "/in"),
    ("/inch", "/in"),
    ("tpm", "/m"),
    ("αtex", "alpha_tex"),
    ("alphatex", "alpha_tex"),
    ("αm", "alpha_m"),
    ("°", "deg"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("g/m²", "g/m2"),
    ("g/m^2", "g/m2"),
    ("gsm", "g/m2"),
    ("oz/yd²", "oz/yd2"),
    ("mnm", "mN·m"),
    ("mn.m", "mN·m"),
    ("mn*m", "mN·m"),
    ("n.m", "N·m"),
    ("volt", "V"),
    ("volts", "V"),
    ("amp", "A"),
    ("amps", "A"),
    ("ampere", "A"),
    ("ohms", "ohm"),
    ("Ω", "ohm"),
    ("Ω", "ohm"),
    ("watt", "W"),
    ("hour", "h"),
    ("hours", "h"),
    ("hr", "h"),
    ("hrs", "h"),
    ("minute", "min"),
    ("minutes", "min"),
    ("mins", "min"),
    ("second", "s"),
    ("seconds", "s"),
    ("sec", "s"),
    ("day", "d"),
    ("days", "d"),
    ("g/hour", "g/h"),
    ("m/hour", "m/h"),
    ("metres/hour", "m/h"),
    ("/hour", "/h"),
    ("/minute", "/min"),
    ("c", "°C"),
    ("degc", "°C"),
    ("f", "°F"),
    ("degf", "°F"),
];

/// Words before a stroke that say what is counted, not how.
const COUNTED: &[&str] =
    &["ends", "end", "picks", "pick", "threads", "thread", "turns", "turn", "dents", "dent", "slots", "t", "twists"];

/// The unit a number without one has, where a kind has such a unit.
pub fn bare(kinds: &[Kind]) -> Option<(Kind, AnyUnit)> {
    kinds.iter().find_map(|kind| kind.units().iter().find(|u| u.name.is_empty()).map(|u| (*kind, *u)))
}

/// The unit called `word`, in any of its spellings, of one of `kinds`.
pub fn find_unit(word: &str, kinds: &[Kind]) -> Option<(Kind, AnyUnit)> {
    let by = |same: &dyn Fn(&str) -> bool| {
        kinds
            .iter()
            .find_map(|kind| kind.units().iter().find(|u| !u.name.is_empty() && same(u.name)).map(|u| (*kind, *u)))
    };
    let plain = normal(word);
    if let Some(found) = by(&|name| name == word).or_else(|| by(&|name| name == plain)) {
        return Some(found);
    }
    let small = plain.to_lowercase();
    let alias = ALIASES.iter().find(|(other, _)| *other == plain || *other == small).map(|(_, name)| *name);
    alias
        .and_then(|alias| by(&|name| name == alias))
        .or_else(|| by(&|name| name.to_lowercase() == small))
        .or_else(|| strip_plies(&plain).and_then(|unit| by(&|name| name == unit)))
}

/// The `tex` of `tex/2`.
fn strip_plies(word: &str) -> Option<&str> {
    let (unit, plies) = word.rsplit_once('/')?;
    (plies.len() <= 2 && plies.parse::<u32>().is_ok() && matches!(unit, "tex" | "dtex")).then_some(unit)
}

/// Without blanks, `per` as a stroke, without what is counted before the stroke.
fn normal(word: &str) -> String {
    let mut parts = Vec::new();
    for part in word.split_whitespace() {
        parts.push(if part.eq_ignore_ascii_case("per") { "/" } else { part });
    }
    let joined = parts.concat();
    // `per cent` has just become `/cent`.
    if joined.eq_ignore_ascii_case("/cent") {
        return String::from("%");
    }
    match joined.split_once('/') {
        Some((counted, rest)) if COUNTED.iter().any(|word| word.eq_ignore_ascii_case(counted)) => format!("/{rest}"),
        _ => joined,
    }
}

/// `text` with its first letter large.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
