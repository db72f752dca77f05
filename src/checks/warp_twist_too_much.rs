//! The warp is not overspun.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "warp-twist-too-much",
    title: "The warp is not overspun.",
    severity: Severity::Warn,
    why: "Past its best twist a yarn grows weaker again, snarls when slack, and makes a harsh cloth that kinks in the \
          wash.",
    source: Source { key: "hearle-1969", at: "strength falls with the surface angle; twist tables of klein-manual p. 65" },
    evidence: Evidence::Published,
    about: &["yarn.warp.twist_multiplier", "yarn.warp.twist_most"],
    margin: |f| Some(1.15 * f.si(&id::WARP_TWIST_MOST)? / f.si(&id::WARP_MULTIPLIER)? - 1.0),
    say: |f| format!("The warp has {}; more than about {} only makes it kink.", f.text(&id::WARP_MULTIPLIER), f.text(&id::WARP_TWIST_MOST)),
    knobs: &[&knobs::WARP_TWIST],
};
