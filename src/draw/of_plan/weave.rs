//! Threads of a plan: its draft, the threading of its heddles, the winding of its warp.

use crate::chain::keys as id;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::{draft, threading, warping};
use crate::draw::title::Paper;
use crate::formulas::registry::Key;
use crate::outlook::Outcome;
use crate::units::*;
use crate::weave::colour::NATURAL;
use crate::weave::heddles::{Hanging, Heddles};
use crate::weave::warping::{self as winding, Ask, Panel, Winding};
use crate::weave::{Colour, ColourOrder, Fault, wif};

/// A fault of the weave as a sentence.
fn words(fault: &Fault) -> String {
    format!("{fault}.")
}

/// Colours of the threads, and their order in the warp and in the weft; natural where the plan names none.
///
/// # Errors
/// A sentence on the order that cannot be read.
pub fn orders(outcome: &Outcome) -> Result<(Vec<Colour>, ColourOrder, ColourOrder), String> {
    let mut colours = vec![Colour { name: "natural".into(), rgb: NATURAL }];
    let mut order = |path: &str| match outcome.brief.plan.text(path) {
        Some(text) => ColourOrder::parse(text, &mut colours).map_err(|fault| format!("`{path}`: {fault}.")),
        None => Ok(ColourOrder::plain(0)),
    };
    let (warp, weft) = (order("cloth.warp_colours")?, order("cloth.weft_colours")?);
    Ok((colours, warp, weft))
}

/// The draft with its colours as a WIF.
pub(super) fn wif(outcome: &Outcome) -> Result<Vec<u8>, String> {
    let (colours, warp, weft) = orders(outcome)?;
    Ok(wif::write(&wif::Wif::of_draft(&outcome.brief.woven.draft, &colours, &warp, &weft)).into_bytes())
}

/// The draft.
pub(super) fn draft(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let (colours, warp, weft) = orders(outcome)?;
    let draft = &outcome.brief.woven.draft;
    let drafted = draft::Drafted { draft, colours: &colours, warp: &warp, weft: &weft, whole: false };
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
    let (colours, order, _) = orders(outcome)?;
    let hanging = hanging(outcome)?;
    Ok(threading::sheets(&threading::Threaded {
        hanging: &hanging,
        colours: &colours,
        order: &order,
        ends: ends(outcome)?,
        doubled: 0,
        paper: Paper::A4,
    }))
}

/// Longest warp that is wound straight on to the loom from a peg across the room (common practice, no source).
const ACROSS_A_ROOM: f64 = 6.0;

/// The winding of the warp.
pub(super) fn warping(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let (colours, order, _) = orders(outcome)?;
    let hanging = hanging(outcome)?;
    let length = need(outcome, &id::WARP_LENGTH)?;
    let (front, back) = (need(outcome, &id::WASTE_FRONT)?, need(outcome, &id::WASTE_BACK)?);
    let extra = need(outcome, &id::WARP_EXTRA)?;
    let rigid = matches!(hanging.heddles(), Heddles::Rigid { .. });
    let ask = Ask {
        hanging: &hanging,
        colours: &order,
        ends: ends(outcome)?,
        doubled: 0,
        winding: if rigid && length.get(&M) <= ACROSS_A_ROOM { Winding::Peg } else { Winding::Board },
        length,
        front,
        back,
        // a length of warp: what the cloth takes up in bending is in it; header, sample and cuts are what is left over
        panels: vec![Panel { name: "cloth".into(), length: length - front - back - extra }],
        between: Q::si(0.0),
    };
    let plan = winding::plan(&ask).map_err(|fault| words(&fault))?;
    let wound = warping::Wound { plan: &plan, colours: &colours, style: outcome.brief.style, paper: Paper::A4 };
    Ok(warping::sheets(&wound))
}
