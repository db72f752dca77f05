//! Hours: every step at the person's own pace, or at a diary's until it is logged. A step that this fibre does not have is absent.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::hours as by;
use crate::formulas::registry::{Key, Mode, V};
use crate::trade::fibres::Plant;
use crate::units::Duration;

use super::demand::Demand;
use super::spinner::Spinner;
use super::warp::Quantities;

/// Ids of cleaning and preparing by fibre.
fn fibre_steps(plant: Plant) -> (&'static Key<Duration>, &'static Key<Duration>) {
    match plant {
        Plant::Cotton => (&id::GINNING, &id::CARDING),
        Plant::Wool => (&id::SCOURING, &id::COMBING),
        Plant::Flax => (&id::SCUTCHING, &id::HACKLING),
    }
}

/// All hours.
#[inline(always)]
pub fn stage<M: Mode>(
    given: &Given,
    m: &mut M,
    q: &Quantities<M>,
    demand: &Demand<M>,
    spinner: &Spinner<M>,
    print: bool,
) {
    let (cleaning, preparing) = fibre_steps(given.choices.plant);
    let (clean_pace, prepare_pace) = (given.need(m, &id::CLEANING_PACE), given.need(m, &id::PREPARING_PACE));
    let mut total = by::BY_MASS.to(m, cleaning, (demand.clean, clean_pace));
    let prepared = by::BY_MASS.to(m, preparing, (demand.prepared, prepare_pace));
    total = by::AND_THEN.step(m, (total, prepared));
    let spun = spinning(given, m, demand, spinner);
    total = by::AND_THEN.step(m, (total, spun));
    let made = cloth_steps(given, m, q);
    total = by::AND_THEN.step(m, (total, made));
    let (sewing, each) = (given.need(m, &id::SEWING_EACH), q.how_many);
    let sewn = by::EACH_ARTICLE.to(m, &id::SEWING, (each, sewing));
    if print {
        let one = given.need(m, &id::PRINTING_EACH);
        let printed = by::EACH_ARTICLE.to(m, &id::PRINTING, (each, one));
        total = by::AND_THEN.step(m, (total, printed));
    }
    by::AND_THEN.to(m, &id::TOTAL_HOURS, (total, sewn));
}

/// Singles, and plying where the yarn is plied.
#[inline(always)]
fn spinning<M: Mode>(given: &Given, m: &mut M, demand: &Demand<M>, spinner: &Spinner<M>) -> V<Duration, M> {
    let stops = given.need(m, &id::STOPS);
    if demand.plies.si() <= 1.0 {
        return by::BY_LENGTH.to(m, &id::SPINNING, (demand.yarn_length, spinner.pace, stops));
    }
    let singles = by::SINGLES_LENGTH.step(m, (demand.plies, demand.yarn_length));
    let spun = by::BY_LENGTH.to(m, &id::SPINNING, (singles, spinner.pace, stops));
    let pace = given.need(m, &id::PLYING_PACE);
    let plied = by::BY_LENGTH.to(m, &id::PLYING, (demand.yarn_length, pace, stops));
    by::AND_THEN.step(m, (spun, plied))
}

/// Sampling, warping, weaving, finishing.
#[inline(always)]
fn cloth_steps<M: Mode>(given: &Given, m: &mut M, q: &Quantities<M>) -> V<Duration, M> {
    let winding_pace = given.need(m, &id::WINDING_PACE);
    let winding = by::WOUND.to(m, &id::WINDING, (q.warp_yarn, winding_pace));
    let threading_pace = given.need(m, &id::THREADING_PACE);
    let moves = match given.hand(m, &id::HEDDLES) {
        Some(heddles) => by::THREADING_MOVES.step(m, (q.ends, heddles)),
        None => q.ends,
    };
    let threading = by::BY_NUMBER.to(m, &id::THREADING, (moves, threading_pace));
    let warping = by::AND_THEN.to(m, &id::WARPING, (winding, threading));
    let picking_pace = given.need(m, &id::PICKING_PACE);
    let weaving = by::BY_NUMBER.to(m, &id::WEAVING, (q.picks, picking_pace));
    let woven = by::AND_THEN.step(m, (warping, weaving));
    let sampling_each = given.need(m, &id::SAMPLING_EACH);
    let finishing_each = given.need(m, &id::FINISHING_EACH);
    let sampling = by::ONCE.to(m, &id::SAMPLING, (sampling_each,));
    let finishing = by::ONCE.to(m, &id::FINISHING, (finishing_each,));
    let around = by::AND_THEN.step(m, (sampling, finishing));
    by::AND_THEN.step(m, (woven, around))
}
