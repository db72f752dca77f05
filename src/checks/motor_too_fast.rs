//! The knob has room to turn.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "motor-too-fast",
    title: "The knob has room to turn.",
    severity: Severity::Warn,
    why: "Where the working speed sits in the lowest fifth of the knob, speed control takes away the torque just when it \
          is needed, and the motor stalls or jerks.",
    source: Source { key: "practice", at: "a fifth of full voltage" },
    evidence: Evidence::Practice,
    about: &["spinner.duty"],
    margin: |f| Some(f.si(&id::DUTY)? / 0.2 - 1.0),
    say: |f| format!("At work the speed control is on for {} of the time; below 20 % it is hard to hold steady.", f.text(&id::DUTY)),
    knobs: &[&knobs::SPINDLE_PULLEY, &knobs::MOTOR_PULLEY, &knobs::SUPPLY_VOLTAGE],
};
