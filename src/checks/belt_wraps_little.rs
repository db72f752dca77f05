//! The belt wraps the small pulley.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "belt-wraps-little",
    title: "The belt wraps the small pulley.",
    severity: Severity::Warn,
    why: "Below about 120 degrees of arc a belt slips at the first damp day. Move the shafts apart, or use pulleys nearer \
          in size.",
    source: Source { key: "practice", at: "120 degrees" },
    evidence: Evidence::Practice,
    about: &["spinner.belt_wrap", "spinner.centres"],
    margin: |f| Some(f.si(&id::BELT_WRAP)? / 120f64.to_radians() - 1.0),
    say: |f| format!("The belt touches {} of the small pulley; 120° is the least to trust.", f.text(&id::BELT_WRAP)),
    knobs: &[&knobs::CENTRES, &knobs::MOTOR_PULLEY, &knobs::SPINDLE_PULLEY],
};
