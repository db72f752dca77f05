//! The manual page of the plan, and its listing for programs, both from the table of keys.

use super::keys::{GROUPS, Key, TABLE, Takes};
use super::last_name;
use super::value::words_of;
use crate::units::{Kind, text};
use serde_json::{Value, json};
use std::fmt::Write as _;

const HEAD: &str = "\
# The plan file

A plan is one TOML file. Every key may be left out but `fibre.kind`, `garment.kind` and the size of the article; what is left out is
decided or taken as usual, and the outcome says so. Keys below are grouped by section; `[garment]` with `body = { chest = \"98 cm\" }`
and `[garment.body]` with `chest = \"98 cm\"` mean the same. This page is written from the program's own table of keys.

## How a quantity is written

In quotes, with its unit: `\"66 cm\"`. A bare number is refused, and the message says which units are taken.

| form | means |
| --- | --- |
| `\"27 mm\"`, `\"2.7 cm\"` | a number and a unit; a decimal point, never a comma |
| `\"9 1/2 in\"`, `\"9-1/2 in\"`, `\"9½ in\"` | a whole number and a fraction |
| `\"5 ft 6 in\"`, `\"2 lb 3 oz\"` | a unit and a smaller one |
| `\"7 200 rpm\"` | a blank may part thousands |
| `\"27 ± 2 mm\"`, `\"27 +- 2 mm\"` | a doubt: 80 of 100 such values lie between 25 and 29 mm |
| `\"200 g ± 10 %\"` | a doubt as a share, behind the unit |
| `\"60 % (40..75)\"` | a lopsided doubt: 60 is the one to plan with, 80 of 100 lie between 40 and 75 |
| `\"auto\"` | decided by the program, as if the key were not there |
| `\"30 tex\"`, `\"20 Ne\"`, `\"34 Nm\"`, `\"14 NeL\"`, `\"3.1 run\"`, `\"480 den\"`, `\"5.6 m/g\"`, `\"3360 yd/lb\"` | the count of the yarn as woven |
| `\"20/2 Ne\"`, `\"20 tex x2\"` | two plies of twenties: the count is the single's; the smaller number is the plies |
| `\"R 40 tex\"` | the count of the plied yarn |
| `\"820 /m\"`, `\"21 /in\"` | twist as turns for a length |
| `\"4.2 TM\"`, `\"40 alpha_tex\"`, `\"121 alpha_m\"` | twist as a multiplier: English cotton, tex, metric |
| `\"12 /cm\"`, `\"30 /in\"` | a sett, picks, a mesh |

A doubt is one of the value to plan with (a mean), not the spread from piece to piece. It is cut off where the key's range ends. What is
chosen rather than measured (a width, a hem) takes no doubt.

## Units

";

/// The manual page, Markdown.
pub fn page() -> String {
    let mut out = String::from(HEAD);
    out.push_str("| what | units |\n| --- | --- |\n");
    let mut kinds: Vec<Kind> = TABLE.keys.iter().flat_map(|key| key.takes.kinds()).collect();
    kinds.sort();
    kinds.dedup();
    for kind in kinds.into_iter().filter(|kind| kind.units().iter().any(|unit| !unit.name.is_empty())) {
        let units: Vec<String> =
            kind.units().iter().filter(|u| !u.name.is_empty()).map(|u| format!("`{}`", u.name)).collect();
        let _ = writeln!(out, "| {} | {} |", kind.words(), units.join(" "));
    }
    out.push_str(
        "\nTheir names in full (`inches`, `pounds`, `per cm`) and usual signs (`\"`, `'`, `µm`) are taken too.\n",
    );
    out.push_str("\n## The plan itself\n\n");
    entries("", &mut out);
    for (group, doc) in GROUPS {
        let title = match group.strip_suffix("[]") {
            Some(many) => format!("[[{many}]]"),
            None => format!("[{group}]"),
        };
        let level = if group.contains('.') { "###" } else { "##" };
        let _ = write!(out, "\n{level} `{title}`\n\n{doc}\n");
        if has_own(group) {
            out.push('\n');
        }
        entries(group, &mut out);
    }
    out
}

