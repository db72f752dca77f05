//! Yarn: one body for warp and weft. Count and thickness are of the yarn as woven; twist is of the singles as spun.

use crate::chain::given::{Choices, Given, TwistBy};
use crate::chain::keys as id;
use crate::formulas::registry::{Key, Mode, V};
use crate::formulas::{counts, fibre as of_fibre, yarn as by};
use crate::units::*;

/// The ids of one of the two yarns.
pub struct YarnKeys {
    pub count: &'static Key<LinearDensity>,
    pub plies: &'static Key<Number>,
    pub single: &'static Key<LinearDensity>,
    pub grist: &'static Key<LinearDensity>,
    pub packing: &'static Key<Ratio>,
    pub diameter: &'static Key<Length>,
    pub multiplier: &'static Key<TwistFactor>,
    pub twist: &'static Key<PerLength>,
    pub least_twist: &'static Key<TwistFactor>,
    pub most_twist: &'static Key<TwistFactor>,
    pub ply_twist: &'static Key<PerLength>,
    pub twist_left: &'static Key<PerLength>,
    pub angle: &'static Key<Angle>,
    pub contraction: &'static Key<Ratio>,
    pub fibres: &'static Key<Number>,
    pub limit_cv: &'static Key<Ratio>,
    pub tenacity: &'static Key<Tenacity>,
    pub break_load: &'static Key<Force>,
    pub twist_by: fn(&Choices) -> TwistBy,
}

/// Ids of the warp yarn.
pub static WARP: YarnKeys = YarnKeys {
    count: &id::WARP_COUNT,
    plies: &id::WARP_PLIES,
    single: &id::WARP_SINGLE,
    grist: &id::WARP_GRIST,
    packing: &id::WARP_PACKING,
    diameter: &id::WARP_DIAMETER,
    multiplier: &id::WARP_MULTIPLIER,
    twist: &id::WARP_TWIST,
    least_twist: &id::WARP_TWIST_LEAST,
    most_twist: &id::WARP_TWIST_MOST,
    ply_twist: &id::WARP_PLY_TWIST,
    twist_left: &id::WARP_TWIST_LEFT,
    angle: &id::WARP_ANGLE,
    contraction: &id::WARP_CONTRACTION,
    fibres: &id::WARP_FIBRES,
    limit_cv: &id::WARP_LIMIT_CV,
    tenacity: &id::WARP_TENACITY,
    break_load: &id::WARP_BREAK,
    twist_by: |choices| choices.warp_twist,
};

/// Ids of the weft yarn.
pub static WEFT: YarnKeys = YarnKeys {
    count: &id::WEFT_COUNT,
    plies: &id::WEFT_PLIES,
    single: &id::WEFT_SINGLE,
    grist: &id::WEFT_GRIST,
    packing: &id::WEFT_PACKING,
    diameter: &id::WEFT_DIAMETER,
    multiplier: &id::WEFT_MULTIPLIER,
    twist: &id::WEFT_TWIST,
    least_twist: &id::WEFT_TWIST_LEAST,
    most_twist: &id::WEFT_TWIST_MOST,
    ply_twist: &id::WEFT_PLY_TWIST,
    twist_left: &id::WEFT_TWIST_LEFT,
    angle: &id::WEFT_ANGLE,
    contraction: &id::WEFT_CONTRACTION,
    fibres: &id::WEFT_FIBRES,
    limit_cv: &id::WEFT_LIMIT_CV,
    tenacity: &id::WEFT_TENACITY,
    break_load: &id::WEFT_BREAK,
    twist_by: |choices| choices.weft_twist,
};

/// What later stages read of a yarn.
pub struct Yarn<M: Mode> {
    pub count: V<LinearDensity, M>,
    pub plies: V<Number, M>,
    pub diameter: V<Length, M>,
    pub twist: V<PerLength, M>,
    pub break_load: V<Force, M>,
}

