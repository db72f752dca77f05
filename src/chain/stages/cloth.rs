//! Cloth: from the reed to off the loom to finished. Crimp by Peirce, per crossing; floats lie straight. The wash shrinks the area and
//! never goes back into the geometry.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::chain::root;
use crate::formulas::cloth as by;
use crate::formulas::registry::{Mode, V};
use crate::units::*;

use super::yarn::Yarn;

/// What later stages read of the cloth.
pub struct Cloth<M: Mode> {
    pub sett_in_reed: V<PerLength, M>,
    pub picks_off_loom: V<PerLength, M>,
    pub crimp_weft: V<Ratio, M>,
    pub take_up: V<Ratio, M>,
    pub draw_in: V<Ratio, M>,
    pub shrink_width: V<Ratio, M>,
    pub shrink_length: V<Ratio, M>,
    pub relax: V<Ratio, M>,
    pub spacing_warp: V<Length, M>,
    pub spacing_weft: V<Length, M>,
    pub mass: V<AreaMass, M>,
}

/// Crimp of one set of threads.
struct Crimp<M: Mode> {
    spacing: V<Length, M>,
    crimp: V<Ratio, M>,
    height: V<Length, M>,
}

/// The whole cloth.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, warp: &Yarn<M>, weft: &Yarn<M>) -> Cloth<M> {
    let sum = by::DIAMETER_SUM.to(m, &id::DIAMETER_SUM, (warp.diameter, weft.diameter));
    let sett = given.need(m, &id::SETT_IN_REED);
    let greatest = greatest(given, m, warp, weft);
    firmness(given, m, warp, sett, greatest);
    let share = given.need(m, &id::CRIMP_SHARE);
    let height_warp = by::CRIMP_HEIGHT.step(m, (sum, share));
    let height_weft = by::OTHER_HEIGHT.step(m, (sum, height_warp));
    let across = weft_crimp(given, m, sum, height_weft, sett);
    let sett_off = by::SETT_FROM_SPACING.to(m, &id::SETT_OFF_LOOM, (across.spacing,));
    let draw_in = by::DRAW_IN.to(m, &id::DRAW_IN, (sett, across.spacing));
    let picks = given.need(m, &id::PICKS_OFF_LOOM);
    let along = warp_crimp(given, m, sum, height_warp, picks, weft);
    let take_up = by::LOST_TO_CRIMP.to(m, &id::TAKE_UP, (along.crimp,));
    let relax = given.need(m, &id::RELAX);
    by::WIDER.to(m, &id::PICKS_ON_LOOM, (picks, relax));
    let mass_off =
        by::MASS.to(m, &id::MASS_OFF_LOOM, (sett_off, warp.count, along.crimp, picks, weft.count, across.crimp));
    let (shrink_width, shrink_length) = (given.need(m, &id::SHRINK_WIDTH), given.need(m, &id::SHRINK_LENGTH));
    let keeps = given.need(m, &id::FINISHING_KEEPS);
    let mass = by::MASS_AFTER_WASH.to(m, &id::CLOTH_MASS, (mass_off, shrink_width, shrink_length, keeps));
    given.hand(m, &id::MASS_WISHED);
    let sett_finished = by::CLOSER.to(m, &id::SETT_FINISHED, (sett_off, shrink_width));
    let picks_finished = by::CLOSER.to(m, &id::PICKS_FINISHED, (picks, shrink_length));
    stripes(given, m, sett_finished, picks_finished);
    by::FIRMNESS.to(m, &id::FIRMNESS_FINISHED, (sett_finished, greatest));
    let spacing_warp = by::SPACING.step(m, (sett_finished,));
    let spacing_weft = by::SPACING.step(m, (picks_finished,));
    cover(m, warp, weft, sett_finished, picks_finished, spacing_warp, spacing_weft);
    let loft = given.need(m, &id::LOFT);
    by::THICKNESS.to(m, &id::THICKNESS, (along.height, warp.diameter, across.height, weft.diameter, loft));
    wash_room(m, sum, (along.crimp, shrink_length, spacing_weft), (across.crimp, shrink_width, spacing_warp));
    let (picks_off_loom, crimp_weft) = (picks, across.crimp);
    Cloth {
        sett_in_reed: sett,
        picks_off_loom,
        crimp_weft,
        take_up,
        draw_in,
        shrink_width,
        shrink_length,
        relax,
        spacing_warp,
        spacing_weft,
        mass,
    }
}