fn group_of(path: &str) -> &str {
    path.rsplit_once('.').map_or("", |(group, _)| group)
}
fn has_own(group: &str) -> bool {
    TABLE.keys.iter().any(|key| group_of(key.path) == group)
}

fn entries(group: &str, out: &mut String) {
    for key in TABLE.keys.iter().filter(|key| group_of(key.path) == group) {
        let name = last_name(key.path);
        let _ = writeln!(out, "- **`{name}`** {}", key.doc);
        let _ = writeln!(out, "  Takes {}.", takes(&key.takes));
        let _ = writeln!(out, "  Without it: {}. `{name} = {}`", key.absent, key.example);
        for word in key.takes.words() {
            let _ = writeln!(out, "  - `\"{}\"`: {}", word.word, word.means);
        }
    }
}

/// Words that have their own lines below are not said twice.
fn takes(takes: &Takes) -> String {
    match takes {
        Takes::Choice(_) => String::from("one of these words"),
        Takes::Quantity { spans, auto, words, .. } => {
            let mut out: Vec<String> = spans
                .iter()
                .map(|span| {
                    let unit = if span.unit.is_empty() { String::new() } else { format!(" {}", span.unit) };
                    format!("{}, {} to {}{unit}", span.kind.words(), span.low, span.high)
                })
                .collect();
            out.extend((!words.is_empty()).then(|| String::from("one of these words")));
            out.extend(auto.then(|| String::from("`\"auto\"`")));
            out.join("; or ")
        }
        other => words_of(other),
    }
}

/// Every key with what it takes, for programs.
pub fn listing() -> Value {
    Value::Array(TABLE.keys.iter().map(row).collect())
}

fn row(key: &Key) -> Value {
    let words: Vec<Value> = key.takes.words().iter().map(|w| json!({ "word": w.word, "means": w.means })).collect();
    let (takes, auto, doubt) = match &key.takes {
        Takes::Quantity { auto, doubt, .. } => ("quantity", *auto, *doubt),
        Takes::Quantities { .. } => ("quantities", false, false),
        Takes::Whole { .. } => ("whole", false, false),
        Takes::Choice(_) => ("choice", false, false),
        Takes::Flag => ("flag", false, false),
        Takes::Text { .. } => ("text", false, false),
        Takes::File { .. } => ("file", false, false),
        Takes::Date => ("date", false, false),
        Takes::Weave => ("weave", false, false),
        Takes::Colours => ("colours", false, false),
        Takes::Colour => ("colour", false, false),
        Takes::UsualSize => ("usual size", false, false),
    };
    let spans: Vec<Value> = match &key.takes {
        Takes::Quantity { spans, .. } => spans.clone(),
        Takes::Quantities { span, .. } => vec![*span],
        _ => Vec::new(),
    }
    .iter()
    .map(|span| {
        let units: Vec<&str> = span.kind.units().iter().map(|unit| unit.name).collect();
        json!({ "what": span.kind.words(), "units": units, "unit": span.unit, "low": span.low, "high": span.high })
    })
    .collect();
    let (least, most) = match &key.takes {
        Takes::Whole { least, most } => (json!(least), json!(most)),
        _ => (Value::Null, Value::Null),
    };
    let all = json!({
        "path": key.path, "takes": takes, "auto": auto, "doubt": doubt, "quantities": spans, "words": words, "least": least,
        "most": most, "doc": key.doc, "absent": key.absent, "example": key.example, "accepted": words_of(&key.takes),
        "units": text::unit_list(&key.takes.kinds()),
    });
    match all {
        Value::Object(map) => Value::Object(map.into_iter().filter(|(_, value)| !value.is_null()).collect()),
        other => other,
    }
}
