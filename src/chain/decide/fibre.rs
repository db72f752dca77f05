//! Fibre and yarn of a plan: what it states, and what the fibre's own facts stand in for.

use super::inputs::{How, Input, Inputs};
use crate::chain::assumed::Assumption;
use crate::chain::given::{FinenessBy, ONE_YARN, TwistBy};
use crate::chain::keys as id;
use crate::chain::settle::Open;
use crate::chain::stages::yarn::{WARP, WEFT, YarnKeys};
use crate::formulas::registry::Key;
use crate::plan::Plan;
use crate::trade::fibres::{Drafting, Fibre, Fineness, Plant};
use crate::units::text::Strand;
use crate::units::*;

/// Fineness, losses, forms on hand and everything else that depends on the fibre.
pub fn fibre(inputs: &mut Inputs, plan: &Plan, fibre: &Fibre) {
    inputs.given.choices.plant = fibre.plant;
    fineness(inputs, plan, fibre);
    losses(inputs, plan, fibre.plant);
    on_hand(inputs, plan, fibre.plant);
    paces(inputs, plan, fibre.plant);
    facts(inputs, fibre);
}

/// What the trade knows of a fibre, for every input that nothing was stated of.
pub fn facts(inputs: &mut Inputs, fibre: &Fibre) {
    let mut assume = |assumption: Assumption| inputs.assume(&assumption);
    assume(Assumption::of(&id::FIBRE_DENSITY, &fibre.density));
    assume(Assumption::of(&id::FIBRE_LENGTH, &fibre.length));
    assume(Assumption::of(&id::FIBRE_TENACITY, &fibre.tenacity));
    assume(Assumption::of(&id::EXTENSION, &fibre.yarn_extension));
    assume(Assumption::of(&id::REALISED, &fibre.realised));
    assume(Assumption::of(&id::HAND_SHARE, &fibre.hand_share));
    assume(Assumption::of(&id::FEWEST_FIBRES, &fibre.fewest_fibres));
    assume(Assumption::of(&id::CLEANING_KEEPS, &fibre.cleaning_keeps));
    assume(Assumption::of(&id::PREPARING_KEEPS, &fibre.preparing_keeps));
    assume(Assumption::of(&id::SPINNING_KEEPS, &fibre.spinning_keeps));
    assume(Assumption::of(&id::FINISHING_KEEPS, &fibre.finishing_keeps));
    assume(Assumption::of(&id::SHRINK_WIDTH, &fibre.shrink_width));
    assume(Assumption::of(&id::SHRINK_LENGTH, &fibre.shrink_length));
    assume(Assumption::of(&id::CLEANING_PACE, &fibre.cleaning_pace));
    assume(Assumption::of(&id::PREPARING_PACE, &fibre.preparing_pace));
    if let Some(limit) = &fibre.limit {
        assume(Assumption::of(&id::LIMIT_CONSTANT, limit));
    }
}

fn fineness(inputs: &mut Inputs, plan: &Plan, fibre: &Fibre) {
    const PATH: &str = "fibre.fineness";
    let by = if inputs.state(plan, &id::MICRONAIRE, PATH) {
        FinenessBy::Micronaire
    } else if inputs.state(plan, &id::FIBRE_DIAMETER, PATH) {
        FinenessBy::Diameter
    } else if inputs.state(plan, &id::FIBRE_FINENESS, PATH) {
        FinenessBy::Count
    } else {
        match &fibre.fineness {
            Fineness::Micronaire(fact) => {
                inputs.assume(&Assumption::of(&id::MICRONAIRE, fact));
                FinenessBy::Micronaire
            }
            Fineness::Diameter(fact) => {
                inputs.assume(&Assumption::of(&id::FIBRE_DIAMETER, fact));
                FinenessBy::Diameter
            }
            Fineness::Count(fact) => {
                inputs.assume(&Assumption::of(&id::FIBRE_FINENESS, fact));
                FinenessBy::Count
            }
        }
    };
    inputs.given.choices.fineness = by;
}

/// The losses under the names they have for this fibre.
fn losses(inputs: &mut Inputs, plan: &Plan, plant: Plant) {
    match plant {
        Plant::Cotton => {
            inputs.state(plan, &id::CLEANING_KEEPS, "fibre.losses.ginning_keeps");
            inputs.state(plan, &id::PREPARING_KEEPS, "fibre.losses.carding_keeps");
        }
        Plant::Wool => {
            inputs.state(plan, &id::CLEANING_KEEPS, "fibre.losses.scouring_keeps");
            if !inputs.state(plan, &id::PREPARING_KEEPS, "fibre.losses.combing_keeps") {
                inputs.state(plan, &id::PREPARING_KEEPS, "fibre.losses.carding_keeps");
            }
        }
        Plant::Flax => {
            scutched(inputs, plan);
            if !inputs.state(plan, &id::PREPARING_KEEPS, "fibre.losses.hackling_keeps") {
                inputs.state(plan, &id::PREPARING_KEEPS, "fibre.losses.carding_keeps");
            }
        }
    }
}

