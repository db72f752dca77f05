//! Hours: every step at the person's own pace, or at a diary's until it is logged. A step that this fibre does not have is absent.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::hours as by;
use crate::formulas::registry::{Key, Mode, V};
use crate::trade::fibres::Plant;
use crate::units::{Duration, Length};

use super::demand::Demand;
use super::spinner::Spinner;
use super::warp::Quantities;

/// Ids of cleaning and preparing by fibre.
pub fn fibre_steps(plant: Plant) -> (&'static Key<Duration>, &'static Key<Duration>) {
    match plant {
        Plant::Cotton => (&id::GINNING, &id::CARDING),
        Plant::Wool => (&id::SCOURING, &id::COMBING),
        Plant::Flax => (&id::SCUTCHING, &id::HACKLING),
    }
}

/// What the hours are counted from.
pub struct Work<'a, M: Mode> {
    pub quantities: &'a Quantities<M>,
    pub demand: &'a Demand<M>,
    pub spinner: &'a Spinner<M>,
    pub seams: V<Length, M>,
    pub print: bool,
}

/// All hours.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, work: &Work<'_, M>) {
    let (cleaning, preparing) = fibre_steps(given.choices.plant);
    let (clean_pace, prepare_pace) = (given.need(m, &id::CLEANING_PACE), given.need(m, &id::PREPARING_PACE));
    let cleaned = by::BY_MASS.to(m, cleaning, (work.demand.clean, clean_pace));
    let prepared = by::BY_MASS.to(m, preparing, (work.demand.prepared, prepare_pace));
    let fibre = by::AND_THEN.step(m, (cleaned, prepared));
    let spun = spinning(given, m, work);
    let yarn = by::AND_THEN.step(m, (fibre, spun));
    let cloth = cloth(given, m, work.quantities);
    let woven = by::AND_THEN.step(m, (yarn, cloth));
    let sewing_pace = given.need(m, &id::SEWING_PACE);
    let sewing = by::AT_PACE.to(m, &id::SEWING, (work.seams, sewing_pace));
    let sewn = if work.print {
        let printing = printing(given, m, work);
        by::AND_THEN.step(m, (sewing, printing))
    } else {
        sewing
    };
    let total = by::AND_THEN.to(m, &id::TOTAL_HOURS, (woven, sewn));
    if let Some(week) = given.hand(m, &id::HOURS_A_WEEK) {
        by::WEEKS.to(m, &id::WEEKS, (total, week));
    }
}

/// Singles at the logged pace or the spinner's, plying where the yarn is plied, skeining.
#[inline(always)]
fn spinning<M: Mode>(given: &Given, m: &mut M, work: &Work<'_, M>) -> V<Duration, M> {
    let length = work.demand.yarn_length;
    let plied = work.demand.plies.si() > 1.0;
    let singles = if plied { by::SINGLES_LENGTH.step(m, (work.demand.plies, length)) } else { length };
    let spun = match given.hand(m, &id::SPINNING_PACE) {
        Some(pace) => by::AT_PACE.to(m, &id::SPINNING, (singles, pace)),
        None => {
            let stops = given.need(m, &id::STOPS);
            by::BY_LENGTH.to(m, &id::SPINNING, (singles, work.spinner.pace, stops))
        }
    };
    let skeining_pace = given.need(m, &id::SKEINING_PACE);
    let skeined = by::AT_PACE.to(m, &id::SKEINING, (length, skeining_pace));
    let yarn = by::AND_THEN.step(m, (spun, skeined));
    if !plied {
        return yarn;
    }
    let pace = given.need(m, &id::PLYING_PACE);
    let plying = by::AT_PACE.to(m, &id::PLYING, (length, pace));
    by::AND_THEN.step(m, (yarn, plying))
}

/// Sampling, warping, weaving, finishing.
#[inline(always)]
fn cloth<M: Mode>(given: &Given, m: &mut M, q: &Quantities<M>) -> V<Duration, M> {
    let winding_pace = given.need(m, &id::WINDING_PACE);
    let winding = by::AT_PACE.to(m, &id::WINDING, (q.warp_yarn, winding_pace));
    let threading_pace = given.need(m, &id::THREADING_PACE);
    let moves = match given.hand(m, &id::HEDDLES) {
        Some(heddles) => by::THREADING_MOVES.step(m, (q.ends, heddles)),
        None => q.ends,
    };
    let threading = by::BY_NUMBER.to(m, &id::THREADING, (moves, threading_pace));
    let warping = by::AND_THEN.to(m, &id::WARPING, (winding, threading));
    let (picking_pace, stops) = (given.need(m, &id::PICKING_PACE), given.need(m, &id::STOPS));
    let weaving = by::BY_NUMBER_WITH_STOPS.to(m, &id::WEAVING, (q.picks, picking_pace, stops));
    let woven = by::AND_THEN.step(m, (warping, weaving));
    let (sample, finish) = (given.need(m, &id::SAMPLING_ONCE), given.need(m, &id::FINISHING_ONCE));
    let sampling = by::ONCE.to(m, &id::SAMPLING, (sample,));
    let finishing = by::ONCE.to(m, &id::FINISHING, (finish,));
    let around = by::AND_THEN.step(m, (sampling, finishing));
    by::AND_THEN.step(m, (woven, around))
}

/// Film and screen of each ink once, then a pull of each ink for each article.
#[inline(always)]
fn printing<M: Mode>(given: &Given, m: &mut M, work: &Work<'_, M>) -> V<Duration, M> {
    let (once, pace) = (given.need(m, &id::PRINTING_ONCE), given.need(m, &id::PRINTING_PACE));
    let inks = given.need(m, &id::PRINT_INKS);
    let made = by::FOR_EACH_INK.step(m, (inks, once));
    let number = by::PULLS.step(m, (work.quantities.how_many, inks));
    let pulls = by::BY_NUMBER.step(m, (number, pace));
    by::AND_THEN.to(m, &id::PRINTING, (made, pulls))
}
