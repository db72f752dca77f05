//! Loom: heddle, tension, beam, shed, ratchet. A rigid heddle lifts one way: eye ends move, slot ends stay.

use crate::chain::given::{BeamSection, Given};
use crate::chain::keys as id;
use crate::formulas::loom as by;
use crate::formulas::registry::{Mode, V};
use crate::units::*;

use super::cloth::Cloth;
use super::warp::Quantities;
use super::yarn::Yarn;

/// What later stages read of the loom.
pub struct Loom<M: Mode> {
    pub peak_load: V<Force, M>,
}

/// The whole loom.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, cloth: &Cloth<M>, q: &Quantities<M>, warp: &Yarn<M>) -> Loom<M> {
    given.hand(m, &id::WEAVING_WIDTH);
    given.hand(m, &id::HEDDLE_SETT);
    let eyes = heddle(given, m, cloth, q, warp);
    let tension = match given.hand(m, &id::TENSION_STATED) {
        Some(stated) => by::STATED_TENSION.to(m, &id::TENSION, (stated,)),
        None => {
            let (per_tex, share) = (given.need(m, &id::TENSION_PER_TEX), given.need(m, &id::TENSION_LIMIT));
            by::TENSION_PER_END.to(m, &id::TENSION, (warp.count, per_tex, warp.break_load, share))
        }
    };
    let whole = by::WARP_TENSION.to(m, &id::WARP_TENSION, (q.ends, tension));
    let extension = given.need(m, &id::EXTENSION);
    let strain = by::STRAIN_AT_LOAD.to(m, &id::MEAN_STRAIN, (tension, warp.break_load, extension));
    let peak_load = shed(given, m, warp, tension, eyes);
    let factor = given.need(m, &id::PEAK_FACTOR);
    let peak = by::PEAK_TENSION.to(m, &id::PEAK_TENSION, (whole, factor));
    beam(given, m, q, (whole, peak), strain);
    winding(given, m, q, peak);
    Loom { peak_load }
}

/// Pitch, slots and eyes, where the warp goes through a rigid heddle; gives all eyes that lift together.
#[inline(always)]
fn heddle<M: Mode>(
    given: &Given,
    m: &mut M,
    cloth: &Cloth<M>,
    q: &Quantities<M>,
    warp: &Yarn<M>,
) -> Option<V<Number, M>> {
    let heddles = given.hand(m, &id::HEDDLES)?;
    let pitch = by::HEDDLE_PITCH.to(m, &id::HEDDLE_PITCH, (cloth.sett_in_reed, heddles));
    let threads = by::THREADS_PER_SLOT.to(m, &id::THREADS_PER_SLOT, (heddles,));
    if let (Some(blade), Some(eye)) = (given.hand(m, &id::BLADE), given.hand(m, &id::EYE)) {
        let gap = by::HEDDLE_GAP.to(m, &id::GAP, (pitch, blade));
        by::SLOT_ROOM.to(m, &id::SLOT_ROOM, (gap, threads, warp.diameter));
        by::EYE_ROOM.to(m, &id::EYE_ROOM, (eye, warp.diameter));
        by::WALL.to(m, &id::WALL, (blade, eye));
        let factor = given.need(m, &id::GAP_FACTOR);
        by::GREATEST_OF_HEDDLE.to(m, &id::HEDDLE_GREATEST, (heddles, blade, factor, warp.diameter));
        given.need(m, &id::EYE_FACTOR);
        given.need(m, &id::LEAST_WALL);
    }
    let eyes = by::EYES.to(m, &id::EYES, (q.ends, heddles));
    by::SLOTS.to(m, &id::SLOTS, (eyes,));
    Some(by::EYES_LIFTED.step(m, (eyes, heddles)))
}

