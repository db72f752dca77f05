//! Demand: back from yarn through every loss to fibre and crop, and forward from the fibre that is there.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::amounts as by;
use crate::formulas::registry::{Mode, V};
use crate::trade::fibres::Plant;
use crate::units::*;

use super::warp::Quantities;
use super::yarn::Yarn;

/// What later stages read of the demand.
pub struct Demand<M: Mode> {
    pub yarn_length: V<Length, M>,
    pub prepared: V<Mass, M>,
    pub clean: V<Mass, M>,
    pub plies: V<Number, M>,
}

/// Yarn, fibre and crop.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, q: &Quantities<M>, warp: &Yarn<M>) -> Demand<M> {
    let (spare, repair) = (given.need(m, &id::SPARE), given.need(m, &id::REPAIR));
    let yarn = by::YARN_TO_SPIN.to(m, &id::YARN_MASS, (q.warp_mass, q.weft_mass, spare, repair));
    let yarn_length = by::LENGTH_TO_SPIN.to(m, &id::YARN_LENGTH, (q.warp_yarn, q.weft_yarn, spare, repair, warp.count));
    let spinning = given.need(m, &id::SPINNING_KEEPS);
    let preparing = given.need(m, &id::PREPARING_KEEPS);
    let cleaning = given.need(m, &id::CLEANING_KEEPS);
    let prepared = by::BEFORE_STEP.to(m, &id::SPUN_FIBRE, (yarn, spinning));
    let clean = by::BEFORE_STEP.to(m, &id::CLEAN_FIBRE, (prepared, preparing));
    let raw = by::BEFORE_STEP.to(m, &id::RAW_FIBRE, (clean, cleaning));
    on_hand(given, m, [cleaning, preparing, spinning], yarn);
    crop(given, m, raw);
    Demand { yarn_length, prepared, clean, plies: warp.plies }
}

/// Yarn that the fibre on hand makes, each form through the steps it still has before it. Settling a plan that states one form on hand
/// states the others as none.
#[inline(always)]
fn on_hand<M: Mode>(given: &Given, m: &mut M, keeps: [V<Ratio, M>; 3], need: V<Mass, M>) {
    let Some(mut mass) = given.hand(m, &id::RAW_ON_HAND) else { return };
    for (form, kept) in [&id::CLEAN_ON_HAND, &id::SPUN_ON_HAND].into_iter().zip(keeps) {
        let through = by::AFTER_STEP.step(m, (mass, kept));
        let there = given.need(m, form);
        mass = by::TOGETHER.step(m, (through, there));
    }
    let spun = by::AFTER_STEP.step(m, (mass, keeps[2]));
    let yarn = given.need(m, &id::YARN_ON_HAND);
    let possible = by::TOGETHER.to(m, &id::YARN_POSSIBLE, (spun, yarn));
    by::ON_HAND_SHARE.to(m, &id::ON_HAND_SHARE, (possible, need));
}

/// Plants, ground or fleeces for the raw fibre.
#[inline(always)]
fn crop<M: Mode>(given: &Given, m: &mut M, raw: V<Mass, M>) {
    match given.choices.plant {
        Plant::Cotton => {
            let (bolls, boll) = (given.need(m, &id::BOLLS), given.need(m, &id::BOLL_MASS));
            let plants = by::PLANTS.to(m, &id::PLANTS, (raw, bolls, boll));
            let germination = given.need(m, &id::GERMINATION);
            by::SEEDS.to(m, &id::SEEDS, (plants, germination));
            let (row, apart) = (given.need(m, &id::ROW_SPACING), given.need(m, &id::PLANT_SPACING));
            by::PLOT_OF_PLANTS.to(m, &id::PLOT, (plants, row, apart));
        }
        Plant::Wool => {
            let fleece = given.need(m, &id::FLEECE_MASS);
            by::FLEECES.to(m, &id::FLEECES, (raw, fleece));
        }
        Plant::Flax => {
            let straw = given.need(m, &id::STRAW_PER_AREA);
            by::PLOT.to(m, &id::PLOT, (raw, straw));
        }
    }
}
