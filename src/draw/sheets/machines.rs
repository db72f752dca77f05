//! Sheets and solids of the two machines from what was worked up of them.

use super::{shed, spinner, wiring};
use crate::chain::machines::{LoomWork, SpinnerWork};
use crate::draw::sheet::Sheet;
use crate::machine::Refusal;
use crate::machine::heddle::Cut;
use crate::machine::shape::mesh::Mesh;
use crate::machine::whirl;
use crate::units::{CN, MM, RPM};

/// The spinner.
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
        ruler: w.spinner.wish.system.ruler(),
    }))
}

/// The shed.
pub fn shed_page(w: &LoomWork) -> Sheet {
    let threads = shed::Threads {
        rest: w.rest.get(&CN),
        open: w.open.get(&CN),
        breaks: w.breaks.get(&CN),
        lift: w.lift,
        advance: w.advance.get(&MM),
        clear: w.clear.get(&MM),
    };
    shed::sheet(&w.loom, &threads)
}

/// Bobbin and pulleys.
///
/// # Errors
/// A shape that cannot be made closed; which it is stands in the words.
pub fn spinner_solids(w: &SpinnerWork) -> Result<Vec<(String, Mesh)>, Refusal> {
    let parts = [&w.spinner.bobbin, &w.spinner.motor_pulley, &w.spinner.spindle_pulley];
    parts.into_iter().map(|part| Ok((part.name.replace(' ', "-"), part.mesh()?))).collect()
}

/// Ratchet and pawl.
///
/// # Errors
/// A shape that cannot be made closed; which it is stands in the words.
pub fn loom_solids(w: &LoomWork) -> Result<Vec<(String, Mesh)>, Refusal> {
    let plate = |outline| Mesh::plate(outline, 0.0, w.loom.wheel.thick);
    Ok(vec![("ratchet".into(), plate(&w.loom.ratchet)?), ("pawl".into(), plate(&w.loom.pawl)?)])
}

/// Segments of a printed heddle.
///
/// # Errors
/// A shape that cannot be made closed; which it is stands in the words.
pub fn heddle_solids(w: &LoomWork) -> Result<Vec<(String, Mesh)>, Refusal> {
    let segment =
        |(i, cut): (usize, &Cut)| Ok((format!("heddle-segment-{}", i + 1), Mesh::plate(&cut.outline, 0.0, cut.thick)?));
    w.cuts.iter().enumerate().map(segment).collect()
}
