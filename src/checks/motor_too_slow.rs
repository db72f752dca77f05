//! The motor reaches the speed the twist needs.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "motor-too-slow",
    title: "The motor reaches the speed the twist needs.",
    severity: Severity::Fail,
    why: "Twist is flyer speed over delivery. A motor that cannot reach it under the drag of a full bobbin spins soft yarn \
          at the end of every bobbin.",
    source: Source { key: "hughes-drury", at: "motor line with drag" },
    evidence: Evidence::Derived,
    about: &["spinner.top_speed", "spinner.spindle_speed"],
    margin: |f| { let needed = f.si(&id::SPINDLE_SPEED)?; Some(f.si(&id::TOP_SPEED).unwrap_or(0.0) / needed - 1.0) },
    say: |f| match f.si(&id::TOP_SPEED) {
        Some(_) => format!("With a full bobbin the spindle reaches {}; this twist at {} needs {}.", f.text(&id::TOP_SPEED), f.text(&id::PACE), f.text(&id::SPINDLE_SPEED)),
        None => format!("With a full bobbin the motor cannot turn the spindle at all; this twist at {} needs {}.", f.text(&id::PACE), f.text(&id::SPINDLE_SPEED)),
    },
    knobs: &[&knobs::PACE, &knobs::MOTOR_PULLEY, &knobs::SPINDLE_PULLEY, &knobs::PULL],
};
