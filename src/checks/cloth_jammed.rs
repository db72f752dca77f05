//! Warp and weft have room to cross.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "cloth-jammed",
    title: "Warp and weft have room to cross.",
    severity: Severity::Fail,
    why: "Each thread must bend over the next. When its straight part is used up the cloth is jammed: no more picks go in, \
          and the width cannot be held.",
    source: Source { key: "peirce-1937", at: "jamming: the straight part is 0" },
    evidence: Evidence::Published,
    about: &["cloth.room_warp", "cloth.room_weft", "cloth.picks_off_loom"],
    margin: |f| Some(f.si(&id::ROOM_WARP)?.min(f.si(&id::ROOM_WEFT)?)),
    say: |f| {
        let warp_first = f.si(&id::ROOM_WARP) < f.si(&id::ROOM_WEFT);
        let (which, number) = if warp_first {
            ("picks", f.text(&id::PICKS_OFF_LOOM))
        } else {
            ("ends", f.text(&id::SETT_IN_REED))
        };
        format!("At {number} the {which} stand so close that yarns of {} and {} jam.", f.text(&id::WARP_DIAMETER), f.text(&id::WEFT_DIAMETER))
    },
    knobs: &[&knobs::PICKS, &knobs::FIRMNESS, &knobs::SETT, &knobs::WARP_COUNT],
};
