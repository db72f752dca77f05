//! The beam stays straight under the warp.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "beam-bows",
    title: "The beam stays straight under the warp.",
    severity: Severity::Fail,
    why: "A beam that bows lets the middle ends go slack while the edges stay tight. The warp's own stretch evens out a \
          little of it.",
    source: Source { key: "roark", at: "table 8, partial uniform load; the limit is half of the warp's stretch" },
    evidence: Evidence::Derived,
    about: &["loom.beam_deflection", "loom.bow_allowed"],
    margin: |f| f.below(&id::BEAM_DEFLECTION, &id::BOW_ALLOWED),
    say: |f| format!("At {} in all the beam bows {}; the warp's stretch evens out {}.", f.text(&id::WARP_TENSION), f.text(&id::BEAM_DEFLECTION), f.text(&id::BOW_ALLOWED)),
    knobs: &[&knobs::BEAM, &knobs::HEDDLE_TO_BACK, &knobs::TENSION],
};
