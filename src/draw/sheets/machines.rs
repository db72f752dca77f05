//! All sheets and solids of the two machines, by the word a person asks for them with.

use super::{brake, cuts, heddle, knob, loom, parts, shed, spinner, wiring};
use crate::chain::machines::{LoomWork, Machines, SpinnerWork};
use crate::draw::sheet::Sheet;
use crate::machine::Refusal;
use crate::machine::heddle::Style;
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
        "spinner" => spinning(machines).map(spinner_pages),
        "wiring" => wiring_pages(spinning(machines)?),
        "loom" => weaving(machines).map(|w| loom::sheets(&w.loom)),
        "shed" => weaving(machines).map(|w| vec![shed_page(w)]),
        "heddle" => weaving(machines).map(|w| heddle::sheets(&w.loom.wish.heddle, &w.compared, &w.cuts)),
        "parts" => weaving(machines).map(|w| parts::sheets(&w.loom)),
        "cuts" => weaving(machines).and_then(|w| w.shopping.as_ref().map(cuts::sheets).map_err(Clone::clone)),
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

fn spinner_pages(w: &SpinnerWork) -> Vec<Sheet> {
    let speeds = spinner::Speeds {
        work: w.flyer.get(&RPM),
        runaway: w.rig.runaway().get(&RPM),
        test: whirl::test_speed(w.rig.runaway()).get(&RPM),
        whirl: w.whirl.map(|n| n.get(&RPM)),
        balance: w.balance.map(|e| e.get(&MM)),
        belt: w.belt.get(&MM),
    };
    let mut out = spinner::sheets(&w.spinner, &speeds);
    let setting = knob::Setting { name: "warp yarn".into(), twist: w.twist, flyer: w.work };
    out.push(knob::sheet(&w.rig, w.pace, &[setting], &w.margins, &w.pulleys));
    out.push(brake::sheet(&w.brake, &w.marks, &w.wind_on));
    out
}

fn wiring_pages(w: &SpinnerWork) -> Result<Vec<Sheet>, Refusal> {
    let e = w.electrics.as_ref().map_err(Clone::clone)?;
    Ok(wiring::sheets(&wiring::Wiring {
        turning: e.turning,
        truth: &e.truth,
        sizes: &e.sizes,
        buy: &e.buy,
        voltage: e.load.voltage,
        wait: w.wait,
    }))
}

fn shed_page(w: &LoomWork) -> Sheet {
    let threads =
        shed::Threads { rest: w.rest.get(&CN), open: w.open.get(&CN), breaks: w.breaks.get(&CN), lift: w.lift.get(&N) };
    shed::sheet(&w.loom, &threads)
}

/// What a printer can make, each a closed surface with a file-name word: bobbin, pulleys, ratchet, pawl, heddle segments.
///
/// # Errors
/// A shape that cannot be made closed; which it is stands in the words.
pub fn solids(machines: &Machines) -> Result<Vec<(String, Mesh)>, Refusal> {
    let mut out = Vec::new();
    if let Some(Ok(w)) = &machines.spinner {
        for part in [&w.spinner.bobbin, &w.spinner.motor_pulley, &w.spinner.spindle_pulley] {
            out.push((part.name.replace(' ', "-"), part.mesh()?));
        }
    }
    if let Some(Ok(w)) = &machines.loom {
        let thick = w.loom.wheel.thick;
        out.push(("ratchet".into(), Mesh::plate(&w.loom.ratchet, 0.0, thick)?));
        out.push(("pawl".into(), Mesh::plate(&w.loom.pawl, 0.0, thick)?));
        if w.loom.wish.heddle.wish.style == Style::Printed {
            for (i, cut) in w.cuts.iter().enumerate() {
                out.push((format!("heddle-segment-{}", i + 1), Mesh::plate(&cut.outline, 0.0, cut.thick)?));
            }
        }
    }
    Ok(out)
}
