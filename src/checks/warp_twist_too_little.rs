//! The warp is twisted hard enough.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "warp-twist-too-little",
    title: "The warp is twisted hard enough.",
    severity: Severity::Fail,
    why: "Warp is rubbed, bent and pulled thousands of times. A good knitting yarn is not a warp: it frays in the heddle \
          and drifts apart.",
    source: Source { key: "klein-manual", at: "p. 65, twist multipliers by use and staple" },
    evidence: Evidence::Published,
    about: &["yarn.warp.twist_multiplier", "yarn.warp.twist_least"],
    margin: |f| f.above(&id::WARP_MULTIPLIER, &id::WARP_TWIST_LEAST),
    say: |f| format!("The warp has {} ({}); for this fibre and staple it needs at least {}.", f.text(&id::WARP_MULTIPLIER), f.text(&id::WARP_TWIST), f.text(&id::WARP_TWIST_LEAST)),
    knobs: &[&knobs::WARP_TWIST],
};
