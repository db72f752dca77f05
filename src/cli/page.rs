//! `plan`: a page a person can read, in the order of the chain, or the JSON.

use super::load::{Loaded, load};
use super::show::{FAINT, HEAD, inked, verdict};
use super::{Answer, Ending, Format, pretty};
use crate::chain::decide::article::Effort;
use crate::chain::decide::inputs::How;
use crate::chain::decide::{With, decide_with};
use crate::chain::keys::{self as id, ALL};
use crate::diag::{self, Diagnostic, show::Look};
use crate::outlook::{Outcome, json, work_up};
use crate::units::show;
use std::path::Path;

/// What is taken of the log beside a plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WithLog {
    /// Nothing.
    #[default]
    No,
    /// What is drawn of it, where it is there; the figures stay the plan's.
    Beside,
    /// Its figures; it must be there.
    Yes,
}

impl WithLog {
    /// The log's figures where `--with-log` was said.
    pub fn if_said(said: bool) -> Self {
        if said { WithLog::Yes } else { WithLog::No }
    }
}

/// How a plan is to be worked out.
#[derive(Clone, Copy, Debug, Default)]
pub struct Asked {
    /// Trials behind the ranges.
    pub trials: usize,
    /// With what the log beside the plan says.
    pub log: WithLog,
    /// With ways out of what will not last.
    pub rescues: bool,
    /// With seconds for the lay.
    pub thorough: bool,
}

/// Works a plan out from its file.
pub fn outcome(path: &Path, trials: usize, look: Look) -> Result<Outcome, String> {
    outcome_as(path, Asked { trials, ..Asked::default() }, look)
}

/// The same, as asked.
pub fn outcome_as(path: &Path, asked: Asked, look: Look) -> Result<Outcome, String> {
    let Loaded { text, plan, mut noticed } = load(path, look)?;
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or("plan");
    let effort = if asked.thorough { Effort::Thorough } else { Effort::Quick };
    let shown = |found: Vec<Diagnostic>| diag::show::render(&found, &text, name, look);
    let mut brief = decide_with(&plan, &With { effort, ..With::default() }).map_err(shown)?;
    let mut ahead = None;
    if asked.log != WithLog::No {
        ahead = super::log::of_plan(path, &brief, asked.rescues)?;
    }
    match (&ahead, asked.log) {
        (Some(ahead), WithLog::Yes) => brief = ahead.brief.clone(),
        (None, WithLog::Yes) => {
            return Err(format!("{} is not there: nothing was logged yet.", super::log::beside(path).display()));
        }
        _ => {}
    }
    noticed.extend(brief.noticed.iter().cloned());
    if !noticed.is_empty() {
        anstream::eprintln!("{}", diag::show::render(&noticed, &text, name, look).trim_end());
    }
    let mut outcome = work_up(brief, asked.trials);
    outcome.ahead = ahead;
    Ok(outcome)
}

/// The command.
pub fn plan(path: &Path, format: Format, asked: Asked, look: Look) -> Answer {
    let rescues = format == Format::Json && asked.log == WithLog::Yes;
    let outcome = outcome_as(path, Asked { rescues, ..asked }, look)?;
    let text = match format {
        Format::Json => pretty(&json::outcome(&outcome)),
        Format::Text => page(&outcome),
    };
    Ok((text, Ending::Done))
}

/// A part of the page: a heading and the ids under it.
struct Part {
    heading: &'static str,
    slots: &'static [u16],
}

