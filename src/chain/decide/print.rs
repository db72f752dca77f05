//! The print of a plan: the method, what the artwork itself says (shape, ink, finest line and gap), and the mesh where it is open.

use super::inputs::{How, Inputs};
use crate::chain::assumed::Assumption;
use crate::chain::keys as id;
use crate::chain::settle::Decision;
use crate::diag::Diagnostic;
use crate::formulas::registry::{Evidence, Source};
use crate::plan::{InkWish, Plan};
use crate::print::artwork::Artwork;
use crate::print::facts::{self, Ask, Facts};
use crate::print::mesh::{self, Mesh};
use crate::print::separate::Ink;
use crate::print::{Fault, Method, colour};
use crate::units::*;

/// What a plan asks of its artwork.
pub fn ask(plan: &Plan) -> Ask {
    let ink = |wish: &InkWish| Ink {
        name: wish.name.clone().unwrap_or_else(|| colour::name(wish.colour)),
        rgb: wish.colour,
        opaque: wish.opaque,
    };
    Ask {
        inks: plan.inks().iter().map(ink).collect(),
        number: plan.whole("print.separate").map(|number| number as usize),
        tone: plan.choice("print.tone").unwrap_or("solid") != "solid",
        underbase: plan.flag("print.underbase").unwrap_or(false),
    }
}

/// The artwork's file, where the plan has one.
pub fn artwork(plan: &Plan) -> Option<&[u8]> {
    plan.file(plan.text("print.artwork")?)
}

/// Height over width of the artwork, where there is a sound one.
pub fn shape(plan: &Plan) -> Option<f64> {
    Some(Artwork::read(artwork(plan)?).ok()?.shape())
}

/// What the artwork says, where there is a sound one.
pub fn facts(plan: &Plan) -> Option<Facts> {
    facts::facts(artwork(plan)?, &ask(plan)).ok()
}

/// Begins to look at the artwork, where there is some.
pub fn begin(plan: &Plan) {
    if let Some(bytes) = artwork(plan) {
        facts::begin(bytes, &ask(plan));
    }
}

/// Method, artwork and mesh; the decisions made.
pub fn print(inputs: &mut Inputs, plan: &Plan, found: &mut Vec<Diagnostic>) -> Vec<Decision> {
    let method = plan.choice("print.method").and_then(Method::of_word).unwrap_or_default();
    inputs.given.choices.print_method = method;
    inputs.given.choices.print_before_wash = plan.choice("print.when") == Some("before-wash");
    let width = plan.quantity::<Length>("print.width").map(|stated| stated.middle);
    if let (Some(height), Some(width)) = (plan.quantity::<Length>("print.height"), width) {
        inputs.exact(&id::PRINT_SHAPE, Q::si(height.middle / width), How::Given, Some("print.height"));
    }
    let known = match artwork(plan).map(|bytes| facts::facts(bytes, &ask(plan))) {
        Some(Err(Fault(why))) => {
            found.push(Diagnostic::error("bad-artwork", why).at(plan.span("print.artwork")));
            None
        }
        Some(Ok(facts)) => Some(facts),
        None => None,
    };
    if let Some(facts) = &known {
        of_artwork(inputs, facts);
        let below = usize::from(ask(plan).underbase);
        let inks = Q::si((facts.inks.len() + below) as f64);
        inputs.exact(&id::PRINT_INKS, inks, How::Given, Some("print.artwork"));
    }
    if let (Some(line), Some(width)) = (plan.quantity::<Length>("print.finest_line"), width) {
        let share = line.middle / width;
        inputs.all.remove(&id::PRINT_DETAIL.slot);
        inputs.exact(&id::PRINT_DETAIL, Q::si(share), How::Given, Some("print.finest_line"));
    }
    if method == Method::Screen { screen(inputs, plan, width) } else { tool(inputs, plan, method) }
}

/// Shape, ink, line and gap as they are in the picture.
fn of_artwork(inputs: &mut Inputs, facts: &Facts) {
    let path = Some("print.artwork");
    inputs.exact(&id::PRINT_SHAPE, Q::si(facts.shape), How::Given, path);
    inputs.exact(&id::PRINT_COVERAGE, Q::si(facts.coverage.clamp(0.01, 1.0)), How::Given, path);
    for (key, share) in [(&id::PRINT_DETAIL, facts.line), (&id::PRINT_GAP_DETAIL, facts.gap)] {
        if let Some(share) = share {
            inputs.exact(key, Q::si(share), How::Given, path);
        }
    }
}

/// Rows of dots a centimetre that a mesh is chosen for before the cloth is known: coarse cloth shows no more.
const USUAL_ROWS: f64 = 6.0;

/// The mesh from the finest line, and the thread usual for it.
fn screen(inputs: &mut Inputs, plan: &Plan, width: Option<Q<Length>>) -> Vec<Decision> {
    let Some(width) = width else { return Vec::new() };
    let given = |inputs: &Inputs, key| inputs.given.get(key);
    match given(inputs, &id::MESH).map(|mesh: Q<PerLength>| mesh.get(&PER_CM)) {
        Some(count) => {
            if !inputs.has(&id::MESH_THREAD) {
                inputs.exact(&id::MESH_THREAD, Q::new(Mesh::usual(count).thread, &UM), How::Decided, None);
                return vec![Decision { slot: id::MESH_THREAD.slot, why: "usual for this mesh" }];
            }
            Vec::new()
        }
        None => {
            let line = inputs.given.get(&id::PRINT_DETAIL).map(|share| share.to_si() * width.get(&MM));
            let ruling = plan.quantity::<PerLength>("print.ruling").map(|stated| stated.middle.get(&PER_CM));
            let dots = plan.choice("print.tone").unwrap_or("solid") != "solid";
            let (mesh, why) = mesh::choose(line, if dots { Some(ruling.unwrap_or(USUAL_ROWS)) } else { None });
            inputs.exact(&id::MESH, Q::new(mesh.count, &PER_CM), How::Decided, None);
            let mut made = vec![Decision { slot: id::MESH.slot, why }];
            if !inputs.has(&id::MESH_THREAD) {
                inputs.exact(&id::MESH_THREAD, Q::new(mesh.thread, &UM), How::Decided, None);
                made.push(Decision { slot: id::MESH_THREAD.slot, why: "usual for this mesh" });
            }
            made
        }
    }
}

/// What a knife or a gouge can do (from memory: cuts and bridges of 1.5 to 2 mm in card or film; lines of 1 mm in end grain, 2 mm in side
/// grain).
fn tool(inputs: &mut Inputs, plan: &Plan, method: Method) -> Vec<Decision> {
    let (line, gap, at) = match (method, plan.choice("print.block")) {
        (Method::Block, Some("end grain")) => (1.0, 1.0, "a block of end grain"),
        (Method::Block, _) => (2.0, 1.5, "a block of side grain or linoleum"),
        _ => (1.5, 2.0, "a stencil of card or film"),
    };
    let source = Source { key: "practice", at };
    for (key, mm) in [(&id::LINE_OF_TOOL, line), (&id::GAP_OF_TOOL, gap)] {
        let si = Q::new(mm, &MM).to_si();
        let evidence = Evidence::Memory;
        inputs.assume(&Assumption { slot: key.slot, middle: si, low: si, high: si, source, evidence });
    }
    Vec::new()
}
