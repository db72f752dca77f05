//! The artwork's narrowest gap stays open on this cloth.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "gap-too-narrow",
    title: "The artwork's narrowest gap stays open on this cloth.",
    severity: Severity::Warn,
    why: "Ink spreads past every edge, on cloth more than on paper. A gap narrower than the finest line and what spreads into \
          it from both sides runs shut; a test strip on your cloth replaces this rule.",
    source: Source { key: "practice", at: "the finest line and the gain on both sides" },
    evidence: Evidence::Practice,
    about: &["print.artwork_gap", "print.smallest_gap"],
    margin: |f| f.above(&id::ARTWORK_GAP, &id::SMALLEST_GAP),
    say: |f| format!("The narrowest gap of the artwork is {}; on this cloth {} stays open.", f.text(&id::ARTWORK_GAP), f.text(&id::SMALLEST_GAP)),
    knobs: &[&knobs::PRINT_WIDTH, &knobs::FIRMNESS, &knobs::MASS],
};
