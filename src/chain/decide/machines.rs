//! Machines of a plan: choices, and facts of timber and heddle making that stand in for what is not stated.

use super::inputs::{How, Inputs};
use crate::chain::assumed::{self, Assumption};
use crate::chain::given::{BeamSection, Drive};
use crate::chain::hardware::Parts;
use crate::chain::keys as id;
use crate::diag::Diagnostic;
use crate::formulas::registry::Source;
use crate::machine::heddle::Style;
use crate::plan::Plan;
use crate::trade::timber::Timber;
use crate::units::*;

/// Choices and facts of spinner and loom, and every general assumption that is still open.
pub fn machines(inputs: &mut Inputs, plan: &Plan, found: &mut Vec<Diagnostic>) -> Parts {
    spinner(inputs, plan);
    found.extend(impossible_motor(inputs, plan));
    let heddles = heddle(inputs, plan);
    beam(inputs, plan);
    let parts = Parts {
        heddles,
        eye: !inputs.has(&id::EYE),
        blade: !inputs.has(&id::BLADE) && !inputs.has(&id::HEDDLE_SETT),
        beam: !inputs.has(&id::BEAM_DIAMETER),
        teeth: !inputs.has(&id::TEETH),
        spindle_pulley: !inputs.has(&id::SPINDLE_PULLEY),
    };
    for assumption in assumed::general() {
        // a plan that states no motor, heddle or print has no use for what stands around them
        inputs.assume(&assumption);
    }
    parts
}

fn spinner(inputs: &mut Inputs, plan: &Plan) {
    inputs.given.choices.drive = match plan.choice("spinner.drive") {
        Some("bobbin") => Drive::Bobbin,
        Some("both") => Drive::Both,
        _ => Drive::Flyer,
    };
    inputs.given.choices.groove_bottoms = plan.flag("spinner.pulleys.groove_bottoms").unwrap_or(false);
    if !inputs.has(&id::RESISTANCE)
        && let (Some(stall), Some(rated)) =
            (plan.quantity::<Current>("spinner.motor.stall_current"), inputs.given.get(&id::MOTOR_RATED))
    {
        let ohms = Q::si(rated.to_si() / stall.middle.to_si());
        inputs.exact(&id::RESISTANCE, ohms, How::Given, Some("spinner.motor.stall_current"));
    }
    // what the plate says it stands for long takes the place of the usual share
    if let (Some(long), Some(winding), Some(rated)) = (
        plan.quantity::<Current>("spinner.motor.continuous_current"),
        inputs.given.get(&id::RESISTANCE),
        inputs.given.get(&id::MOTOR_RATED),
    ) {
        let share = Q::si(long.middle.to_si() * winding.to_si() / rated.to_si());
        inputs.exact(&id::CURRENT_SHARE_LIMIT, share, How::Given, Some("spinner.motor.continuous_current"));
    }
    if inputs.given.choices.drive == Drive::Both
        && let (Some(bobbin), Some(flyer)) =
            (plan.quantity::<Length>("spinner.pulleys.bobbin"), inputs.given.get(&id::SPINDLE_PULLEY))
    {
        inputs.exact(&id::WHORL_RATIO, Q::si(flyer / bobbin.middle), How::Given, Some("spinner.pulleys.bobbin"));
    }
}

/// A motor whose idle current uses up its whole voltage in the winding would not turn: one of the three numbers is wrong.
fn impossible_motor(inputs: &Inputs, plan: &Plan) -> Option<Diagnostic> {
    let (rated, idle) = (inputs.given.get(&id::MOTOR_RATED)?, inputs.given.get(&id::NO_LOAD_CURRENT)?);
    let winding = inputs.given.get(&id::RESISTANCE)?;
    let lost = idle.get(&AMP) * winding.get(&OHM);
    let words = format!(
        "this motor cannot turn: {:.2} A through {:.1} ohm uses up {lost:.1} V, and it is rated {:.1} V",
        idle.get(&AMP),
        winding.get(&OHM),
        rated.get(&VOLT)
    );
    let place = plan.span("spinner.motor.resistance").or(plan.span("spinner.motor.stall_current"));
    (lost >= rated.get(&VOLT)).then(|| {
        Diagnostic::error("impossible-motor", words)
            .at(place)
            .help("measure the winding at rest over several positions, and the current running free")
    })
}

/// Heddle as stated; gives the closest sett of one where their number is open.
fn heddle(inputs: &mut Inputs, plan: &Plan) -> Option<f64> {
    let style = plan.choice("loom.heddle.style").and_then(Style::of).unwrap_or(Style::Sheet);
    if style == Style::String {
        // string heddles on shafts take any sett; a reed of its own spaces the warp
        return None;
    }
    let way = style.way();
    inputs.exact(&id::LEAST_WALL, Q::new(way.least_wall, &MM), How::Assumed, None);
    match plan.whole("loom.heddle.heddles") {
        Some(heddles) => {
            inputs.exact(&id::HEDDLES, Q::si(f64::from(heddles)), How::Given, Some("loom.heddle.heddles"));
            None
        }
        None => {
            // until the sett is known
            inputs.exact(&id::HEDDLES, Q::si(1.0), How::Decided, None);
            Some(Q::new(way.closest_sett(), &PER_CM).to_si())
        }
    }
}

fn beam(inputs: &mut Inputs, plan: &Plan) {
    let section = plan.choice("loom.beam.section");
    inputs.given.choices.beam = if section == Some("square") { BeamSection::Square } else { BeamSection::Round };
    if section == Some("tube")
        && let (Some(wall), Some(outer)) =
            (plan.quantity::<Length>("loom.beam.wall"), inputs.given.get(&id::BEAM_DIAMETER))
    {
        let bore = (outer - wall.middle * 2.0).to_si().max(0.0);
        inputs.exact(&id::BEAM_BORE, Q::si(bore), How::Given, Some("loom.beam.wall"));
    }
    let whole = |path| plan.whole(path).map(|number| Q::si(f64::from(number)));
    if let Some(teeth) = whole("loom.ratchet.teeth") {
        inputs.exact(&id::TEETH, teeth, How::Given, Some("loom.ratchet.teeth"));
    }
    if let Some(pawls) = whole("loom.ratchet.pawls") {
        inputs.exact(&id::PAWLS, pawls, How::Given, Some("loom.ratchet.pawls"));
    }
    if !inputs.has(&id::BEAM_SPAN)
        && let Some(width) = inputs.given.get(&id::WEAVING_WIDTH)
    {
        inputs.exact(&id::BEAM_SPAN, width + Q::new(8.0, &CM), How::Decided, None);
    }
    timber(inputs, plan);
}

fn timber(inputs: &mut Inputs, plan: &Plan) {
    let named = plan.choice("loom.beam.material").or(plan.choice("loom.timber")).unwrap_or("beech");
    let Some(timber) = Timber::find(named) else { return };
    let mut assume = |slot: u16, si: f64| {
        let source = if timber.metal {
            Source { key: "practice", at: "mild steel tube: yield 235 MPa, 205 GPa" }
        } else {
            Source { key: "wood-handbook", at: "Table 5-3a, 12 % moisture" }
        };
        inputs.assume(&Assumption { slot, middle: si, low: si, high: si, source, evidence: timber.evidence });
    };
    assume(id::BEAM_E.slot, timber.elasticity().to_si());
    assume(id::BEAM_STRENGTH.slot, timber.rupture_mpa * 1e6);
    if timber.metal {
        // a steel's strength hardly varies from bar to bar
        assume(id::STRENGTH_SPREAD.slot, 0.05);
    }
}