/// Breaking and scutching together, which the trade weighs as one; both must be stated to replace what is usual.
fn scutched(inputs: &mut Inputs, plan: &Plan) {
    const PATH: &str = "fibre.losses.scutching_keeps";
    let scutching = plan.quantity::<Ratio>(PATH);
    let breaking = plan.quantity::<Ratio>("fibre.losses.breaking_keeps");
    if let (Some(mut both), Some(breaking)) = (scutching, breaking) {
        both.middle = both.middle * breaking.middle.to_si();
        both.low = both.low * breaking.low.to_si();
        both.high = both.high * breaking.high.to_si();
        inputs.put(&id::CLEANING_KEEPS, both, PATH);
    }
}

/// The fibre that is there. A plan that states one form states the others as none.
fn on_hand(inputs: &mut Inputs, plan: &Plan, plant: Plant) {
    let (raw, clean, prepared): (&[_], &[_], &[_]) = match plant {
        Plant::Cotton => (&["fibre.on_hand.seed_cotton"], &["fibre.on_hand.lint"], &["fibre.on_hand.sliver"]),
        Plant::Wool => (&["fibre.on_hand.grease_wool"], &["fibre.on_hand.scoured_wool"], &["fibre.on_hand.sliver"]),
        Plant::Flax => {
            (&["fibre.on_hand.retted_straw"], &[], &["fibre.on_hand.line", "fibre.on_hand.tow", "fibre.on_hand.sliver"])
        }
    };
    let mut any = false;
    let mut take = |key: &Key<Mass>, paths: &[&'static str]| {
        any |= paths.iter().fold(false, |taken, path| taken | inputs.state(plan, key, path));
    };
    take(&id::RAW_ON_HAND, raw);
    take(&id::CLEAN_ON_HAND, clean);
    take(&id::SPUN_ON_HAND, prepared);
    take(&id::YARN_ON_HAND, &["fibre.on_hand.yarn"]);
    if any {
        for key in [&id::RAW_ON_HAND, &id::CLEAN_ON_HAND, &id::SPUN_ON_HAND, &id::YARN_ON_HAND] {
            inputs.exact(key, Q::si(0.0), How::Given, None);
        }
    }
}

/// Paces under the names they have for this fibre.
fn paces(inputs: &mut Inputs, plan: &Plan, plant: Plant) {
    let (cleaning, preparing) = match plant {
        Plant::Cotton => ("pace.ginning", "pace.carding"),
        Plant::Wool => ("pace.scouring", "pace.combing"),
        Plant::Flax => ("pace.breaking", "pace.hackling"),
    };
    inputs.state(plan, &id::CLEANING_PACE, cleaning);
    inputs.state(plan, &id::PREPARING_PACE, preparing);
    inputs.state(plan, &id::PREPARING_PACE, "pace.carding");
}

/// Paths of one of the two yarns.
struct Paths {
    count: &'static str,
    plies: &'static str,
    twist: &'static str,
    ply_twist: &'static str,
    preparation: &'static str,
}

const WARP_PATHS: Paths = Paths {
    count: "yarn.warp.count",
    plies: "yarn.warp.plies",
    twist: "yarn.warp.twist",
    ply_twist: "yarn.warp.ply_twist",
    preparation: "yarn.warp.preparation",
};
const WEFT_PATHS: Paths = Paths {
    count: "yarn.weft.count",
    plies: "yarn.weft.plies",
    twist: "yarn.weft.twist",
    ply_twist: "yarn.weft.ply_twist",
    preparation: "yarn.weft.preparation",
};

/// Whether the weft is the warp's yarn: said so, or nothing said of it.
pub fn one_yarn(plan: &Plan) -> bool {
    let paths = &WEFT_PATHS;
    let own = [paths.count, paths.plies, paths.twist, paths.ply_twist, paths.preparation];
    plan.choice("yarn.weft.same_as").is_some() || own.iter().all(|path| !plan.is_given(path))
}

