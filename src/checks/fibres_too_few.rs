//! The yarn has fibres enough to hold.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "fibres-too-few",
    title: "The yarn has fibres enough to hold.",
    severity: Severity::Fail,
    why: "A yarn is held by fibres lying on fibres. Below a number in its section it parts in drafting and thins out at \
          random, whatever the twist.",
    source: Source { key: "klein-manual", at: "minimum fibres in section" },
    evidence: Evidence::Published,
    about: &["yarn.warp.fibres_in_section", "yarn.fewest_fibres"],
    margin: |f| f.above(&id::WARP_FIBRES, &id::FEWEST_FIBRES),
    say: |f| format!("At {} there are {} fibres side by side; a hand needs about {} to keep a warp together.", f.text(&id::WARP_COUNT), f.text(&id::WARP_FIBRES), f.text(&id::FEWEST_FIBRES)),
    knobs: &[&knobs::WARP_COUNT, &knobs::MASS, &knobs::FIRMNESS],
};
