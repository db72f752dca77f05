//! `log`: what was weighed, counted, broken and woven, kept beside the plan; and what it teaches.

use super::ahead as pages;
use super::load::load;
use super::show::{HEAD, inked, wrapped};
use super::{Answer, Ending, Format, pretty};
use crate::chain::decide::{Brief, decide};
use crate::diag::{self, show::Look};
use crate::disk::{read, replace};
use crate::draw::pdf;
use crate::draw::title::Paper;
use crate::log::samples::{Samples, samples};
use crate::log::{Draft, Entry, Log, Moment, Options, card, kinds};
use crate::measure::pace::{REST, rest};
use crate::outlook::ahead::{self, Ahead};
use crate::outlook::day;
use crate::units::Q;
use clap::Subcommand;
use std::path::{Path, PathBuf};

/// What can be done with a log.
#[derive(Subcommand)]
pub enum Act {
    /// Write an entry: log PLAN add skein bobbin=1 mass="1.6 g" counted="30 m"
    Add {
        /// fibre, skein, bobbin, swatch, warp, weft, picks, woven, breaks, knobs, minutes, temperature, note, photo, strip;
        /// left out, the kinds are listed
        kind: Option<String>,
        /// field=value, each with its unit; left out, the fields of the kind are listed
        fields: Vec<String>,
        /// When it happened, such as 2026-05-01 or 2026-05-01 14:30; now, if not said
        #[arg(long)]
        at: Option<String>,
    },
    /// List the entries that stand
    List {
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// Correct an entry; the old one is kept, and the correction points at it
    Fix { number: i64, fields: Vec<String> },
    /// Take an entry back, or the last one
    Undo { number: Option<i64> },
    /// Read entries from a CSV file; those that are known already are left
    Import { file: PathBuf },
    /// Write all entries to a CSV file
    Export { file: PathBuf },
    /// Make sample cards to print, as a PDF
    Card { file: PathBuf },
    /// What the log teaches the plan, and what looks odd
    Learned {
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
    /// Will fibre, warp, weft and time last, what can be done, hours left, which bobbin goes where
    Ahead {
        /// A day it must be done by, such as 2026-09-30
        #[arg(long)]
        by: Option<String>,
        /// Reckon from this day; today, if not said
        #[arg(long)]
        today: Option<String>,
        #[arg(long, value_enum, default_value = "text")]
        format: Format,
    },
}

/// The log beside a plan.
pub fn beside(plan: &Path) -> PathBuf {
    plan.with_extension("log")
}

/// The command.
pub fn log(plan: &Path, act: &Act, look: Look) -> Answer {
    match act {
        Act::Add { kind: None, .. } => return Ok((all_kinds(plan), Ending::Done)),
        Act::Add { kind: Some(kind), fields, .. } if fields.is_empty() => return fields_of(kind),
        _ => {}
    }
    let reads = matches!(
        act,
        Act::List { .. } | Act::Export { .. } | Act::Card { .. } | Act::Learned { .. } | Act::Ahead { .. }
    );
    let path = beside(plan);
    if reads && !path.exists() {
        return Err(format!(
            "{} is not there yet; `clothwright log {} add note note=\"begun\"` begins it.",
            path.display(),
            plan.display()
        ));
    }
    let options = Options { read_only: reads, ..Options::default() };
    let mut log = Log::open(&path, &options).map_err(|trouble| trouble.to_string())?;
    let text = done(&mut log, plan, act, look)?;
    Ok((text, Ending::Done))
}

fn done(log: &mut Log, plan: &Path, act: &Act, look: Look) -> Result<String, String> {
    let words = |trouble: crate::log::Trouble| trouble.to_string();
    Ok(match act {
        Act::Add { kind, fields, at } => {
            let kind = kind.as_deref().unwrap_or_default();
            let mut draft = Draft::read(kind, fields).map_err(words)?;
            if let Some(at) = at {
                draft =
                    draft.at(Moment::read(at).ok_or_else(|| format!("`{at}` is no moment such as 2026-05-01 14:30"))?);
            }
            let id = log.add(&draft, now()).map_err(words)?;
            format!("Entry {id} is kept.\n{}", told(log, plan, kind))
        }
        Act::List { format: Format::Text } => list(&log.list().map_err(words)?),
        Act::List { format: Format::Json } => pretty(&json(&log.list().map_err(words)?)),
        Act::Fix { number, fields } => {
            let pair = |word: &String| word.split_once('=').map(|(field, text)| (field.to_string(), text.to_string()));
            let changes: Option<Vec<_>> = fields.iter().map(pair).collect();
            let changes = changes.ok_or("say what to correct as field=value")?;
            format!("Entry {number} is corrected by {}.\n", log.fix(*number, &changes, None, now()).map_err(words)?)
        }
        Act::Undo { number } => format!("Entry {} is taken back.\n", log.undo(*number, now()).map_err(words)?),
        Act::Import { file } => {
            let bytes = read(file, 64 << 20).map_err(|why| format!("{}: {why}", file.display()))?;
            let text = String::from_utf8(bytes).map_err(|_| format!("{} is not UTF-8 text", file.display()))?;
            let imported = log.import_csv(&text, now()).map_err(words)?;
            format!("{} entries are new, {} were known.\n", imported.added, imported.known)
        }
        Act::Export { file } => {
            replace(file, log.export_csv().map_err(words)?.as_bytes())?;
            format!("{} is written.\n", file.display())
        }
        Act::Card { file } => {
            let cards: Vec<_> = log.list().map_err(words)?.iter().filter_map(card::card).collect();
            if cards.is_empty() {
                return Err("No entry makes a card yet: skeins, bobbins and swatches do.".into());
            }
            replace(file, &pdf::pages(&card::pages(&cards, Paper::A4)).map_err(|fault| fault.to_string())?)?;
            format!("{} cards are in {}.\n", cards.len(), file.display())
        }
        Act::Learned { format } => {
            let planned = brief(plan, look)?;
            let ahead = ahead_of(log, &planned, None, *format == Format::Json)?;
            match format {
                Format::Text => pages::learned(&ahead, &planned),
                Format::Json => pretty(&ahead::json(&ahead)),
            }
        }
        Act::Ahead { by, today, format } => {
            let ahead = ahead_by(log, &brief(plan, look)?, by.as_deref(), today.as_deref())?;
            match format {
                Format::Text => pages::page(&ahead, &plan.display().to_string()),
                Format::Json => pretty(&ahead::json(&ahead)),
            }
        }
    })
}

/// What lies ahead with its ways out, and whether it will be done by a day, where one is asked for.
fn ahead_by(log: &Log, planned: &Brief, by: Option<&str>, today: Option<&str>) -> Result<Ahead, String> {
    let day = |text: &str| day::read(text).ok_or_else(|| format!("`{text}` is no day such as 2026-09-30"));
    let (by, today) = (by.map(day).transpose()?, today.map(day).transpose()?);
    let samples = samples(&log.list().map_err(|trouble| trouble.to_string())?);
    let mut ahead = ahead_of(log, planned, today, true)?;
    let style = ahead.brief.style;
    ahead.forecasts.extend(by.map(|by| ahead::in_time(&ahead.clock, &samples, by, style)));
    Ok(ahead)
}

/// What lies ahead by a log, from today or the last entry, whichever is later, unless a day is said.
fn ahead_of(log: &Log, planned: &Brief, today: Option<i64>, rescues: bool) -> Result<Ahead, String> {
    let samples = samples(&log.list().map_err(|trouble| trouble.to_string())?);
    let today = today.unwrap_or_else(|| now().day().max(samples.last_day.unwrap_or(0)));
    ahead::ahead(planned, &samples, ahead::Asked { today, rescues }).map_err(|unsettled| unsettled.why)
}

/// What an entry brings up: told at once, or it is found too late. An entry is kept whatever the plan says, so nothing here is an error.
fn told(log: &Log, plan: &Path, kind: &str) -> String {
    let mut out = String::new();
    let Ok(entries) = log.list() else { return out };
    let samples = samples(&entries);
    if ["bobbin", "picks", "woven", "fibre"].contains(&kind) {
        out += &ahead::odd_lately(&samples).iter().map(|words| format!("{words}\n")).collect::<String>();
    }
    let question = match kind {
        "minutes" => return out + &rest_words(&samples),
        "woven" | "weft" => "weft",
        "warp" => "warp",
        "bobbin" | "fibre" => "fibre",
        "skein" => "breaks",
        _ => return out,
    };
    let found = brief(plan, Look::Plain).and_then(|planned| ahead_of(log, &planned, None, false));
    if let Some(forecast) = found.iter().flat_map(|ahead| &ahead.forecasts).find(|f| f.name == question && f.warn) {
        out += &format!("{} {}\nWays out: clothwright log {} ahead\n", forecast.asks, forecast.words, plan.display());
    }
    out
}

/// The moment of the command.
#[expect(clippy::disallowed_methods, reason = "the command line knows the time")]
fn now() -> Moment {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    Moment::from_millis(since.map_or(0, |since| i64::try_from(since.as_millis()).unwrap_or(i64::MAX)))
}

/// Every kind of entry, and how one is written.
fn all_kinds(plan: &Path) -> String {
    let mut out = format!("{}\n", inked(HEAD, "What can be logged"));
    for kind in kinds::KINDS {
        out += &format!("  {:12} {}\n", kind.name, kind.words);
    }
    let plan = plan.display();
    out += &format!("\nFields of one: clothwright log {plan} add bobbin\n");
    out + &format!("An entry:      clothwright log {plan} add bobbin bobbin=1 mass=\"74 g\"\n")
}

fn fields_of(kind: &str) -> Answer {
    let Some(found) = kinds::kind(kind) else {
        let close = kinds::near_kind(kind).map_or(String::new(), |close| format!(" Did you mean `{close}`?"));
        let all: Vec<&str> = kinds::KINDS.iter().map(|kind| kind.name).collect();
        return Err(format!("`{kind}` is no kind of entry.{close} These are: {}.", all.join(", ")));
    };
    let mut out = format!("{}: {}\n", inked(HEAD, found.name), found.words);
    for name in found.fields() {
        let needed = if found.needs.contains(&name) { "needed" } else { "" };
        let words = kinds::field_named(name).map_or("", |field| field.words);
        out += &format!("  {name:16} {needed:7} {words}\n");
    }
    Ok((out, Ending::Done))
}

fn list(entries: &[Entry]) -> String {
    let mut out = String::new();
    for entry in entries {
        let day: String = entry.happened.to_string().chars().take(10).collect();
        let fields: Vec<String> = entry
            .figures
            .iter()
            .map(|(name, values)| {
                format!("{name} {}", values.iter().map(|v| v.typed.as_str()).collect::<Vec<_>>().join("; "))
            })
            .collect();
        out += &format!("{:>5}  {day}  {:11} {}\n", entry.id, entry.kind, wrapped(&fields.join(", "), 80, 31));
    }
    out + &format!("{} entries.\n", entries.len())
}

/// Entries as JSON: fields as typed.
fn json(entries: &[Entry]) -> serde_json::Value {
    let fields = |entry: &Entry| -> serde_json::Map<String, serde_json::Value> {
        let typed =
            |values: &[crate::log::Figure]| values.iter().map(|v| v.typed.as_str()).collect::<Vec<_>>().join("; ");
        entry.figures.iter().map(|(name, values)| (name.to_string(), typed(values).into())).collect()
    };
    let one = |entry: &Entry| {
        serde_json::json!({
            "id": entry.id, "happened": entry.happened.to_string(), "kind": entry.kind, "fields": fields(entry),
        })
    };
    serde_json::json!({ "entries": entries.iter().map(one).collect::<Vec<_>>() })
}

fn brief(plan: &Path, look: Look) -> Result<Brief, String> {
    let loaded = load(plan, look)?;
    let name = plan.file_name().and_then(|name| name.to_str()).unwrap_or("plan");
    decide(&loaded.plan).map_err(|found| diag::show::render(&found, &loaded.text, name, look))
}

/// Whether to rest after the sitting that was just written down.
fn rest_words(samples: &Samples) -> String {
    let (sitting, today) =
        (samples.last_sitting.map_or(0.0, Q::to_si), samples.days.last().map_or(0.0, |day| day.time.to_si()));
    let due = rest(Q::si(sitting), Q::si(today), Q::si(today), None, &REST);
    due.words.map_or(String::new(), |words| format!("{words}\n"))
}

/// What lies ahead by the log beside a plan, for `plan --with-log` and the drawings of bobbins; none where nothing was logged yet.
pub fn of_plan(plan: &Path, planned: &Brief, rescues: bool) -> Result<Option<Ahead>, String> {
    let path = beside(plan);
    if !path.exists() {
        return Ok(None);
    }
    let options = Options { read_only: true, ..Options::default() };
    let log = Log::open(&path, &options).map_err(|trouble| trouble.to_string())?;
    ahead_of(&log, planned, None, rescues).map(Some)
}
