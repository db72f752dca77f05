//! Cloth of a plan: its weave as numbers, and what is open about sett, count and picks.

use super::inputs::{How, Inputs};
use crate::chain::keys as id;
use crate::chain::settle::Open;
use crate::diag::Diagnostic;
use crate::plan::Plan;
use crate::trade::fibres::Plant;
use crate::units::*;
use crate::weave::colour::NATURAL;
use crate::weave::{Colour, ColourOrder, Draft, Interlacing, Weave, wif};

/// The weave of a plan: a draft, what its repeat counts, and the colours of its threads.
#[derive(Clone, Debug)]
pub struct Woven {
    pub draft: Draft,
    pub interlacing: Interlacing,
    /// As the plan names it.
    pub name: String,
    /// Colours of the threads, natural first.
    pub colours: Vec<Colour>,
    /// The order of colours across the warp and along the weft.
    pub warp_order: ColourOrder,
    pub weft_order: ColourOrder,
}

/// Firmness where the plan says none: three quarters is usual for mill yarn, hand-spun stands a little wider.
pub const USUAL_FIRMNESS: f64 = 0.70;

/// The weave by name or by its draft, in the plan's colours.
pub fn weave(plan: &Plan, found: &mut Vec<Diagnostic>) -> Option<Woven> {
    let (draft, interlacing, name) = structure(plan, found)?;
    let mut colours = vec![Colour { name: "natural".into(), rgb: NATURAL }];
    let mut order = |path: &'static str| match plan.text(path) {
        Some(text) => ColourOrder::parse(text, &mut colours)
            .map_err(|fault| found.push(Diagnostic::error("colours", format!("{fault}.")).at(plan.span(path))))
            .ok(),
        None => Some(ColourOrder::plain(0)),
    };
    let (warp_order, weft_order) = (order("cloth.warp_colours")?, order("cloth.weft_colours")?);
    Some(Woven { draft, interlacing, name, colours, warp_order, weft_order })
}

type Structure = (Draft, Interlacing, String);

fn structure(plan: &Plan, found: &mut Vec<Diagnostic>) -> Option<Structure> {
    if let Some(name) = plan.text("cloth.draft") {
        return drafted(plan, name, found);
    }
    let name = plan.text("cloth.weave").unwrap_or("plain");
    match Weave::parse(name) {
        Ok(weave) => {
            let interlacing = Interlacing::of(&weave.repeat());
            Some((weave.draft(), interlacing, name.to_string()))
        }
        Err(fault) => {
            found.push(Diagnostic::error("weave", fault.to_string()).at(plan.span("cloth.weave")));
            None
        }
    }
}

fn drafted(plan: &Plan, name: &str, found: &mut Vec<Diagnostic>) -> Option<Structure> {
    let here = plan.span("cloth.draft");
    // a file that is not there was already reported when the plan was read
    let bytes = plan.file(name)?;
    let reading = wif::read(bytes);
    // the places of its own faults are in that file, not in the plan: say the line in words
    for fault in &reading.diagnostics {
        let line = fault
            .span
            .as_ref()
            .map(|span| 1 + reading.text[..span.start.min(reading.text.len())].matches('\n').count());
        let place = line.map_or(String::new(), |line| format!(" line {line}"));
        found.push(Diagnostic {
            message: format!("{name}{place}: {}", fault.message),
            span: here.clone(),
            ..fault.clone()
        });
    }
    let draft = match reading.wif.map(|wif| wif.draft()) {
        Some(Ok(draft)) => draft,
        Some(Err(fault)) => {
            found.push(Diagnostic::error("draft", format!("{name}: {fault}")).at(here));
            return None;
        }
        None => return None,
    };
    match draft.repeat() {
        Ok(repeat) => {
            let interlacing = Interlacing::of(&repeat);
            if interlacing.weft_crossings < 1.0 || interlacing.warp_crossings < 1.0 {
                let words = format!("{name}: some threads never cross, so this draft makes no cloth");
                found.push(Diagnostic::error("draft", words).at(here));
                return None;
            }
            let name = if draft.name.is_empty() { name } else { &draft.name }.to_string();
            Some((draft, interlacing, name))
        }
        Err(fault) => {
            found.push(Diagnostic::error("draft", format!("{name}: {fault}")).at(here));
            None
        }
    }
}

/// Numbers of the weave and of the setting.
pub fn cloth(inputs: &mut Inputs, plan: &Plan, woven: &Woven, open: &mut Open) {
    let counts = &woven.interlacing;
    let exact = |inputs: &mut Inputs, key, value: f64| inputs.exact(key, Q::si(value), How::Given, Some("cloth.weave"));
    exact(inputs, &id::REPEAT_ENDS, counts.ends as f64);
    exact(inputs, &id::REPEAT_PICKS, counts.picks as f64);
    exact(inputs, &id::WEFT_CROSSINGS, counts.weft_crossings);
    exact(inputs, &id::WARP_CROSSINGS, counts.warp_crossings);
    super::stripes::orders(inputs, woven);
    if inputs.given.choices.plant == Plant::Cotton {
        // constant of the rule for cotton, exponent of its twills; a plain weave has a float of one, whatever the exponent
        inputs.exact(&id::BRIERLEY_K, Q::si(200.0), How::Assumed, None);
        inputs.exact(&id::BRIERLEY_M, Q::si(0.39), How::Assumed, None);
    }
    open.sett = !inputs.has(&id::SETT_IN_REED);
    if inputs.state(plan, &id::PICKS_ON_LOOM, "cloth.picks.on_loom") {
        open.picks_on_loom = true;
    } else {
        open.balanced = !inputs.state(plan, &id::PICKS_OFF_LOOM, "cloth.picks");
    }
}
