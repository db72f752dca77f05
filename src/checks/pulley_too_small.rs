//! The belt bends gently enough.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "pulley-too-small",
    title: "The belt bends gently enough.",
    severity: Severity::Warn,
    why: "A round belt bent round too small a pulley cracks and runs hot: eight thicknesses for urethane, five for cord.",
    source: Source { key: "practice", at: "8 t for urethane, 5 t for cord" },
    evidence: Evidence::Practice,
    about: &["spinner.motor_pulley", "spinner.belt"],
    margin: |f| { f.si(&id::MOTOR_CONSTANT)?; Some(f.si(&id::MOTOR_PULLEY)? / (8.0 * f.si(&id::BELT_THICKNESS)?) - 1.0 + 1e-9) },
    say: |f| format!("A motor pulley of {} is small for a belt of {}: eight times its thickness is the least for urethane.", f.text(&id::MOTOR_PULLEY), f.text(&id::BELT_THICKNESS)),
    knobs: &[&knobs::MOTOR_PULLEY],
};
