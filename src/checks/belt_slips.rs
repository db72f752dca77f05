//! The belt passes the torque.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "belt-slips",
    title: "The belt passes the torque.",
    severity: Severity::Fail,
    why: "A belt pulls by friction over its arc on the small pulley. What it cannot pass it loses as slip, and the twist \
          goes with it.",
    source: Source { key: "khurmi-gupta", at: "belt theory with the capstan gain" },
    evidence: Evidence::Derived,
    about: &["spinner.belt_torque", "spinner.motor_torque", "spinner.belt_wrap"],
    margin: |f| f.above(&id::BELT_TORQUE, &id::MOTOR_TORQUE),
    say: |f| format!("The belt passes {} at the motor pulley before it slips; the work asks for {}.", f.text(&id::BELT_TORQUE), f.text(&id::MOTOR_TORQUE)),
    knobs: &[&knobs::MOTOR_PULLEY, &knobs::CENTRES, &knobs::PULL],
};
