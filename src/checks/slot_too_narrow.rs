//! The heddle can give this sett.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "slot-too-narrow",
    title: "The heddle can give this sett.",
    severity: Severity::Fail,
    why: "A slot passes one thread with one heddle and three with two. Hand-spun has thick places: with less than about \
          1.4 diameters a thread they catch, fray and break. One heddle drilled from strips gives 6 to 7 ends a centimetre \
          at best; a shirt at 12 to 14 always means two heddles, or string.",
    source: Source { key: "counting", at: "threads a slot passes; 1.4 diameters is common practice, no source" },
    evidence: Evidence::Practice,
    about: &["loom.slot_room", "loom.gap_factor", "loom.gap", "loom.greatest_sett"],
    margin: |f| f.above(&id::SLOT_ROOM, &id::GAP_FACTOR),
    say: |f| if f.si(&id::GAP).unwrap_or(0.0) <= 0.0 {
        format!("{} with this many heddles is a pitch of {}: narrower than the blade, so no slot is left. These blades reach {}.", f.text(&id::SETT_IN_REED), f.text(&id::HEDDLE_PITCH), f.text(&id::HEDDLE_GREATEST))
    } else {
        format!("A slot of {} must pass {} threads of {}: {} diameters each, and hand-spun needs {}. These blades reach {}.", f.text(&id::GAP), f.text(&id::THREADS_PER_SLOT), f.text(&id::WARP_DIAMETER), f.text(&id::SLOT_ROOM), f.text(&id::GAP_FACTOR), f.text(&id::HEDDLE_GREATEST))
    },
    knobs: &[&knobs::BLADE, &knobs::HEDDLES, &knobs::FIRMNESS, &knobs::SETT, &knobs::MASS, &knobs::WARP_COUNT],
};
