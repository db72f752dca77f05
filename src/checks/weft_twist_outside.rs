//! The weft is twisted as a weft.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "weft-twist-outside",
    title: "The weft is twisted as a weft.",
    severity: Severity::Note,
    why: "A weft may be softer than the warp, for a fuller cloth, but with too little it drifts apart in the shuttle, and \
          with far too much the cloth crepes.",
    source: Source { key: "klein-manual", at: "p. 65, twist multipliers by use and staple" },
    evidence: Evidence::Published,
    about: &["yarn.weft.twist_multiplier", "yarn.weft.twist_least", "yarn.weft.twist_most"],
    margin: |f| {
        let twist = f.si(&id::WEFT_MULTIPLIER)?;
        let (least, most) = (f.si(&id::WEFT_TWIST_LEAST)?, f.si(&id::WEFT_TWIST_MOST)?);
        // a weft spun as warp is common and does no harm: a quarter over is left in peace, and half over when the yarn is one
        Some((twist / (0.9 * least) - 1.0).min(1.5 * most / twist - 1.0))
    },
    say: |f| format!("The weft has {}; usual for this fibre is {} to {}.", f.text(&id::WEFT_MULTIPLIER), f.text(&id::WEFT_TWIST_LEAST), f.text(&id::WEFT_TWIST_MOST)),
    knobs: &[&knobs::WEFT_TWIST],
};
