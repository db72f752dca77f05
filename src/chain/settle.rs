//! Decisions: every wish left open becomes a number, once, at the middle of every doubt. What comes out is whole where the thing is whole
//! and stands on a step that can be made. A mend, a search and an edit settle again; a trial never does.

use super::given::Given;
use super::keys as id;
use super::mode::Quiet;
use super::root::bracketed;
use super::stages::{cloth, fibre, yarn};
use crate::units::*;

/// How a decision was reached, for `how` and `explain`.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    pub slot: u16,
    pub why: &'static str,
}

/// What the plan leaves open. Each flag asks for a decision; a value the plan states is already in the [`Given`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Open {
    /// Count of the warp.
    pub warp_count: bool,
    /// Count of the weft, where it is a yarn of its own.
    pub weft_count: bool,
    /// The weft is the warp's yarn.
    pub same_yarn: bool,
    /// Sett in the reed.
    pub sett: bool,
    /// Picks that match the ends off the loom.
    pub balanced: bool,
    /// Picks were counted on the stretched loom: the number off the loom follows from the relaxing.
    pub picks_on_loom: bool,
}

/// Why a plan cannot be settled: no value of what is open meets what is stated.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsettled {
    /// What was sought.
    pub what: &'static str,
    /// What stands against it, with the numbers.
    pub why: String,
}

/// Pitches are cut, printed or wound to this step.
const PITCH_STEP: f64 = 0.01e-3;
/// Counts are spun to, and printed with, this step.
const COUNT_STEP: f64 = 0.1e-6;
/// Counts looked through when one is decided: from finer than any hand to a rope.
const COUNTS: (f64, f64) = (2e-6, 4000e-6);

/// Fills what is open. `firmness` and `mass` are wishes; where both are given and the count is stated, the firmness is kept and the mass is
/// for a check to speak of.
pub fn settle(given: &mut Given, open: &Open, firmness: f64, mass: Option<f64>) -> Result<Vec<Decision>, Unsettled> {
    let mut made = Vec::new();
    let mut note = |slot: u16, why: &'static str| made.push(Decision { slot, why });
    match (open.warp_count, open.sett) {
        (false, true) => {
            settle_weft(given, open, &mut note)?;
            set_sett(given, firmness);
            note(id::SETT_IN_REED.slot, "the firmness wished, for this yarn, on a step that can be made");
        }
        (true, false) => {
            let count = count_for_sett(given, open, firmness)?;
            set_count(given, open, count);
            note(id::WARP_COUNT.slot, "the yarn that has the firmness wished at this heddle's sett");
        }
        (true, true) => {
            let count = match mass {
                Some(mass) => count_for_mass(given, open, firmness, mass)?,
                None => return Err(nothing_to_go_by()),
            };
            set_count(given, open, count);
            set_sett(given, firmness);
            note(id::WARP_COUNT.slot, "the yarn whose cloth has the mass wished, at the firmness wished");
            note(id::SETT_IN_REED.slot, "the firmness wished, for this yarn, on a step that can be made");
        }
        (false, false) => settle_weft(given, open, &mut note)?,
    }
    if open.same_yarn {
        note(id::WEFT_COUNT.slot, "the same yarn as the warp");
    }
    settle_picks(given, open, &mut note);
    Ok(made)
}

fn nothing_to_go_by() -> Unsettled {
    Unsettled {
        what: "yarn.warp.count",
        why: "The count is left open, and neither a heddle's sett nor a cloth mass says what it should come to.".into(),
    }
}

