//! Threads of a plan: its draft, the threading of its heddles, the winding of its warp.

use crate::chain::decide::cloth::Woven;
use crate::chain::keys as id;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::{draft, threading, warping};
use crate::draw::title::Paper;
use crate::formulas::registry::Key;
use crate::outlook::Outcome;
use crate::units::*;
use crate::weave::heddles::{Hanging, Heddles};
use crate::weave::warping::{self as winding, Ask, Panel, Winding};
use crate::weave::{Fault, wif};

/// A fault of the weave as a sentence.
fn words(fault: &Fault) -> String {
    format!("{fault}.")
}

/// The draft with its colours as a WIF.
pub(super) fn wif(outcome: &Outcome) -> Result<Vec<u8>, String> {
    let Woven { draft, colours, warp_order, weft_order, .. } = &outcome.brief.woven;
    Ok(wif::write(&wif::Wif::of_draft(draft, colours, warp_order, weft_order)).into_bytes())
}

/// The draft.
pub(super) fn draft(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let Woven { draft, colours, warp_order, weft_order, .. } = &outcome.brief.woven;
    let drafted = draft::Drafted { draft, colours, warp: warp_order, weft: weft_order, whole: false };
    Ok(vec![draft::sheet(&drafted).map_err(|fault| words(&fault))?])
}

/// The draft on the heddles of the plan: rigid ones as many as the chain has, or string heddles on shafts.
///
/// # Errors
/// A sentence on why these heddles cannot weave it.
pub fn hanging(outcome: &Outcome) -> Result<Hanging, String> {
    let draft = &outcome.brief.woven.draft;
    let plan = &outcome.brief.plan;
    let heddles = match outcome.get(&id::HEDDLES) {
        Some(number) => Heddles::rigid(number.to_si().round() as usize),
        None => Heddles::String {
            shafts: plan.whole("loom.heddle.shafts").map_or(draft.shafts(), |shafts| shafts as usize),
            ends_per_dent: plan.whole("loom.reed.ends_per_dent").unwrap_or(2) as usize,
        },
    };
    Hanging::of(draft, heddles).map_err(|fault| words(&fault))
}

fn need<D>(outcome: &Outcome, key: &Key<D>) -> Result<Q<D>, String> {
    outcome.get(key).ok_or_else(|| format!("This plan has no `{}`, which this drawing needs.", key.name))
}

fn ends(outcome: &Outcome) -> Result<usize, String> {
    Ok(need(outcome, &id::ENDS)?.to_si().round() as usize)
}

/// The threading, thread by thread. The chain counts every end once: none is doubled at the edges.
pub(super) fn threading(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let Woven { colours, warp_order: order, .. } = &outcome.brief.woven;
    let hanging = hanging(outcome)?;
    Ok(threading::sheets(&threading::Threaded {
        hanging: &hanging,
        colours,
        order,
        ends: ends(outcome)?,
        doubled: 0,
        paper: Paper::A4,
    }))
}

/// Longest warp that is wound straight on to the loom from a peg across the room (common practice, no source).
const ACROSS_A_ROOM: f64 = 6.0;

/// What is woven between marks: the whole, or one article after another where some is left unwoven between.
fn panels(outcome: &Outcome, length: Q<Length>) -> Vec<Panel> {
    let kind = outcome.brief.article.garment.kind.word();
    let (Some(unwoven), Some(number)) = (outcome.get(&id::WARP_UNWOVEN), outcome.get(&id::HOW_MANY)) else {
        return vec![Panel { name: "cloth".into(), length }];
    };
    let each = (length - unwoven) * (1.0 / number.to_si());
    (1..=number.to_si().round() as usize).map(|n| Panel { name: format!("{kind} {n}"), length: each }).collect()
}

/// How warp yarn is stiffened in the skein (common practice, no source).
fn dressed(with: &str) -> Option<&'static str> {
    match with {
        "starch" => Some(
            "Dress the warp yarn first, skein by skein: dip it in thin, lukewarm starch paste, squeeze it out, snap it straight and \
             dry it under a light weight. Wash it out of the cloth before printing.",
        ),
        "gelatine" => Some(
            "Dress the warp yarn first, skein by skein: dip it in thin, warm gelatine, squeeze it out, snap it straight and dry it \
             under a light weight. Wash it out of the cloth in warm water before printing.",
        ),
        _ => None,
    }
}

/// The winding of the warp.
pub(super) fn warping(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let Woven { colours, warp_order: order, .. } = &outcome.brief.woven;
    let hanging = hanging(outcome)?;
    let length = need(outcome, &id::WARP_LENGTH)?;
    let (front, back) = (need(outcome, &id::WASTE_FRONT)?, need(outcome, &id::WASTE_BACK)?);
    let extra = need(outcome, &id::WARP_EXTRA)?;
    let rigid = matches!(hanging.heddles(), Heddles::Rigid { .. });
    let ask = Ask {
        hanging: &hanging,
        colours: order,
        ends: ends(outcome)?,
        doubled: 0,
        winding: if rigid && length.get(&M) <= ACROSS_A_ROOM { Winding::Peg } else { Winding::Board },
        length,
        front,
        back,
        // a length of warp: what the cloth takes up in bending is in it; header, sample and cuts are what is left over
        panels: panels(outcome, length - front - back - extra),
        between: outcome.get(&id::WARP_BETWEEN).unwrap_or(Q::si(0.0)),
    };
    let plan = winding::plan(&ask).map_err(|fault| words(&fault))?;
    let dressing = outcome.brief.plan.choice("yarn.warp.dressing").and_then(dressed);
    let wound = warping::Wound { plan: &plan, colours, dressing, style: outcome.brief.style, paper: Paper::A4 };
    Ok(warping::sheets(&wound))
}
