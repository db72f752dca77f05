//! The warp survives the weaving.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "warp-breaks",
    title: "The warp survives the weaving.",
    severity: Severity::Fail,
    why: "The weakest place of some kilometres decides, not the mean. A handful of breaks is normal; one in every forty \
          ends makes weaving a misery and the cloth full of knots.",
    source: Source { key: "peirce-1926", at: "weakest link; one in forty ends is common practice, no source" },
    evidence: Evidence::Derived,
    about: &["warp.expected_breaks", "yarn.strength_cv", "warp.peak_share"],
    margin: |f| Some(f.si(&id::ENDS)? / 40.0 / f.si(&id::EXPECTED_BREAKS)?.max(1e-9) - 1.0),
    say: |f| format!("About {} of {} ends are likely to break: the peak is {} of the mean break load, and hand-spun is uneven ({}).", f.text(&id::EXPECTED_BREAKS), f.text(&id::ENDS), f.text(&id::PEAK_SHARE), f.text(&id::STRENGTH_CV)),
    knobs: &[&knobs::LIFT, &knobs::HEDDLE_TO_BACK, &knobs::FELL_TO_HEDDLE, &knobs::WARP_TWIST, &knobs::TENSION],
};