/// A weft of its own that is left open takes the warp's count.
fn settle_weft(given: &mut Given, open: &Open, note: &mut impl FnMut(u16, &'static str)) -> Result<(), Unsettled> {
    if open.same_yarn {
        given.copy_warp_to_weft();
    } else if open.weft_count {
        let count = given.get(&id::WARP_COUNT).ok_or_else(nothing_to_go_by)?;
        given.set(&id::WEFT_COUNT, count);
        note(id::WEFT_COUNT.slot, "as fine as the warp");
    }
    Ok(())
}

fn set_count(given: &mut Given, open: &Open, count: f64) {
    given.set(&id::WARP_COUNT, Q::si((count / COUNT_STEP).round().max(1.0) * COUNT_STEP));
    if open.same_yarn {
        given.copy_warp_to_weft();
    } else if open.weft_count {
        let count = given.get(&id::WARP_COUNT).unwrap_or(Q::si(count));
        given.set(&id::WEFT_COUNT, count);
    }
}

/// The wish as a sett, snapped to a pitch that can be made.
fn set_sett(given: &mut Given, firmness: f64) {
    let sett = greatest_sett(given) * firmness;
    let heddles = given.get(&id::HEDDLES).map_or(1.0, |heddles| heddles.to_si());
    let pitch = ((2.0 * heddles / sett) / PITCH_STEP).round().max(1.0) * PITCH_STEP;
    given.set(&id::SETT_IN_REED, Q::si(2.0 * heddles / pitch));
}

/// Closest sett for the yarns as they stand.
pub fn greatest_sett(given: &Given) -> f64 {
    let mut quiet = Quiet;
    let fibre = fibre::stage(given, &mut quiet);
    let warp = yarn::stage(given, &mut quiet, &yarn::WARP, fibre);
    let weft = yarn::stage(given, &mut quiet, &yarn::WEFT, fibre);
    cloth::greatest(given, &mut quiet, &warp, &weft).si()
}

/// The count that has the firmness at the sett that is there. Closest sett falls as count rises, so there is one.
fn count_for_sett(given: &Given, open: &Open, firmness: f64) -> Result<f64, Unsettled> {
    let mut trial = given.clone();
    let sett = given.get(&id::SETT_IN_REED).map_or(0.0, |sett| sett.to_si());
    let miss = |log: f64| {
        set_count_exactly(&mut trial, open, libm::exp(log));
        greatest_sett(&trial) * firmness / sett - 1.0
    };
    bracketed(libm::log(COUNTS.0), libm::log(COUNTS.1), 1e-10, miss).map(libm::exp).ok_or_else(|| Unsettled {
        what: "yarn.warp.count",
        why: format!("No yarn between 2 and 4000 tex has the firmness wished at {:.2} ends/cm.", sett / 100.0),
    })
}

/// The count whose cloth has the mass at the firmness. Mass grows with count, so there is one.
fn count_for_mass(given: &Given, open: &Open, firmness: f64, mass: f64) -> Result<f64, Unsettled> {
    let mut trial = given.clone();
    let miss = |log: f64| {
        set_count_exactly(&mut trial, open, libm::exp(log));
        let sett = greatest_sett(&trial) * firmness;
        trial.set(&id::SETT_IN_REED, Q::si(sett));
        settle_picks(&mut trial, open, &mut |_, _| {});
        cloth_mass(&trial) / mass - 1.0
    };
    bracketed(libm::log(COUNTS.0), libm::log(COUNTS.1), 1e-10, miss).map(libm::exp).ok_or_else(|| Unsettled {
        what: "yarn.warp.count",
        why: format!("No yarn between 2 and 4000 tex makes a cloth of {:.0} g/m2 at the firmness wished.", mass * 1e3),
    })
}

fn set_count_exactly(given: &mut Given, open: &Open, count: f64) {
    given.set(&id::WARP_COUNT, Q::si(count));
    if open.same_yarn {
        given.copy_warp_to_weft();
    } else if open.weft_count {
        given.set(&id::WEFT_COUNT, Q::si(count));
    }
}

fn cloth_mass(given: &Given) -> f64 {
    let mut quiet = Quiet;
    let fibre = fibre::stage(given, &mut quiet);
    let warp = yarn::stage(given, &mut quiet, &yarn::WARP, fibre);
    let weft = yarn::stage(given, &mut quiet, &yarn::WEFT, fibre);
    cloth::stage(given, &mut quiet, &warp, &weft).mass.si()
}

/// Spacing of the ends and of the picks in the finished cloth, m.
pub fn finished_spacings(given: &Given) -> (f64, f64) {
    let mut quiet = Quiet;
    let fibre = fibre::stage(given, &mut quiet);
    let warp = yarn::stage(given, &mut quiet, &yarn::WARP, fibre);
    let weft = yarn::stage(given, &mut quiet, &yarn::WEFT, fibre);
    let cloth = cloth::stage(given, &mut quiet, &warp, &weft);
    (cloth.spacing_warp.si(), cloth.spacing_weft.si())
}

/// Picks off the loom: as stated, from the stretched loom, or as many as the ends.
fn settle_picks(given: &mut Given, open: &Open, note: &mut impl FnMut(u16, &'static str)) {
    if open.picks_on_loom {
        if let (Some(on), Some(relax)) = (given.get(&id::PICKS_ON_LOOM), given.get(&id::RELAX)) {
            given.set(&id::PICKS_OFF_LOOM, Q::si(on.to_si() / (1.0 - relax.to_si())));
            note(id::PICKS_OFF_LOOM.slot, "picks on the stretched loom, closer by what it relaxes");
        }
    } else if open.balanced {
        let picks = ends_off_loom(given);
        given.set(&id::PICKS_OFF_LOOM, Q::si(picks));
        note(id::PICKS_OFF_LOOM.slot, "balanced: as many picks as ends, off the loom");
    }
}

/// Ends off the loom, which do not depend on the picks.
pub fn ends_off_loom(given: &Given) -> f64 {
    let mut quiet = Quiet;
    let fibre = fibre::stage(given, &mut quiet);
    let warp = yarn::stage(given, &mut quiet, &yarn::WARP, fibre);
    let weft = yarn::stage(given, &mut quiet, &yarn::WEFT, fibre);
    cloth::ends_off_loom(given, &mut quiet, &warp, &weft).si()
}

/// Share of its width in the reed that the cloth loses, edges apart.
pub fn draw_in(given: &Given) -> f64 {
    let sett = given.get(&id::SETT_IN_REED).map_or(0.0, |sett| sett.to_si());
    1.0 - sett / ends_off_loom(given)
}
