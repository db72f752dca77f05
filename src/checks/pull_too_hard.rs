//! The pull is far below what breaks the yarn.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "pull-too-hard",
    title: "The pull is far below what breaks the yarn.",
    severity: Severity::Fail,
    why: "While it is drawn the yarn has not all its twist yet. Keep the pull at the hand under a tenth of its break load, \
          so that it parts before a finger does.",
    source: Source { key: "practice", at: "a tenth of break" },
    evidence: Evidence::Practice,
    about: &["spinner.pull", "yarn.warp.break_load"],
    margin: |f| { f.si(&id::MOTOR_CONSTANT)?; Some(0.1 * f.si(&id::WARP_BREAK)? / f.si(&id::HAND_PULL)? - 1.0) },
    say: |f| format!("A pull of {} is more than a tenth of what breaks this yarn, {}.", f.text(&id::HAND_PULL), f.text(&id::WARP_BREAK)),
    knobs: &[&knobs::PULL],
};
