//! All sheets and solids of the two machines, by the word a person asks for them with.

use super::{brake, cuts, heddle, knob, loom, parts, shed, spinner, wiring};
use crate::chain::machines::{LoomWork, Machines, SpinnerWork};
use crate::draw::sheet::Sheet;
use crate::machine::Refusal;
use crate::machine::heddle::{Cut, Style};
use crate::machine::shape::mesh::Mesh;
use crate::machine::whirl;
use crate::units::{CN, MM, N, RPM};

/// Words of the sheets made here.
pub const WORDS: [&str; 7] = ["spinner", "wiring", "loom", "shed", "heddle", "parts", "cuts"];

/// The pages of one word.
///
/// # Errors
/// Why the machine cannot be drawn; a machine that the plan does not state.
pub fn of(machines: &Machines, word: &str) -> Result<Vec<Sheet>, Refusal> {
    match word {
        "spinner" => spinning(machines).map(spinner_and_settings),
        "wiring" => wiring_pages(spinning(machines)?),
        "loom" => weaving(machines).map(|w| loom::sheets(&w.loom)),
        "shed" => weaving(machines).map(|w| vec![shed_page(w)]),
        "heddle" => weaving(machines).map(|w| heddle::sheets(&w.loom.wish.heddle, &w.compared, &w.cuts)),
        "parts" => weaving(machines).map(|w| parts::sheets(&w.loom)),
        "cuts" => weaving(machines)
            .and_then(|w| w.shopping.as_ref().map(|s| cuts::sheets(s, &w.unused)).map_err(Clone::clone)),
        other => Err(Refusal::new("draw", format!("{other:?} is no sheet of a machine: {}", WORDS.join(", ")))),
    }
}

fn spinning(machines: &Machines) -> Result<&SpinnerWork, Refusal> {
    let none = || Refusal::new("spinner", "the plan states no motor: give [spinner.motor]");
    machines.spinner.as_ref().ok_or_else(none)?.as_ref().map_err(Clone::clone)
}

fn weaving(machines: &Machines) -> Result<&LoomWork, Refusal> {
    let none = || Refusal::new("loom", "the plan states no loom: give loom.weaving_width");
    machines.loom.as_ref().ok_or_else(none)?.as_ref().map_err(Clone::clone)
}

/// The machine alone.
pub fn spinner_pages(w: &SpinnerWork) -> Vec<Sheet> {
    let speeds = spinner::Speeds {
        work: w.flyer.get(&RPM),
        runaway: w.rig.runaway().get(&RPM),
        test: whirl::test_speed(w.rig.runaway()).get(&RPM),
        whirl: w.whirl.map(|n| n.get(&RPM)),
        balance: w.balance.map(|e| e.get(&MM)),
        belt: w.belt.get(&MM),
    };
    spinner::sheets(&w.spinner, &speeds)
}

/// The machine with knob and brake for its warp yarn.
fn spinner_and_settings(w: &SpinnerWork) -> Vec<Sheet> {
    let mut out = spinner_pages(w);
    let setting = knob::Setting { name: "warp yarn".into(), twist: w.twist, flyer: w.work };
    out.push(knob::sheet(&w.rig, w.pace, &[setting], &w.margins, &w.pulleys));
    out.push(brake::sheet(&w.brake, &w.marks, &w.wind_on));
    out
}

/// The circuit.
///
/// # Errors
/// Why there is none.
pub fn wiring_pages(w: &SpinnerWork) -> Result<Vec<Sheet>, Refusal> {
    let e = w.electrics.as_ref().map_err(Clone::clone)?;
    Ok(wiring::sheets(&wiring::Wiring {
        turning: e.turning,
        truth: e.truth,
        sizes: &e.sizes,
        buy: &e.buy,
        voltage: e.load.voltage,
        wait: w.wait,
    }))
}

/// The shed.
pub fn shed_page(w: &LoomWork) -> Sheet {
    let threads = shed::Threads {
        rest: w.rest.get(&CN),
        open: w.open.get(&CN),
        breaks: w.breaks.get(&CN),
        lift: w.lift.map(|f| f.get(&N)),
        advance: w.advance.get(&MM),
        clear: w.clear.get(&MM),
    };
    shed::sheet(&w.loom, &threads)
}

/// What a printer can make, each a closed surface with a file-name word: bobbin, pulleys, ratchet, pawl, heddle segments.
///
/// # Errors
/// A shape that cannot be made closed; which it is stands in the words.
pub fn solids(machines: &Machines) -> Result<Vec<(String, Mesh)>, Refusal> {
    let mut out = Vec::new();
    if let Some(Ok(w)) = &machines.spinner {
        out.extend(spinner_solids(w)?);
    }
    if let Some(Ok(w)) = &machines.loom {
        out.extend(loom_solids(w)?);
        if w.loom.wish.heddle.wish.style == Style::Printed {
            out.extend(heddle_solids(w)?);
        }
    }
    Ok(out)
}

/// Bobbin and pulleys.
///
/// # Errors
/// See [`solids`].
pub fn spinner_solids(w: &SpinnerWork) -> Result<Vec<(String, Mesh)>, Refusal> {
    let parts = [&w.spinner.bobbin, &w.spinner.motor_pulley, &w.spinner.spindle_pulley];
    parts.into_iter().map(|part| Ok((part.name.replace(' ', "-"), part.mesh()?))).collect()
}

/// Ratchet and pawl.
///
/// # Errors
/// See [`solids`].
pub fn loom_solids(w: &LoomWork) -> Result<Vec<(String, Mesh)>, Refusal> {
    let plate = |outline| Mesh::plate(outline, 0.0, w.loom.wheel.thick);
    Ok(vec![("ratchet".into(), plate(&w.loom.ratchet)?), ("pawl".into(), plate(&w.loom.pawl)?)])
}

/// Segments of a printed heddle.
///
/// # Errors
/// See [`solids`].
pub fn heddle_solids(w: &LoomWork) -> Result<Vec<(String, Mesh)>, Refusal> {
    let segment =
        |(i, cut): (usize, &Cut)| Ok((format!("heddle-segment-{}", i + 1), Mesh::plate(&cut.outline, 0.0, cut.thick)?));
    w.cuts.iter().enumerate().map(segment).collect()
}
