//! Enough is left beside the eye.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "wall-too-thin",
    title: "Enough is left beside the eye.",
    severity: Severity::Fail,
    why: "The eye is cut out of the blade. What stands beside it carries the lift of the warp and the side push of the \
          beat.",
    source: Source { key: "practice", at: "by way of making" },
    evidence: Evidence::Practice,
    about: &["loom.wall", "loom.least_wall", "loom.blade"],
    margin: |f| f.above(&id::WALL, &id::LEAST_WALL),
    say: |f| format!("A blade of {} with an eye of {} leaves {} on each side; this way of making needs {}.", f.text(&id::BLADE), f.text(&id::EYE), f.text(&id::WALL), f.text(&id::LEAST_WALL)),
    knobs: &[&knobs::BLADE, &knobs::EYE],
};
