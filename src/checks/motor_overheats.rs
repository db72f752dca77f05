//! The motor stays cool.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "motor-overheats",
    title: "The motor stays cool.",
    severity: Severity::Fail,
    why: "Heat grows with the square of the current. A small brushed motor stands a fifth of its stall current for long, \
          and its stall current for seconds.",
    source: Source { key: "practice", at: "continuous current of small brushed motors" },
    evidence: Evidence::Memory,
    about: &["spinner.stall_share", "spinner.current_share_limit", "spinner.current", "spinner.heat"],
    margin: |f| f.below(&id::STALL_SHARE, &id::CURRENT_SHARE_LIMIT),
    say: |f| format!("At work the winding carries {} ({} of its stall current, {} of heat); it stands about {} for long.", f.text(&id::CURRENT), f.text(&id::STALL_SHARE), f.text(&id::HEAT), f.text(&id::CURRENT_SHARE_LIMIT)),
    knobs: &[&knobs::SPINDLE_PULLEY, &knobs::MOTOR_PULLEY, &knobs::PULL],
};
