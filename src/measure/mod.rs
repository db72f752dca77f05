//! What samples say: estimates with ranges from few data. Pure; knows no store, no plan and no clock.
//!
//! A maker has five skeins and two swatches, not five hundred. So each figure starts at what the trade assumes (a [`Prior`]:
//! a middle and the range eight makers in ten fall into) and moves toward the maker's own readings by their number and their
//! spread, never by faith. The mathematics is one page, [`fit`]; the other files say what is measured and in which words the
//! answer is given. Every estimator's 80 % range is tested on two thousand simulated makers (`tests/it/measure.rs`).

pub mod chance;
pub mod cloth;
pub mod enough;
pub mod evenness;
pub mod fit;
pub mod links;
pub mod pace;
pub mod priors;
pub mod runout;
pub mod samples;
pub mod stage;
pub mod strip;
pub mod watch;
mod words;
pub mod yarn;

use crate::units::{Dimension, Q, Unit};

/// What is assumed before anything is measured: the middle, and the 10 % and 90 % points over makers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior<D> {
    pub middle: Q<D>,
    pub low: Q<D>,
    pub high: Q<D>,
    /// Where the range is from, or "common practice, no source".
    pub source: &'static str,
}

impl<D: Dimension> Prior<D> {
    /// `middle (low..high)` in `unit`. An inverse unit (Ne) may be given either way round.
    pub fn new(middle: f64, low: f64, high: f64, unit: &Unit<D>, source: &'static str) -> Self {
        let (a, b) = (unit.to_si(low), unit.to_si(high));
        Prior { middle: Q::new(middle, unit), low: Q::si(a.min(b)), high: Q::si(a.max(b)), source }
    }

    /// The three numbers in SI.
    fn numbers(&self) -> [f64; 3] {
        [self.middle.to_si(), self.low.to_si(), self.high.to_si()]
    }
}

/// A figure with its doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate<D> {
    /// As likely above as below.
    pub middle: Q<D>,
    /// One time in ten the truth lies below.
    pub low: Q<D>,
    /// One time in ten the truth lies above.
    pub high: Q<D>,
    /// Readings it rests on; 0 when it is the assumption alone.
    pub n: usize,
    /// Share of the answer that is still the assumption, 1 (nothing measured) to 0.
    pub prior_weight: f64,
    /// How sure, in plain words, with what to do next.
    pub words: String,
}

impl<D: Dimension> Estimate<D> {
    /// The assumption, unmeasured.
    fn assumed(prior: &Prior<D>) -> Self {
        let words = words::assumed(prior.source);
        Estimate { middle: prior.middle, low: prior.low, high: prior.high, n: 0, prior_weight: 1.0, words }
    }

    /// From the three numbers in SI.
    fn of(range: [f64; 3], n: usize, prior_weight: f64, words: String) -> Self {
        Estimate { middle: Q::si(range[0]), low: Q::si(range[1]), high: Q::si(range[2]), n, prior_weight, words }
    }

    /// Half the range over the middle: 0.05 is "good to 5 % either way, eight times in ten".
    pub fn half_range(&self) -> f64 {
        (self.high.to_si() - self.low.to_si()) / (2.0 * self.middle.to_si().abs()).max(f64::MIN_POSITIVE)
    }

    /// Adds a sentence to the words.
    fn say(mut self, sentence: &str) -> Self {
        if !self.words.is_empty() {
            self.words.push(' ');
        }
        self.words.push_str(sentence);
        self
    }
}