/// Repeats of the stripes on the finished cloth, where warp or weft has more than one colour.
#[inline(always)]
fn stripes<M: Mode>(given: &Given, m: &mut M, sett: V<PerLength, M>, picks: V<PerLength, M>) {
    if let Some(ends) = given.hand(m, &id::WARP_COLOURS) {
        by::STRIPES.to(m, &id::STRIPES_ACROSS, (ends, sett));
    }
    if let Some(ends) = given.hand(m, &id::WEFT_COLOURS) {
        by::STRIPES.to(m, &id::STRIPES_ALONG, (ends, picks));
    }
}

/// Closest sett of these two yarns in this weave.
#[inline(always)]
pub fn greatest<M: Mode>(given: &Given, m: &mut M, warp: &Yarn<M>, weft: &Yarn<M>) -> V<PerLength, M> {
    let (ends, crossings) = (given.need(m, &id::REPEAT_ENDS), given.need(m, &id::WEFT_CROSSINGS));
    by::GREATEST_SETT.to(m, &id::GREATEST_SETT, (ends, crossings, warp.diameter, weft.diameter))
}

/// How near the closest a sett is, and another rule's closest.
#[inline(always)]
fn firmness<M: Mode>(given: &Given, m: &mut M, warp: &Yarn<M>, sett: V<PerLength, M>, greatest: V<PerLength, M>) {
    if let (Some(k), Some(exponent)) = (given.hand(m, &id::BRIERLEY_K), given.hand(m, &id::BRIERLEY_M)) {
        let (ends, crossings) = (given.need(m, &id::REPEAT_ENDS), given.need(m, &id::WEFT_CROSSINGS));
        let float = by::AVERAGE_FLOAT.step(m, (ends, crossings));
        by::BRIERLEY.to(m, &id::BRIERLEY_SETT, (k, warp.count, float, exponent));
    }
    by::FIRMNESS.to(m, &id::FIRMNESS, (sett, greatest));
}

/// Ends off the loom, which do not depend on the picks: what a balanced cloth is balanced to.
#[inline(always)]
pub fn ends_off_loom<M: Mode>(given: &Given, m: &mut M, warp: &Yarn<M>, weft: &Yarn<M>) -> V<PerLength, M> {
    let sum = by::DIAMETER_SUM.to(m, &id::DIAMETER_SUM, (warp.diameter, weft.diameter));
    let share = given.need(m, &id::CRIMP_SHARE);
    let height = by::CRIMP_HEIGHT.step(m, (sum, share));
    let height = by::OTHER_HEIGHT.step(m, (sum, height));
    let sett = given.need(m, &id::SETT_IN_REED);
    let across = weft_crimp(given, m, sum, height, sett);
    by::SETT_FROM_SPACING.to(m, &id::SETT_OFF_LOOM, (across.spacing,))
}

/// Weft between the ends: its length is what was laid in the reed, so its slope is a root.
#[inline(always)]
fn weft_crimp<M: Mode>(
    given: &Given,
    m: &mut M,
    sum: V<Length, M>,
    height: V<Length, M>,
    sett: V<PerLength, M>,
) -> Crimp<M> {
    let (ends, crossings) = (given.need(m, &id::REPEAT_ENDS), given.need(m, &id::WEFT_CROSSINGS));
    let slack = given.need(m, &id::WEFT_SLACK);
    by::ROOM_IN_REED.to(m, &id::ROOM_WEFT, (ends, crossings, sum, height, slack, sett));
    let laid = ends.si() * (1.0 + slack.si()) / sett.si();
    let solved = root::crimp_in_reed(ends.si(), crossings.si(), sum.si(), height.si(), laid);
    let angle = match solved {
        Some(angle) => {
            let from = [ends.tag, crossings.tag, sum.tag, height.tag, slack.tag, sett.tag];
            let tag = m.solved(id::WEFT_ANGLE_OF_CRIMP.slot, angle, &by::CRIMP_IN_REED, from);
            V { q: Q::si(angle), tag }
        }
        // no root: the ends touch before the weft is used up, and `cloth.room_weft` is below 0 for the check
        None => by::JAM_ANGLE.to(m, &id::WEFT_ANGLE_OF_CRIMP, (sum, height)),
    };
    let spacing = by::SPACING_AT_ANGLE.step(m, (sum, height, angle));
    let one = by::CRIMP.step(m, (sum, spacing, angle));
    let crimp = by::CRIMP_OF_WEAVE.to(m, &id::CRIMP_WEFT, (one, crossings, ends));
    Crimp { spacing, crimp, height }
}

