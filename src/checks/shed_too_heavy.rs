//! The shed can be lifted by hand.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "shed-too-heavy",
    title: "The shed can be lifted by hand.",
    severity: Severity::Warn,
    why: "Every lifted end pulls back. Over some tens of thousands of picks a force of more than about 90 N (9 kg) wears \
          out the weaver before the cloth.",
    source: Source { key: "practice", at: "a force a hand lifts all day" },
    evidence: Evidence::Practice,
    about: &["loom.lift_force"],
    margin: |f| Some(90.0 / f.si(&id::LIFT_FORCE)? - 1.0),
    say: |f| format!("Holding the shed open takes {}; keep it under 90 N.", f.text(&id::LIFT_FORCE)),
    knobs: &[&knobs::LIFT, &knobs::FELL_TO_HEDDLE, &knobs::HEDDLE_TO_BACK],
};