/// Both yarns.
pub fn yarns(inputs: &mut Inputs, plan: &Plan, fibre: &Fibre, open: &mut Open) {
    let by = yarn(inputs, plan, fibre, (&WARP, &WARP_PATHS, true));
    inputs.given.choices.warp_twist = by;
    open.warp_count = !inputs.has(&id::WARP_COUNT);
    open.same_yarn = one_yarn(plan);
    if open.same_yarn {
        copy_to_weft(inputs);
        inputs.given.choices.weft_twist = by;
    } else {
        let by = yarn(inputs, plan, fibre, (&WEFT, &WEFT_PATHS, false));
        inputs.given.choices.weft_twist = by;
        open.weft_count = !inputs.has(&id::WEFT_COUNT);
    }
    let weft = fibre.weft_multiplier.at(inputs.given.get(&id::FIBRE_LENGTH).unwrap_or(fibre.length.value()));
    inputs.exact(&id::WEFT_TWIST_LEAST, Q::new(weft.low, weft.unit), How::Assumed, None);
    inputs.exact(&id::WEFT_TWIST_MOST, Q::new(weft.high, weft.unit), How::Assumed, None);
}

fn yarn(inputs: &mut Inputs, plan: &Plan, fibre: &Fibre, (keys, paths, is_warp): (&YarnKeys, &Paths, bool)) -> TwistBy {
    let strand = plan.strand(paths.count);
    let plies = plan.whole(paths.plies).or(strand.and_then(|(_, plies)| plies)).unwrap_or(1);
    inputs.exact(keys.plies, Q::si(f64::from(plies)), How::Given, Some(paths.plies));
    let loose = fact_of_loosened(plies);
    if let Some(mut count) = plan.quantity::<LinearDensity>(paths.count) {
        if matches!(strand, Some((Strand::Single, _))) {
            // the single was named: the yarn as woven is all of them, a little shorter for their twist
            let folded = f64::from(plies) / (1.0 - loose);
            (count.middle, count.low, count.high) = (count.middle * folded, count.low * folded, count.high * folded);
        }
        inputs.put(keys.count, count, paths.count);
    }
    packing(inputs, plan, fibre, keys, paths, plies);
    let staple = inputs.given.get(&id::FIBRE_LENGTH).unwrap_or(fibre.length.value());
    let usual = if is_warp { fibre.warp_multiplier.at(staple) } else { fibre.weft_multiplier.at(staple) };
    if is_warp {
        inputs.exact(keys.least_twist, Q::new(usual.low, usual.unit), How::Assumed, None);
        inputs.exact(keys.most_twist, Q::new(usual.high, usual.unit), How::Assumed, None);
    }
    inputs.state(plan, keys.ply_twist, paths.ply_twist);
    if inputs.state(plan, keys.twist, paths.twist) {
        return TwistBy::Turns;
    }
    if !inputs.state(plan, keys.multiplier, paths.twist) {
        // decided, not doubted: what was decided is what is spun
        inputs.exact(keys.multiplier, usual.value(), How::Decided, None);
    }
    TwistBy::Multiplier
}

/// What plying is taken to shorten a yarn by, before anything is measured; none for a single.
fn fact_of_loosened(plies: u32) -> f64 {
    if plies < 2 {
        return 0.0;
    }
    let slot = id::PLY_CONTRACTION.slot;
    crate::chain::assumed::general().iter().find(|row| row.slot == slot).map_or(0.0, |row| row.middle)
}

/// How airy the yarn is: by its drafting, and looser where plies lie side by side.
fn packing(inputs: &mut Inputs, plan: &Plan, fibre: &Fibre, keys: &YarnKeys, paths: &Paths, plies: u32) {
    let drafting = match plan.choice(paths.preparation) {
        Some("long draw" | "woollen") => Drafting::Open,
        _ => Drafting::Close,
    };
    let fact = match drafting {
        Drafting::Close => &fibre.packing_close,
        Drafting::Open => &fibre.packing_open,
    };
    let mut assumed = Assumption::of(keys.packing, fact);
    if plies > 1 {
        assumed.middle *= PLIED_PACKING;
        assumed.low *= PLIED_PACKING;
        assumed.high *= PLIED_PACKING;
        assumed.evidence = crate::formulas::registry::Evidence::Practice;
    }
    inputs.assume(&assumed);
}

/// Plies do not fill a circle: 0.50 to 0.55 for a plied cotton against 0.60 (common practice, no source).
const PLIED_PACKING: f64 = 0.875;

/// Weft inputs that follow the warp's, so that every id has an input even before anything is settled. What is doubted of the warp is not
/// doubted again of the weft: a trial shakes the one yarn once.
fn copy_to_weft(inputs: &mut Inputs) {
    for (from, to) in ONE_YARN {
        if let Some(input) = inputs.all.get(from).copied() {
            let how = if input.how == How::Given { How::Decided } else { input.how };
            let (slot, low, high) = (*to, input.middle, input.middle);
            inputs.given.set_si(slot, input.middle);
            inputs.all.insert(slot, Input { slot, how, low, high, ..input });
        }
    }
}
