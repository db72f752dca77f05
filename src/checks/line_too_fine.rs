//! The artwork's finest line holds on this cloth.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "line-too-fine",
    title: "The artwork's finest line holds on this cloth.",
    severity: Severity::Warn,
    why: "Ink rides on the high threads. A line finer than about one and a half of the widest spacing breaks into dots; a \
          test strip on your cloth replaces this rule.",
    source: Source { key: "practice", at: "one and a half spacings" },
    evidence: Evidence::Practice,
    about: &["print.artwork_line", "print.smallest_line"],
    margin: |f| f.above(&id::ARTWORK_LINE, &id::SMALLEST_LINE),
    say: |f| format!("The finest line of the artwork is {}; this cloth and screen hold {}.", f.text(&id::ARTWORK_LINE), f.text(&id::SMALLEST_LINE)),
    knobs: &[&knobs::PRINT_WIDTH, &knobs::FIRMNESS, &knobs::MASS],
};
