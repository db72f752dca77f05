//! The cloth holds its threads in place.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "cloth-too-loose",
    title: "The cloth holds its threads in place.",
    severity: Severity::Fail,
    why: "Far below the closest sett threads slide, seams pull out, and the cloth is gauze. This is what fine yarn in a coarse \
          heddle makes. What is cut and sewn needs about 55 per cent, a scarf 40.",
    source: Source { key: "practice", at: "working setts are three quarters of the closest; far below it cloth is sleazy" },
    evidence: Evidence::Practice,
    about: &["cloth.firmness", "garment.least_firmness", "cloth.sett_in_reed"],
    margin: |f| f.above(&id::FIRMNESS, &id::LEAST_FIRMNESS),
    say: |f| {
        format!(
            "{} in the heddle is only {} of the closest sett of this yarn; below {} threads slide and seams pull out.",
            f.text(&id::SETT_IN_REED),
            f.text(&id::FIRMNESS),
            f.text(&id::LEAST_FIRMNESS)
        )
    },
    knobs: &[&knobs::FIRMNESS, &knobs::SETT, &knobs::WARP_COUNT, &knobs::HEDDLES],
};