/// Shed: opening at the shuttle, stretch and load of an eye end, force to lift; gives the peak load.
#[inline(always)]
fn shed<M: Mode>(
    given: &Given,
    m: &mut M,
    warp: &Yarn<M>,
    tension: V<Force, M>,
    eyes: Option<V<Number, M>>,
) -> V<Force, M> {
    let (front, back) = (given.need(m, &id::FELL_TO_HEDDLE), given.need(m, &id::HEDDLE_TO_BACK));
    let lift = given.need(m, &id::LIFT);
    let strain = by::SHED_STRAIN.to(m, &id::SHED_STRAIN, (front, back, lift));
    let extension = given.need(m, &id::EXTENSION);
    let added = by::LOAD_OF_STRAIN.to(m, &id::SHED_LOAD, (strain, warp.break_load, extension));
    let peak = by::PEAK_LOAD.to(m, &id::PEAK_LOAD, (tension, added));
    let (width, clearance) = (given.need(m, &id::SHUTTLE_WIDTH), given.need(m, &id::SHUTTLE_CLEARANCE));
    let edge = by::SHUTTLE_EDGE.to(m, &id::SHUTTLE_EDGE, (front, width, clearance));
    by::SHED_OPENING.to(m, &id::SHED_OPENING, (lift, edge, front));
    let woven = given.need(m, &id::ADVANCE);
    let late_front = by::NEARER.step(m, (front, woven));
    let late_edge = by::NEARER.step(m, (edge, woven));
    if late_front.si() > 0.0 {
        by::SHED_OPENING.to(m, &id::SHED_OPENING_LATE, (lift, late_edge, late_front));
    }
    given.need(m, &id::SHUTTLE_HEIGHT);
    if let Some(eyes) = eyes {
        by::LIFT_FORCE.to(m, &id::LIFT_FORCE, (eyes, peak, lift, front, back));
        by::SLOT_NEEDS.to(m, &id::SLOT_NEEDS, (lift,));
        given.hand(m, &id::SLOT_HEIGHT);
    }
    peak
}

/// Beam: bow at mean tension, stress at peak, and the bow the warp's stretch evens out.
#[inline(always)]
fn beam<M: Mode>(
    given: &Given,
    m: &mut M,
    q: &Quantities<M>,
    (whole, peak): (V<Force, M>, V<Force, M>),
    strain: V<Ratio, M>,
) {
    let diameter = given.need(m, &id::BEAM_DIAMETER);
    let moment = match given.choices.beam {
        BeamSection::Round => {
            let bore = given.need(m, &id::BEAM_BORE);
            by::ROUND_SECOND_MOMENT.to(m, &id::SECOND_MOMENT, (diameter, bore))
        }
        BeamSection::Square => by::RECTANGLE_SECOND_MOMENT.to(m, &id::SECOND_MOMENT, (diameter, diameter)),
    };
    let modulus = by::SECTION_MODULUS.to(m, &id::SECTION_MODULUS, (moment, diameter));
    let (span, stiffness) = (given.need(m, &id::BEAM_SPAN), given.need(m, &id::BEAM_E));
    by::BEAM_DEFLECTION.to(m, &id::BEAM_DEFLECTION, (whole, span, q.width_in_reed, stiffness, moment));
    by::BEAM_STRESS.to(m, &id::BEAM_STRESS, (peak, span, q.width_in_reed, modulus));
    let (strength, spread) = (given.need(m, &id::BEAM_STRENGTH), given.need(m, &id::STRENGTH_SPREAD));
    by::ALLOWED_STRESS.to(m, &id::STRESS_ALLOWED, (strength, spread));
    let (front, back) = (given.need(m, &id::FELL_TO_HEDDLE), given.need(m, &id::HEDDLE_TO_BACK));
    by::BOW_ALLOWED.to(m, &id::BOW_ALLOWED, (strain, front, back));
    let right_angle = given.need(m, &id::BAR_WRAP);
    by::BAR_LOAD.to(m, &id::BAR_LOAD, (peak, right_angle));
}

/// Ratchet, roll, and what the full roll asks of tooth and beam.
#[inline(always)]
fn winding<M: Mode>(given: &Given, m: &mut M, q: &Quantities<M>, peak: V<Force, M>) {
    let (diameter, layer) = (given.need(m, &id::BEAM_DIAMETER), given.need(m, &id::LAYER));
    let roll = by::ROLL_DIAMETER.to(m, &id::ROLL_DIAMETER, (diameter, layer, q.warp_length));
    let (teeth, pawls) = (given.need(m, &id::TEETH), given.need(m, &id::PAWLS));
    let step = by::RATCHET_STEP.to(m, &id::RATCHET_STEP, (diameter, teeth, pawls));
    let (front, back) = (given.need(m, &id::FELL_TO_HEDDLE), given.need(m, &id::HEDDLE_TO_BACK));
    by::STEP_STRAIN.to(m, &id::STEP_STRAIN, (step, front, back));
    let circle = given.need(m, &id::TOOTH_CIRCLE);
    by::PAWL_FORCE.to(m, &id::PAWL_FORCE, (peak, roll, circle));
    let (span, stiffness) = (given.need(m, &id::BEAM_SPAN), given.need(m, &id::BEAM_E));
    by::BEAM_TWIST.to(m, &id::BEAM_TWIST, (peak, roll, span, stiffness, diameter));
}