/// One yarn.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, keys: &'static YarnKeys, fibre: V<LinearDensity, M>) -> Yarn<M> {
    let count = given.need(m, keys.count);
    counts::METRES_PER_GRAM.to(m, keys.grist, (count,));
    let (density, packing) = (given.need(m, &id::FIBRE_DENSITY), given.need(m, keys.packing));
    let diameter = by::DIAMETER.to(m, keys.diameter, (count, density, packing));
    let fibres = of_fibre::FIBRES_IN_SECTION.to(m, keys.fibres, (count, fibre));
    if let Some(limit) = given.hand(m, &id::LIMIT_CONSTANT) {
        of_fibre::LIMIT_IRREGULARITY.to(m, keys.limit_cv, (limit, fibres));
    }
    let plies = given.need(m, keys.plies);
    let single = if plies.si() > 1.0 {
        let lost = given.need(m, &id::PLY_CONTRACTION);
        by::SINGLE_COUNT.to(m, keys.single, (count, plies, lost))
    } else {
        count
    };
    let twist = twist(given, m, keys, single);
    if plies.si() > 1.0 {
        let balance = given.need(m, &id::BALANCE);
        let ply = match given.hand(m, keys.ply_twist) {
            Some(stated) => stated,
            None => by::PLY_TWIST.to(m, keys.ply_twist, (balance, twist)),
        };
        by::TWIST_LEFT.to(m, keys.twist_left, (twist, ply));
    }
    // the single's own thickness gives its angle; for a single yarn that is the yarn
    let thickness = if plies.si() > 1.0 { by::DIAMETER.step(m, (single, density, packing)) } else { diameter };
    let angle = by::SURFACE_ANGLE.to(m, keys.angle, (thickness, twist));
    let share = given.need(m, &id::PRACTICAL_CONTRACTION);
    by::CONTRACTION.to(m, keys.contraction, (share, angle));
    let break_load = strength(given, m, keys, count, angle, fibre);
    Yarn { count, plies, diameter, twist, break_load }
}

/// Turns, or the multiplier that stated turns amount to.
#[inline(always)]
fn twist<M: Mode>(given: &Given, m: &mut M, keys: &'static YarnKeys, single: V<LinearDensity, M>) -> V<PerLength, M> {
    given.hand(m, keys.least_twist);
    given.hand(m, keys.most_twist);
    match (keys.twist_by)(&given.choices) {
        TwistBy::Multiplier => {
            let multiplier = given.need(m, keys.multiplier);
            by::TWIST.to(m, keys.twist, (single, multiplier))
        }
        TwistBy::Turns => {
            let twist = given.need(m, keys.twist);
            by::TWIST_MULTIPLIER.to(m, keys.multiplier, (single, twist));
            twist
        }
    }
}

/// Break load: the mill yarn's share of the fibre, what a hand keeps of that, and the twist's shape about the usual angle.
#[inline(always)]
fn strength<M: Mode>(
    given: &Given,
    m: &mut M,
    keys: &'static YarnKeys,
    count: V<LinearDensity, M>,
    angle: V<Angle, M>,
    fibre: V<LinearDensity, M>,
) -> V<Force, M> {
    let density = given.need(m, &id::FIBRE_DENSITY);
    let thickness = of_fibre::FIBRE_THICKNESS.step(m, (fibre, density));
    let (migration, friction) = (given.need(m, &id::MIGRATION), given.need(m, &id::FIBRE_FRICTION));
    let length = given.need(m, &id::FIBRE_LENGTH);
    let slip = by::SLIP_FACTOR.step(m, (thickness, migration, friction, length));
    let shape = by::STRENGTH_BY_TWIST.step(m, (angle, slip));
    let usual_angle = given.need(m, &id::USUAL_ANGLE);
    let usual = by::STRENGTH_BY_TWIST.step(m, (usual_angle, slip));
    let (fibre_tenacity, realised) = (given.need(m, &id::FIBRE_TENACITY), given.need(m, &id::REALISED));
    let hand = given.need(m, &id::HAND_SHARE);
    let tenacity = by::TENACITY.to(m, keys.tenacity, (fibre_tenacity, realised, hand, shape, usual));
    by::BREAK_LOAD.to(m, keys.break_load, (count, tenacity))
}
