//! The open shed does not strain the warp.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "warp-strained",
    title: "The open shed does not strain the warp.",
    severity: Severity::Fail,
    why: "Lifting an end lengthens its path. A yarn that stretches little, like linen, takes all of that as load. What \
          counts is the peak against what breaks it.",
    source: Source { key: "practice", at: "a quarter of break at the peak" },
    evidence: Evidence::Practice,
    about: &["warp.peak_share", "loom.shed_strain", "warp.peak_load"],
    margin: |f| Some(0.25 / f.si(&id::PEAK_SHARE)? - 1.0),
    say: |f| format!("In the open shed an end carries {}, {} of what breaks it; a quarter is the most to plan with.", f.text(&id::PEAK_LOAD), f.text(&id::PEAK_SHARE)),
    knobs: &[&knobs::LIFT, &knobs::HEDDLE_TO_BACK, &knobs::FELL_TO_HEDDLE, &knobs::TENSION],
};
