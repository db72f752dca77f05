//! The flyer turns no faster than it is trusted to.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "flyer-too-fast",
    title: "The flyer turns no faster than it is trusted to.",
    severity: Severity::Fail,
    why: "A flyer thrown apart at speed is a handful of wire and wood in the room. Keep hair, sleeves and scarves away, \
          and test a new one behind a guard.",
    source: Source { key: "practice", at: "some flyers fail just over 2000 rpm" },
    evidence: Evidence::Practice,
    about: &["spinner.flyer_speed", "spinner.safe_speed"],
    margin: |f| f.below(&id::FLYER_SPEED, &id::SAFE_SPEED),
    say: |f| format!("This twist at {} turns the flyer at {}; it is trusted to {}.", f.text(&id::PACE), f.text(&id::FLYER_SPEED), f.text(&id::SAFE_SPEED)),
    knobs: &[&knobs::PACE],
};
