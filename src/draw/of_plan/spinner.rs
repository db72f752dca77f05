//! Spinner drawings of a plan: the machine, its knob, its brake.

use super::export::words;
use crate::chain::given::Drive;
use crate::chain::keys as id;
use crate::chain::machines::SpinnerWork;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::{self, knob, machines};
use crate::formulas::spinner as by;
use crate::machine::shape::mesh::Mesh;
use crate::outlook::Outcome;
use crate::plan::Plan;
use crate::units::*;

/// The spinner as it is worked up.
fn work(outcome: &Outcome) -> Result<&SpinnerWork, String> {
    match &outcome.machines().spinner {
        Some(work) => work.as_ref().map_err(words),
        None => Err("This plan has no motor: state `spinner.motor` and `spinner.supply`, from their plates.".into()),
    }
}

/// The machine's sheets.
pub(super) fn machine(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    work(outcome).map(machines::spinner_pages)
}

/// Bobbin and pulleys, to print.
pub(super) fn solids(outcome: &Outcome) -> Result<Vec<(String, Mesh)>, String> {
    work(outcome).and_then(|work| machines::spinner_solids(work).map_err(|refusal| words(&refusal)))
}

/// A yarn's setting: its twist, and how fast what the belt drives has to turn for it.
fn setting(outcome: &Outcome, name: String, twist: Q<PerLength>, pace: Q<Speed>) -> knob::Setting {
    let flyer = (by::FLYER_SPEED.code)([twist.get(&PER_M), pace.get(&M_MIN)]);
    let lead = match outcome.brief.given.choices.drive {
        Drive::Bobbin => outcome.get(&id::WIND_ON_EMPTY).map_or(0.0, |lead| lead.get(&RPM)),
        Drive::Flyer | Drive::Both => 0.0,
    };
    knob::Setting { name, twist, flyer: Q::new(flyer + lead, &RPM) }
}

fn direction(plan: &Plan, path: &str) -> &'static str {
    plan.choice(path).unwrap_or("Z")
}

/// The other way round.
fn opposite(direction: &str) -> &'static str {
    if direction == "Z" { "S" } else { "Z" }
}

/// Every twist that this plan puts in, each with its direction.
fn settings(outcome: &Outcome, pace: Q<Speed>) -> Vec<knob::Setting> {
    let plan = &outcome.brief.plan;
    let same = plan.is_given("yarn.weft.same_as");
    let warp = direction(plan, "yarn.warp.direction");
    let weft = direction(plan, "yarn.weft.direction");
    let yarns = [
        (if same { "warp and weft" } else { "warp" }, warp, &id::WARP_TWIST, &id::WARP_PLIES, &id::WARP_PLY_TWIST),
        ("weft", weft, &id::WEFT_TWIST, &id::WEFT_PLIES, &id::WEFT_PLY_TWIST),
    ];
    let mut out = Vec::new();
    for (name, hand, twist, plies, ply_twist) in yarns.into_iter().take(if same { 1 } else { 2 }) {
        let plied = outcome.get(plies).is_some_and(|plies| plies.to_si() > 1.0);
        let single = if plied { format!("{name}, singles, {hand}") } else { format!("{name}, {hand}") };
        out.extend(outcome.get(twist).map(|twist| setting(outcome, single, twist, pace)));
        if plied && let Some(twist) = outcome.get(ply_twist) {
            out.push(setting(outcome, format!("{name}, plying, {}", opposite(hand)), twist, pace));
        }
    }
    out
}

/// The knob's sheet.
pub(super) fn knob(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let work = work(outcome)?;
    let ruler = work.spinner.wish.system.ruler();
    let settings = settings(outcome, work.pace);
    Ok(vec![knob::sheet(&work.rig, work.pace, &settings, &work.margins, &work.pulleys, ruler)])
}

/// The brake's sheet.
pub(super) fn brake(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let work = work(outcome)?;
    Ok(vec![sheets::brake::sheet(&work.brake, &work.marks, &work.wind_on, work.spinner.wish.system.ruler())])
}

/// The wiring's sheets.
pub(super) fn wiring(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    work(outcome).and_then(|work| machines::wiring_pages(work).map_err(|refusal| words(&refusal)))
}
