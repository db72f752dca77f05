//! `log`: what was weighed, counted, broken and woven, kept beside the plan; and what it teaches.

use super::load::load;
use super::show::{FAINT, HEAD, inked, wrapped};
use super::{Answer, Ending};
use crate::chain::decide::{Brief, Measured, decide};
use crate::chain::keys::ALL;
use crate::diag::{self, show::Look};
use crate::disk::{read, replace};
use crate::draw::pdf;
use crate::draw::title::Paper;
use crate::log::learned::{Lesson, learned};
use crate::log::samples::{Samples, samples};
use crate::log::{Draft, Entry, Log, Moment, Options, card, kinds};
use crate::measure::watch::{drift_words, watch};
use crate::units::{PER_CM, Q, TEX, show};
use clap::Subcommand;
use std::path::{Path, PathBuf};

/// What can be done with a log.
#[derive(Subcommand)]
pub enum Act {
    /// Write an entry: log PLAN add skein bobbin=1 mass="1.6 g" counted="30 m"
    Add {
        /// fibre, skein, bobbin, swatch, picks, woven, breaks, knobs, minutes, temperature, note, photo, strip
        kind: String,
        /// field=value, each with its unit; left out, the fields of the kind are listed
        fields: Vec<String>,
        /// When it happened, such as 2026-05-01 or 2026-05-01 14:30; now, if not said
        #[arg(long)]
        at: Option<String>,
    },
    /// List the entries that stand
    List,
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
    Learned,
}

/// The log beside a plan.
pub fn beside(plan: &Path) -> PathBuf {
    plan.with_extension("log")
}

/// The command.
pub fn log(plan: &Path, act: &Act, look: Look) -> Answer {
    if let Act::Add { kind, fields, .. } = act
        && fields.is_empty()
    {
        return fields_of(kind);
    }
    let reads = matches!(act, Act::List | Act::Export { .. } | Act::Card { .. } | Act::Learned);
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
            let mut draft = Draft::read(kind, fields).map_err(words)?;
            if let Some(at) = at {
                draft =
                    draft.at(Moment::read(at).ok_or_else(|| format!("`{at}` is no moment such as 2026-05-01 14:30"))?);
            }
            format!("Entry {} is kept.\n", log.add(&draft, now()).map_err(words)?)
        }
        Act::List => list(&log.list().map_err(words)?),
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
        Act::Learned => {
            let samples = samples(&log.list().map_err(words)?);
            page(&brief(plan, look)?, &samples)
        }
    })
}

/// The moment of the command.
#[expect(clippy::disallowed_methods, reason = "the command line knows the time")]
fn now() -> Moment {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    Moment::from_millis(since.map_or(0, |since| i64::try_from(since.as_millis()).unwrap_or(i64::MAX)))
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

fn brief(plan: &Path, look: Look) -> Result<Brief, String> {
    let loaded = load(plan, look)?;
    let name = plan.file_name().and_then(|name| name.to_str()).unwrap_or("plan");
    decide(&loaded.plan).map_err(|found| diag::show::render(&found, &loaded.text, name, look))
}

/// What the log beside a plan teaches it, for `plan --with-log`.
pub fn lessons(plan: &Path, brief: &Brief) -> Result<Vec<Lesson>, String> {
    let path = beside(plan);
    if !path.exists() {
        return Err(format!("{} is not there: nothing was logged yet.", path.display()));
    }
    let options = Options { read_only: true, ..Options::default() };
    let log = Log::open(&path, &options).map_err(|trouble| trouble.to_string())?;
    let entries = log.list().map_err(|trouble| trouble.to_string())?;
    Ok(learned(brief, &samples(&entries)))
}

/// The lessons as inputs.
pub fn measured(lessons: &[Lesson]) -> Vec<Measured> {
    lessons.iter().map(|lesson| lesson.measured).collect()
}

fn page(brief: &Brief, samples: &Samples) -> String {
    let mut out = format!("{}\n", inked(HEAD, "What the log teaches this plan"));
    let lessons = learned(brief, samples);
    for lesson in &lessons {
        let key = &ALL[lesson.measured.slot as usize];
        let text = |si| show::quantity(si, &key.unit, brief.style);
        let before = brief.given.si(lesson.measured.slot).map_or("nothing".into(), text);
        let range = show::range(lesson.measured.low, lesson.measured.high, &key.unit, brief.style);
        out += &format!(
            "  {:28} {:>12} {range:>24}  {}\n",
            key.name,
            text(lesson.measured.middle),
            inked(FAINT, &format!("planned {before}"))
        );
        out += &format!("      {}\n", wrapped(&lesson.words, 90, 6));
    }
    if lessons.is_empty() {
        out += "  nothing yet: weigh and count a washed skein first\n";
    }
    out + &odd(samples)
}

/// Bobbins that are not like the others, and picks that creep.
fn odd(samples: &Samples) -> String {
    let mut out = String::new();
    let counts: Vec<_> = samples.bobbins.iter().map(|bobbin| bobbin.count).collect();
    for at in watch(&counts, Q::new(1.0, &TEX), 20).odd {
        out += &format!("  Bobbin {} is not like the others.\n", samples.bobbins[at].name);
    }
    for drift in &watch(&samples.picks, Q::new(0.1, &PER_CM), 25).drifts {
        out += &format!("  {}\n", drift_words(drift, "picks", "closer", "more open"));
    }
    if out.is_empty() { out } else { format!("\n{}\n{out}", inked(HEAD, "What looks odd")) }
}
