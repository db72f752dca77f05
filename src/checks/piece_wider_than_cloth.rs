//! Every piece fits the cloth's width.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "piece-wider-than-cloth",
    title: "Every piece fits the cloth's width.",
    severity: Severity::Fail,
    why: "Hand-woven cloth is narrow. A piece wider than it must be split with a seam, and the plan must say so before the \
          warp is wound.",
    source: Source { key: "identity", at: "width against width" },
    evidence: Evidence::Identity,
    about: &["garment.widest_piece", "lay.width"],
    margin: |f| Some(f.below(&id::WIDEST_PIECE, &id::LAY_WIDTH)? + 1e-9),
    say: |f| format!("The widest piece is {} with its seams; the finished cloth is {} wide.", f.text(&id::WIDEST_PIECE), f.text(&id::LAY_WIDTH)),
    knobs: &[&knobs::WIDTH, &knobs::CHEST_EASE, &knobs::WEAVING_WIDTH],
};
