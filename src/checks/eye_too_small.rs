//! The eye passes the yarn.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "eye-too-small",
    title: "The eye passes the yarn.",
    severity: Severity::Fail,
    why: "Each end goes through an eye, with its thick places and, later, its knots.",
    source: Source { key: "practice", at: "two and a half diameters, or the thickest place" },
    evidence: Evidence::Practice,
    about: &["loom.eye_room", "loom.eye_factor", "loom.eye"],
    margin: |f| f.above(&id::EYE_ROOM, &id::EYE_FACTOR),
    say: |f| format!("An eye of {} is {} diameters of this yarn; hand-spun needs {}.", f.text(&id::EYE), f.text(&id::EYE_ROOM), f.text(&id::EYE_FACTOR)),
    knobs: &[&knobs::EYE, &knobs::WARP_COUNT, &knobs::MASS],
};