/// Warp between the picks, whose spacing off the loom is given.
#[inline(always)]
fn warp_crimp<M: Mode>(
    given: &Given,
    m: &mut M,
    sum: V<Length, M>,
    height: V<Length, M>,
    picks: V<PerLength, M>,
    weft: &Yarn<M>,
) -> Crimp<M> {
    let (repeat, crossings) = (given.need(m, &id::REPEAT_PICKS), given.need(m, &id::WARP_CROSSINGS));
    let spacing = by::SPACING.step(m, (picks,));
    by::ROOM.to(m, &id::ROOM_WARP, (sum, spacing, height));
    let angle = by::WEAVE_ANGLE.to(m, &id::WARP_ANGLE_OF_CRIMP, (sum, spacing, height));
    let one = by::CRIMP.step(m, (sum, spacing, angle));
    let crimp = by::CRIMP_OF_WEAVE.to(m, &id::CRIMP_WARP, (one, crossings, repeat));
    // the mill's rule was made on fine cotton and is wrong by half elsewhere
    if (30.0..=100.0).contains(&weft.count.q.get(&NE))
        && let Some(k) = given.hand(m, &id::TAYLOR_K)
    {
        let crossings = by::CROSSINGS.step(m, (picks, crossings, repeat));
        by::TAYLOR_TAKE_UP.to(m, &id::TAYLOR_TAKE_UP, (k, crossings, weft.count));
    }
    Crimp { spacing, crimp, height }
}

/// Cover of the finished cloth, with round yarn.
#[inline(always)]
fn cover<M: Mode>(
    m: &mut M,
    warp: &Yarn<M>,
    weft: &Yarn<M>,
    sett: V<PerLength, M>,
    picks: V<PerLength, M>,
    spacing_warp: V<Length, M>,
    spacing_weft: V<Length, M>,
) {
    let open = by::OPEN_AREA.to(m, &id::OPEN_AREA, (warp.diameter, spacing_warp, weft.diameter, spacing_weft));
    by::COVER.to(m, &id::COVER, (open,));
    let of_warp = by::COVER_FACTOR.to(m, &id::COVER_FACTOR_WARP, (sett, warp.count));
    let of_weft = by::COVER_FACTOR.to(m, &id::COVER_FACTOR_WEFT, (picks, weft.count));
    by::CLOTH_COVER_FACTOR.to(m, &id::COVER_FACTOR, (of_warp, of_weft));
}

/// How much higher the threads would have to bend if the wash kept their length.
#[inline(always)]
fn wash_room<M: Mode>(
    m: &mut M,
    sum: V<Length, M>,
    (warp_crimp, along, p2): (V<Ratio, M>, V<Ratio, M>, V<Length, M>),
    (weft_crimp, across, p1): (V<Ratio, M>, V<Ratio, M>, V<Length, M>),
) {
    let warp = by::CRIMP_IF_KEPT.step(m, (warp_crimp, along));
    let weft = by::CRIMP_IF_KEPT.step(m, (weft_crimp, across));
    // a cloth that grows in the wash needs no bending at all
    if warp.si() < 0.0 || weft.si() < 0.0 {
        return;
    }
    let high = by::CRIMP_HEIGHT_RULE.step(m, (p2, warp));
    let other = by::CRIMP_HEIGHT_RULE.step(m, (p1, weft));
    by::WASH_HEIGHT.to(m, &id::WASH_HEIGHT, (high, other, sum));
}
