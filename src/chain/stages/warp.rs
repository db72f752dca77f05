//! Warp and weft: back from the finished cloth by division, forward again to what the loom and the bench must show.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::registry::{Mode, V};
use crate::formulas::{amounts as by, counts, loom as of_loom, yarn as of_yarn};
use crate::units::*;

use super::cloth::Cloth;
use super::garment::Lay;
use super::loom::Loom;
use super::yarn::Yarn;

/// What later stages read of warp and weft.
pub struct Quantities<M: Mode> {
    pub width_in_reed: V<Length, M>,
    pub ends: V<Number, M>,
    pub warp_length: V<Length, M>,
    pub warp_yarn: V<Length, M>,
    pub warp_mass: V<Mass, M>,
    pub on_loom: V<Length, M>,
    pub picks: V<Number, M>,
    pub weft_yarn: V<Length, M>,
    pub weft_mass: V<Mass, M>,
    pub how_many: V<Number, M>,
}

/// Ends, picks, lengths and masses as wound, no allowance counted.
#[inline(always)]
pub fn stage<M: Mode>(
    given: &Given,
    m: &mut M,
    cloth: &Cloth<M>,
    warp: &Yarn<M>,
    weft: &Yarn<M>,
    lay: &Lay<M>,
) -> Quantities<M> {
    let edges = given.need(m, &id::EDGE_DRAW_IN);
    let width = by::WIDTH_IN_REED.to(m, &id::WIDTH_IN_REED, (lay.width, cloth.shrink_width, edges, cloth.draw_in));
    let ends = by::ENDS.to(m, &id::ENDS, (width, cloth.sett_in_reed));
    let extra = given.need(m, &id::WARP_EXTRA);
    let besides = match given.hand(m, &id::WARP_BETWEEN) {
        Some(between) => {
            let unwoven = by::UNWOVEN.to(m, &id::WARP_UNWOVEN, (lay.how_many, between));
            by::BESIDES.step(m, (extra, unwoven))
        }
        None => extra,
    };
    let (front, back) = (given.need(m, &id::WASTE_FRONT), given.need(m, &id::WASTE_BACK));
    let warp_length =
        by::WARP_LENGTH.to(m, &id::WARP_LENGTH, (lay.length, besides, cloth.shrink_length, cloth.take_up, front, back));
    let warp_yarn = by::WARP_YARN.to(m, &id::WARP_YARN, (ends, warp_length));
    let warp_mass = counts::MASS_OF_LENGTH.to(m, &id::WARP_MASS, (warp.count, warp_yarn));
    let off_loom = by::BEFORE_LOSS.to(m, &id::OFF_LOOM_LENGTH, (lay.length, cloth.shrink_length));
    let on_loom = by::BEFORE_LOSS.to(m, &id::ON_LOOM_LENGTH, (off_loom, cloth.relax));
    let off_width = by::WIDTH_OFF_LOOM.to(m, &id::WIDTH_OFF_LOOM, (width, cloth.draw_in, edges));
    let turn = given.need(m, &id::TURN);
    let pick = by::PICK_LENGTH.to(m, &id::PICK_LENGTH, (off_width, cloth.crimp_weft, turn));
    let picks = by::PICKS.to(m, &id::PICKS, (lay.length, extra, cloth.shrink_length, cloth.picks_off_loom));
    let weft_yarn = by::WEFT_YARN.to(m, &id::WEFT_YARN, (picks, pick));
    let weft_mass = counts::MASS_OF_LENGTH.to(m, &id::WEFT_MASS, (weft.count, weft_yarn));
    let how_many = lay.how_many;
    let width_in_reed = width;
    Quantities {
        width_in_reed,
        ends,
        warp_length,
        warp_yarn,
        warp_mass,
        on_loom,
        picks,
        weft_yarn,
        weft_mass,
        how_many,
    }
}

/// Will the warp live: the chance that a link breaks at the peak, and the breaks that makes.
#[inline(always)]
pub fn survival<M: Mode>(given: &Given, m: &mut M, quantities: &Quantities<M>, warp: &Yarn<M>, loom: &Loom<M>) {
    of_loom::SHARE_OF_BREAK.to(m, &id::PEAK_SHARE, (loom.peak_load, warp.break_load));
    let (retained, spread) = (given.need(m, &id::RETAINED), given.need(m, &id::STRENGTH_CV));
    let risk = of_yarn::LINK_RISK.to(m, &id::LINK_RISK, (loom.peak_load, warp.break_load, retained, spread));
    let gauge = given.need(m, &id::GAUGE);
    of_yarn::EXPECTED_BREAKS.to(m, &id::EXPECTED_BREAKS, (quantities.warp_yarn, gauge, risk));
}
