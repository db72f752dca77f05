//! The slots are tall enough for the lift.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "slot-too-short",
    title: "The slots are tall enough for the lift.",
    severity: Severity::Fail,
    why: "Eye threads move up and down by the lift while slot threads stay. If the slot ends before that, its bar drags \
          the slot threads along and the shed closes.",
    source: Source { key: "practice", at: "both lifts and 20 mm" },
    evidence: Evidence::Practice,
    about: &["loom.slot_height", "loom.slot_needs"],
    margin: |f| f.above(&id::SLOT_HEIGHT, &id::SLOT_NEEDS),
    say: |f| format!("Slots of {} are too short for a lift of {}: they need {}.", f.text(&id::SLOT_HEIGHT), f.text(&id::LIFT), f.text(&id::SLOT_NEEDS)),
    knobs: &[&knobs::SLOT_HEIGHT, &knobs::LIFT],
};
