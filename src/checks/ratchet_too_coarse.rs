//! The ratchet sets the tension finely.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "ratchet-too-coarse",
    title: "The ratchet sets the tension finely.",
    severity: Severity::Warn,
    why: "One step of the ratchet lets on or takes up some millimetres. Where that is more than the warp's whole stretch, \
          the tension can only be far too much or far too little.",
    source: Source { key: "practice", at: "a step of about the mean stretch" },
    evidence: Evidence::Practice,
    about: &["loom.step_strain", "loom.mean_strain", "loom.ratchet_step"],
    margin: |f| Some(1.5 * f.si(&id::MEAN_STRAIN)? / f.si(&id::STEP_STRAIN)? - 1.0),
    say: |f| format!("One step is {}, a stretch of {}; the warp is stretched by only {} at work. More teeth, a second pawl, or a friction brake.", f.text(&id::RATCHET_STEP), f.text(&id::STEP_STRAIN), f.text(&id::MEAN_STRAIN)),
    knobs: &[&knobs::TEETH, &knobs::PAWLS, &knobs::HEDDLE_TO_BACK],
};