macro_rules! parts {
    ($($heading:literal: $($key:ident),+;)*) => {
        static PARTS: &[Part] = &[$(Part { heading: $heading, slots: &[$(id::$key.slot),+] }),*];
    };
}
parts! {
    "Garment and cloth to weave": HOW_MANY, GARMENT_CHEST, CHEST_EASE, NECK_OPENING, SLIT, GARMENT_MASS, THREAD, LAY_WIDTH, LAY_LENGTH, MATCH_EXTRA, LAY_USED;
    "Cloth": SETT_IN_REED, FIRMNESS, PICKS_ON_LOOM, SETT_FINISHED, PICKS_FINISHED, STRIPES_ACROSS, STRIPES_ALONG, TAKE_UP, DRAW_IN, SHRINK_WIDTH, SHRINK_LENGTH, CLOTH_MASS, COVER_FACTOR, OPEN_AREA, THICKNESS;
    "Warp and weft": WIDTH_IN_REED, ENDS, WARP_LENGTH, WARP_YARN, WARP_MASS, PICKS, ON_LOOM_LENGTH, WEFT_YARN, WEFT_MASS, TENSION, PEAK_LOAD, EXPECTED_BREAKS;
    "Yarn": WARP_COUNT, WARP_GRIST, WARP_DIAMETER, WARP_MULTIPLIER, WARP_TWIST, WARP_PLY_TWIST, WARP_ANGLE, WARP_FIBRES, WARP_LIMIT_CV, WARP_BREAK, WEFT_COUNT, WEFT_TWIST;
    "Fibre and crop": YARN_LENGTH, YARN_MASS, SPUN_FIBRE, CLEAN_FIBRE, RAW_FIBRE, YARN_POSSIBLE, ON_HAND_SHARE, PLANTS, SEEDS, PLOT, FLEECES, HEAT_UNITS, HEAT_NEEDED;
    "Spinner": SPINDLE_SPEED, RATIO, MOTOR_SPEED, DUTY, DUTY_LIMIT, CURRENT, HEAT, STALL_CURRENT, TOP_SPEED, RUNAWAY, HAND_PULL, PULL_AT_BOBBIN, BRAKE_EMPTY, BRAKE_FULL, BELT_LENGTH, BOBBIN_LENGTH, BOBBINS, BEAT;
    "Loom": HEDDLES, HEDDLE_PITCH, GAP, EYES, SLOTS, WALL, WARP_TENSION, BEAM_DEFLECTION, BEAM_STRESS, SHED_OPENING, SHED_OPENING_LATE, SHED_STRAIN, LIFT_FORCE, RATCHET_STEP, ROLL_DIAMETER;
    "Print": MESH, SMALLEST_LINE, SMALLEST_GAP, SMALLEST_DOT, FILM_WIDTH, INK;
    "Hours": GINNING, SCOURING, SCUTCHING, CARDING, COMBING, HACKLING, SAMPLING, SPINNING, PLYING, SKEINING, WARPING, WEAVING, FINISHING, SEWING, PRINTING, TOTAL_HOURS;
}

/// Width of a sentence's column.
const SENTENCE: usize = 54;

/// The page.
pub fn page(outcome: &Outcome) -> String {
    let brief = &outcome.brief;
    let mut out = format!("{}\n", inked(HEAD, &brief.title));
    out +=
        &format!("{}, {} weave. Middle values; 8 makers in 10 land within the range.\n", brief.fibre, brief.woven.name);
    outcome.make_spreads(&PARTS.iter().flat_map(|part| part.slots).copied().collect::<Vec<_>>());
    for part in PARTS {
        let rows: Vec<String> = part.slots.iter().filter_map(|slot| row(outcome, *slot)).collect();
        if !rows.is_empty() {
            out += &format!("\n{}\n{}", inked(HEAD, part.heading), rows.concat());
        }
    }
    out += &checks(outcome);
    if let Some(ahead) = &outcome.ahead {
        out += &super::ahead::briefly(ahead);
    }
    out += &inked(FAINT, "\nWhy is a number what it is?  clothwright explain ID PLAN\n");
    out
}

fn row(outcome: &Outcome, slot: u16) -> Option<String> {
    let key = &ALL[slot as usize];
    let style = outcome.brief.style;
    let value = show::quantity(outcome.numbers.si(slot)?, &key.unit, style);
    let range = outcome.spread(slot).map_or(String::new(), |s| show::range(s.low, s.high, &key.unit, style));
    let how = match outcome.how(slot) {
        How::Computed => "",
        other => other.word(),
    };
    let says = shortened(key.says.trim_end_matches('.'));
    let name = inked(FAINT, key.name);
    Some(format!("  {says:SENTENCE$} {value:>12}  {range:>22}  {how:8} {name}\n"))
}

/// A sentence cut at a word so that it fits its column.
fn shortened(text: &str) -> String {
    if text.chars().count() <= SENTENCE {
        return text.to_string();
    }
    let mut out = String::new();
    for word in text.split(' ') {
        if out.chars().count() + word.chars().count() + 2 > SENTENCE {
            break;
        }
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(word);
    }
    out.trim_end_matches([',', ';', ':']).to_string() + "…"
}

fn checks(outcome: &Outcome) -> String {
    let mut out = format!("\n{}\n", inked(HEAD, "Checks"));
    for one in &outcome.verdicts {
        out += &verdict(one, outcome.brief.style);
    }
    let passed = outcome.passed.len();
    out += &match outcome.verdicts.len() {
        0 => format!("  All {passed} checks that apply pass.\n"),
        _ => format!("  {passed} other checks pass.\n"),
    };
    out
}
