//! Values of keys: numbers, lists, booleans, colours, each refused with its place when it is none. Knows what a value may be, not
//! which section it stands in.

use super::lines::{Line, say};
use super::{Form, Hue, Units};
use crate::diag::Diagnostic;
use crate::weave::{MOST_SHAFTS, MOST_THREADS};

/// Where faults go.
pub type Faults = Vec<Diagnostic>;

/// The value of a line; empty is none.
pub fn text<'t>(line: &Line<'t>) -> Option<&'t str> {
    line.value.filter(|v| !v.is_empty())
}

/// A value as numbers end it: what follows a `;` is a remark.
fn bare<'t>(line: &Line<'t>) -> &'t str {
    line.value.unwrap_or("").split(';').next().unwrap_or("").trim()
}

fn wrong(faults: &mut Faults, line: &Line, accepts: &str) {
    say(faults, || {
        let given: String = line.value.unwrap_or("").chars().take(60).collect();
        let message = if line.value.is_none() {
            format!("\"{}\" has no =", line.key.chars().take(60).collect::<String>())
        } else {
            format!("{} = {given} cannot be read", line.key.chars().take(60).collect::<String>())
        };
        Diagnostic::error("wif-value", message).at(Some(line.at.clone())).given(given).accepts(accepts)
    });
}

/// A whole number, 0 to `most`.
pub fn count(line: &Line, most: usize, faults: &mut Faults) -> Option<u32> {
    let value = bare(line);
    match value.parse::<u64>() {
        Ok(n) if n <= most as u64 => return Some(n as u32),
        Ok(_) => {
            let message = format!("{} = {value} is more than can be woven here", line.key);
            let fault = Diagnostic::error("wif-too-many", message).at(Some(line.at.clone())).given(value);
            say(faults, || fault.accepts(format!("0 to {most}")));
        }
        // Some writers put whole numbers as 24.0.
        Err(_) => match value.parse::<f64>() {
            Ok(f) if f >= 0.0 && f <= most as f64 && f.fract() == 0.0 => return Some(f as u32),
            Ok(f) if f > most as f64 => {
                let message = format!("{} = {value:.40} is more than can be woven here", line.key);
                let fault = Diagnostic::error("wif-too-many", message).at(Some(line.at.clone()));
                say(faults, || fault.accepts(format!("0 to {most}")));
            }
            _ => wrong(faults, line, &format!("a whole number, 0 to {most}")),
        },
    }
    None
}

/// A whole number of either sign.
pub fn whole(line: &Line, faults: &mut Faults) -> Option<i64> {
    let value = bare(line).parse::<i64>().ok().filter(|n| n.abs() <= 1 << 40);
    if value.is_none() {
        wrong(faults, line, "a whole number");
    }
    value
}

/// A length above 0, below a million.
pub fn length(line: &Line, faults: &mut Faults) -> Option<f64> {
    // A comma as decimal mark occurs.
    let value = bare(line).replace(',', ".").parse::<f64>().ok().filter(|v| *v >= 0.0 && *v < 1e6);
    if value.is_none() {
        wrong(faults, line, "a number, 0 or more");
    }
    value
}

/// true, yes, on, 1, or their opposites, in any case.
pub fn boolean(line: &Line, faults: &mut Faults) -> Option<bool> {
    match bare(line).to_ascii_lowercase().as_str() {
        "true" | "yes" | "on" | "1" | "t" | "y" => Some(true),
        "false" | "no" | "off" | "0" | "f" | "n" => Some(false),
        _ => {
            wrong(faults, line, "true or false, yes or no, on or off, 1 or 0");
            None
        }
    }
}

/// Numbers of shafts or treadles parted by commas; 0 and nothing are allowed.
pub fn list(line: &Line, faults: &mut Faults) -> Option<Vec<u32>> {
    let mut out = Vec::new();
    for part in bare(line).split([',', ' ', '\t']).filter(|p| !p.is_empty()) {
        match part.parse::<u32>() {
            Ok(n) if n as usize <= MOST_SHAFTS => out.push(n),
            _ => {
                wrong(faults, line, &format!("numbers 0 to {MOST_SHAFTS} parted by commas"));
                return None;
            }
        }
        if out.len() > MOST_SHAFTS {
            wrong(faults, line, &format!("at most {MOST_SHAFTS} numbers"));
            return None;
        }
    }
    Some(out)
}

/// Two whole numbers, the second the greater.
pub fn range(line: &Line, faults: &mut Faults) -> Option<(i64, i64)> {
    match numbers(line)[..] {
        [low, high] if low < high => Some((low, high)),
        _ => {
            wrong(faults, line, "two whole numbers, as 0,255");
            None
        }
    }
}

/// Three whole numbers.
pub fn rgb(line: &Line, faults: &mut Faults) -> Option<[i64; 3]> {
    match numbers(line)[..] {
        [r, g, b] => Some([r, g, b]),
        _ => {
            wrong(faults, line, "red, green, blue, as 255,128,0");
            None
        }
    }
}

/// A place in the colour table, with or without the colour's parts.
pub fn hue(line: &Line, faults: &mut Faults) -> Option<Hue> {
    let index = |n: i64| u32::try_from(n).ok().filter(|n| *n as usize <= MOST_THREADS);
    match numbers(line)[..] {
        [n] if index(n).is_some() => index(n).map(|index| Hue { index, rgb: None }),
        [n, r, g, b] if index(n).is_some() => index(n).map(|index| Hue { index, rgb: Some([r, g, b]) }),
        _ => {
            wrong(faults, line, "a number of the colour table");
            None
        }
    }
}

fn numbers(line: &Line) -> Vec<i64> {
    let parts = bare(line).split([',', ' ', '\t']).filter(|p| !p.is_empty()).take(8);
    let parsed: Option<Vec<i64>> = parts.map(|p| p.parse().ok().filter(|n: &i64| n.abs() <= 1 << 40)).collect();
    parsed.unwrap_or_default()
}

/// Decipoints, Inches, Centimeters, in the spellings that occur.
pub fn units(line: &Line, faults: &mut Faults) -> Option<Units> {
    match bare(line).to_ascii_lowercase().as_str() {
        "decipoints" | "decipoint" => Some(Units::Decipoints),
        "inches" | "inch" | "in" => Some(Units::Inches),
        "centimeters" | "centimeter" | "centimetres" | "centimetre" | "cm" => Some(Units::Centimeters),
        _ => {
            wrong(faults, line, "Decipoints, Inches or Centimeters");
            None
        }
    }
}

/// RGB or Symbolic.
pub fn form(line: &Line, faults: &mut Faults) -> Option<Form> {
    match bare(line).to_ascii_lowercase().as_str() {
        "rgb" => Some(Form::Rgb),
        "symbolic" => Some(Form::Symbolic),
        _ => {
            wrong(faults, line, "RGB or Symbolic");
            None
        }
    }
}
