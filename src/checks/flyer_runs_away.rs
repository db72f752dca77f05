//! The flyer is safe even at full voltage.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "flyer-runs-away",
    title: "The flyer is safe even at full voltage.",
    severity: Severity::Fail,
    why: "Yarn breaks, the brake is off, and the switch fails on: the flyer then runs up to the motor's own speed over the \
          belt ratio. It must hold together there too.",
    source: Source { key: "hughes-drury", at: "no-load speed at another voltage" },
    evidence: Evidence::Published,
    about: &["spinner.runaway_speed", "spinner.safe_speed"],
    margin: |f| f.below(&id::RUNAWAY, &id::SAFE_SPEED),
    say: |f| format!("With nothing to hold it the flyer reaches {}; it is trusted to {}.", f.text(&id::RUNAWAY), f.text(&id::SAFE_SPEED)),
    knobs: &[&knobs::SPINDLE_PULLEY, &knobs::MOTOR_PULLEY, &knobs::SUPPLY_VOLTAGE],
};
