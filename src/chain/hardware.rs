//! Hardware left open: eye, blade, beam, ratchet and pulleys, each the least that will do, on a size that can be bought or made. Every
//! choice is tried by running the chain, not by a rule of thumb.

use super::given::Given;
use super::keys as id;
use super::mode::Numbers;
use super::settle::Decision;
use super::stages::run;
use crate::formulas::registry::Key;
use crate::units::*;

/// Which parts are open.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Parts {
    /// Heddles that stand together, and the closest sett one of them can be made for, per metre.
    pub heddles: Option<f64>,
    pub eye: bool,
    pub blade: bool,
    pub beam: bool,
    pub teeth: bool,
    pub spindle_pulley: bool,
}

/// Most heddles that a hand still keeps apart.
pub const MOST_HEDDLES: u32 = 3;
/// An eye takes a hand-spun thread and its knots: a little over the least.
const EYE_IN_DIAMETERS: f64 = 2.8;
/// Eyes and blades are cut to this step.
const CUT_STEP: f64 = 0.1e-3;
/// Room above what the working speed needs, and how far below the flyer's safe speed a runaway stays.
const SPEED_ROOM: f64 = 1.15;

/// Decides what is open, in the order in which one part bears on the next.
pub fn decide(given: &mut Given, parts: &Parts, made: &mut Vec<Decision>) {
    if given.get(&id::HEDDLES).is_some() {
        heddle(given, parts, made);
    }
    if parts.beam {
        let sizes = (5..=30).map(|step| f64::from(step) * 5e-3);
        let why = "the thinnest that the warp's own stretch evens out";
        first(given, made, &id::BEAM_DIAMETER, sizes, why, |n| {
            holds(n, &id::BEAM_DEFLECTION, &id::BOW_ALLOWED) && holds(n, &id::BEAM_STRESS, &id::STRESS_ALLOWED)
        });
    }
    if parts.teeth {
        let teeth = [12.0, 16.0, 20.0, 24.0, 30.0, 36.0, 40.0, 48.0, 60.0, 72.0, 90.0, 120.0];
        first(
            given,
            made,
            &id::TEETH,
            teeth,
            "the coarsest whose step is about the warp's own stretch",
            |n| matches!((n.get(&id::STEP_STRAIN), n.get(&id::MEAN_STRAIN)), (Some(step), Some(mean)) if step.to_si() <= 1.4 * mean.to_si()),
        );
    }
    if parts.spindle_pulley && given.get(&id::MOTOR_RATED).is_some() {
        let sizes = (15..=75).map(|step| f64::from(step) * 2e-3);
        let why = "the smallest that keeps a runaway flyer safe and still reaches the twist";
        first(given, made, &id::SPINDLE_PULLEY, sizes, why, |n| {
            let value = |key| n.get(key).map_or(0.0, |v: Q<Rotation>| v.to_si());
            value(&id::RUNAWAY) <= value(&id::SAFE_SPEED)
                && value(&id::TOP_SPEED) >= SPEED_ROOM * value(&id::SPINDLE_SPEED)
        });
    }
}

/// Eye from the yarn, blade from the eye and what must stay beside it.
fn heddle(given: &mut Given, parts: &Parts, made: &mut Vec<Decision>) {
    let up = |metres: f64| (metres / CUT_STEP - 1e-6).ceil() * CUT_STEP;
    if parts.eye {
        let mut numbers = Numbers::default();
        run(given, &mut numbers);
        let thread = numbers.get(&id::WARP_DIAMETER).map_or(0.0, Q::to_si);
        given.set(&id::EYE, Q::si(up(thread * EYE_IN_DIAMETERS)));
        made.push(Decision { slot: id::EYE.slot, why: "wide enough for this yarn and its knots" });
    }
    if let (true, Some(eye), Some(wall)) = (parts.blade, given.get(&id::EYE), given.get(&id::LEAST_WALL)) {
        given.set(&id::BLADE, Q::si(up(eye.to_si() + 2.0 * wall.to_si())));
        made.push(Decision { slot: id::BLADE.slot, why: "the eye, and what must stay beside it" });
    }
}

/// Whether a value is within its limit.
fn holds<A, B>(numbers: &Numbers, value: &Key<A>, limit: &Key<B>) -> bool {
    matches!((numbers.get(value), numbers.get(limit)), (Some(value), Some(limit)) if value.to_si() <= limit.to_si())
}

/// Sets the first size that does; where none does, the last, and a check says what is wrong.
fn first<D>(
    given: &mut Given,
    made: &mut Vec<Decision>,
    key: &Key<D>,
    sizes: impl IntoIterator<Item = f64>,
    why: &'static str,
    does: impl Fn(&Numbers) -> bool,
) {
    let mut numbers = Numbers::default();
    for size in sizes {
        given.set(key, Q::si(size));
        numbers.clear();
        run(given, &mut numbers);
        if does(&numbers) {
            break;
        }
    }
    made.push(Decision { slot: key.slot, why });
}
