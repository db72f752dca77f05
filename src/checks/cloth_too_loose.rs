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
    why: "Below about 45 per cent of the closest sett threads slide, seams pull out, and the cloth is gauze. This is what \
          fine yarn in a coarse heddle makes.",
    source: Source { key: "practice", at: "working setts are three quarters of the closest; far below it cloth is sleazy" },
    evidence: Evidence::Practice,
    about: &["cloth.firmness", "cloth.sett_in_reed"],
    margin: |f| Some(f.si(&id::FIRMNESS)? / 0.45 - 1.0),
    say: |f| format!("{} in the heddle is only {} of the closest sett of this yarn; below 45 % threads slide and seams pull out.", f.text(&id::SETT_IN_REED), f.text(&id::FIRMNESS)),
    knobs: &[&knobs::FIRMNESS, &knobs::SETT, &knobs::WARP_COUNT, &knobs::HEDDLES],
};
