//! What lies ahead at the bench: from a plan and what its log says, whether fibre, warp and weft will last and the warp will hold,
//! what can be done about it, when it will be done, and which bobbin goes where. Everything is worked out through the chain, with
//! what was measured and with what is made already; stores, prints and draws nothing.

mod clock;
mod evenness;
mod json;
mod odd;
mod questions;
mod rescues;

pub use clock::{Clock, StepLeft, Way, in_time};
pub use evenness::{Evenness, evenness, words as evenness_words};
pub use json::json;
pub use odd::{odd, odd_lately};

use super::learned::{Learned, learned};
use crate::chain::decide::Brief;
use crate::chain::keys as id;
use crate::chain::settle::Unsettled;
use crate::measure::enough::{Enough, enough};
use crate::measure::priors;
use crate::measure::samples::Samples;
use crate::units::*;

/// Whether something lasts.
#[derive(Clone, Debug)]
pub struct Forecast {
    /// Stable name: `fibre`, `warp`, `width`, `weft` or `breaks`.
    pub name: &'static str,
    /// What the maker asks.
    pub asks: &'static str,
    /// Chance that it goes well.
    pub chance: f64,
    /// Whether something should be done.
    pub warn: bool,
    /// What [`Forecast::figure`] is.
    pub figure_says: &'static str,
    /// Middle, 10 % and 90 % points, in SI; below zero it is missing.
    pub figure: [f64; 3],
    pub unit: AnyUnit,
    pub kind: Kind,
    /// How it stands, in words.
    pub words: String,
    /// Ways out, the least change first; none where nothing is wrong.
    pub rescues: Vec<Rescue>,
}

/// A way out, worked out through the whole plan.
#[derive(Clone, Debug)]
pub struct Rescue {
    /// What to do.
    pub does: String,
    /// Plan keys and what to type there, where it changes the plan.
    pub moves: Vec<(&'static str, String)>,
    /// What it gives, in the forecast's unit, in SI.
    pub gives: f64,
    /// Chance that it goes well then.
    pub chance: f64,
    /// What it costs, in words; may be empty.
    pub costs: String,
}

/// How many readings a figure still wants.
#[derive(Clone, Debug)]
pub struct More {
    pub what: &'static str,
    pub enough: Enough,
}

/// All that lies ahead.
#[derive(Clone)]
pub struct Ahead {
    pub learned: Learned,
    /// The plan with what was measured, and with the warp that is on the loom.
    pub brief: Brief,
    pub forecasts: Vec<Forecast>,
    pub clock: Clock,
    /// None before a bobbin is weighed.
    pub evenness: Option<Evenness>,
    /// What does not look like the rest, a sentence each.
    pub odd: Vec<String>,
    /// Readings for ± 5 %, by what is read.
    pub more: Vec<More>,
}

/// Where the work stands.
pub(crate) struct Stand<'a> {
    pub planned: &'a Brief,
    pub samples: &'a Samples,
    pub learned: Learned,
    /// Ids that are made already and decide no more, in SI.
    pub made: Vec<(u16, f64)>,
}

impl Stand<'_> {
    /// The plan as it stands, with other ids stated besides.
    fn brief(&self, plan: &Brief, besides: &[(u16, f64)]) -> Result<Brief, Unsettled> {
        let made: Vec<(u16, f64)> = self.made.iter().chain(besides).copied().collect();
        plan.with_measured(&self.learned.measured(), &made)
    }
}

/// What is made already: the heddle and the cloth's width once the warp is on, the sett of the warp that was wound.
fn made(planned: &Brief, samples: &Samples) -> Vec<(u16, f64)> {
    if !samples.is_warped() {
        return Vec::new();
    }
    let sett = samples.warp.and_then(|warp| Some(warp.ends / warp.in_reed?.to_si()));
    let planned_si = |slot: u16| planned.given.si(slot);
    let sett = sett.or(planned_si(id::SETT_IN_REED.slot)).map(|sett| (id::SETT_IN_REED.slot, sett));
    let width = planned_si(id::LAY_WIDTH.slot).map(|width| (id::LAY_WIDTH.slot, width));
    sett.into_iter().chain(width).collect()
}

/// What is asked of what lies ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// A day, counted as the samples count theirs.
    pub today: i64,
    /// Whether ways out are looked for: pieces are drafted and laid anew for some, a tenth of a second each.
    pub rescues: bool,
}

/// What lies ahead. `planned` is the plan as decided without the log.
///
/// # Errors
/// When what was measured cannot be brought together with what the plan states.
pub fn ahead(planned: &Brief, samples: &Samples, asked: Asked) -> Result<Ahead, Unsettled> {
    let stand = Stand { planned, samples, learned: learned(planned, samples), made: made(planned, samples) };
    let brief = stand.brief(planned, &[])?;
    Ok(Ahead {
        forecasts: questions::forecasts(&stand, &brief, asked.rescues),
        clock: clock::clock(&brief, samples, asked.today),
        evenness: evenness(&brief, samples),
        odd: odd(samples),
        more: more(planned, &stand.learned, samples),
        learned: stand.learned,
        brief,
    })
}

/// How near the truth a figure should be brought, and how sure.
const WITHIN: Q<Ratio> = Q::si(0.05);
const SURE: f64 = 0.8;

/// How big a sample? By the maker's own spread; by the usual one until that is known.
pub fn more(brief: &Brief, learned: &Learned, samples: &Samples) -> Vec<More> {
    let uneven = learned.findings.iter().find(|found| found.name == "unevenness").map(|found| found.middle);
    let uneven = uneven.unwrap_or(priors::unevenness().middle.to_si());
    let planned = brief.given.si(id::STRENGTH_CV.slot).unwrap_or(priors::strength_spread().middle.to_si());
    let spread = learned.of(id::STRENGTH_CV.slot).map_or(planned, |lesson| lesson.measured.middle);
    let asked = |what, spread, have, one| More { what, enough: enough(Q::si(spread), WITHIN, SURE, have, one) };
    vec![
        asked("the count, 10 m weighed", uneven, samples.skeins.len(), "weighing"),
        asked("the break load", spread, samples.breaks.len(), "break test"),
    ]
}
