//! The motor starts a full bobbin.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "cannot-start",
    title: "The motor starts a full bobbin.",
    severity: Severity::Fail,
    why: "Starting takes more than keeping going. A spinner that needs a push each time has no torque to spare.",
    source: Source { key: "hughes-drury", at: "kt by current; half more to start is common practice, no source" },
    evidence: Evidence::Derived,
    about: &["spinner.start_torque", "spinner.start_needs"],
    margin: |f| f.above(&id::START_TORQUE, &id::START_NEEDS),
    say: |f| format!("At rest the motor gives {} at the spindle; a full bobbin needs {} to start.", f.text(&id::START_TORQUE), f.text(&id::START_NEEDS)),
    knobs: &[&knobs::SPINDLE_PULLEY, &knobs::MOTOR_PULLEY, &knobs::PULL],
};
