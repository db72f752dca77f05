//! What a log says, ready to be estimated from: the one form in which measurements are handed to estimates, forecasts and
//! drawings. Plain data; knows no store, no field name and no clock.

use super::cloth::Swatch;
use super::evenness::Bobbin;
use super::pace::{Day, Session};
use super::runout::Used;
use super::stage::Batch;
use super::strip::Strip;
use super::yarn::{BreakTest, Skein, TwistTest};
use crate::units::{Duration, Length, Mass, Number, PerLength, Q};
use std::collections::BTreeMap;

/// All that a log's entries say.
#[derive(Clone, Debug, Default)]
pub struct Samples {
    /// Skeins, and the lengths cut from bobbins to check.
    pub skeins: Vec<Skein>,
    pub twists: Vec<TwistTest>,
    pub breaks: Vec<BreakTest>,
    pub swatches: Vec<Swatch>,
    /// Batches by stage, where both masses were weighed.
    pub batches: BTreeMap<String, Vec<Batch>>,
    /// Fibre that came out of each stage in all.
    pub prepared: BTreeMap<String, Q<Mass>>,
    /// Fibre that went into each stage, of the batches weighed before.
    pub taken: BTreeMap<String, Q<Mass>>,
    /// Sittings by step.
    pub work: BTreeMap<String, Work>,
    /// Time of the last sitting.
    pub last_sitting: Option<Q<Duration>>,
    /// Which bobbins the maker put to warp and to weft, by number.
    pub put_to: BTreeMap<u32, Use>,
    /// Time worked, by day.
    pub days: Vec<Day>,
    /// Bobbins done whose count can be told, in the order they were done.
    pub bobbins: Vec<Bobbin>,
    /// Mass of all bobbins done.
    pub spun: Option<Q<Mass>>,
    /// The warp that was put on the loom last.
    pub warp: Option<WarpOn>,
    /// Picks as they were checked.
    pub picks: Vec<Q<PerLength>>,
    /// Weft used between weighings.
    pub used: Vec<Used>,
    /// Length woven, at its last mark.
    pub woven: Option<Q<Length>>,
    /// Weft yarn that is there: left at its last weighing, and what was made ready since.
    pub weft_left: Option<Q<Mass>>,
    /// Length woven at that weighing.
    pub weighed_at: Option<Q<Length>>,
    /// Ends broken so far.
    pub ends_broken: f64,
    /// Printed test strips.
    pub strips: Vec<Strip>,
    /// Day of the last entry, counted as [`Day::day`] is.
    pub last_day: Option<i64>,
}

/// Where a bobbin goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    Warp,
    Weft,
}

/// A warp as it was wound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WarpOn {
    pub ends: f64,
    /// Length of each end, as wound.
    pub length: Q<Length>,
    /// Width in the heddle.
    pub in_reed: Option<Q<Length>>,
}

/// Sittings at one step, by what was counted.
#[derive(Clone, Debug, Default)]
pub struct Work {
    pub by_length: Vec<Session<Length>>,
    pub by_mass: Vec<Session<Mass>>,
    pub by_number: Vec<Session<Number>>,
    /// Times of all sittings, counted or not.
    pub sittings: Vec<Q<Duration>>,
}

impl Samples {
    /// What was done at a step, in sittings that counted a length.
    pub fn length_done(&self, step: &str) -> Q<Length> {
        let done = |work: &Work| work.by_length.iter().map(|s| s.done.to_si()).sum();
        Q::si(self.work.get(step).map_or(0.0, done))
    }
    /// The same, counted in things.
    pub fn number_done(&self, step: &str) -> f64 {
        self.work.get(step).map_or(0.0, |work| work.by_number.iter().map(|s| s.done.to_si()).sum())
    }
    /// Time worked at a step.
    pub fn time_at(&self, step: &str) -> Q<Duration> {
        Q::si(self.work.get(step).map_or(0.0, |work| work.sittings.iter().map(|time| time.to_si()).sum()))
    }
    /// Whether weaving has begun.
    pub fn is_weaving(&self) -> bool {
        self.woven.is_some()
    }
    /// Whether the warp is wound: so it was said, or there is weaving.
    pub fn is_warped(&self) -> bool {
        self.warp.is_some() || self.is_weaving() || self.number_done("threading") > 0.0
    }
}
