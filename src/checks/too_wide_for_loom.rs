//! The warp fits the loom.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "too-wide-for-loom",
    title: "The warp fits the loom.",
    severity: Severity::Fail,
    why: "Cloth narrows off the loom and again in the wash. To go back, divide by what is left; the warp in the heddle is \
          always wider than one thinks.",
    source: Source { key: "cnch-2016", at: "to finish 10 weave 12.5" },
    evidence: Evidence::Published,
    about: &["warp.width_in_reed", "loom.weaving_width"],
    margin: |f| f.below(&id::WIDTH_IN_REED, &id::WEAVING_WIDTH),
    say: |f| format!("To finish {} wide the warp must be {} wide in the heddle; the loom takes {}.", f.text(&id::LAY_WIDTH), f.text(&id::WIDTH_IN_REED), f.text(&id::WEAVING_WIDTH)),
    knobs: &[&knobs::WIDTH, &knobs::WEAVING_WIDTH],
};
